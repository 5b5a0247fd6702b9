"""What a page lays over a finished drawing when asked to: the outline as cut, and where the torch slows."""

from collections.abc import Iterator
from dataclasses import replace

from parts.cutting import SLOW, SlowRun, laps, runs
from parts.drawing.frame import Frame, Sizes, Subject
from parts.drawing.primitives import Drawing, Group, GroupKind, Path, Pen
from parts.geometry import Loop, Point, Segment
from parts.geometry.disk import piece
from parts.record import Record

STEPS = (SLOW, 0.6, 0.4)
"""Shares of the feed at which the band of a slow stretch gets wider."""

OVERLAYS: tuple[GroupKind, ...] = ("as-cut", "slow")

_PENS: tuple[Pen, ...] = ("slow-1", "slow-2", "slow-3")


def overlaid(record: Record, drawing: Drawing) -> Drawing:
    """Return a drawing of a part with these groups, the bands beneath everything else."""
    frame = Frame(Subject(record), drawing.scale, Sizes(drawing.text_size))
    slow = Group("slow", tuple(_bands(record, frame, drawing.origin)))
    left = Group("as-cut", tuple(_as_cut(record, frame, drawing.origin)))
    groups = (slow, *drawing.groups, left)
    return replace(drawing, groups=tuple(group for group in groups if group.items))


def _as_cut(record: Record, frame: Frame, origin: Point) -> Iterator[Path]:
    for loop in record.as_cut.loops if record.as_cut else ():
        yield Path("as-cut", frame.segments(loop.segments, origin), closed=True)


def _bands(record: Record, frame: Frame, origin: Point) -> Iterator[Path]:
    loops = record.profile.boundary
    for loop, pace in zip(loops, laps(loops, record.job), strict=True):
        for run in runs(pace, STEPS):
            yield Path(_PENS[run.stretches[0].step - 1], frame.segments(along(loop, run), origin))


def along(loop: Loop, run: SlowRun) -> Iterator[Segment]:
    """Yield the pieces of a loop's segments that a run goes over."""
    for stretch in run.stretches:
        segment = loop.segments[stretch.segment]
        length = segment.length
        yield piece(segment, max(stretch.start / length, 0.0), min(stretch.end / length, 1.0))
