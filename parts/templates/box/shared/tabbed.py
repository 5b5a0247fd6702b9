r"""Boxes of flat panels that stand in each other by tabs and slots: the parameters they share, and what has no room.

The base carries the walls, in slots that lie `lip` inside its edge. The front and back run over the whole length and
carry the sides in slots of the same kind. A tab is as deep as the plate, so it comes out flush.

    slot = tab + 2 clearances long, plate as measured + 2 clearances wide, its corners relieved; a clearance is that of
    one side
    overcut: by how much more than the toolpath offsets the cut takes; slots come out larger by it, and outlines
    smaller, so all of it is drawn half of it the other way, and as cut the sizes and the fit are those asked

Two tabs locate an edge; further ones stand only on edges longer than `tab_every`. Lengths are mm.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, ClassVar

from parts.artwork import Label, text_width
from parts.cached import cached_property
from parts.cutting import cut_for
from parts.errors import Problem
from parts.geometry import Box, Loop, Point
from parts.profile import Opening
from parts.spec import Parameters, choice, flag, reading_of
from parts.spec import length as size
from parts.templates.shared.joint import MOST_OF_ROOM, QUARTER, ROOT
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM

BOTH_SIDES = "clearance"
"""How addresses used to say the clearance: of both sides together."""
TABS, LAYOUT = "Tabs and slots", "Layout"
LEAST_OF_OVERCUT = 0.6
"""A relief's radius in overcuts at least: its drawn centre, radius / sqrt 2 - overcut / 2, stays within the metal."""
LEAST_LETTERING_MM = 2.0
"""Smaller scribed letters run together (common practice)."""


