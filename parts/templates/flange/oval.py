r"""Oval flange: two bolts beside a bore; the edge runs round each bolt, and on straight flanks round the bore.

          ____
       .-'    '-.        long: over all, height: across the bore
     /   /    \   \      spacing: from bolt to bolt
    ( o |      | o )     slot: holes drawn out toward the bore and away from it
     \   \____/   /
       '-.____.-'

The ends are round about the bolts: half of what `long` is more than `spacing`.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, circle
from parts.geometry.figure import Pin, Window, belt, level_slot
from parts.profile import Dimension, Opening, Profile, openings
from parts.spec import Preset, Template, bolt, bolt_mm, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered


class FlangeOval(BoltHoles, Lettered):
    """The centre of the bore is at the origin, the bolts on the x axis."""

    long: float = length("Length over all", default=124, inches="4-3/4", minimum=15, maximum=1500)
    height: float = length("Height over all", default=76, minimum=8, maximum=1200)
    bore: float = length(
        "Bore", default=52, inches="2-1/16", minimum=0, maximum=1100,
        help="The tube's outside diameter plus 1 to 2 mm; 0: a blank.",
    )  # fmt: skip
    spacing: float = length("Bolt to bolt", default=90, inches="3-1/2", minimum=8, maximum=1400, group="Holes")
    slot: float = length(
        "Slot length",
        default=0,
        minimum=0,
        maximum=400,
        group="Holes",
        help="Over all; 0 for round holes.",
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole")

    @property
    def end_radius(self) -> float:
        """Radius of the ends, mm."""
        return (self.long - self.spacing) / 2

    @property
    def windows(self) -> tuple[Window, ...]:
        """The holes or slots, the left one first."""
        return tuple(level_slot((x, 0.0), self.slot, self.hole_size) for x in (-self.spacing / 2, self.spacing / 2))

    @property
    def edge(self) -> Loop:
        """The edge, counter-clockwise."""
        end, middle = self.end_radius, Pin((0.0, 0.0), self.height / 2)
        right, left = Pin((self.spacing / 2, 0.0), end), Pin((-self.spacing / 2, 0.0), end)
        return belt((right, middle, left, middle))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bolts leave the edge or reach the bore, or the flanks don't run out to the bolts."""
        hole = self.slot or self.hole_size
        if 0 < self.slot < self.hole_size:
            yield self.problem("slot", f"must be 0, or at least the hole's {self.say(self.hole_size)}.")
            return
        yield from self.over("long", self.spacing + hole, "for the holes to stay inside the ends")
        clash = [*self.over("spacing", self.bore + hole, "for the holes to clear the bore")]
        yield from clash
        yield from self.under("bore", self.height, "to leave metal above and below it")
        if clash or self.long <= self.spacing:
            return
        yield from self.at_least("height", 2 * self.end_radius, "to be no lower than the ends")
        yield from self.under("height", self.long, "for flanks that run out to the ends")


def outline(p: FlangeOval) -> Profile:
    """Draw the flange: the bore first, then the holes beside it."""
    inside = (Opening(circle((0, 0), p.bore), "bore", "bore"),) if p.bore else ()
    name = "slot" if p.slot else "bolt hole"
    holes = openings((window.loop for window in p.windows), name, "spacing", bolt_mm(p.bolt))
    return Profile((p.edge,), inside + holes, dimensions=tuple(dimensions(p)))


def dimensions(p: FlangeOval) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, (left, right) = p.long / 2, (window.centre for window in p.windows)
    yield Dimension("long", (-half, 0), (half, 0), "below")
    yield Dimension("height", (0, -p.height / 2), (0, p.height / 2), "left")
    yield Dimension("spacing", left, right, "above")
    if p.bore:
        out = p.bore / 2 * 0.5**0.5
        yield Dimension("bore", (0, 0), (-out, out), "diameter")
    if p.slot:
        yield from _slot_measured(p, right)
    else:
        yield from p.hole_measured(right)


def _slot_measured(p: FlangeOval, at: Point) -> Iterator[Dimension]:
    (x, y), a, b = at, p.slot / 2, p.hole_size / 2
    yield Dimension("slot", (x - a, y), (x + a, y), "below")
    yield Dimension(p.hole_from("bolt"), (x, y - b), (x, y + b), "right")


TEMPLATE = Template(
    "flange-oval",
    "Oval flange",
    FlangeOval,
    outline,
    summary="Two bolts beside a bore, the edge round about each: for exhaust, pump and duct joints.",
    cautions=(
        "A flange cut from plate is not a pressure part: flanges under pressure, gas, steam or vacuum are bought to "
        "the standard, rated and marked, and fitted under the local code.",
        "What is part of a vehicle falls under its local rules: exhaust gas kills: test the joint for leaks.",
    ),
    sizes=("long", "height"),
    words=("flange", "oval", "rhombic", "two bolt", "2 bolt", "exhaust", "gasket", "collector", "diamond", "pump"),
    presets=(
        Preset(
            "Exhaust tube of 2 in",
            "thickness=8 bolt=M12 bore=51.5 long=130 spacing=92",
            inches="bore=2-1/32 long=5-1/4 spacing=3-3/4",
        ),
        Preset(
            "Exhaust tube of 2-1/2 in, slotted",
            "long=146 height=90 spacing=106 bore=64.5 slot=16 bolt=M8",
            inches="bore=2-17/32 slot=5/8 long=5-3/4 spacing=4-1/4 bolt=5/16",
        ),
        Preset(
            "Stack outlet, tube of 3 in",
            "long=6-1/4in height=4in spacing=4-5/8in bore=3-1/16in bolt=1/2 thickness=3/8in",
        ),
        Preset(
            "Cover for a hole of 40 mm",
            "long=100 height=60 spacing=70 bore=0 bolt=M8 thickness=4",
            inches="long=4",
            inch_name="Cover for a hole of 1-1/2 in",
        ),
        Preset("Handrail end, tube of 42.4 mm", "long=110 height=62 spacing=80 bore=43.4 bolt=M8", is_metric=True),
    ),
)
