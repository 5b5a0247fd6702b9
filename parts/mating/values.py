"""Values of a bolt-up: what is asked besides the two parts, read from text, every fault told at once."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from parts.boltup import MOST_TRIALS, SEED, TRIALS, assumed
from parts.errors import Problem, Refused, UnitsError, did_you_mean
from parts.fasteners import bolt_diameter_mm
from parts.units import Units, format_length, parse_count, parse_length, parse_number

T = TypeVar("T")
_LONGEST_MM = 1000.0
_FEWEST_TRIALS, _MOST_SEED = 1000, 1_000_000
_PERCENT = re.compile(r"\s*%\s*$")


@dataclass(frozen=True)
class Asked:
    """What is asked, lengths in mm; None or 0 where nothing is."""

    units: Units
    bolt: float
    hole: float
    is_held: bool
    is_fixed: bool
    is_flipped: bool
    classes: tuple[int | None, int | None]
    positions: tuple[float | None, float | None]
    sizes: tuple[float | None, float | None]
    wanted: float
    trials: int
    seed: int


NAMES: Mapping[str, str] = {
    "bolt": "size of the bolts, such as M10 or 3/8; what the holes are declared for unless said",
    "hole": "diameter of a pattern's holes; the normal clearance hole of the bolt unless said",
    "lie": "free: shifted and turned until the bolts go in; drawn: held where they are drawn",
    "fixed": "yes where the bolts stand in B: threads, studs, anchors",
    "flip": "yes where B lies face down",
    "class_a": "ISO 9013 class of A, 1 or 2; the usual one of its process unless said",
    "class_b": "the same of B",
    "position_a": "\u00b1 how far off the holes of A may be, instead of ISO 9013",
    "position_b": "the same of B; a pattern's are true unless said",
    "size_a": "\u00b1 how far off the diameters of A may be, instead of ISO 9013",
    "size_b": "the same of B",
    "wanted": "the chance that counts as safe, such as 99 %",
    "trials": "how many trials are drawn where there is no closed form",
    "seed": "a whole number that they are drawn from",
}
"""Every value besides the parts, and what it is for."""


def read(given: Mapping[str, str], units: Units) -> Asked:
    """Return what is asked.

    Raises:
        Refused: with each value that can't be.
    """
    reading = _Reading({name: text.strip() for name, text in given.items() if text.strip()}, units)
    asked = Asked(
        units=units,
        bolt=reading.take("bolt", bolt_diameter_mm, 0.0),
        hole=reading.length("hole") or 0.0,
        is_held=reading.word("lie", ("free", "drawn")) == "drawn",
        is_fixed=reading.yes("fixed"),
        is_flipped=reading.yes("flip"),
        classes=(reading.tolerance_class("class_a"), reading.tolerance_class("class_b")),
        positions=(reading.length("position_a"), reading.length("position_b")),
        sizes=(reading.length("size_a"), reading.length("size_b")),
        wanted=reading.take("wanted", _share, assumed().wanted.chance),
        trials=reading.count("trials", _FEWEST_TRIALS, MOST_TRIALS, TRIALS),
        seed=reading.count("seed", 0, _MOST_SEED, SEED),
    )
    if reading.problems:
        raise Refused(tuple(reading.problems))
    return asked


def _share(text: str) -> float:
    number = parse_number(_PERCENT.sub("", text))
    share = number / 100 if _PERCENT.search(text) or number > 1 else number
    if not 0 < share < 1:
        raise UnitsError(f"{text} isn't a chance between 0 and 100 %: write 99 % or 99.5 %.")
    return share


class _Reading:
    """Texts read one by one, with the faults found on the way."""

    def __init__(self, given: Mapping[str, str], units: Units) -> None:
        self._given, self._units = given, units
        self.problems: list[Problem] = []

    def take(self, name: str, of: Callable[[str], T], otherwise: T) -> T:
        text = self._given.get(name, "")
        try:
            return of(text) if text else otherwise
        except UnitsError as error:
            self.problems.append(Problem(name, text, str(error)))
            return otherwise

    def length(self, name: str) -> float | None:
        return self.take(name, self._length, None)

    def _length(self, text: str) -> float:
        length = parse_length(text.lstrip("\u00b1+- "), bare=self._units)
        if not 0 <= length <= _LONGEST_MM:
            raise UnitsError(f"must be from 0 to {format_length(_LONGEST_MM, self._units)}.")
        return length

    def word(self, name: str, known: tuple[str, ...]) -> str:
        return self.take(name, lambda text: _word(text, known), known[0])

    def yes(self, name: str) -> bool:
        return self.word(name, ("no", "yes")) == "yes"

    def tolerance_class(self, name: str) -> int | None:
        text = self.word(name, ("", "1", "2"))
        return int(text) if text else None

    def count(self, name: str, least: int, most: int, otherwise: int) -> int:
        def read_count(text: str) -> int:
            number = parse_count(text)
            if not least <= number <= most:
                raise UnitsError(f"must be from {least} to {most}.")
            return number

        return self.take(name, read_count, otherwise)


def _word(text: str, known: tuple[str, ...]) -> str:
    if text not in known:
        said = ", ".join(word for word in known if word)
        raise UnitsError(f"is not one of {said}{did_you_mean(text, known)}")
    return text
