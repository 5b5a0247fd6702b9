"""The panels of a box with tabs and slots: base, walls and lid as drawn, laid out side by side.

Each panel has its own frame, and is drawn larger or its slots smaller by half the overcut, so that as cut it has the
sizes asked. Its parameters are those of `tabbed`.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from parts.artwork import Label
from parts.cached import cached_property
from parts.geometry import Corner, Loop, Motion, Point, polygon, rectangle, translation
from parts.profile import Dimension, DimensionStyle, Opening, Profile, Scribe
from parts.templates.box.shared.tabbed import JointedBox
from parts.templates.shared.joint import CutRelief, relieved_slot

Turning = tuple[Point, float, str]
"""A corner of an outline as cut: where it is, the size of what is done to it, and its kind (`fillet`, `relief`)."""


@dataclass(frozen=True)
class Panel:
    """One panel as drawn, in its own frame; `openings` are its slots and holes."""

    name: str
    edge: Loop
    openings: tuple[Opening, ...] = ()
    label: Label | None = None

    @property
    def label_ends(self) -> tuple[tuple[Point, Point], ...]:
        """The height of its name, from and to, where it has one."""
        box = self.label.box if self.label else None
        return (((box[0], box[1]), (box[0], box[3])),) if box else ()

    def at(self, x: float, y: float) -> "PlacedPanel":
        """Return the panel with the lower left corner of its box at a place of the sheet."""
        x0, y0, _, _ = self.edge.box
        return PlacedPanel(self, translation(x - x0, y - y0))


@dataclass(frozen=True)
class PlacedPanel:
    """A panel and the motion that brings it to its place on the sheet."""

    panel: Panel
    motion: Motion

    @cached_property
    def edge(self) -> Loop:
        """Its outline on the sheet."""
        return self.motion.loop(self.panel.edge)

    @property
    def openings(self) -> tuple[Opening, ...]:
        """Its openings on the sheet."""
        return tuple(Opening(self.motion.loop(o.loop), o.name, o.parameter, o.bolt) for o in self.panel.openings)

    @property
    def marks(self) -> tuple[Scribe, ...]:
        """Its name on the sheet."""
        label = self.panel.label
        return replace(label, middle=self.motion.point(label.middle)).marks if label else ()

    def dimension(self, parameter: str, start: Point, end: Point, style: DimensionStyle) -> Dimension:
        """Return a dimension given in the panel's own frame."""
        return Dimension(parameter, self.motion.point(start), self.motion.point(end), style)


@lru_cache(maxsize=64)
def drawn(corners: tuple[Turning, ...], grow: float) -> Loop:
    """Return an upright outline, counter-clockwise as cut, drawn `grow` mm larger all round; panels alike share it."""
    moved: list[Corner] = []
    for i, (at, treated, kind) in enumerate(corners):
        (bx, by), (ax, ay) = corners[i - 1][0], corners[(i + 1) % len(corners)][0]
        # each edge moves out along its normal, to the right of the way it runs
        nx = _sign(at[1] - by) + _sign(ay - at[1])
        ny = -_sign(at[0] - bx) - _sign(ax - at[0])
        place = at[0] + grow * nx, at[1] + grow * ny
        is_relief = kind == "relief" and treated
        moved.append(CutRelief(place, treated, kind, grow) if is_relief else Corner(place, treated, kind))
    return polygon(moved)


def _sign(value: float) -> float:
    return math.copysign(1.0, value) if value else 0.0


def tabbed_edge(p: JointedBox, start: Point, way: Point, middles: Iterable[float]) -> Iterator[Turning]:
    """Yield the corners of the tabs on an edge from `start` along a unit vector, out to its right."""
    (x, y), (dx, dy) = start, way

    def point(along: float, out: float) -> Point:
        return x + dx * along + dy * out, y + dy * along - dx * out

    for middle in middles:
        a, b = middle - p.tab / 2, middle + p.tab / 2
        yield point(a, 0), p.relief_radius, "relief"
        yield point(a, p.plate), 0.0, "sharp"
        yield point(b, p.plate), 0.0, "sharp"
        yield point(b, 0), p.relief_radius, "relief"


def slot(p: JointedBox, centre: Point, where: str, *, level: bool) -> Opening:
    """Return the slot for a tab that runs along x (`level`) or along y, with relieved corners."""
    alike = relieved_slot(p.slot_size, p.relief_radius, p.overcut / 2, p.eye_size, level)
    return Opening(translation(*centre).loop(alike), f"slot in the {where}", "tab")


