"""Which of the numbers are asked for, for the page and the command alike, and how they are told."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import asdict

from parts import numbers
from parts.cutting import PROCESSES
from parts.data import KINDS
from parts.errors import Problem, Refused, did_you_mean
from parts.numbers import Number
from parts.rules import RULES

SHORT = {"published": KINDS[0], "practice": KINDS[1], "memory": KINDS[2], "derived": KINDS[3], "yours": KINDS[4]}
"""A word for each kind, as it is asked for."""

CHOICES: Mapping[str, tuple[str, ...]] = {
    "rule": tuple(rule.RULE for rule in RULES),
    "kind": tuple(SHORT),
    "process": tuple(PROCESSES),
}
"""What may be asked for, each by one of its words; by none of them, for all."""


def asked_for(words: Mapping[str, str]) -> tuple[Number, ...]:
    """Return the numbers that are asked for by `rule`, `kind` and `process`; by nothing, all.

    Raises:
        Refused: one of them isn't known.
        DataError: the shop's own file can't be used.
    """
    given = {name: words.get(name, "").strip() for name in CHOICES}
    given["kind"] = next((short for short, kind in SHORT.items() if kind == given["kind"]), given["kind"])
    if problems := [_unknown(name, word) for name, word in given.items() if word and word not in CHOICES[name]]:
        raise Refused(tuple(problems))
    return numbers.told_of(numbers.every(), given["rule"], SHORT.get(given["kind"], ""), given["process"])


def as_data(asked: Iterable[Number]) -> list[dict[str, object]]:
    """Return numbers as plain dictionaries."""
    return [{"number": number.name, **_without_name(number)} for number in asked]


def _without_name(number: Number) -> dict[str, object]:
    """All else of a number, under the names that a part's JSON has for a number too."""
    return {name: list(value) if name == "rules" else value for name, value in asdict(number).items() if name != "name"}


def counted(asked: Iterable[Number]) -> str:
    """Return how many numbers there are of each kind: `12 numbers: 3 published, 9 from memory`."""
    count = Counter(number.kind for number in asked)
    whole = sum(count.values())
    each = ", ".join(f"{count[kind]} {kind}" for kind in KINDS if count[kind])
    return f"{whole} number{'' if whole == 1 else 's'}{f': {each}' if each else ''}"


def _unknown(name: str, word: str) -> Problem:
    known = CHOICES[name]
    return Problem(name, word[:80], f"There is no {name} {word[:80]!r}{_near(word, known)}")


def _near(word: str, known: tuple[str, ...]) -> str:
    near = did_you_mean(word, known)
    return near if near != "." else f"; there are {', '.join(known)}."
