"""Lettering for scribing: single strokes of lines and true arcs, a mark a stroke.

letter   one character of `CHARACTERS`; a small letter is scribed as its capital
stroke   what is scribed without lifting
height   from the base line to the top of a capital, mm

The letters are in `parts/data/lettering.toml`, drawn on a small grid.
"""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from parts.data import FOLDER
from parts.errors import DataError
from parts.geometry import Arc, Line, Motion, Point, Segment, Vertex, rotation
from parts.profile import Scribe

LetterStroke: TypeAlias = tuple[Vertex, ...]
"""x, y and the bulge of what leaves it, in units of the grid; nothing leaves the last one."""


@dataclass(frozen=True, slots=True)
class Letter:
    """How much of the line a letter takes, and its strokes, in units of the grid."""

    width: float
    strokes: tuple[LetterStroke, ...]


@dataclass(frozen=True, slots=True)
class Alphabet:
    """All letters, the height of the grid, and the gap between two letters, in units of the grid."""

    top: float
    gap: float
    letters: Mapping[str, Letter]


def load_alphabet(path: Path) -> Alphabet:
    """Read and check a file of letters.

    Raises:
        DataError: if the file can't be read or lacks a source, or a letter is no single character, takes no
            width, or has a stroke that isn't two or more points within the letter's cell.
    """
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise DataError(f"{path.name} can't be read as TOML ({error}).") from error
    if not isinstance(data.get("source"), str) or not data["source"].strip():
        raise DataError(f"{path.name}: source is {data.get('source')!r}; it must be a text.")
    top = _positive(data.get("top"), f"{path.name}: top")
    gap = _positive(data.get("gap"), f"{path.name}: gap")
    if not isinstance(data.get("letters"), dict):
        raise DataError(f"{path.name}: letters must be a table.")
    return Alphabet(top, gap, {c: _letter(path.name, c, row, top) for c, row in data["letters"].items()})


def _letter(file: str, character: str, row: object, top: float) -> Letter:
    where = f"{file}, letter {character!r}"
    if len(character) != 1:
        raise DataError(f"{where}: a letter must be a single character.")
    if not isinstance(row, dict) or not isinstance(row.get("strokes"), list):
        raise DataError(f"{where}: this must be a table with width and strokes.")
    width = _positive(row.get("width"), f"{where}: width")
    return Letter(width, tuple(_stroke(stroke, where, width, top) for stroke in row["strokes"]))


def _stroke(points: Any, where: str, width: float, top: float) -> LetterStroke:  # noqa: ANN401 - as read from TOML
    """One stroke, its turns made into bulges; every point lies in the letter's cell."""
    if not isinstance(points, list) or len(points) < 2:
        raise DataError(f"{where}: a stroke must be a list of two points or more, not {points!r}.")
    for point in points:
        numbers = isinstance(point, list) and all(type(value) in (int, float) for value in point)
        if not numbers or len(point) not in (2, 3):
            raise DataError(f"{where}: a point must be [x, y] or [x, y, turn in degrees], not {point!r}.")
        if not (0 <= point[0] <= width and 0 <= point[1] <= top):
            raise DataError(f"{where}: the point {point!r} must lie within {width:g} by {top:g}.")
    return tuple((p[0], p[1], math.tan(math.radians(p[2]) / 4) if len(p) > 2 else 0.0) for p in points)


def _positive(value: object, what: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not value > 0:
        raise DataError(f"{what} is {value!r}; it must be a number above 0.")
    return float(value)


ALPHABET = load_alphabet(FOLDER / "lettering.toml")

CHARACTERS: str = "".join(ALPHABET.letters) + "".join(
    character.lower() for character in ALPHABET.letters if character.isalpha()
)
"""What can be scribed; a small letter is scribed as its capital."""


def text_width(text: str, height: float) -> float:
    """Return how long a text is in mm at a height, from the left of its first letter to the right of its last."""
    if not text:
        return 0.0
    widths = [ALPHABET.letters[character].width for character in text.upper()]
    return math.fsum([*widths, ALPHABET.gap * (len(text) - 1)]) * height / ALPHABET.top


def scribed(text: str, at: Point, height: float, angle: float = 0.0) -> tuple[Scribe, ...]:
    """Return a text as scribe lines, one a stroke, in the order in which it is written.

    Args:
        text: characters of `CHARACTERS`.
        at: the left end of the base line.
        height: of the capitals, mm.
        angle: of the base line, radians from the x axis to the left.
    """
    turn = rotation(angle)
    place = Motion(at, turn.cos, turn.sin)
    scale = height / ALPHABET.top
    marks: list[Scribe] = []
    along = 0.0
    for character in text.upper():
        letter = ALPHABET.letters[character]
        marks += (_scribe(stroke, along, scale, place) for stroke in letter.strokes)
        along += letter.width + ALPHABET.gap
    return tuple(marks)


def _scribe(stroke: LetterStroke, along: float, scale: float, place: Motion) -> Scribe:
    """One stroke of a letter that begins `along` units of the grid from the start of the text."""
    points = [place.point(((x + along) * scale, y * scale)) for x, y, _ in stroke]
    path: list[Segment] = [
        Arc(start, end, bulge) if bulge else Line(start, end)
        for start, end, (_, _, bulge) in zip(points, points[1:], stroke, strict=False)
    ]
    return Scribe(tuple(path))
