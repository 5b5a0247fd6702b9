"""What an address asks for: its values, each given once."""

from werkzeug.datastructures import MultiDict

from parts import Problem, Refused

LONGEST_VALUE = 200


def values_of(args: "MultiDict[str, str]") -> dict[str, str]:
    """Return the values of an address by name.

    Raises:
        Refused: if a name is given twice, or a value is longer than any real one.
    """
    problems = []
    for name, given in args.lists():
        if len(given) > 1:
            problems.append(Problem(name, ", ".join(given)[:LONGEST_VALUE], "is given twice; give it once."))
        elif len(given[0]) > LONGEST_VALUE:
            problems.append(Problem(name, given[0][:40] + "...", f"is longer than {LONGEST_VALUE} characters."))
    if problems:
        raise Refused(tuple(problems))
    return args.to_dict()
