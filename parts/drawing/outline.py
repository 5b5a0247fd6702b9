"""The part itself on the paper: its loops, its marks, and the centre lines of whatever is round."""

import math
from collections.abc import Iterator

from parts.bends import bend_lines
from parts.drawing.frame import Frame
from parts.drawing.primitives import Group, Item, Path, Pen, Text, text_width
from parts.geometry.loop import Loop
from parts.geometry.segment import Line, Point
from parts.profile import Bend, Drill, Mark
from parts.tolerance import PARALLEL_RAD

BEND_TEXT = 0.75
"""Size of the lettering at a bend line, as a share of the drawing's."""


def groups(frame: Frame) -> tuple[Group, ...]:
    """Return the part, its marks and its centre lines as far as it has any."""
    part = Group("part", tuple(_loops(frame)))
    drawn = tuple(item for mark in frame.profile.marks for item in _mark(frame, mark))
    marks = Group("marks", (*drawn, *_bend_numbers(frame)))
    centres = Group("centres", tuple(_centre_lines(frame)))
    return tuple(group for group in (part, marks, centres) if group.items)


def _loops(frame: Frame) -> Iterator[Item]:
    for loop in frame.profile.outside:
        yield _path(frame, loop, "cut-outside")
    for opening in frame.profile.inside:
        yield _path(frame, opening.loop, "cut-inside")


def _path(frame: Frame, loop: Loop, pen: Pen) -> Path:
    return Path(pen, tuple(frame.segment(segment) for segment in loop.segments), closed=True)


def _mark(frame: Frame, mark: Mark) -> Iterator[Item]:
    if isinstance(mark, Bend):
        yield Path("bend", (frame.segment(mark.line),))
    elif isinstance(mark, Drill):
        arm = 0.7 * frame.sizes.text
        yield from _cross(frame.point(mark.at), arm, "scribe")
    else:
        yield Path("scribe", tuple(frame.segment(segment) for segment in mark.path))


def _bend_numbers(frame: Frame) -> Iterator[Item]:
    """Beside each bend line whose bend is told, its number in the bend table, which way and how far it turns.

    The lettering stands along the line, at its middle, on the side that reads from below or the right; a line too
    short for it has its number alone.
    """
    size = BEND_TEXT * frame.sizes.text
    for number, bend in enumerate(bend_lines(frame.profile), start=1):
        if not bend.angle:
            continue
        line = frame.segment(bend.line)
        angle = math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0])
        if not -math.pi / 2 + PARALLEL_RAD < angle <= math.pi / 2 + PARALLEL_RAD:
            angle += math.pi
        x, y = line.at(0.5)
        off = 0.45 * size
        at = x - off * math.sin(angle), y + off * math.cos(angle)
        whole = f"{number} {'up' if bend.up else 'down'} {math.degrees(bend.angle):.4g}\u00b0"
        fits = text_width(whole, size) < line.length
        yield Text(at, whole if fits else str(number), size, "middle", angle)


def _centre_lines(frame: Frame) -> Iterator[Item]:
    """A cross through each circle, reaching beyond it; one for circles about a common centre."""
    for centre, reach in frame.centres:
        yield from _cross(centre, reach, "centre")


def _cross(at: Point, arm: float, pen: Pen) -> Iterator[Item]:
    x, y = at
    for line in (Line((x - arm, y), (x + arm, y)), Line((x, y - arm), (x, y + arm))):
        yield Path(pen, (line,))
