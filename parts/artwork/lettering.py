"""Lettering for scribing: single strokes of lines and true arcs, a mark a stroke.

letter   one of `characters`; a small letter is scribed as its capital
stroke   what is scribed without lifting
height   from the base line to the top of a capital, mm

The letters are in `parts/data/lettering.toml`, drawn on a small grid.
"""

import math
from functools import cache
from typing import Annotated, Self, TypeAlias

from pydantic import BeforeValidator, Field, model_validator

from parts.data import Number, Sourced, Table, load
from parts.geometry import Arc, Line, Motion, Point, Segment, Vertex, rotation
from parts.profile import Scribe


def _vertex(point: object) -> Vertex:
    """A point of a stroke, the turn of what leaves it made into a bulge."""
    if not isinstance(point, list) or len(point) not in (2, 3) or any(type(n) not in (int, float) for n in point):
        raise ValueError("a point must be [x, y] or [x, y, turn in degrees]")
    x, y, *turn = point
    return x, y, math.tan(math.radians(turn[0]) / 4) if turn else 0.0


def _chain(points: object) -> object:
    if not isinstance(points, list) or len(points) < 2:
        raise ValueError("a stroke must be a list of two points or more")
    return points


Positive = Annotated[Number, Field(gt=0)]
LetterStroke: TypeAlias = Annotated[tuple[Annotated[Vertex, BeforeValidator(_vertex)], ...], BeforeValidator(_chain)]
"""x, y and the bulge of what leaves it, in units of the grid; nothing leaves the last one."""


class Letter(Table):
    """How much of the line a letter takes, and its strokes, in units of the grid."""

    width: Positive
    strokes: tuple[LetterStroke, ...]


class Alphabet(Sourced):
    """A file of letters: the height of the grid, the gap between two letters, in units of the grid, and the letters."""

    top: Positive
    gap: Positive
    letters: dict[Annotated[str, Field(min_length=1, max_length=1)], Letter]

    @model_validator(mode="after")
    def _within_cells(self) -> Self:
        """Refuse a point outside its letter's cell."""
        for character, letter in self.letters.items():
            for x, y, _ in (point for stroke in letter.strokes for point in stroke):
                if not (0 <= x <= letter.width and 0 <= y <= self.top):
                    cell = f"{letter.width:g} by {self.top:g}"
                    raise ValueError(f"has the point [{x:g}, {y:g}] in letter {character}: it must lie within {cell}")
        return self


@cache
def alphabet() -> Alphabet:
    """Return the letters.

    Raises:
        DataError: their data file is unusable.
    """
    return load("lettering.toml", Alphabet)


@cache
def characters() -> str:
    """Return what can be scribed; a small letter is scribed as its capital."""
    letters = alphabet().letters
    return "".join(letters) + "".join(character.lower() for character in letters if character.isalpha())


def text_width(text: str, height: float) -> float:
    """Return how long a text is in mm at a height, from the left of its first letter to the right of its last."""
    if not text:
        return 0.0
    widths = [alphabet().letters[character].width for character in text.upper()]
    return math.fsum([*widths, alphabet().gap * (len(text) - 1)]) * height / alphabet().top


def scribed(text: str, at: Point, height: float, angle: float = 0.0) -> tuple[Scribe, ...]:
    """Return a text as scribe lines, one a stroke, in the order in which it is written.

    Args:
        text: some of `characters`.
        at: the left end of the base line.
        height: of the capitals, mm.
        angle: of the base line, radians from the x axis to the left.
    """
    turn = rotation(angle)
    place = Motion(at, turn.cos, turn.sin)
    scale = height / alphabet().top
    marks: list[Scribe] = []
    along = 0.0
    for character in text.upper():
        letter = alphabet().letters[character]
        marks += (_scribe(stroke, along, scale, place) for stroke in letter.strokes)
        along += letter.width + alphabet().gap
    return tuple(marks)


def _scribe(stroke: LetterStroke, along: float, scale: float, place: Motion) -> Scribe:
    """One stroke of a letter that begins `along` units of the grid from the start of the text."""
    points = [place.point(((x + along) * scale, y * scale)) for x, y, _ in stroke]
    path: list[Segment] = [
        Arc(start, end, bulge) if bulge else Line(start, end)
        for start, end, (_, _, bulge) in zip(points, points[1:], stroke, strict=False)
    ]
    return Scribe(tuple(path), lettering=True)