class JointedBox(Parameters):
    """A box from (0, 0, 0) to (inside length, inside width, inside height) inside."""

    leading: ClassVar[tuple[str, ...]] = ("sizes", "length", "width", "height")

    sizes: str = choice(
        "Sizes are", default="inside", choices=("inside", "outside"),
        help="outside: over all, lips included.",
    )  # fmt: skip
    length: float = size("Length", default=300, minimum=20, maximum=2000)
    width: float = size("Width", default=200, minimum=20, maximum=2000)
    height: float = size("Height", default=100, minimum=10, maximum=1000)
    tab: float = size(
        "Tab length",
        default=20,
        minimum=2,
        maximum=300,
        group=TABS,
        help="Two to four thicknesses (common practice).",
        moves="free",
    )
    tab_every: float = size(
        "Two tabs on an edge up to", default=500, drawn=False, minimum=200, maximum=3000, group=TABS,
        help="Two tabs locate, three quarrel: a third only on longer edges.", moves="free",
    )  # fmt: skip
    measured: float = size(
        "Plate as measured", default=0, minimum=0, maximum=150, group=TABS, help="By caliper; 0: as it is called.",
        auto="plate",
    )  # fmt: skip
    side_clearance: float = size(
        "Clearance of a tab in its slot, each side", default=0.15, inches="0.006", drawn=False, minimum=0, maximum=5,
        group=TABS, help="0.1 to 0.25 mm (common practice); cut a comb to try.",
    )  # fmt: skip
    overcut: float = size(
        "Cut beyond the offset", default=0, drawn=False, minimum=0, maximum=5, group=TABS,
        help="Kerf as cut less the kerf that the toolpath offsets; the whole kerf where it cuts on the line.",
    )  # fmt: skip
    relief: float = size(
        "Relief radius", default=0, minimum=0, maximum=30, group=TABS,
        help="Opens the corners of slots and the roots of tabs; 0: a quarter of the plate, half a kerf at least.",
        moves="free",
    )  # fmt: skip
    names: float = size(
        "Height of the panels' names", default=8, minimum=0, maximum=100, group=LAYOUT,
        help="Scribed; 0 for none. Left off a panel that has no room for it.", moves="free",
    )  # fmt: skip
    between: float = size(
        "Between the panels",
        default=25,
        minimum=1,
        maximum=500,
        group=LAYOUT,
        help="Room to pierce and to lead in.",
        moves="free",
    )

    @classmethod
    def current(cls, values: Mapping[str, Any]) -> Mapping[str, Any]:
        """Return values by the names of today: a `clearance` is that of both sides together."""
        if BOTH_SIDES not in values or "side_clearance" in values:
            return values
        others = {name: value for name, value in values.items() if name != BOTH_SIDES}
        spec, both = cls.specs()["side_clearance"], values[BOTH_SIDES]
        try:
            each = spec.text(float(spec.read(both, reading_of(cls.specs(), others))) / 2, "mm")
        except ValueError:
            each = both  # refused by the name that it has today
        return {**others, "side_clearance": each}

    @property
    def clearance(self) -> float:
        """What a slot is longer and wider than its tab: the clearance of both sides."""
        return 2 * self.side_clearance

    @property
    def plate(self) -> float:
        """Thickness of the plate as measured."""
        return self.measured or self.thickness

    @property
    def slot_size(self) -> tuple[float, float]:
        """Length and width of a slot as drawn."""
        more = self.clearance - self.overcut
        return self.tab + more, self.plate + more

    @property
    def relief_room(self) -> float:
        """The radius at which the reliefs of a slot, or those of a tab's root, would meet."""
        return min(min(self.slot_size) / 2, self.plate, (self.tab - self.overcut) / 2) / ROOT

    @cached_property
    def relief_radius(self) -> float:
        """Radius of the reliefs as cut: as asked, or what suits plate, kerf and overcut, where it has room.

        Raises:
            Refused: if the process doesn't cut the plate.
        """
        if self.relief:
            return self.relief
        kerf = cut_for(self.process, self.material, self.thickness).kerf_mm
        wanted = max(QUARTER * self.plate, kerf / 2, LEAST_OF_OVERCUT * self.overcut)
        return min(wanted, MOST_OF_ROOM * self.relief_room)

    @property
    def eye_size(self) -> float:
        """Diameter of a round opening to pierce in, in the middle of each slot; 0 where there is none."""
        return 0.0

    @property
    def has_lid_slots(self) -> bool:
        """Whether the walls have tabs on top, for a lid."""
        return False

    @property
    def covers(self) -> int:
        """How many plates lie under and over the walls."""
        return 1

    @property
    def beyond(self) -> float:
        """How far base and front stand out beyond the walls."""
        return 0.0

    @property
    def rounding(self) -> float:
        """Radius of the corners that stand free."""
        return 0.0

    @property
    def around(self) -> float:
        """From the inside to the outside, wall and lip."""
        return self.plate + self.beyond

    @cached_property
    def inside(self) -> tuple[float, float, float]:
        """Inside length, width and height."""
        if self.sizes == "inside":
            return self.length, self.width, self.height
        out = 2 * self.around
        return self.length - out, self.width - out, self.height - self.covers * self.plate

    def tabs_along(self, edge: float) -> tuple[float, ...]:
        """Where the middles of the tabs are on an edge: evenly, each with as much room beside it as it is long."""
        wanted, most = max(2, math.ceil(edge / self.tab_every)), int(edge / (2 * self.tab))
        count = max(min(wanted, most), 1)
        return tuple(edge * (2 * i + 1) / (2 * count) for i in range(count))

    def label(self, panel: str, size: Point, openings: Iterable[Opening]) -> Label | None:
        """Return the name of a panel in the lower left corner of the inside, whose size it has there.

        It stands off the edges by its height, and by what eyes and reliefs reach over them. None where it has no room,
        or comes near an opening.
        """
        text, h = panel.split()[0].upper(), self.names
        clear = h + max(self.eye_size / 2, self.relief_radius)  # so far slots and roots of tabs reach into the panel
        if not h or max(text_width(text, h) + 2 * clear - size[0], h + 2 * clear - size[1]) > LIMIT_SLACK_MM:
            return None
        label = Label(text, (clear + text_width(text, h) / 2, clear + h / 2), h)
        return label if all(gap(label.box, hole.loop) >= h / 2 for hole in openings) else None

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the walls take the inside, or tabs, slots and reliefs have no room."""
        clash = [*self._size_problems()]
        yield from clash
        if not clash:
            yield from self._joint_problems()

    def _size_problems(self) -> Iterator[Problem]:
        if self.sizes == "outside":
            for name in ("length", "width"):
                yield from self.over(name, 2 * self.around + 2 * self.tab, "outside, for walls, lips and a tab")
            yield from self.over("height", self.covers * self.plate + 2 * self.tab, "outside, for a tab on the wall")
        else:
            shortest = min(self.inside)
            yield from self.at_most("tab", shortest / 2, f"on an edge of {self.say(shortest)}")

    def _joint_problems(self) -> Iterator[Problem]:
        yield from self.under("overcut", min(self.plate, self.tab) / 2, "to leave a tab and a slot")
        yield from self.under("overcut", self.relief_radius / LEAST_OF_OVERCUT, "for a relief of this radius")
        if self.relief:
            yield from self.under("relief", self.relief_room, "to fit the corners of a slot in plate of this thickness")
        yield from self.under("side_clearance", self.tab / 4, "for tabs of this length")
        if self.eye_size and self.eye_size >= self.slot_size[0] - 2 * ROOT * self.relief_radius - 2 * SAME_POINT_MM:
            least = self.eye_size + 2 * ROOT * self.relief_radius - self.clearance + self.overcut
            yield from self.over("tab", least, "to pierce in its slot; or leave the pierce eye off")
        if self.names:
            yield from self.at_least("names", LEAST_LETTERING_MM, "to be read; 0 leaves them out")


class TabbedBox(JointedBox):
    """The same with a lip beyond the walls, which holds the slots shut."""

    leading: ClassVar[tuple[str, ...]] = (*JointedBox.leading, "lip", "corner_radius")

    lip: float = size(
        "Lip beyond the walls",
        default=12,
        minimum=1,
        maximum=200,
        help="Holds the slots shut: a bridge or more.",
        moves="care",
    )
    corner_radius: float = size("Corner radius", default=5, minimum=0, maximum=200, moves="free")
    eye: bool = flag(
        "Pierce eye in the slots", default=True, group=TABS,
        help="Where a slot is too narrow to pierce in: a round opening in its middle, as large as the pierce wants.",
        moves="free",
    )  # fmt: skip

    @cached_property
    def eye_size(self) -> float:
        """Diameter of the pierce eye as drawn, 0 where the slot is wide enough without: a crater and a kerf.

        Raises:
            Refused: if the process doesn't cut the plate.
        """
        cut = cut_for(self.process, self.material, self.thickness)
        wanted = cut.pierce_diameter_mm + cut.kerf_mm
        return wanted if self.eye and wanted > self.slot_size[1] + LIMIT_SLACK_MM else 0.0

    @property
    def beyond(self) -> float:
        """How far base and front stand out beyond the walls."""
        return self.lip

    @property
    def rounding(self) -> float:
        """Radius of the corners that stand free."""
        return self.corner_radius

    def _joint_problems(self) -> Iterator[Problem]:
        yield from super()._joint_problems()
        out = max((self.clearance + self.relief_radius) / 2, (self.eye_size - self.plate) / 2)
        yield from self.over("lip", out, "to hold the slots shut")
        most = min(self.lip, self.inside[2] / 2)
        yield from self.at_most("corner_radius", most, "to stay beside the slots")


def gap(box: Box, loop: Loop) -> float:
    """Return how far a box is from an opening: exactly from a circle, of any other from the box around it."""
    x0, y0, x1, y1 = loop.box
    if round_one := loop.circle:
        x, y = round_one.centre
        return math.hypot(max(box[0] - x, x - box[2], 0.0), max(box[1] - y, y - box[3], 0.0)) - round_one.diameter / 2
    return math.hypot(max(box[0] - x1, x0 - box[2], 0.0), max(box[1] - y1, y0 - box[3], 0.0))
