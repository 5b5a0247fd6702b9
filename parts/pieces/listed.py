"""The list of pieces: those that are cut alike in one row with their number, the companions of a set last."""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass, replace

from parts.geometry import Arc, Loop, Point
from parts.pieces.alone import values_of
from parts.profile import Profile
from parts.record import Record
from parts.templates import template

_PLACES = 6
"""Decimals of a mm to which pieces are compared: rounding in sums."""


@dataclass(frozen=True, slots=True)
class Listed:
    """Pieces that are alike: their names, size and plate in mm, and the template that draws a companion."""

    names: tuple[str, ...]
    width: float
    height: float
    thickness: float
    companion_of: str = ""

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.names)


def listed(record: Record) -> tuple[Listed, ...]:
    """Return the pieces of what is drawn in several, and its companions; nothing of what is one piece."""
    if len(record.profile.pieces) < 2:
        return ()
    return (*_drawn(record), *_companions(record))


def _drawn(record: Record) -> Iterator[Listed]:
    """Those drawn: alike where outlines, openings and marks are."""
    alike: dict[Hashable, list[str]] = {}
    sizes: dict[Hashable, tuple[float, float]] = {}
    whole = replace(record.profile, dimensions=())  # which are moved with a piece, and tell nothing here
    for name in whole.pieces:
        piece = whole.piece_in_place(name)
        x0, y0, x1, y1 = piece.box
        key = _key(piece, (x0, y0))
        alike.setdefault(key, []).append(name)
        sizes[key] = x1 - x0, y1 - y0
    for key, names in alike.items():
        yield Listed(tuple(names), *sizes[key], record.job.cut.thickness_mm)


def _companions(record: Record) -> Iterator[Listed]:
    alike: dict[Hashable, list[str]] = {}
    of = {each.name: each for each in record.companions}
    for name, each in of.items():
        alike.setdefault((each.slug, *sorted(each.values.items())), []).append(name)
    for names in alike.values():
        first = of[names[0]]
        chosen = template(first.slug)
        parameters = chosen.parameters.read_singly(values_of(record, first))
        x0, y0, x1, y1 = chosen.outline(parameters).box
        yield Listed(tuple(names), x1 - x0, y1 - y0, parameters.thickness, first.slug)


def _key(piece: Profile, corner: Point) -> Hashable:
    """What tells a piece from others, wherever it is drawn; `corner` is its lower left."""
    loops = tuple(_loop(loop, corner) for loop in (*piece.outside, *(opening.loop for opening in piece.inside)))
    return loops, tuple(repr(mark) for mark in piece.seated().marks) if piece.marks else ()


def _loop(loop: Loop, corner: Point) -> tuple[tuple[float, float, float], ...]:
    x, y = corner
    return tuple(
        (
            round(s.start[0] - x, _PLACES),
            round(s.start[1] - y, _PLACES),
            round(s.bulge, _PLACES) if isinstance(s, Arc) else 0.0,
        )
        for s in loop.segments
    )