def base(p: JointedBox, name: str = "base", extra: tuple[Opening, ...] = (), *, slots: bool = True) -> Panel:
    """Return the base, or a lid, with the slots of all four walls; its frame is the inside's."""
    (long, wide, _), half = p.inside, p.plate / 2
    out, grow = p.around, p.overcut / 2
    edge = rectangle((-out - grow, -out - grow), long + 2 * (out + grow), wide + 2 * (out + grow), p.rounding)
    if not slots:
        return Panel(name, edge, extra, p.label(name, (long, wide), extra))
    level = [(x, y) for y in (-half, wide + half) for x in p.tabs_along(long)]
    upright = [(x, y) for x in (-half, long + half) for y in p.tabs_along(wide)]
    cut = (
        *(slot(p, at, name, level=True) for at in level),
        *(slot(p, at, name, level=False) for at in upright),
    )
    return Panel(name, edge, (*cut, *extra), p.label(name, (long, wide), extra))


def long_wall(p: JointedBox, name: str, extra: tuple[Opening, ...] = ()) -> Panel:
    """Return the front or the back: x along the length, y up from the base."""
    (long, _, high), out = p.inside, p.around
    left, right = -out, long + out
    along = [x + out for x in p.tabs_along(long)]
    r = p.rounding
    corners: list[Turning] = [((left, 0.0), r, "fillet")]
    corners += tabbed_edge(p, (left, 0.0), (1.0, 0.0), along)
    corners += [((right, 0.0), r, "fillet"), ((right, high), r, "fillet")]
    if p.has_lid_slots:
        corners += tabbed_edge(p, (right, high), (-1.0, 0.0), along)
    corners.append(((left, high), r, "fillet"))
    slots = [slot(p, (x, y), name, level=False) for x in (-p.plate / 2, long + p.plate / 2) for y in p.tabs_along(high)]
    return Panel(name, drawn(tuple(corners), p.overcut / 2), (*slots, *extra), p.label(name, (long, high), extra))


def end_wall(p: JointedBox, name: str, extra: tuple[Opening, ...] = ()) -> Panel:
    """Return a side between front and back: x along the width, y up from the base."""
    _, wide, high = p.inside
    along, up = p.tabs_along(wide), p.tabs_along(high)
    corners: list[Turning] = [((0.0, 0.0), 0.0, "sharp")]
    corners += tabbed_edge(p, (0.0, 0.0), (1.0, 0.0), along)
    corners.append(((wide, 0.0), 0.0, "sharp"))
    corners += tabbed_edge(p, (wide, 0.0), (0.0, 1.0), up)
    corners.append(((wide, high), 0.0, "sharp"))
    if p.has_lid_slots:
        corners += tabbed_edge(p, (wide, high), (-1.0, 0.0), along)
    corners.append(((0.0, high), 0.0, "sharp"))
    corners += tabbed_edge(p, (0.0, high), (0.0, -1.0), up)
    return Panel(name, drawn(tuple(corners), p.overcut / 2), extra, p.label(name, (wide, high), extra))


def notched_edge(p: JointedBox, start: Point, way: Point, middles: Iterable[float]) -> Iterator[Turning]:
    """Yield the corners of open notches on an edge from `start` along a unit vector, for tabs flush with it."""
    (x, y), (dx, dy) = start, way
    half, deep = (p.tab + p.clearance) / 2, p.plate + p.side_clearance

    def point(along: float, inward: float) -> Point:
        return x + dx * along - dy * inward, y + dy * along + dx * inward

    for middle in middles:
        a, b = middle - half, middle + half
        yield point(a, 0), 0.0, "sharp"
        yield point(a, deep), p.relief_radius, "relief"
        yield point(b, deep), p.relief_radius, "relief"
        yield point(b, 0), 0.0, "sharp"


def notched_base(p: JointedBox, name: str = "base", extra: tuple[Opening, ...] = ()) -> Panel:
    """Return a base, or a lid, flush with the walls: a notch in its edges for each of their tabs."""
    (long, wide, _), out = p.inside, p.plate
    ends = ((-out, -out), (long + out, -out), (long + out, wide + out), (-out, wide + out))
    sides = (p.tabs_along(long), p.tabs_along(wide)) * 2
    corners: list[Turning] = []
    for start, way, middles in zip(ends, ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)), sides, strict=True):
        corners += [(start, 0.0, "sharp"), *notched_edge(p, start, way, [middle + out for middle in middles])]
    return Panel(name, drawn(tuple(corners), p.overcut / 2), extra, p.label(name, (long, wide), extra))


