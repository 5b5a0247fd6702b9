"""What an address asks for: its values, each given once."""

from werkzeug.datastructures import MultiDict

from parts import Problem, Refused

LONGEST_VALUE = 200
"""No length, name or text of a part comes near this."""
LONGEST_ADDRESS = 8000
"""Room for every parameter of the largest template at full length; servers in front often stop at 8 kB."""


def values_of(args: "MultiDict[str, str]") -> dict[str, str]:
    """Return the values of an address by name.

    Raises:
        Refused: if a name is given twice, or a value or the whole is longer than any real one.
    """
    if problems := tuple(_problems(args)):
        raise Refused(problems)
    return args.to_dict()


def _problems(args: "MultiDict[str, str]") -> list[Problem]:
    if sum(len(name) + len(given) for name, given in args.items(multi=True)) > LONGEST_ADDRESS:
        return [Problem("address", _short(str(args)), f"is longer than {LONGEST_ADDRESS} characters.")]
    problems = []
    for name, given in args.lists():
        if len(given) > 1:
            problems.append(Problem(_short(name), _short(", ".join(given)), "is given more than once; give it once."))
        elif len(given[0]) > LONGEST_VALUE:
            problems.append(Problem(_short(name), _short(given[0]), f"is longer than {LONGEST_VALUE} characters."))
    return problems


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_VALUE else f"{text[:40]}..."
