"""What a page lays over or under a finished drawing when asked to.

as-cut  the outline as the jet leaves it
slow    where the torch slows
stock   the sheet and the bed, from the part's lower left; the sheet the other way where only so it lies on the bed,
        both turned a quarter where the part fits no other way
"""

from collections.abc import Iterator
from dataclasses import replace

from parts.cutting import SLOW, Bed, SlowRun, laps, runs
from parts.drawing.frame import Frame, Sizes, Subject
from parts.drawing.primitives import Drawing, Group, GroupKind, Path, Pen, Text, box_around
from parts.geometry import Loop, Point, Segment, rectangle
from parts.geometry.disk import piece
from parts.record import Record
from parts.units import format_by, length_number

STEPS = (SLOW, 0.6, 0.4)
"""Shares of the feed at which the band of a slow stretch gets wider."""

OVERLAYS: tuple[GroupKind, ...] = ("as-cut", "slow", "stock")

_PENS: tuple[Pen, ...] = ("slow-1", "slow-2", "slow-3")


def overlaid(record: Record, drawing: Drawing) -> Drawing:
    """Return a drawing of a part with these groups, the bands beneath everything else."""
    frame = Frame(Subject(record), drawing.scale, Sizes(drawing.text_size))
    slow = Group("slow", tuple(_bands(record, frame, drawing.origin)))
    left = Group("as-cut", tuple(_as_cut(record, frame, drawing.origin)))
    stock = Group("stock", tuple(_stock(record, frame, drawing.origin)))
    groups = (stock, slow, *drawing.groups, left)
    return replace(drawing, groups=tuple(group for group in groups if group.items))


def _as_cut(record: Record, frame: Frame, origin: Point) -> Iterator[Path]:
    for loop in record.as_cut.loops if record.as_cut else ():
        yield Path("as-cut", frame.segments(loop.segments, origin), closed=True)


def _stock(record: Record, frame: Frame, origin: Point) -> Iterator[Path | Text]:
    """The rectangles of the sheet and of what the machine travels, each named on top of it."""
    job, (x, y, *_) = record.job, record.part_box
    laid, turned = _laid(record)
    turn = ", turned a quarter" if turned else ""
    over = "" if job.bed.holds(laid.x_mm, laid.y_mm) else ", larger than the bed"
    rectangles: tuple[tuple[Pen, str, float, float, str], ...] = (
        ("sheet", "Sheet", laid.x_mm, laid.y_mm, over),
        ("bed", "Bed", job.bed.x_mm, job.bed.y_mm, ""),
    )
    for pen, name, along, up, more in rectangles:
        loop = rectangle((x, y), *((up, along) if turned else (along, up)))
        yield Path(pen, frame.segments(loop.segments, origin), closed=True)
        left, _, right, top = box_around(frame.segments(loop.segments, origin))
        units = record.job.units
        size = format_by(length_number(along, units), length_number(up, units), units)
        foot = left if pen == "bed" else right, top + frame.sizes.gap
        yield Text(foot, f"{name} {size}{turn}{more}", frame.sizes.text, "start" if pen == "bed" else "end")


def _laid(record: Record) -> tuple[Bed, bool]:
    """The sheet as it lies on the bed, and whether the part has to be turned: as entered, unless another way does more.

    Most it does that the part fits, then that all of the sheet is within reach.
    """
    job, wide, high = record.job, record.measures.width_mm, record.measures.height_mm
    sheet = Bed(job.sheet.x_mm, job.sheet.y_mm)

    def wanting(way: tuple[Bed, bool]) -> tuple[bool, bool]:
        laid, turned = way
        room = Bed(min(job.bed.x_mm, laid.x_mm), min(job.bed.y_mm, laid.y_mm))
        fits = room.holds_turned(wide, high) if turned else room.holds(wide, high)
        return not fits, not job.bed.holds(laid.x_mm, laid.y_mm)

    ways = [(laid, turned) for turned in (False, True) for laid in (sheet, Bed(sheet.y_mm, sheet.x_mm))]
    return min(ways, key=wanting)


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
