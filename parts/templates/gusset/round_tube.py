r"""Saddle gusset: a straight foot, and a saddle on top that a round tube lies in, square to the plate.

           lip  tube + 2 gap  lip
           ___               ___
          /   \             /   \     saddle radius: half of the tube's outside diameter and the gap
         /     `-._     _.-'     \    wrap: how much of the tube it holds, 180 is half of it
        /          `---'          \
    toe |    o       O       o    |   height: from the foot to the tube's middle
        |_________________________|
                   foot

Outside diameters of steel pipe are those of ASME B36.10M: 1-1/2 in pipe is 1.900 in.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Arc, Corner, Loop, Point, arched, fillet, largest_fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, angle, length
from parts.templates.gusset.shared.foot_holes import FOOT_HOLES, FootHoles
from parts.templates.gusset.shared.lightening import Lightened


class GussetRoundTube(Lightened, FootHoles):
    """The middle of the foot is at the origin, the tube's middle above it."""

    leading = ("tube", "gap", "wrap", "height", "foot", "lip", "toe", "corner_radius", *FOOT_HOLES)

    tube: float = length("Tube, outside diameter", default=60.3, inches="2-3/8", minimum=6, maximum=1000)
    gap: float = length("Fit-up gap", default=0.5, minimum=0, maximum=10, help="All round; 0 to 1 mm is usual.")
    wrap: float = angle("Wrap of the saddle", default=150, minimum=20, maximum=180, help="180 holds half of the tube.")
    height: float = length("Foot to the tube's middle", default=90, minimum=8, maximum=2000)
    foot: float = length("Foot", default=130, minimum=10, maximum=2500)
    lip: float = length(
        "Lip beside the saddle", default=12, minimum=2, maximum=300, help="Flat, at each side.", moves="care"
    )
    toe: float = length("Upright ends of the foot", default=15, minimum=0, maximum=500, moves="free")
    corner_radius: float = length("Corner radius", default=4, minimum=0, maximum=200, group="Corners", moves="free")
    lightening: float = length(
        "Lightening hole", default=0, minimum=0, maximum=800, group="Holes",
        help="Midway between foot and saddle; diameter, 0 for none.", moves="free",
    )  # fmt: skip

    @property
    def saddle(self) -> float:
        """Radius of the saddle."""
        return self.tube / 2 + self.gap

    @property
    def horn(self) -> Point:
        """Right end of the saddle."""
        half = math.radians(self.wrap) / 2
        return self.saddle * math.sin(half), self.height - self.saddle * math.cos(half)

    @property
    def shoulder(self) -> Point:
        """Where the right side ends at the lip."""
        return self.horn[0] + self.lip, self.horn[1]

    @property
    def middle(self) -> Point:
        """Centre of the lightening hole."""
        return 0.0, (self.height - self.saddle) / 2

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left end of the foot, the saddle as its chord."""
        (x, top), out, r = self.horn, self.foot / 2, self.corner_radius
        seat: list[Corner | Point] = [fillet(x + self.lip, top, r), (x, top), (-x, top), fillet(-x - self.lip, top, r)]
        if self.toe:
            seat = [fillet(out, self.toe, r), *seat, fillet(-out, self.toe, r)]
        return [fillet(-out, 0, r), fillet(out, 0, r), *seat]

    @property
    def narrowest_foot(self) -> float:
        """Foot from which a side would just touch the saddle's circle: the tangent from the lip's end, down to the toe.

        Seen from the tube's middle the tangent point lies acos(R / d) from the lip's end, d away.
        """
        x, y = self.horn[0] + self.lip, self.horn[1] - self.height
        normal = math.atan2(y, x) - math.acos(self.saddle / math.hypot(x, y))
        return 2 * (self.saddle - (self.toe - self.height) * math.sin(normal)) / math.cos(normal)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the saddle reaches the foot, a side meets it, or corners lack room."""
        clash = list(self.over("height", self.saddle, "for metal under the saddle"))
        clash = clash or list(self.under("toe", self.height - self.saddle, "to stay below the saddle"))
        clash = clash or list(self.over("foot", self.narrowest_foot, "for the sides to clear the saddle"))
        yield from clash
        if clash:
            return
        yield from self.at_most("corner_radius", largest_fillet(self.corners), "to fit between the corners")
        if self.holes:
            yield from self.under("back_mark", self.height - self.saddle - self.hole_size / 2, "to clear the saddle")
        yield from self.foot_hole_problems(self.shoulder)
        middle = self.middle
        room = min(middle[1], self.beside(middle, self.shoulder))
        yield from self.lightening_problems(middle, room, self.centres, self.hole_size)


def outline(p: GussetRoundTube) -> Profile:
    """Draw the gusset with its saddle, holes and lightening hole."""
    x, top = p.horn
    edge = arched(polygon(p.corners), (x, top), (-x, top), -math.tan(math.radians(p.wrap) / 4))
    inside = (*p.holes_at(p.centres, "hole in the foot", "holes"), *p.lightening_opening(p.middle))
    return Profile((edge,), inside, dimensions=tuple(dimensions(p, edge)))


def dimensions(p: GussetRoundTube, edge: Loop) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (x, top), half, centre = p.horn, p.foot / 2, (0.0, p.height)
    yield Dimension("foot", (-half, 0), (half, 0), "below")
    yield Dimension("height", (-half, 0), centre, "left")
    yield Dimension("tube", centre, (0, p.height - p.tube / 2), "diameter")
    if p.gap:
        yield Dimension("gap", (0, p.height - p.tube / 2), (0, p.height - p.saddle), "right")
    yield Dimension("lip", (x, top), (x + p.lip, top), "above")
    if p.toe:
        yield Dimension("toe", (half, 0), (half, p.toe), "right")
    for arc in [segment for segment in edge.segments if isinstance(segment, Arc) and segment.bulge > 0][:1]:
        yield Dimension("corner_radius", arc.centre, arc.at(0.5), "radius")
    yield from p.foot_holes_measured()
    yield from p.lightening_measured(p.middle)


TEMPLATE = Template(
    "gusset-round-tube",
    "Saddle gusset for round tube",
    GussetRoundTube,
    outline,
    summary="A foot with a saddle for a round tube or pipe: radius half the outside diameter and the fit-up gap.",
    cautions=(
        "A saddle that carries a load or a pipe wants its size and welds settled by a qualified engineer under the "
        "local code.",
        "Welding heats what is in a pipe: empty it, clean it and leave it open before anything is welded to it.",
    ),
    sizes=("tube", "height"),
    words=("saddle", "cradle", "pipe", "fish mouth", "cope", "roll bar", "tube", "support", "rest"),
    presets=(
        Preset("1-1/2 in pipe (ASME B36.10M), bench arm", "tube=1.900in height=60 foot=80 lip=8 toe=10 thickness=5"),
        Preset("3 in pipe (ASME B36.10M), sign post stay", "tube=3.5in wrap=120 height=140 foot=160 lightening=50"),
        Preset("4 in pipe (ASME B36.10M), rain pipe", "tube=4.5in gap=1 height=150 foot=220 lip=20 thickness=10"),
        Preset(
            "Trailer rack, 48.3 mm tube",
            "tube=48.3 wrap=180 height=70 foot=120 lip=10 holes=2 bolt=M8 first=20",
            is_metric=True,
        ),
    ),
)