def notched_wall(p: JointedBox, name: str, extra: tuple[Opening, ...] = ()) -> Panel:
    """Return the front or the back, flush with the sides: notches in its ends for their tabs."""
    (long, _, high), out = p.inside, p.plate
    left, right = -out, long + out
    along, up = [x + out for x in p.tabs_along(long)], p.tabs_along(high)
    corners: list[Turning] = [((left, 0.0), 0.0, "sharp"), *tabbed_edge(p, (left, 0.0), (1.0, 0.0), along)]
    corners += [((right, 0.0), 0.0, "sharp"), *notched_edge(p, (right, 0.0), (0.0, 1.0), up)]
    corners.append(((right, high), 0.0, "sharp"))
    if p.has_lid_slots:
        corners += tabbed_edge(p, (right, high), (-1.0, 0.0), along)
    corners += [((left, high), 0.0, "sharp"), *notched_edge(p, (left, high), (0.0, -1.0), up)]
    return Panel(name, drawn(tuple(corners), p.overcut / 2), extra, p.label(name, (long, high), extra))


def laid_out(columns: Iterable[Sequence[Panel]], between: float) -> tuple[PlacedPanel, ...]:
    """Return the panels in columns side by side, each column stacked from its foot."""
    placed, x = [], 0.0
    for column in columns:
        y, widest = 0.0, 0.0
        for panel in column:
            x0, y0, x1, y1 = panel.edge.box
            placed.append(panel.at(x, y))
            y, widest = y + y1 - y0 + between, max(widest, x1 - x0)
        x += widest + between
    return tuple(placed)


def profile_of(p: JointedBox, placed: Sequence[PlacedPanel], dimensions: Iterable[Dimension]) -> Profile:
    """Return all panels as one profile: several outside loops, the openings of each."""
    inside = tuple(opening for each in placed for opening in each.openings)
    return Profile(
        tuple(each.edge for each in placed),
        inside,
        tuple(mark for each in placed for mark in each.marks),
        (*joint_dimensions(p, placed), *dimensions),
        tuple(each.panel.name for each in placed),
    )


def joint_dimensions(p: JointedBox, placed: Sequence[PlacedPanel]) -> Iterator[Dimension]:
    """Yield where the lengths of every box can be measured as cut, on the base, the front and a side."""
    by_name = {each.panel.name: each for each in placed}
    foot, front, side = by_name["base"], by_name["front"], by_name["left side"]
    (long, wide, high), out = p.inside, p.around
    outside = p.sizes == "outside"
    low, end, top = (-out, long + out, wide + out) if outside else (0.0, long, wide)
    yield foot.dimension("length", (low, -out), (end, -out), "below")
    yield foot.dimension("width", (-out, low), (-out, top), "left")
    under, over = (-p.plate, high + (p.covers - 1) * p.plate) if outside else (0.0, high)
    yield side.dimension("height", (wide + p.plate, under), (wide + p.plate, over), "right")
    if p.beyond:
        upper = max(front, by_name["back"], key=lambda each: each.motion.point((0.0, high))[1])  # no panel in the way
        yield upper.dimension("lip", (-out, high), (-p.plate, high), "above")
    middle, off = p.tabs_along(high)[0], wide + p.plate
    yield side.dimension("tab", (off, middle - p.tab / 2), (off, middle + p.tab / 2), "right")
    if p.measured:
        up = p.tabs_along(high)[-1] + p.tab / 2
        yield side.dimension("measured", (wide, up), (wide + p.plate, up), "above")
    if p.rounding:
        yield _radius(foot, p, long + out + p.overcut / 2, wide + out + p.overcut / 2)
    yield _relief(foot, p)
    yield from [each.dimension("names", *ends, "left") for each in placed for ends in each.panel.label_ends][:1]
    _, _, _, roof = foot.edge.box
    yield Dimension("between", (foot.edge.box[0], roof), (foot.edge.box[0], roof + p.between), "left")


def _radius(foot: PlacedPanel, p: JointedBox, x: float, y: float) -> Dimension:
    r, out = p.rounding, p.rounding * math.sqrt(0.5)
    return foot.dimension("corner_radius", (x - r, y - r), (x - r + out, y - r + out), "radius")


def _relief(foot: PlacedPanel, p: JointedBox) -> Dimension:
    """The relief at the corner of the first slot, or notch, of the base: its arc goes through the corner."""
    inward = p.relief_radius * math.sqrt(0.5)
    x = p.tabs_along(p.inside[0])[0] + (p.tab + p.clearance) / 2
    if not p.beyond:
        ground = p.inside[1] - p.clearance / 2
        return foot.dimension("relief", (x - inward, ground + inward), (x, ground), "radius")
    y = p.inside[1] + p.plate + p.clearance / 2
    return foot.dimension("relief", (x - inward, y - inward), (x, y), "radius")
