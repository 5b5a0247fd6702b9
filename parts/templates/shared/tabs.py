"""Tabs and their slots: the parameters that plates which locate each other for welding share.

tab      stands out from an edge and goes through a slot in the plate that the edge is welded to
slot     as long as the tab is, as wide as its plate is thick, and the clearance more on every side
relief   half a circle beside a corner, so that the square tab and the edge seat in spite of the jet's radius:
         in the edge at the foot of a tab, in the long sides of a slot at its ends

Tabs stand one above the other, each `tab_pitch` above the one before. A plate with tabs and a plate with slots that
are given like values fit: the edge's lower end is as high on the other plate as that one's parameter says.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, fillet, polygon
from parts.geometry.figure import Window
from parts.profile import Dimension
from parts.spec import Parameters, count, length

_TABS = "Tabs"
_BLUNT = 0.25
"""Radius at a tab's tip as a part of its depth: it finds the slot, and no more of its length is lost."""
_RELIEF = 0.6
"""Radius of a relief in thicknesses: over half of one as inside corners want (common practice), and enough that a slot
as wide as the plate is thick has room for the pierce at its end."""


class Tabs(Parameters):
    """A template's parameters with how many tabs there are, how long and where."""

    tabs: int = count("Tabs", default=2, minimum=1, maximum=6, group=_TABS, help="Two locate; three quarrel.")
    tab_length: float = length("Tab length", default=30, minimum=5, maximum=300, group=_TABS)
    tab_pitch: float = length(
        "Between the tabs",
        default=60,
        inches="2-1/4",
        minimum=10,
        maximum=1000,
        group=_TABS,
        help="Centre to centre.",
        when=("tabs", "2"),
    )
    tab_first: float = length(
        "First tab up", default=40, minimum=3, maximum=1000, group=_TABS,
        help="Its centre, from the lower end of its plate's edge.",
    )  # fmt: skip
    tab_relief: float = length(
        "Relief radius", default=0, minimum=0, maximum=20, group=_TABS, help="0: 0.6 thicknesses.", moves="free",
        auto="relief_radius",
    )  # fmt: skip

    @property
    def relief_radius(self) -> float:
        """Radius of the reliefs in mm."""
        return self.tab_relief or _RELIEF * self.thickness

    @property
    def tab_heights(self) -> tuple[float, ...]:
        """Centre of each tab from the lower end of the edge, the lowest first."""
        return tuple(self.tab_first + i * self.tab_pitch for i in range(self.tabs))


class TabbedEdge(Tabs):
    """Tabs along the edge on the y axis, which the plate lies to the right of."""

    tab_depth: float = length(
        "Tabs stand out", default=0, minimum=0, maximum=60, group=_TABS,
        help="The thickness they go through; 0: the plate's own.", auto="depth",
    )  # fmt: skip

    @property
    def depth(self) -> float:
        """How far the tabs stand out in mm."""
        return self.tab_depth or self.thickness

    @property
    def tab_corners(self) -> list[Corner | Point]:
        """The corners of the edge between its ends, from the highest down: the plate is on the left."""
        return [corner for y in reversed(self.tab_heights) for corner in self._tab(y)]

    def _tab(self, y: float) -> list[Corner | Point]:
        half, r, out = self.tab_length / 2, self.relief_radius, self.depth
        blunt = _BLUNT * out
        above: list[Corner | Point] = [(0.0, y + half + 2 * r), fillet(r, y + half + 2 * r, r), fillet(r, y + half, r)]
        below: list[Corner | Point] = [fillet(r, y - half, r), fillet(r, y - half - 2 * r, r), (0.0, y - half - 2 * r)]
        return [*above, fillet(-out, y + half, blunt), fillet(-out, y - half, blunt), *below]

    def tab_problems(self, low: float, high: float) -> Iterator[Problem]:
        """Yield a problem unless the tabs and their reliefs stand apart, and between `low` and `high` on the edge."""
        half, relief = self.tab_length / 2, 2 * self.relief_radius
        clash = [*self.over("tab_length", 2 * _BLUNT * self.depth, "for tips that are rounded")]
        yield from clash
        if clash:
            return
        if self.tabs > 1:
            yield from self.over("tab_pitch", 2 * (half + relief), "to keep edge between the tabs")
        yield from self.over("tab_first", low + half + relief, "to keep edge below the first tab")
        room = high - half - relief
        if self.tabs > 1 and self.tab_first < room:
            yield from self.under(
                "tab_pitch", (room - self.tab_first) / (self.tabs - 1), "for the last tab on the edge"
            )
        else:
            yield from self.under("tab_first", room, "to keep edge above the first tab")

    def tabs_measured(self) -> Iterator[Dimension]:
        """Yield where each length of the tabs can be measured."""
        first, half, out = self.tab_first, self.tab_length / 2, self.depth
        yield Dimension("tab_first", (0, 0), (-out, first), "left")
        yield Dimension("tab_length", (-out, self.tab_heights[-1] - half), (-out, self.tab_heights[-1] + half), "left")
        if self.tabs > 1:
            yield Dimension("tab_pitch", (-out, first), (-out, first + self.tab_pitch), "left")
        if self.tab_depth:
            yield Dimension("tab_depth", (-out, first - half), (0, first - half), "below")
        if r := self.tab_relief:
            centre = 0.0, first + half + r
            yield Dimension("tab_relief", centre, (r, centre[1]), "radius")


