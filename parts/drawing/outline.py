"""The part itself on the paper: its loops, its marks, and the centre lines of whatever is round."""

from collections.abc import Iterator

from parts.drawing.frame import Frame
from parts.drawing.primitives import Group, Item, Path, Pen
from parts.geometry import Line, Loop, Point
from parts.profile import Bend, Drill, Mark


def groups(frame: Frame) -> tuple[Group, ...]:
    """Return the part, what of it is open, its marks and its centre lines as far as it has any."""
    part = Group("part", tuple(_loops(frame)))
    loose = Group("open", tuple(Path("open", frame.segments(chain)) for chain in frame.subject.record.open))
    marks = Group("marks", tuple(item for mark in frame.profile.marks for item in _mark(frame, mark)))
    centres = Group("centres", tuple(_centre_lines(frame)))
    return tuple(group for group in (part, loose, marks, centres) if group.items)


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
    """A cross through each circle, reaching beyond it; one for circles about a common centre."""
    for centre, reach in frame.centres:
        yield from _cross(centre, reach, "centre")


def _cross(at: Point, arm: float, pen: Pen) -> Iterator[Item]:
    x, y = at
    for line in (Line((x - arm, y), (x + arm, y)), Line((x, y - arm), (x, y + arm))):
        yield Path(pen, (line,))
