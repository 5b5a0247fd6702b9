r"""Motor mount: a pilot hole, the motor's bolts on a square or a circle round it, mounting holes at the corners.

     ____________
    | o   __   o |    pilot: the motor's spigot; its centre is `up` from the foot
    |  o /  \ o  |    pattern: square (holes `square` apart) or circle (`motor_holes` on `circle`)
    |    \__/    |    travel: pilot and motor holes become slots, to tighten a belt
    |  o      o  | up
    |_o________o_|
        width

Presets carry the faces of NEMA ICS 16 sizes 17, 23, 34 and 42, and of the NEMA MG 1 56C motor.
"""

import math
from collections.abc import Iterator, Mapping
from itertools import combinations
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Loop, Point, bolt_circle, grid, rectangle, slot
from parts.geometry.figure import hole, level_slot, upright_slot
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, When, bolt, bolt_mm, choice, count, fit, hole_diameter, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.hole_making import hole_kind, where_worked
from parts.templates.shared.lettered import Lettered

_MOTOR = "Motor"


class PlateMotor(BoltHoles, Lettered):
    """The foot of the plate is on the x axis, the motor's shaft on the y axis."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {
        "motor_bolt": ("motor_hole_kind", "motor"),
        "bolt": ("hole_kind", ""),
    }
    optional: ClassVar[tuple[str, ...]] = ("motor_hole_kind",)
    shared_when: ClassVar[Mapping[str, When]] = where_worked("hole_kind", "motor_hole_kind")

    width: float = length("Width", default=180, minimum=20, maximum=1200)
    height: float = length("Height", default=180, minimum=20, maximum=1200)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=200, moves="free")
    up: float = length("Shaft above the foot", default=90, minimum=5, maximum=1200, group=_MOTOR)
    pilot: float = length("Pilot hole", default=80, minimum=3, maximum=800, group=_MOTOR)
    pattern: str = choice("Motor bolts on a", default="circle", choices=("circle", "square"), group=_MOTOR)
    circle: float = length(
        "Bolt circle", default=130, minimum=8, maximum=1000, group=_MOTOR, when=("pattern", "circle")
    )
    motor_holes: int = count(
        "Motor bolts on the circle",
        default=4,
        minimum=2,
        maximum=12,
        group=_MOTOR,
        help="Straddling the centre lines.",
        when=("pattern", "circle"),
    )
    square: float = length(
        "Spacing on the square", default=70, minimum=6, maximum=800, group=_MOTOR, when=("pattern", "square")
    )
    motor_bolt: str = bolt("Motor bolt", default="M8", inches="3/8", diameter="motor_hole", group=_MOTOR)
    motor_hole: float = length(
        "Motor bolt hole", default=9, minimum=1, maximum=60, group=_MOTOR, help="Where the motor bolt is by diameter."
    )
    travel: float = length(
        "Belt travel", default=0, minimum=0, maximum=300, group=_MOTOR, help="How far the motor can slide; 0: fixed."
    )
    slide: str = choice("Slides", default="up", choices=("up", "across"), group=_MOTOR, when=("travel",))
    mounts: str = choice("Mounting holes", default="corners", choices=("corners", "foot", "none"), group="Holes")
    inset_x: float = length(
        "Mounting holes in from the sides",
        default=18,
        minimum=3,
        maximum=500,
        group="Holes",
        when=("mounts", "corners", "foot"),
    )
    inset_y: float = length(
        "Mounting holes in from top and foot",
        default=18,
        minimum=3,
        maximum=500,
        group="Holes",
        when=("mounts", "corners", "foot"),
    )
    bolt: str = bolt("Mounting bolt", default="M10", diameter="hole", when=("mounts", "corners", "foot"))
    fit: str = fit(of=("motor_bolt", "bolt"))
    motor_hole_kind: str = hole_kind("motor_bolt", "Motor holes are made")

    @property
    def shaft(self) -> Point:
        """The middle of the motor's travel."""
        return 0.0, self.up

    @property
    def motor_hole_size(self) -> float:
        """Diameter of the motor's bolt holes, or width of their slots."""
        return hole_diameter(self.motor_bolt, self.fit, self.motor_hole)

    @property
    def motor_centres(self) -> tuple[Point, ...]:
        """Centres of the motor's bolts, counter-clockwise from the upper right."""
        if self.pattern == "square":
            at = self.square / 2
            return tuple((x, self.up + y) for x, y in ((at, at), (-at, at), (-at, -at), (at, -at)))
        return bolt_circle(self.shaft, self.circle, self.motor_holes, math.pi / 2 - math.pi / self.motor_holes)

    @property
    def mount_centres(self) -> tuple[Point, ...]:
        """Centres of the mounting holes, from the lower left one."""
        apart = self.width - 2 * self.inset_x, self.height - 2 * self.inset_y
        rows = {"corners": 2, "foot": 1, "none": 0}[self.mounts]
        return grid((self.inset_x - self.width / 2, self.inset_y), apart, 2, rows)

    @property
    def travels(self) -> Point:
        """How far the motor slides across and up."""
        return (0.0, self.travel) if self.slide == "up" else (self.travel, 0.0)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the motor's holes leave the plate, or holes meet."""
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        yield from self._pilot_problems()
        yield from self._pattern_problems()
        if self.mounts != "none":
            for name in ("inset_x", "inset_y"):
                yield from self.over(name, self.hole_size / 2, "for the holes to stay inside the edge")
            yield from self.under("inset_x", (self.width - self.hole_size) / 2, "to keep metal between the holes")
            yield from self.rounding_problems((self.inset_x, self.inset_y))
        if self.mounts == "corners":
            yield from self.under("inset_y", (self.height - self.hole_size) / 2, "to keep metal between the holes")
        elif self.mounts == "foot":
            yield from self.under("inset_y", self.height - self.hole_size / 2, "for the holes to stay below the top")
        if self._mounts_in_the_way():
            yield self.tight(self.pattern, "between the mounting holes")

    def _pilot_problems(self) -> Iterator[Problem]:
        across, upright = self.travels
        yield from self.under("pilot", self.width - across, "inside the plate")
        reach = (self.pilot + upright) / 2
        yield from self.over("up", reach, "for the pilot hole to clear the foot")
        yield from self.under("up", self.height - reach, "for the pilot hole to clear the top")

    def _pattern_problems(self) -> Iterator[Problem]:
        wide, name = self.motor_hole_size, self.pattern
        if name == "square":
            clear = max((self.pilot + wide) * math.sqrt(0.5), wide)
        else:
            clear = max(self.pilot + wide, wide / math.sin(math.pi / self.motor_holes))
        clash = [*self.over(name, clear, "for the motor's bolts to clear the pilot hole and each other")]
        yield from clash
        if not clash and self._slots_meet():
            yield self.tight("travel", "between the slots of the motor and the pilot")
        across, upright = self.travels
        reach = max(abs(x) for x, _ in self.motor_centres) + (wide + across) / 2
        if reach >= self.width / 2:
            yield self.tight(name, "between the sides of the plate", reach - self.width / 2)
        heights = [y for _, y in self.motor_centres]
        over = (wide + upright) / 2 + max(-min(heights), max(heights) - self.height)
        if over >= 0:
            yield self.tight(name, "between the top and the foot of the plate", over)

    def _mounts_in_the_way(self) -> bool:
        """Whether a mounting hole meets the pilot hole or one of the motor's."""
        sliding = upright_slot if self.slide == "up" else level_slot
        motor = [(self.shaft, self.pilot), *((at, self.motor_hole_size) for at in self.motor_centres)]
        slots = [sliding(at, wide + self.travel, wide) for at, wide in motor]
        return any(each.gap(hole(at, self.hole_size)) <= 0 for each in slots for at in self.mount_centres)

    def _slots_meet(self) -> bool:
        """Whether two slots meet: parallel and equally long, they are as near as their middles less the travel."""
        size, (along_x, along_y) = self.motor_hole_size, self.travels
        slots = [(self.shaft, self.pilot), *((at, size) for at in self.motor_centres)]
        return any(
            math.hypot(max(abs(a[0] - b[0]) - along_x, 0), max(abs(a[1] - b[1]) - along_y, 0)) <= (wide + width) / 2
            for (a, wide), (b, width) in combinations(slots, 2)
        )