class TabSlots(Tabs):
    """Upright slots for the tabs of other plates."""

    tab_thickness: float = length(
        "Thickness of the plates with tabs", default=0, minimum=0, maximum=60, group=_TABS, help="0: the plate's own.",
        auto="through",
    )  # fmt: skip
    tab_clearance: float = length(
        "Clearance round a tab", default=0.3, minimum=0, maximum=3, group=_TABS,
        help="On each side; cut a comb of slots first.",
    )  # fmt: skip

    @property
    def through(self) -> float:
        """Thickness of the plates with tabs in mm."""
        return self.tab_thickness or self.thickness

    def tab_slot(self, centre: Point) -> "TabSlot":
        """Return the slot of a tab whose centre is there."""
        r, more = self.relief_radius, 2 * self.tab_clearance
        return TabSlot(centre, self.through + more + 2 * r, self.tab_length + more, r)

    def slot_problems(self) -> Iterator[Problem]:
        """Yield a problem where the slots run into each other, or the reliefs of one do."""
        long = self.tab_length + 2 * self.tab_clearance
        yield from self.over("tab_length", 4 * self.relief_radius - 2 * self.tab_clearance, "between the reliefs")
        if self.tabs > 1:
            yield from self.over("tab_pitch", long, "to keep metal between the slots")

    def slots_measured(self, x: float, foot: float) -> Iterator[Dimension]:
        """Yield where each length can be measured on the slots at `x`, whose plate's lower end is at y = `foot`."""
        first, half, side = foot + self.tab_first, self.tab_length / 2, self.through / 2
        top = foot + self.tab_heights[-1] + half
        yield Dimension("tab_first", (x, foot), (x, first), "right")
        yield Dimension("tab_length", (x, top - 2 * half), (x, top), "right")
        if self.tabs > 1:
            yield Dimension("tab_pitch", (x, first), (x, first + self.tab_pitch), "right")
        if self.tab_thickness:
            yield Dimension("tab_thickness", (x - side, first), (x + side, first), "below")
        if c := self.tab_clearance:
            yield Dimension("tab_clearance", (x, top), (x, top + c), "right")
        if r := self.tab_relief:
            centre = x + side + self.tab_clearance, first + half + self.tab_clearance - r
            yield Dimension("tab_relief", centre, (centre[0] + r, centre[1]), "radius")


@dataclass(frozen=True, slots=True)
class TabSlot(Window):
    """A slot along y: width is over its reliefs, height is its length, `radius` is that of the reliefs.

    The reliefs are those parts of the window's round corners that lie outside the slot's long sides, and as much
    again on the far side of their middles.
    """

    @property
    def loop(self) -> Loop:
        """The exact loop, counter-clockwise.

        Raises:
            GeometryError: if the reliefs at both ends meet.
        """
        (x, y), r = self.centre, self.radius
        side, half = self.width / 2 - r, self.height / 2
        corners: list[Corner | Point] = []
        for out in (1, -1):  # the right side upward, then the left side downward
            near, far = x + out * side, x + out * (side + r)
            for end in (y - out * half, y + out * half - out * 2 * r):
                past = end + out * 2 * r
                corners += [(near, end), fillet(far, end, r), fillet(far, past, r), (near, past)]
        return polygon(corners)
