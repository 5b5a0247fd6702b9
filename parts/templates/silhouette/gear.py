r"""Gear: a wheel of rounded teeth with spokes, a rim and a hub; an ornament, not a gear that runs.

         _.-|_|-._      tip_width, tooth_width at the foot; tooth_height
     |_.' .--.--. '._|  flanks are arcs of flank_radius, rounded at tip and foot
     _|  /   |   \  |_
    |_  |--( o )--|  _|  hub_diameter, bore in the middle; spoke_width
      |  \   |   /  |   windows between the spokes, their corners of window_radius
     |'-. '--'--' .-'|  rim: metal between teeth and windows
         '-.|-|.-'      diameter over the tips

Flanks are arcs: it looks like a gear and runs with none.
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, Point, Vertex, circle, cross, distance, rotation, toward
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening, openings
from parts.spec import Preset, Template, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung
from parts.templates.silhouette.shared.tapered import apart_from_both, arc_vertex
from parts.tolerance import LIMIT_SLACK_MM

ORIGIN = (0.0, 0.0)
TEETH, WHEEL = "Teeth", "Wheel"


class SilhouetteGear(Hung):
    """The middle is at the origin, a tooth and a spoke straight up; a tooth's own frame has it along x."""

    teeth: int = count("Teeth", default=16, minimum=5, maximum=60, group=TEETH, moves="care")
    diameter: float = length(
        "Diameter of the circle round the tips", default=300, minimum=40, maximum=2500, group=TEETH
    )
    tooth_height: float = length("Height of the teeth", default=24, minimum=2, maximum=500, group=TEETH, moves="free")
    tooth_width: float = length("Teeth at the foot", default=32, minimum=3, maximum=600, group=TEETH, moves="free")
    tip_width: float = length("Teeth at the tip", default=16, minimum=2, maximum=600, group=TEETH, moves="free")
    flank_radius: float = length(
        "Radius of the flanks",
        default=45,
        inches="2",
        minimum=2,
        maximum=5000,
        group=TEETH,
        help="Large for straight flanks.",
        moves="free",
    )
    tip_radius: float = length("Radius at the tips", default=2, minimum=0.5, maximum=100, group=TEETH, moves="free")
    fillet_radius: float = length("Radius at the foot", default=4, minimum=0, maximum=200, group=TEETH, moves="free")
    spokes: int = count(
        "Spokes", default=6, minimum=0, maximum=16, group=WHEEL, help="0 for a full disc, else 3+.", moves="care"
    )
    spoke_width: float = length(
        "Width of the spokes", default=16, minimum=2, maximum=400, group=WHEEL, when=("spokes",), moves="free"
    )
    rim: float = length(
        "Rim between teeth and windows", default=24, minimum=2, maximum=600, group=WHEEL, when=("spokes",), moves="free"
    )
    hub_diameter: float = length(
        "Diameter of the hub", default=100, minimum=5, maximum=2000, group=WHEEL, when=("spokes",), moves="care"
    )
    window_radius: float = length(
        "Radius in the windows' corners",
        default=7,
        minimum=0.5,
        maximum=300,
        group=WHEEL,
        when=("spokes",),
        moves="free",
    )
    bore: float = length("Hole in the middle", default=26, minimum=0, maximum=1900, group=WHEEL, help="0 for none.")

    @property
    def is_symmetric(self) -> bool:
        """Yes: it is alike on both sides of an upright line, whatever the number of its teeth."""
        return True

    @property
    def tip(self) -> float:
        """Radius of the circle of the tips."""
        return self.diameter / 2

    @property
    def root(self) -> float:
        """Radius of the circle that the teeth stand on."""
        return self.diameter / 2 - self.tooth_height

    @property
    def half_pitch(self) -> float:
        """Half the angle from tooth to tooth."""
        return math.pi / self.teeth

    @cached_property
    def flank_ends(self) -> tuple[Point, Point]:
        """Where the left flank of a tooth along x would meet the circles of tips and feet without rounds."""
        high, low = self.tip_width / 2, self.tooth_width / 2
        return (math.sqrt(self.tip**2 - high**2), high), (math.sqrt(self.root**2 - low**2), low)

    @cached_property
    def centres(self) -> tuple[Point, Point, Point]:
        """Centres of the round at the tip, of the flank, and of the round at the foot, on a tooth's left.

        Both rounds touch the flank's circle and that of tips or feet, the one from within, the other from outside.

        Raises:
            GeometryError: if a round can't touch both.
        """
        flank, t, f = apart_from_both(*self.flank_ends, self.flank_radius, self.flank_radius), *self._radii
        at_tip = apart_from_both(ORIGIN, flank, self.tip - t, self.flank_radius - t)
        return at_tip, flank, apart_from_both(ORIGIN, flank, self.root + f, self.flank_radius + f)

    @property
    def _radii(self) -> tuple[float, float]:
        return self.tip_radius, self.fillet_radius

    @cached_property
    def joints(self) -> tuple[Point, Point, Point, Point]:
        """Where a tooth's left side goes over from tip to round, flank, round and foot.

        Raises:
            GeometryError: as for `centres`.
        """
        at_tip, flank, at_foot = self.centres
        over, under = toward(ORIGIN, at_tip, self.tip), toward(ORIGIN, at_foot, self.root)
        return over, toward(flank, at_tip, self.flank_radius), toward(flank, at_foot, self.flank_radius), under

    @cached_property
    def figure(self) -> Loop:
        """The edge of all teeth."""
        (a, b, c, d), (at_tip, flank, at_foot) = self.joints, self.centres
        bulges = [
            arc_vertex(a, b, at_tip, 1)[2],
            arc_vertex(b, c, flank, 1)[2],
            arc_vertex(c, d, at_foot, -1)[2] if self.fillet_radius else 0.0,
        ]
        land, gap = math.atan2(a[1], a[0]), self.half_pitch - math.atan2(d[1], d[0])
        flipped = [(x, -y) for x, y in (d, c, b, a)]
        points = [*flipped, a, b, c, d]
        leaving = [*reversed(bulges), math.tan(land / 2), *bulges, math.tan(gap / 2)]
        turns = [rotation(math.pi / 2 + 2 * i * self.half_pitch) for i in range(self.teeth)]
        tooth = [(p, bulge) for p, bulge in zip(points, leaving, strict=True)]
        if not self.fillet_radius:
            tooth = [*tooth[1:6], (d, leaving[7])]
        return Loop.through((*turn.point(p), bulge) for turn in turns for p, bulge in tooth)

    @property
    def half_window(self) -> float:
        """Half the angle from spoke to spoke."""
        return math.pi / self.spokes

    @property
    def window_centres(self) -> tuple[Point, Point]:
        """Centres of the rounds in the outer and the inner corner of a window beside a spoke along x, on its left."""
        off, r = self.spoke_width / 2 + self.window_radius, self.window_radius
        outer, inner = self.root - self.rim - r, self.hub_diameter / 2 + r
        return (math.sqrt(outer**2 - off**2), off), (math.sqrt(inner**2 - off**2), off)

    @cached_property
    def window(self) -> Loop:
        """The window on the left of a spoke along x."""
        (outer, inner), half = self.window_centres, self.spoke_width / 2
        along, back = toward(ORIGIN, outer, self.root - self.rim), toward(ORIGIN, inner, self.hub_diameter / 2)
        side: list[Vertex] = [
            arc_vertex(back, (inner[0], half), inner, 1),
            (inner[0], half, 0.0),
            arc_vertex((outer[0], half), along, outer, 1),
        ]
        across = rotation(2 * self.half_window)
        ends = [across.point((x, -y)) for x, y in (along, (outer[0], half), (inner[0], half), back)]
        far = [
            (*ends[0], side[2][2]), (*ends[1], 0.0), (*ends[2], side[0][2]), arc_vertex(ends[3], back, ORIGIN, -1)
        ]  # fmt: skip
        return Loop.through([*side, arc_vertex(along, ends[0], ORIGIN, 1), *far])

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The windows, and the hole in the middle."""
        turns = [rotation(math.pi / 2 + 2 * i * self.half_window) for i in range(self.spokes)]
        windows = openings((turn.loop(self.window) for turn in turns), "window", "spoke_width")
        return (*windows, Opening(circle(ORIGIN, self.bore), "hole in the middle", "bore")) if self.bore else windows

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where teeth have no room, then where rim, spokes and hub have none."""
        teeth = [
            *self.under("tooth_height", self.diameter * 0.4, "to leave a wheel"),
            *self.under("tip_width", self.tooth_width, "for teeth that narrow to the tip"),
        ]
        if not teeth:
            most = 2 * self.root * math.sin(self.half_pitch)
            teeth += self.under("tooth_width", most, "for so many teeth")
        if not teeth:
            ends = self.flank_ends
            least = distance(*ends) ** 2 / (self.tooth_width - self.tip_width)  # where it is upright at the foot
            teeth += self.over("flank_radius", max(least, self.tip_radius), "for flanks that don't overhang")
        teeth = teeth or [*self._flank_problems()]
        yield from teeth or self._wheel_problems()

    def _flank_problems(self) -> Iterator[Problem]:
        try:
            a, b, c, d = self.joints
        except GeometryError:
            yield self.tight("tip_radius", "to touch both tip and flank")
            return
        (_, (cx, cy), at_foot), slack = self.centres, LIMIT_SLACK_MM
        if a[1] <= slack:
            yield self.tight("tip_radius", "twice on a tip")
        elif math.atan2(at_foot[1], at_foot[0]) >= self.half_pitch - slack or d[0] <= 0:
            yield self.tight("fillet_radius", "between two teeth")
        elif cross(b[0] - cx, b[1] - cy, c[0] - cx, c[1] - cy) <= slack * self.flank_radius:
            yield self.problem("tooth_height", "leaves no flank between the rounds of tip and foot.")

    def _wheel_problems(self) -> Iterator[Problem]:
        if not self.spokes:
            yield from self.under("bore", 2 * self.root, "inside the teeth")
            return
        if self.spokes < 3:
            yield self.problem("spokes", "must be 0, or 3 and more: fewer don't hold the rim.")
            return
        r = self.window_radius
        yield from self.under("rim", self.root - self.hub_diameter / 2 - 2 * r, "for windows between rim and hub")
        least = 2 * ((self.spoke_width / 2 + r) / math.sin(self.half_window) - r)
        yield from self.over("hub_diameter", least, "for so many spokes and the radii between them")
        yield from self.under("bore", self.hub_diameter, "inside the hub")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the teeth on the left, and of the wheel."""
        pitch, (at_tip, flank, at_foot) = 2 * self.half_pitch, self.centres
        (ax, ay), (bx, by) = self.flank_ends
        a, b, c, d = self.joints
        yield Dimension("diameter", ORIGIN, polar(self.tip, math.pi / 2 + pitch), "diameter")
        gap = math.pi / 2 - 1.5 * pitch
        yield Dimension("tooth_height", polar(self.root, gap), polar(self.tip, gap), "along")
        second, last = rotation(math.pi / 2 + 2 * pitch), rotation(math.pi / 2 - pitch)
        yield Dimension("tip_width", second.point((ax, ay)), second.point((ax, -ay)), "along")
        yield Dimension("tooth_width", second.point((bx, by)), second.point((bx, -by)), "along")
        middle = toward(flank, ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2), self.flank_radius)
        yield Dimension("flank_radius", last.point(flank), last.point(middle), "radius")
        rim = toward(at_tip, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), self.tip_radius)
        third = rotation(math.pi / 2 + 3 * pitch)
        yield Dimension("tip_radius", third.point(at_tip), third.point(rim), "radius")
        if self.fillet_radius:
            yield Dimension("fillet_radius", third.point(at_foot), third.point(d), "radius")
        if self.bore:
            yield Dimension("bore", ORIGIN, polar(self.bore / 2, -math.pi / 4), "diameter")
        if self.spokes:
            yield from self._wheel_dimensions()

    def _wheel_dimensions(self) -> Iterator[Dimension]:
        (outer, inner), half = self.window_centres, self.spoke_width / 2
        across = math.pi / 2 + 3 * self.half_window
        rim = self.root - self.rim
        yield Dimension("rim", polar(rim, across), polar(self.root, across), "along")
        yield Dimension("hub_diameter", ORIGIN, polar(self.hub_diameter / 2, across), "diameter")
        turn, x = rotation(math.pi / 2 - 4 * self.half_window), (outer[0] + inner[0]) / 2
        yield Dimension("spoke_width", turn.point((x, -half)), turn.point((x, half)), "along")
        corner = toward(ORIGIN, outer, rim)
        upper = rotation(math.pi / 2 - 2 * self.half_window)
        yield Dimension("window_radius", upper.point(outer), upper.point(corner), "radius")


TEMPLATE = Template(
    "silhouette-gear",
    "Gear wheel",
    SilhouetteGear,
    hung,
    summary="A gear wheel with spokes for a wall, a gate or a clock: an ornament of lines and arcs, not made to run.",
    cautions=(
        "It is an ornament: its teeth are no involutes and have no module. Don't let it run with another gear, "
        "nor carry a load, on a machine.",
        *CAUTIONS,
    ),
    sizes=("diameter",),
    words=(
        "cog", "sprocket", "steampunk", "clock", "wheel", "spokes", "ornament", "wall art", "gate", "decoration",
        "yard art",
    ),
    presets=(
        Preset("Wheel for the workshop gate", "teeth=24 diameter=700 tooth_height=40 tooth_width=54 tip_width=26 "
               "flank_radius=120 tip_radius=4 fillet_radius=8 spokes=8 spoke_width=30 rim=50 hub_diameter=220 "
               "window_radius=14 bore=60 hole=11 eye=10 thickness=4"),
        Preset("Clock face, twelve teeth", "teeth=12 tooth_width=46 tip_width=24 flank_radius=75 spokes=12 "
               "spoke_width=9 hub_diameter=110 window_radius=4 bore=11"),
        Preset("On a stake for the herb bed", "teeth=10 diameter=140 tooth_height=16 tooth_width=24 tip_width=12 "
               "spokes=5 spoke_width=10 rim=12 hub_diameter=44 window_radius=4 bore=16 hang=none foot=stake "
               "foot_width=18"),
        Preset("Key fob blank for the market stall", "teeth=10 diameter=90 tooth_height=9 tooth_width=16 tip_width=8 "
               "flank_radius=30 tip_radius=1 fillet_radius=2 spokes=5 spoke_width=6 rim=12 hub_diameter=30 "
               "window_radius=3 bore=10 hole=5 eye=3 thickness=2", inches="rim=7/16"),
    ),
)  # fmt: skip