def outline(p: PlateMotor) -> Profile:
    """Draw the plate: the pilot first, then the motor's bolts, then the mounting holes."""
    tall = math.pi / 2 if p.slide == "up" else 0.0

    def sliding(at: Point, width: float) -> Loop:
        return slot(at, width + p.travel, width, tall)

    bolts = tuple(sliding(at, p.motor_hole_size) for at in p.motor_centres)
    inside = (
        Opening(sliding(p.shaft, p.pilot), "pilot hole", "pilot"),
        *openings(bolts, "motor hole", p.pattern, bolt_mm(p.motor_bolt)),
        *p.holes_at(p.mount_centres, "mounting hole", "inset_x"),
    )
    plate = rectangle((-p.width / 2, 0), p.width, p.height, p.corner_radius)
    return Profile((plate,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateMotor) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    left, r, hand = -p.width / 2, p.corner_radius, math.sqrt(0.5)
    yield Dimension("width", (left, 0), (-left, 0), "below")
    yield Dimension("height", (left, 0), (left, p.height), "left")
    if r:
        at = -left - r, p.height - r
        yield Dimension("corner_radius", at, (at[0] + r * hand, at[1] + r * hand), "radius")
    yield Dimension("up", (-left, 0), (0, p.up), "right")
    yield from motor_dimensions(p)
    for first in p.mount_centres[:1]:
        yield Dimension("inset_x", (left, first[1]), first, "below")
        yield Dimension("inset_y", (first[0], 0), first, "left")
        yield from p.hole_measured(first)


def motor_dimensions(p: PlateMotor) -> Iterator[Dimension]:
    """Yield those of the pilot and the motor's bolts: diameters at the upper end of the travel."""
    (x, y), (dx, dy) = p.motor_centres[0], (p.travels[0] / 2, p.travels[1] / 2)
    out = p.pilot / 2 * math.sqrt(0.5)
    yield Dimension("pilot", (dx, p.up + dy), (dx + out, p.up + dy + out), "diameter")
    if p.pattern == "square":
        yield Dimension("square", (-p.square / 2, y), (p.square / 2, y), "above")
    else:
        yield Dimension("circle", p.shaft, (x, y), "diameter")
    if p.travel or p.motor_bolt == BY_DIAMETER:
        end = x + dx + p.motor_hole_size / 2, y + dy
        yield Dimension(p.hole_from("motor_bolt"), (x + dx, y + dy), end, "diameter")
    if p.travel:
        yield Dimension("travel", (x - dx, y - dy), (x + dx, y + dy), "right" if p.slide == "up" else "above")


TEMPLATE = Template(
    "plate-motor",
    "Motor mount",
    PlateMotor,
    outline,
    summary="Pilot hole and bolt pattern of a motor's face (NEMA 17 to 42 and 56C as presets), slots for belt tension.",
    cautions=(
        "Belts, chains and couplings need guards, and a motor a disconnect: see the local rules for machinery.",
        "Measure the motor's own face before cutting: makers deviate from the standard.",
    ),
    words=("motor", "engine", "stepper", "nema", "face", "pilot", "spigot", "belt", "tension", "drive", "gearbox"),
    presets=(
        Preset(
            "NEMA ICS 16 size 17",
            "width=80 height=80 up=40 pilot=22 circle=43.815 motor_bolt=M3 bolt=M6 inset_x=10 inset_y=10 "
            "corner_radius=5 thickness=4 small_holes=drill",
            inches="pilot=0.866 motor_bolt=M3",
        ),
        Preset(
            "NEMA ICS 16 size 23",
            "width=110 height=110 up=55 pilot=38.1 circle=66.675 motor_bolt=by-diameter motor_hole=4.95 bolt=M6 "
            "inset_x=12 inset_y=12 corner_radius=6 small_holes=drill thickness=5",
            inches="motor_hole=0.195 up=2-1/4",
        ),
        Preset(
            "NEMA ICS 16 size 34",
            "width=140 height=140 up=70 pilot=2.875in circle=3.875in motor_bolt=by-diameter motor_hole=5.54 bolt=M8 "
            "inset_x=14 inset_y=14 small_holes=drill",
            inches="motor_hole=0.218 up=2-3/4",
        ),
        Preset(
            "NEMA ICS 16 size 42",
            "pilot=2.186in circle=4.95in motor_bolt=by-diameter motor_hole=7.14 inset_x=15 inset_y=15 "
            "small_holes=drill",
            inches="motor_hole=9/32",
        ),
        Preset(
            "NEMA MG 1 56C face",
            "width=220 height=220 up=110 pilot=4.5in circle=5.875in motor_bolt=3/8 thickness=1/4in",
        ),
        Preset(
            "Belt grinder for truing a table, 20 mm of travel",
            "width=200 height=240 up=130 pilot=60 travel=20 motor_bolt=M10 circle=140",
            is_metric=True,
        ),
        Preset(
            "Trailer winch motor on a square",
            "width=160 height=150 up=85 pilot=50 pattern=square mounts=foot thickness=8 motor_bolt=M12 inset_x=20 "
            "bolt=M12 inset_y=20",
        ),
    ),
)
