"""Layout: the part as large as the paper allows, then its dimensions, then its flags.

The lettering has one size whatever the scale, so how much room the dimensions take is only known once
they are placed: a scale is tried, what the drawing takes is measured, and a better one tried.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from parts.cached import cached_property
from parts.drawing import bend_numbers, dimensions, flags, outline
from parts.drawing.frame import Frame, Sizes, Subject
from parts.drawing.kept import Way
from parts.drawing.primitives import Drawing, Group, Item, Path, Polygon, around, box_of, shifted
from parts.drawing.room import Occupancy, without
from parts.geometry import Box
from parts.record import Record
from parts.wanted import step

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
    room: Occupancy
    groups: tuple[Group, ...]

    @cached_property
    def box(self) -> Box:
        """The bounding box of everything drawn."""
        return around(group.box for group in self.groups)

    def fits(self, width: float, height: float) -> bool:
        """Tell whether it goes on paper of this size, with a margin for the width of its lines."""
        return _fits(self.box, width, height, self.frame.sizes)


def _fits(box: Box, width: float, height: float, sizes: Sizes) -> bool:
    margin = 2 * sizes.margin
    return box[2] - box[0] <= width - margin and box[3] - box[1] <= height - margin


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
    layout, paper = Layout(record, letters=letters), (width, height)
    bare, text = bare_scale(record, width, height), TEXT_SHARE * width
    best: Plan | None = None
    for share in _TEXT_STEPS:
        plan = layout.largest(paper, Sizes(share * text))
        if plan.fits(*paper) and (best is None or plan.frame.scale > best.frame.scale):
            best = plan
        if best and best.frame.scale >= _ENOUGH * bare:
            break
    smaller = _TEXT_STEPS[-1] * text
    while best is None:
        smaller *= 0.8
        plan = layout.largest(paper, Sizes(smaller))
        if plan.fits(*paper) or smaller < text / 10:
            best = plan
    return layout.finished(best, *paper)


def lay_out_to_standard(record: Record, width: float, height: float, text: float) -> Drawing:
    """Return the drawing at the largest standard scale at which it fits, as `Layout.to_standard` does."""
    return Layout(record).to_standard(width, height, text)


def largest_bare(record: Record, width: float, height: float) -> float:
    """Return the largest standard scale at which the part would go on the paper without its dimensions."""
    bare = bare_scale(record, width, height)
    return next((scale for scale in STANDARD_SCALES if scale <= bare), STANDARD_SCALES[-1])


class Layout:
    """A part being laid out, on papers of several sizes if need be; `letters` is whether dimensions carry theirs.

    Of the largest scale that there could be, `largest` goes down to `least_share`; it leaves what gains less than
    `enough`, looks no further where a scale is found within `nearly`, and is content after so many `tries`. `apart` is
    whether leaders may not cross, `cell` that of the ink, in sizes of lettering.
    """

    least_share, enough = _LEAST_SHARE, 1.03
    apart, cell, tries, nearly = False, 0.4, _TRIES, 1.02

    def __init__(self, record: Record, *, letters: bool = True, before: Sequence[Way] = ()) -> None:
        self._record = record
        self._subject = Subject(record)
        self._dimensions = dimensions.Dimensions(self._subject, letters, before)

    def to_standard(self, width: float, height: float, text: float) -> Drawing:
        """Return the drawing at the largest standard scale at which it fits.

        Where the lettering would leave the part small, the lettering is made smaller.

        Args:
            width: width of the paper, mm.
            height: height of the paper, mm.
            text: size of the lettering, mm.
        """
        bare = bare_scale(self._record, width, height)
        best: Drawing | None = None
        for share, enough in (*((share, _ENOUGH) for share in LETTERING), (LAST_LETTERING, _TINY)):
            if best and best.scale >= enough * bare:
                return best
            best = self._at_standard((width, height), Sizes(share * text), best.scale if best else 0.0) or best
        if best:
            return best
        smallest = Sizes(LAST_LETTERING * text)
        return self.finished(self._whole_plan(STANDARD_SCALES[-1], smallest), width, height)

    def as_large(self, width: float, height: float, other: Drawing, share: float) -> Drawing | None:
        """Return the drawing at the largest standard scale at which it fits, its lettering no smaller than another's.

        None where that scale is less than `share` of the other one's.
        """
        least = share * other.scale * (1 - 1e-9)
        return self._at_standard((width, height), Sizes(other.text_size), least)

    def _at_standard(self, paper: tuple[float, float], sizes: Sizes, over: float) -> Drawing | None:
        """The drawing at the largest standard scale at which it fits, None where there is none larger than `over`."""

        def too_large(taken: Box) -> bool:
            return not _fits(taken, *paper, sizes)

        for scale in STANDARD_SCALES:
            if not over < scale <= bare_scale(self._record, *paper):
                continue
            free = _free(self._record, scale, *paper)
            plan = self._plan(scale, sizes, given_up=too_large, free=free)
            plan = plan or self._plan(scale, sizes, given_up=too_large)
            if plan:
                drawing = self.finished(plan, *paper)
                if drawing.height <= paper[1]:
                    return drawing
        return None

    def largest(self, paper: tuple[float, float], sizes: Sizes) -> Plan:
        """Return the plan at the largest scale that fits, to within a few percent; else the smallest tried."""
        room = self._room(paper, sizes)
        whole = bare_scale(self._record, *room)
        low, high, scale, best = self.least_share * whole, whole, self._first_scale(whole, room, sizes), None

        def wanted(taken: Box) -> float:
            """The scale at which what is about the part would leave it the rest of the paper."""
            return self._wanted(taken, scale, room)

        def settled(taken: Box) -> bool:
            """Whether it can't fit and, however much more it takes, all that is learned is that."""
            return not _fits(taken, *paper, sizes) and (scale <= 1.02 * low or 0.999 * wanted(taken) <= low)

        for tried in range(_TRIES):
            if best and tried >= self.tries:
                break
            plan = self._plan(scale, sizes, given_up=settled)
            next_scale = 0.999 * wanted(plan.box) if plan else low
            if plan and plan.fits(*paper):
                best, low = plan, scale
                if wanted(plan.box) <= self.enough * scale:
                    break
            else:
                high = scale
            if high <= self.nearly * low:
                break
            scale = next_scale if low < next_scale < high else (low * high) ** 0.5
        return best or self._whole_plan(low, sizes)

    @staticmethod
    def _room(paper: tuple[float, float], sizes: Sizes) -> tuple[float, float]:
        return paper[0] - 2 * sizes.margin, paper[1] - 2 * sizes.margin

    def _wanted(self, taken: Box, scale: float, room: tuple[float, float]) -> float:
        """The scale at which what is about the part, as it is at this one, would leave it the rest of the room."""
        x0, y0, x1, y1 = self._record.box
        around_part = taken[2] - taken[0] - (x1 - x0) * scale, taken[3] - taken[1] - (y1 - y0) * scale
        return min((room[0] - around_part[0]) / (x1 - x0), (room[1] - around_part[1]) / (y1 - y0))

    def _first_scale(self, whole: float, room: tuple[float, float], sizes: Sizes) -> float:
        """The scale that is tried first, of the largest that there could be in so much room."""
        return 0.75 * whole

    def _whole_plan(self, scale: float, sizes: Sizes) -> Plan:
        """The part with its dimensions at a scale."""
        frame = Frame(self._subject, scale, sizes)
        room = Occupancy(self.cell * sizes.text, frame.box, apart=self.apart)
        return Plan(frame, room, tuple(self._groups(frame, room)))

    def _plan(
        self, scale: float, sizes: Sizes, *, given_up: Callable[[Box], bool], free: Box | None = None
    ) -> Plan | None:
        """The same, None as soon as it is given up for the room it takes; to grow within `free` costs nothing."""
        frame = Frame(self._subject, scale, sizes)
        room = Occupancy(self.cell * sizes.text, free or frame.box, apart=self.apart)
        groups: list[Group] = []
        taken: Box | None = None
        for group in self._groups(frame, room):
            step()
            groups.append(group)
            taken = around((taken, group.box)) if taken else group.box
            if given_up(taken):
                return None
        return Plan(frame, room, tuple(groups))

    def _groups(self, frame: Frame, room: Occupancy) -> Iterator[Group]:
        """The part, the numbers of its bends and its dimensions, each as it takes its room."""
        drawn = outline.groups(frame)
        for group in drawn:
            weight = {"part": 2.0, "marks": 1.0}.get(group.kind, 0.5)
            room.draw((s for item in group.items if isinstance(item, Path) for s in item.segments), weight, group.box)
        flags.keep_clear(frame, room, self._record.rows)
        yield from drawn
        yield from bend_numbers.place(frame, room)
        yield from self._dimensioned(frame, room)

    def _dimensioned(self, frame: Frame, room: Occupancy) -> Iterator[Group]:
        """The dimensions that are shown."""
        return self._dimensions.placed(frame, room)

    def _spare(self, frame: Frame, room: Occupancy, paper: Box) -> Iterator[Group]:
        """The dimensions that are shown only while they are asked for: none on paper."""
        return iter(())

    def finished(self, plan: Plan, width: float, height: float) -> Drawing:
        """Return the plan with its flags, in the middle of its paper, its thin lines broken around lettering."""
        rows = self._record.rows
        x0, y0, x1, y1 = plan.box
        margin = plan.frame.sizes.margin
        spare = max(0.0, (width - (x1 - x0)) / 2 - margin)
        rise = max(0.0, (height - (y1 - y0)) / 2 - margin) if self._record.findings else 0.0
        paper = x0 - spare, y0 - rise, x1 + spare, y1 + rise
        flagged = flags.place(plan.frame, plan.room, rows, paper)
        every = (*plan.groups, *flagged, *self._spare(plan.frame, plan.room, paper))
        groups = tuple(_broken(every, tuple(outline.lettering(plan.frame))))
        _, gy0, _, gy1 = around(group.box for group in groups if not group.spare)
        dx, dy = width / 2 - (x0 + x1) / 2, margin - gy0
        # flags stay on the paper, so the middle may stay the middle of the part with its dimensions
        moved = tuple(replace(g, items=tuple(shifted(item, dx, dy) for item in g.items)) for g in groups)
        return Drawing(width, gy1 - gy0 + 2 * margin, plan.frame.scale, (dx, dy), plan.frame.sizes.text, moved)


