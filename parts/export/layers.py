"""Layers: the shapes of a profile, each on its layer, once for every format that draws.

shape   a full circle, a path (a chain of lines and arcs, open or closed), or a drill centre
order   marks first, then inside loops, then outside loops, since many machines cut a file in its own
        order and a part may move once its outside is cut
way     a loop runs so that the square side of the jet is the part's: where that is the right one, the outside
        clockwise and openings counter-clockwise; else with the material on the left. A circle has no way
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from parts.geometry import Box, Circle, Loop, Segment
from parts.profile import Bend, Drill, Profile, Scribe
from parts.shop import Side

OUTSIDE, INSIDE, SCRIBE, BEND, DRILL, NOTES = "OUTSIDE", "INSIDE", "SCRIBE", "BEND", "DRILL", "NOTES"


@dataclass(frozen=True, slots=True)
class LayerPath:
    """Segments joined end to start; a closed path's last segment ends where its first one starts."""

    segments: tuple[Segment, ...]
    closed: bool


Shape: TypeAlias = Circle | LayerPath | Drill


def layers(
    profile: Profile, square_side: Side = "either", *, drill_circles: bool = False
) -> Mapping[str, tuple[Shape, ...]]:
    """Return the shapes on each layer that holds any, in drawing order.

    Args:
        profile: of the part.
        square_side: the side of the kerf, seen along the way, that is the part's.
        drill_circles: whether a drill centre whose diameter is known is followed by a circle of it.
    """
    marks, clockwise = profile.marks, square_side == "right"
    shapes: dict[str, tuple[Shape, ...]] = {
        SCRIBE: tuple(shape for mark in marks if isinstance(mark, Scribe) for shape in _paths(mark.path)),
        BEND: tuple(LayerPath((mark.line,), closed=False) for mark in marks if isinstance(mark, Bend)),
        DRILL: tuple(shape for mark in marks if isinstance(mark, Drill) for shape in _drilled(mark, drill_circles)),
        INSIDE: tuple(_outline(o.loop.running(counter_clockwise=clockwise)) for o in profile.inside),
        OUTSIDE: tuple(_outline(loop.running(counter_clockwise=not clockwise)) for loop in profile.outside),
    }
    return {layer: found for layer, found in shapes.items() if found}


def extent(profile: Profile) -> Box:
    """Return the bounding box of the loops and the marks, mm."""
    if not profile.marks:
        return profile.box
    boxes = [profile.box, *(box for mark in profile.marks for box in _boxes(mark))]
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _boxes(mark: Scribe | Bend | Drill) -> Iterator[Box]:
    if isinstance(mark, Drill):
        (x, y), r = mark.at, mark.diameter / 2
        yield x - r, y - r, x + r, y + r
    elif isinstance(mark, Bend):
        yield mark.line.box
    else:
        yield from (segment.box for segment in mark.path)


def _drilled(mark: Drill, circles: bool) -> Iterator[Shape]:
    """The centre of a drilled hole and, beside it, its size; none is known of a point that someone drew."""
    yield mark
    if circles and mark.diameter > 0:
        yield Circle(mark.at, mark.diameter)


def _outline(loop: Loop) -> Circle | LayerPath:
    return loop.circle or LayerPath(loop.segments, closed=True)


def _paths(segments: tuple[Segment, ...]) -> Iterator[Circle | LayerPath]:
    """The chains that a scribe's segments form: a gap starts a new one, so none is ever bridged."""
    chain: list[Segment] = []
    for segment in segments:
        if chain and chain[-1].end != segment.start:
            yield _chain(chain)
            chain = []
        chain.append(segment)
    if chain:
        yield _chain(chain)


def _chain(chain: list[Segment]) -> Circle | LayerPath:
    segments = tuple(chain)
    if len(segments) > 1 and segments[-1].end == segments[0].start:
        return _outline(Loop(segments))
    return LayerPath(segments, closed=False)
