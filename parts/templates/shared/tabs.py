"""Tabs and their slots: the parameters that plates which locate each other for welding share.

tab      stands out from an edge and goes through a slot in the plate that the edge is welded to
slot     as long as the tab is, as wide as its plate is thick, and the clearance more on every side
relief   a round opening through a square corner of a slot or at the foot of a tab, so that tab and edge seat in spite
         of the jet's radius. It goes through the corner and hardly past it: beside a tab that ends flush with the
         face nothing shows on the face but the gap and four corners, which a weld fills
eye      a round opening in the middle of a slot that is too narrow to pierce in

Tabs stand one above the other, each `tab_pitch` above the one before. A plate with tabs and a plate with slots that
are given like values fit: the edge's lower end is as high on the other plate as that one's parameter says.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Self

from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, fillet, translation
from parts.geometry.figure import Window
from parts.profile import Dimension
from parts.spec import Parameters, count, flag, length
from parts.templates.shared.joint import BESIDE, MOST_OF_ROOM, QUARTER, ROOT, CutRelief, relieved_slot
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM

_TABS = "Tabs"
_BLUNT = 0.25
"""Radius at a tab's tip as a part of its depth: it finds the slot, and no more of its length is lost."""
_OF_DEPTH = 0.5
"""A relief at the foot of a tab reaches so far of its depth at most, in radii: tip and relief don't meet."""
RETIRED = frozenset({"tab_relief"})
"""Addresses with it are drawn without, and say so."""


class Tabs(Parameters):
    """A template's parameters with how many tabs there are, how long and where."""

    is_of_earlier_relief: ClassVar[bool] = False

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

    @classmethod
    def read_singly(cls, values: Mapping[str, Any]) -> Self:
        """Return the parameters as they are read of any template, without what is retired.

        Raises:
            Refused: as there.
        """
        made = super().read_singly({name: value for name, value in values.items() if name not in RETIRED})
        if RETIRED.intersection(values):
            made.keep({"is_of_earlier_relief": True})
        return made

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """What an earlier address asked for that sets nothing now, with what holds anyway."""
        said = ("Reliefs are drawn anew, through the corners: tab_relief no longer sets anything in it.",)
        return (*(said if self.is_of_earlier_relief else ()), *super().own_cautions)

    @cached_property
    def jet(self) -> Cut:
        """What the process does in this plate.

        Raises:
            Refused: it doesn't cut it.
        """
        return cut_for(self.process, self.material, self.thickness)

    @property
    def most_relief(self) -> float:
        """Radius of a relief in mm where nothing else limits it: a quarter of the plate, half a kerf at least."""
        return max(QUARTER * self.thickness, self.jet.kerf_mm / 2)

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
    def relief_radius(self) -> float:
        """Radius of the reliefs at the feet of the tabs in mm."""
        return min(self.most_relief, _OF_DEPTH * self.depth)

    @property
    def tab_corners(self) -> list[Corner | Point]:
        """The corners of the edge between its ends, from the highest down: the plate is on the left."""
        return [corner for y in reversed(self.tab_heights) for corner in self._tab(y)]

    def _tab(self, y: float) -> list[Corner | Point]:
        half, r, out = self.tab_length / 2, self.relief_radius, self.depth
        blunt = _BLUNT * out
        upper, lower = (CutRelief((0.0, y + side * half), r, "relief") for side in (1, -1))
        return [upper, fillet(-out, y + half, blunt), fillet(-out, y - half, blunt), lower]

    def tab_problems(self, low: float, high: float) -> Iterator[Problem]:
        """Yield a problem unless the tabs and their reliefs stand apart, and between `low` and `high` on the edge."""
        half, relief = self.tab_length / 2, ROOT * self.relief_radius
        least = max(2 * _BLUNT * self.depth, 2 * BESIDE * self.relief_radius + self.thickness / 2)
        clash = [*self.over("tab_length", least, "for metal between its reliefs, and tips that are rounded")]
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

    tab_eye: bool = flag(
        "Pierce eye in the slots", default=True, group=_TABS, moves="free",
        help="Where a slot is too narrow to pierce in: a round opening in its middle, as large as the pierce wants.",
    )  # fmt: skip

    @property
    def through(self) -> float:
        """Thickness of the plates with tabs in mm."""
        return self.tab_thickness or self.thickness

    @property
    def slot_size(self) -> Point:
        """Length and width of the slots in mm."""
        more = 2 * self.tab_clearance
        return self.tab_length + more, self.through + more

    @property
    def relief_radius(self) -> float:
        """Radius of the reliefs in the corners of the slots in mm: those of an end don't meet."""
        return min(self.most_relief, MOST_OF_ROOM * min(self.slot_size) / 2 / ROOT)

    @property
    def eye_size(self) -> float:
        """Diameter of the pierce eye, 0 where the slots are wide enough without: a crater and a kerf."""
        wanted = self.jet.pierce_diameter_mm + self.jet.kerf_mm
        return wanted if self.tab_eye and wanted > self.slot_size[1] + LIMIT_SLACK_MM else 0.0

    def tab_slot(self, centre: Point, *, is_level: bool = False) -> "TabSlot":
        """Return the slot of a tab whose centre is there, along y, or along x."""
        (long, wide), beyond = self.slot_size, 2 * BESIDE * self.relief_radius
        over_all = long + beyond, max(wide + beyond, self.eye_size)
        across, up = over_all if is_level else over_all[::-1]
        return TabSlot(centre, across, up, 0.0, self.slot_size, self.relief_radius, self.eye_size, is_level)

    def slot_problems(self) -> Iterator[Problem]:
        """Yield a problem where the slots run into each other, or what is cut in one does."""
        long, _ = self.slot_size
        between = 2 * ROOT * self.relief_radius + self.eye_size + 2 * SAME_POINT_MM
        yield from self.over("tab_length", between - 2 * self.tab_clearance, "between the reliefs, beside a pierce eye")
        if self.tabs > 1:
            beyond = 2 * BESIDE * self.relief_radius
            yield from self.over("tab_pitch", long + beyond, "to keep metal between the slots")

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


@dataclass(frozen=True, slots=True)
class TabSlot(Window):
    """A slot with relieved corners: width and height are over all, `size` its length and width beside the reliefs."""

    size: tuple[float, float]
    relief: float
    eye: float
    is_level: bool

    @property
    def loop(self) -> Loop:
        """The exact loop, counter-clockwise.

        Raises:
            GeometryError: if the reliefs at both ends meet.
        """
        return translation(*self.centre).loop(relieved_slot(self.size, self.relief, 0.0, self.eye, self.is_level))