def _free(record: Record, scale: float, width: float, height: float) -> Box:
    """The part's box with half of the paper about it, which nothing is gained by keeping free."""
    x0, y0, x1, y1 = record.box
    wide, high = (x1 - x0) * scale, (y1 - y0) * scale
    dx, dy = (width - wide) / 4, (height - high) / 4
    return -dx, -dy, wide + dx, high + dy


def bare_scale(record: Record, width: float, height: float) -> float:
    """Return the largest scale at which the part would go on the paper without its dimensions."""
    x0, y0, x1, y1 = record.box
    return min(width / (x1 - x0), height / (y1 - y0))


def _broken(groups: tuple[Group, ...], scribed: tuple[Polygon, ...]) -> Iterator[Group]:
    """Yield the groups with dimension and centre lines broken where they'd run through lettering or marks.

    `scribed` is where the part has lettering of its own.
    """
    lasting = [group for group in groups if not group.spare]
    outlines = [(text.outline, group) for group in lasting for text in group.texts]
    outlines += [(mark.outline, group) for group in lasting for mark in group.marks]
    boxes = [(outline, box_of(outline), group) for outline, group in outlines]
    of_part = [(outline, box_of(outline)) for outline in scribed]
    for group in groups:
        if group.kind in ("dimension", "centres", "finding"):
            others = [*of_part, *((polygon, box) for polygon, box, owner in boxes if owner is not group)]
            pieces = tuple(piece for item in group.items for piece in _pieces(item, others))
            yield replace(group, items=pieces)
        else:
            yield group


def _pieces(item: Item, others: list[tuple[Polygon, Box]]) -> Iterator[Item]:
    if not isinstance(item, Path):
        yield item
        return
    x0, y0, x1, y1 = item.box
    near = [polygon for polygon, b in others if b[0] <= x1 and x0 <= b[2] and b[1] <= y1 and y0 <= b[3]]
    left = [tuple(without(segment, near)) for segment in item.segments]
    if item.closed and all(part == (segment,) for part, segment in zip(left, item.segments, strict=True)):
        yield item  # its dashes run on round it
    else:
        yield from (replace(item, segments=(piece,), closed=False) for part in left for piece in part)
