r"""Tow tab: thick, its pin hole drilled; shoulders bear on the back of the face, so that a pull can't draw it out.

     ____
    |    |                   shoulder: how far each stands out beyond the neck
    |    |______
    |         neck ---__     eye_radius about the pin hole, the flanks tangent to it
    |    height    ( pin )   pin drilled, not cut
    |     ______ ---  --
    |    |
    |____|
    block  reach

It goes through an upright opening in the face, as high as the neck and as wide as the tab is thick, from behind.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, fillet, polygon
from parts.profile import Dimension, Drill, Profile
from parts.spec import STOCK, Parameters, Preset, Template, length, thickness

_RELIEF = 0.3
"""Radius of the reliefs beside the neck in thicknesses: a thick tab is narrow metal there, and half a thickness is
more than its shoulders can spare."""


class BumperTowTab(Parameters):
    """The middle of the base is at the origin; the pull is along x."""

    thickness: float = thickness("Thickness", default=20, minimum=0.3, maximum=150, group=STOCK)
    reach: float = length("Pin from the base", default=110, minimum=20, maximum=800, help="Centre of the hole.")
    height: float = length("Height of the neck", default=88, minimum=20, maximum=600, help="Through the face.")
    block: float = length(
        "Base behind the face", default=35, minimum=5, maximum=400, help="As far as the shoulders go."
    )
    shoulder: float = length(
        "Shoulders stand out", default=25, minimum=0, maximum=200, help="Each side; 0 for none.", moves="care"
    )
    neck: float = length(
        "Neck straight for", default=14, minimum=0, maximum=200, help="The thickness of the face and its welds."
    )
    eye_radius: float = length("Radius of the eye", default=35, minimum=6, maximum=300, moves="care")
    pin: float = length("Pin hole, drilled", default=26, minimum=3, maximum=200, help="Diameter: pin and its room.")
    corner_radius: float = length("Corner radius", default=5, minimum=0, maximum=100, moves="free")
    relief: float = length(
        "Relief radius", default=0, minimum=0, maximum=60, help="0: 0.3 thicknesses.", when=("shoulder",), moves="free",
        auto="relief_radius",
    )  # fmt: skip

    @property
    def relief_radius(self) -> float:
        """Radius in mm of the reliefs that let the shoulders seat against the face."""
        return self.relief or _RELIEF * self.thickness

    @property
    def foot(self) -> Point:
        """Where the upper flank leaves the neck."""
        return self.block + self.neck, self.height / 2

    @property
    def flank(self) -> float:
        """Direction from the pin to where the upper flank touches the eye, radians.

        The flank is square to it, so from the foot, D away from the pin, it is acos(R / D) off the line to the foot.
        """
        x, y = self.foot[0] - self.reach, self.foot[1]
        return math.atan2(y, x) - math.acos(self.eye_radius / math.hypot(x, y))

    @property
    def base(self) -> list[Corner | Point]:
        """The corners of base and neck from the upper foot round behind to the lower one, the tab on the left."""
        half, r, out, b = self.height / 2, self.corner_radius, self.shoulder, self.block
        upper: list[Corner | Point] = [self.foot]
        lower: list[Corner | Point] = [(self.foot[0], -half)]
        if out:
            cut = self.relief_radius
            upper += [fillet(b - cut, half, cut), fillet(b - cut, half + 2 * cut, cut), (b, half + 2 * cut)]
            upper += [fillet(b, half + out, r)]
            lower = [fillet(b, -half - out, r), (b, -half - 2 * cut), fillet(b - cut, -half - 2 * cut, cut),
                     fillet(b - cut, -half, cut), *lower]  # fmt: skip
        return [*upper, fillet(0, half + out, r), fillet(0, -half - out, r), *lower]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the eye has no room before the neck, or radii and reliefs have none at the base."""
        yield from self.over("reach", self.foot[0] + self.eye_radius, "for the eye to stand before the neck")
        yield from self.under("pin", 2 * self.eye_radius, "inside the eye")
        end = self.height / 2 + self.shoulder
        if not self.shoulder:
            yield from self.at_most("corner_radius", min(end, self.foot[0]), "on the base")
            return
        clash = [*self.over("shoulder", 2 * self.relief_radius, "beyond its relief")]
        clash += self.over("block", self.relief_radius, "behind the reliefs")
        yield from clash
        if not clash:
            room = min(self.shoulder - 2 * self.relief_radius, self.block / 2)
            yield from self.at_most("corner_radius", room, "on the shoulders")


def outline(p: BumperTowTab) -> Profile:
    """Draw the tab; the pin hole is a centre to drill."""
    pin = Drill((p.reach, 0.0), p.pin, "pin hole", "pin")
    return Profile((edge(p),), marks=(pin,), dimensions=tuple(dimensions(p)))


def edge(p: BumperTowTab) -> Loop:
    """Return the edge: base and flanks as a polygon, its edge beyond the pin bent to the arc that both touch."""
    r, (c, s) = p.eye_radius, (math.cos(p.flank), math.sin(p.flank))
    lower, upper = (p.reach + r * c, -r * s), (p.reach + r * c, r * s)
    straight = polygon([upper, *p.base, lower])
    vertices = [(*segment.start, getattr(segment, "bulge", 0.0)) for segment in straight.segments]
    vertices[-1] = (*lower, math.tan(p.flank / 2))
    return Loop.through(vertices)


def dimensions(p: BumperTowTab) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, out = p.height / 2, p.shoulder
    yield Dimension("reach", (0, -half - out), (p.reach, 0), "below")
    yield Dimension("height", (p.foot[0], -half), (p.foot[0], half), "right")
    yield Dimension("block", (0, half + out), (p.block, half + out), "above")
    if out:
        yield Dimension("shoulder", (p.block, half), (p.block, half + out), "right")
        if r := p.relief:
            yield Dimension("relief", (p.block, half + r), (p.block - r, half + r), "radius")
    if p.neck:
        yield Dimension("neck", (p.block, half), p.foot, "above")
    slant = -p.flank / 2
    tip = p.reach + p.eye_radius * math.cos(slant), p.eye_radius * math.sin(slant)
    yield Dimension("eye_radius", (p.reach, 0), tip, "radius")
    yield Dimension("pin", (p.reach, 0), (p.reach + p.pin / 2, 0), "diameter")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (r, r - half - out), (0, r - half - out), "radius")


TEMPLATE = Template(
    "bumper-tow-tab",
    "Tow tab",
    BumperTowTab,
    outline,
    summary="A thick tab with a drilled pin hole and a round eye, its shoulders behind the face.",
    cautions=(
        "A tow or recovery point that lets go under load can kill: rated points, their pins, welds and what they are "
        "welded to are a qualified engineer's. This drawing carries no rating.",
        "Drill and ream the pin hole: a cut edge is hard, rough and leans, and starts cracks.",
        "Local vehicle rules say where a towing point may stand out, and whether it must come off on the road.",
    ),
    words=("vehicle", "recovery", "pull", "shackle", "pin", "ear", "eye", "hook", "point", "lug"),
    set_of="bumper",
    presets=(
        Preset("Small set: tow-hook slot 90 high", "thickness=16 reach=100 pin=22.5 eye_radius=30",
               inch_name="Small set: tow-hook slot 3-9/16 in high"),
        Preset("Trailer, safety-chain eye", "thickness=12 height=50 reach=70 block=20 neck=10 eye_radius=20 pin=14 "
               "shoulder=15 corner_radius=4"),
        Preset("Farm pick-up, welded on a mount", "shoulder=0 height=120 block=40 neck=0 corner_radius=8"),
    ),
)  # fmt: skip
