"""Layout: the part as large as the paper allows, then its dimensions, then its flags.

The lettering has one size whatever the scale, so how much room the dimensions take is only known once
they are placed: a scale is tried, what the drawing takes is measured, and a better one tried.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.drawing import bend_numbers, dimensions, flags, outline
from parts.drawing.frame import Frame, Sizes
from parts.drawing.primitives import Drawing, Group, Item, Path, Polygon, around, shifted
from parts.drawing.room import Room, without
from parts.geometry import Box
from parts.record import Record

TEXT_SHARE = 0.034
"""Size of the lettering as a share of the drawing's width: legible on a phone, about 12 px of 360."""

STANDARD_SCALES = (5.0, 2.0, 1.0, 1 / 2, 1 / 2.5, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200)
"""ISO 5455's scales, largest first; with 1:2.5, which shops use besides."""

_TEXT_STEPS = (1.0, 0.85, 0.7, 0.6, 0.5, 0.42)
LETTERING = (1.0, 2.5 / 3.5)
"""Sizes on a sheet, as shares of the usual one: 3.5 and 2.5 mm of ISO 3098-1; what is smaller can't be read there."""
LAST_LETTERING = 1.8 / 3.5
"""The smallest size of ISO 3098-1, for what would be tiny otherwise."""
_ENOUGH, _TINY = 0.45, 0.25
"""Shares of the largest scale a part could have bare: large enough for its lettering to be kept, and too small."""

_TRIES = 8
_LEAST_SHARE = 0.02
"""The part keeps at least this share of the paper, however much its dimensions would take."""


@dataclass(frozen=True)
class Plan:
    """A part and its dimensions at one scale, the part's lower left at the origin."""

    frame: Frame
    room: Room
    groups: tuple[Group, ...]

    @property
    def box(self) -> Box:
        """The smallest upright rectangle around everything drawn."""
        return around(group.box for group in self.groups)

    def fits(self, width: float, height: float) -> bool:
        """Tell whether it goes on paper of this size, with a margin for the width of its lines."""
        x0, y0, x1, y1 = self.box
        margin = 2 * self.frame.sizes.margin
        return x1 - x0 <= width - margin and y1 - y0 <= height - margin


def lay_out(record: Record, width: float, height: float, *, letters: bool = True) -> Drawing:
    """Return the drawing of a part on paper `width` wide and at most `height` high, mm.

    The paper of the result is as high as it needs to be; more than `height` only where flags are so many
    that they have no room otherwise. The lettering is TEXT_SHARE of the width; less where it would leave
    the part small.

    Args:
        record: the part.
        width: width of the paper.
        height: greatest height of the paper.
        letters: whether dimensions carry their letter.
    """
    bare, text = _bare_scale(record, width, height), TEXT_SHARE * width
    best: Plan | None = None
    for share in _TEXT_STEPS:
        plan = _largest(record, width, height, Sizes(share * text), letters)
        if plan.fits(width, height) and (best is None or plan.frame.scale > best.frame.scale):
            best = plan
        if best and best.frame.scale >= _ENOUGH * bare:
            break
    smaller = _TEXT_STEPS[-1] * text
    while best is None:
        smaller *= 0.8
        plan = _largest(record, width, height, Sizes(smaller), letters)
        if plan.fits(width, height) or smaller < text / 10:
            best = plan
    return _finished(record, best, width, height)


def lay_out_to_standard(record: Record, width: float, height: float, text: float) -> Drawing:
    """Return the drawing at the largest standard scale at which it fits.

    Where the lettering would leave the part small, the lettering is made smaller.

    Args:
        record: the part.
        width: width of the paper, mm.
        height: height of the paper, mm.
        text: size of the lettering, mm.
    """
    bare = _bare_scale(record, width, height)
    best: Drawing | None = None
    for share, enough in (*((share, _ENOUGH) for share in LETTERING), (LAST_LETTERING, _TINY)):
        if best and best.scale >= enough * bare:
            return best
        best = _at_standard(record, (width, height), Sizes(share * text), best.scale if best else 0.0) or best
    smallest = Sizes(LAST_LETTERING * text)
    return best or _finished(record, _plan(record, STANDARD_SCALES[-1], smallest, True), width, height)


def largest_bare(record: Record, width: float, height: float) -> float:
    """Return the largest standard scale at which the part would go on the paper without its dimensions."""
    bare = _bare_scale(record, width, height)
    return next((scale for scale in STANDARD_SCALES if scale <= bare), STANDARD_SCALES[-1])


def _at_standard(record: Record, paper: tuple[float, float], sizes: Sizes, over: float) -> Drawing | None:
    """The drawing at the largest standard scale at which it fits, None where there is none larger than `over`."""
    for scale in STANDARD_SCALES:
        if not over < scale <= _bare_scale(record, *paper):
            continue
        plan = _plan(record, scale, sizes, letters=True, free=_free(record, scale, *paper))
        if not plan.fits(*paper):
            plan = _plan(record, scale, sizes, letters=True)
        if plan.fits(*paper):
            drawing = _finished(record, plan, *paper)
            if drawing.height <= paper[1]:
                return drawing
    return None


