"""Layers: the shapes of a profile, each on its layer, once for every format that draws.

shape   a full circle, a path (a chain of lines and arcs, open or closed), or a drill centre
order   marks first, then inside loops, then outside loops, since many machines cut a file in its own
        order and a part may move once its outside is cut
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from parts.geometry import Box, Circle, Loop, Segment
from parts.profile import Bend, Drill, Profile, Scribe

OUTSIDE, INSIDE, SCRIBE, BEND, DRILL, NOTES = "OUTSIDE", "INSIDE", "SCRIBE", "BEND", "DRILL", "NOTES"


@dataclass(frozen=True, slots=True)
class LayerPath:
    """Segments joined end to start; a closed path's last segment ends where its first one starts."""

    segments: tuple[Segment, ...]
    closed: bool


Shape: TypeAlias = Circle | LayerPath | Drill


def layers(profile: Profile) -> Mapping[str, tuple[Shape, ...]]:
    """Return the shapes on each layer that holds any, in drawing order."""
    marks = profile.marks
    shapes: dict[str, tuple[Shape, ...]] = {
        SCRIBE: tuple(shape for mark in marks if isinstance(mark, Scribe) for shape in _paths(mark.path)),
        BEND: tuple(LayerPath((mark.line,), closed=False) for mark in marks if isinstance(mark, Bend)),
        DRILL: tuple(mark for mark in marks if isinstance(mark, Drill)),
        INSIDE: tuple(_outline(opening.loop) for opening in profile.inside),
        OUTSIDE: tuple(_outline(loop) for loop in profile.outside),
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
        yield (*mark.at, *mark.at)
    elif isinstance(mark, Bend):
        yield mark.line.box
    else:
        yield from (segment.box for segment in mark.path)


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
