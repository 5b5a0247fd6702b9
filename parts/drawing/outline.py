"""The part itself on the paper: its loops, its marks, and the centre lines of whatever is round."""

from collections.abc import Iterator

from parts.drawing.frame import Frame
from parts.drawing.plumb import plumb_line
from parts.drawing.primitives import Group, Item, Path, Pen, Polygon, box_around
from parts.drawing.worked import shown
from parts.geometry import Line, Loop, Point, Segment
from parts.profile import Bend, Drill, Mark, Scribe


def groups(frame: Frame) -> tuple[Group, ...]:
    """Return the part, what of it is open or left out, its marks and its centre lines as far as it has any."""
    part = Group("part", tuple(_loops(frame)))
    loose = Group("open", tuple(Path("open", frame.segments(chain)) for chain in frame.subject.record.open))
    aside = Group("aside", tuple(_left_out(frame)))
    marks = Group("marks", tuple(item for mark in frame.profile.marks for item in _mark(frame, mark)))
    worked = Group("worked", tuple(item for hole in frame.profile.worked for item in shown(frame, hole)))
    centres = Group("centres", (*_centre_lines(frame), *plumb_line(frame)))
    return tuple(group for group in (part, loose, aside, marks, worked, centres) if group.items)


def lettering(frame: Frame) -> Iterator[Polygon]:
    """Yield the room that each scribed stroke of lettering takes, with a little about it."""
    margin = _CLEAR * frame.sizes.text
    for mark in frame.profile.marks:
        if isinstance(mark, Scribe) and mark.lettering:
            x0, y0, x1, y1 = box_around(frame.segments(mark.path))
            left, low, right, high = x0 - margin, y0 - margin, x1 + margin, y1 + margin
            yield (left, low), (right, low), (right, high), (left, high)


_CLEAR = 0.15
"""How far a broken line stays off scribed lettering, in sizes of the drawing's."""


def _left_out(frame: Frame) -> Iterator[Item]:
    """The outlines that are left out, but for those that reach beyond what is drawn, as a sheet's border does."""
    x0, y0, x1, y1 = frame.subject.record.box
    for chain in frame.subject.record.aside:
        left, low, right, high = zip(*(segment.box for segment in chain), strict=True)
        if x0 <= min(left) and y0 <= min(low) and max(right) <= x1 and max(high) <= y1:
            yield Path("aside", frame.segments(chain))


def _loops(frame: Frame) -> Iterator[Item]:
    for loop in frame.profile.outside:
        yield _path(frame, loop, "cut-outside")
    for opening in frame.profile.inside:
        yield _path(frame, opening.loop, "cut-inside")


def _path(frame: Frame, loop: Loop, pen: Pen) -> Path:
    return Path(pen, frame.segments(loop.segments), closed=True)


def _mark(frame: Frame, mark: Mark) -> Iterator[Item]:
    if isinstance(mark, Bend):
        yield Path("bend", (frame.segment(mark.line),))
    elif isinstance(mark, Drill):
        arm = 0.7 * frame.sizes.text
        yield from _cross(frame.point(mark.at), arm, "scribe")
    else:
        yield Path("scribe", frame.segments(mark.path))


def _centre_lines(frame: Frame) -> Iterator[Item]:
    """A cross through each circle, reaching beyond it; one for circles about a common centre. And those of slots."""
    for centre, reach in frame.centres:
        yield from _cross(centre, reach, "centre")
    for middle, reach in frame.slots:
        yield from _through_slot(middle, reach, frame.sizes.text)


def _through_slot(middle: Segment, reach: float, text: float) -> Iterator[Item]:
    """The middle line of a slot, beyond its ends, and a line across it in the middle; at far ends as well."""
    before, after = (_onward(segment, reach) for segment in (middle.reversed(), middle))
    straight = isinstance(middle, Line)
    yield Path("centre", (Line(before.end, after.end),) if straight else (before.reversed(), middle, after))
    for share in (0.0, 0.5, 1.0) if middle.length > _FAR * text else (0.5,):
        (x, y), (ux, uy) = middle.at(share), _heading(middle, share)
        yield Path("centre", (Line((x + reach * uy, y - reach * ux), (x - reach * uy, y + reach * ux)),))


def _onward(segment: Segment, length: float) -> Line:
    """On from a segment's end, the way it ends."""
    (x, y), (ux, uy) = segment.end, segment.heading_at_end
    return Line((x, y), (x + length * ux, y + length * uy))


def _heading(segment: Segment, share: float) -> Point:
    return segment.heading if isinstance(segment, Line) else segment.heading_at(segment.at(share))


_FAR = 2.0
"""A slot's ends are so many sizes of lettering apart, or its ends have no lines of their own."""


def _cross(at: Point, arm: float, pen: Pen) -> Iterator[Item]:
    x, y = at
    for line in (Line((x - arm, y), (x + arm, y)), Line((x, y - arm), (x, y + arm))):
        yield Path(pen, (line,))