def _free(record: Record, scale: float, width: float, height: float) -> Box:
    """The part's box with half of the paper about it, which nothing is gained by keeping free."""
    x0, y0, x1, y1 = record.box
    wide, high = (x1 - x0) * scale, (y1 - y0) * scale
    dx, dy = (width - wide) / 4, (height - high) / 4
    return -dx, -dy, wide + dx, high + dy


def _bare_scale(record: Record, width: float, height: float) -> float:
    """The largest scale at which the part would go on the paper without its dimensions."""
    x0, y0, x1, y1 = record.box
    return min(width / (x1 - x0), height / (y1 - y0))


def _largest(record: Record, width: float, height: float, sizes: Sizes, letters: bool) -> Plan:
    """The plan at the largest scale that fits, to within a few percent; else the smallest tried."""
    x0, y0, x1, y1 = record.box
    room = width - 2 * sizes.margin, height - 2 * sizes.margin
    whole = _bare_scale(record, *room)
    low, high, scale, best = _LEAST_SHARE * whole, whole, 0.75 * whole, None
    for _ in range(_TRIES):
        plan = _plan(record, scale, sizes, letters)
        bx0, by0, bx1, by1 = plan.box
        around_part = bx1 - bx0 - (x1 - x0) * scale, by1 - by0 - (y1 - y0) * scale
        wanted = min((room[0] - around_part[0]) / (x1 - x0), (room[1] - around_part[1]) / (y1 - y0))
        if plan.fits(width, height):
            best, low = plan, scale
            if wanted <= 1.03 * scale:
                break
        else:
            high = scale
        if high <= 1.02 * low:
            break
        inside = low < 0.999 * wanted < high
        scale = 0.999 * wanted if inside else (low * high) ** 0.5
    return best or _plan(record, low, sizes, letters)


def _plan(record: Record, scale: float, sizes: Sizes, letters: bool, free: Box | None = None) -> Plan:
    """The part with its dimensions at a scale; to grow within `free`, if given, costs them nothing."""
    frame = Frame(record.profile, record.box, scale, sizes, record.open)
    room = Room(0.4 * sizes.text, free or frame.box)
    drawn = outline.groups(frame)
    for group in drawn:
        weight = {"part": 2.0, "marks": 1.0}.get(group.kind, 0.5)
        room.draw((s for item in group.items if isinstance(item, Path) for s in item.segments), weight)
    flags.keep_clear(frame, room, record.rows)
    numbers = bend_numbers.place(frame, room)
    return Plan(frame, room, (*drawn, *numbers, *dimensions.place(record, frame, room, letters)))


def _finished(record: Record, plan: Plan, width: float, height: float) -> Drawing:
    """The plan with its flags, in the middle of its paper, its thin lines broken around lettering."""
    x0, y0, x1, y1 = plan.box
    margin = plan.frame.sizes.margin
    spare = max(0.0, (width - (x1 - x0)) / 2 - margin)
    rise = max(0.0, (height - (y1 - y0)) / 2 - margin) if record.findings else 0.0
    paper = x0 - spare, y0 - rise, x1 + spare, y1 + rise
    flagged = flags.place(plan.frame, plan.room, record.rows, paper)
    groups = tuple(_broken((*plan.groups, *flagged)))
    _, gy0, _, gy1 = around(group.box for group in groups)
    dx, dy = width / 2 - (x0 + x1) / 2, margin - gy0
    # flags stay on the paper, so the middle may stay the middle of the part with its dimensions
    moved = tuple(replace(g, items=tuple(shifted(item, dx, dy) for item in g.items)) for g in groups)
    return Drawing(width, gy1 - gy0 + 2 * margin, plan.frame.scale, (dx, dy), plan.frame.sizes.text, moved)


def _broken(groups: tuple[Group, ...]) -> Iterator[Group]:
    """Yield the groups with dimension and centre lines broken where they'd run through lettering or marks."""
    boxes = [(text.outline, group) for group in groups for text in group.texts]
    boxes += [(mark.outline, group) for group in groups for mark in group.marks]
    for group in groups:
        if group.kind in ("dimension", "centres", "finding"):
            others = [polygon for polygon, owner in boxes if owner is not group]
            pieces = tuple(piece for item in group.items for piece in _pieces(item, others))
            yield replace(group, items=pieces)
        else:
            yield group


def _pieces(item: Item, boxes: list[Polygon]) -> Iterator[Item]:
    if not isinstance(item, Path):
        yield item
        return
    left = [tuple(without(segment, boxes)) for segment in item.segments]
    if item.closed and all(part == (segment,) for part, segment in zip(left, item.segments, strict=True)):
        yield item  # its dashes run on round it
    else:
        yield from (replace(item, segments=(piece,), closed=False) for part in left for piece in part)
