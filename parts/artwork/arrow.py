"""A scribed arrow: a shaft along x or y with an open head, as it shows which way an axis of the table runs."""

from collections.abc import Iterator

from parts.geometry import Line, Point
from parts.profile import Scribe


def arrow(tail: Point, tip: Point, side: float) -> Iterator[Scribe]:
    """Yield a shaft along x or y and an open head that reaches `side` back and to both sides."""
    yield Scribe((Line(tail, tip),))
    yield head(tail, tip, side)


def head(tail: Point, tip: Point, side: float) -> Scribe:
    """Return the open head of a shaft along x or y that is scribed already."""
    ux, uy = (1.0, 0.0) if tail[1] == tip[1] else (0.0, 1.0)
    left = tip[0] - side * (ux + uy), tip[1] - side * (uy - ux)
    right = tip[0] - side * (ux - uy), tip[1] - side * (uy + ux)
    return Scribe((Line(left, tip), Line(tip, right)))
