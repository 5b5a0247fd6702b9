r"""Bumper gusset: braces the face to what is behind it, its tabs through the face's gusset slots.

          ___
         |   \         toe: the blunt ends
     tab=|    \        lightening hole where a circle has most room
         |     \
     tab=|  O   \  height
          \______| toe
     snipe  reach

The upright edge stands behind the face, the lower one on the mount or the frame; both are welded.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, circle, fillet, largest_fillet, polygon
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, length
from parts.templates.shared.tabs import TabbedEdge


class BumperGusset(TabbedEdge):
    """The root is at the origin, the face on the y axis."""

    reach: float = length("Length", default=110, minimum=30, maximum=1000, help="Back from the face.")
    height: float = length("Height", default=130, minimum=40, maximum=800, help="Up the face.")
    toe: float = length("Blunt ends", default=15, minimum=3, maximum=200, moves="free")
    snipe: float = length(
        "Snipe at the root",
        default=12,
        inches="3/8",
        minimum=0,
        maximum=200,
        help="Clears the weld: its leg plus a little.",
        moves="free",
    )
    corner_radius: float = length("Corner radius at the toes", default=4, minimum=0, maximum=100, moves="free")
    lightening: float = length(
        "Lightening hole", default=0, minimum=0, maximum=600, help="Diameter; 0 for none.", moves="free"
    )

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the foot of the snipe to the upper toe, without the tabs."""
        a, b, toe, r = self.reach, self.height, self.toe, self.corner_radius
        root: list[Point] = [(0.0, self.snipe), (self.snipe, 0.0)] if self.snipe else [(0.0, 0.0)]
        return [*root, fillet(a, 0, r), fillet(a, toe, r), fillet(toe, b, r), fillet(0, b, r)]

    @property
    def roomiest(self) -> Point:
        """Centre of the largest circle between both edges and the long one, leaving tabs and snipe aside.

        At (c, c) the distance to the long edge, n . (P - (c, c)) for its unit normal n, is c too.
        """
        a, b, toe = self.reach, self.height, self.toe
        slant = math.hypot(a - toe, b - toe)
        nx, ny = (b - toe) / slant, (a - toe) / slant
        c = (nx * a + ny * toe) / (1 + nx + ny)
        return c, c

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where toes, snipe or radii meet, or tabs and hole have no room."""
        shorter = min(self.reach, self.height)
        clash = [*self.under("toe", shorter, "on the shorter edge")]
        clash = clash or [*self.under("snipe", shorter - self.toe, "beside the toe on the shorter edge")]
        clash = clash or [*self.at_most("corner_radius", largest_fillet(self.corners), "to fit the toes")]
        clash = clash or [*self.tab_problems(self.snipe, self.height - self.corner_radius)]
        clash = clash or [*self.over("toe", self.relief_radius, "beside the reliefs of the tabs")]
        yield from clash
        if self.lightening and not clash:
            room = 2 * (self.roomiest[0] - self.relief_radius)
            yield from self.under("lightening", room, "between the edges and the reliefs of the tabs")


def outline(p: BumperGusset) -> Profile:
    """Draw the gusset with its tabs."""
    hole = (Opening(circle(p.roomiest, p.lightening), "lightening hole", "lightening"),) if p.lightening else ()
    return Profile((polygon([*p.corners, *p.tab_corners]),), hole, dimensions=tuple(dimensions(p)))


def dimensions(p: BumperGusset) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    a, b, r = p.reach, p.height, p.corner_radius
    yield Dimension("reach", (0, 0), (a, 0), "below")
    yield Dimension("height", (0, 0), (0, b), "left")
    yield Dimension("toe", (a, 0), (a, p.toe), "right")
    if p.snipe:
        yield Dimension("snipe", (0, 0), (p.snipe, 0), "below")
    if r:
        yield Dimension("corner_radius", (a - r, r), (a, r), "radius")
    yield from p.tabs_measured()
    if p.lightening:
        x, y = p.roomiest
        yield Dimension("lightening", (x, y), (x + p.lightening / 2, y), "diameter")


TEMPLATE = Template(
    "bumper-gusset",
    "Bumper gusset",
    BumperGusset,
    outline,
    summary="Braces the face from behind; its tabs go through the gusset slots of a face plate of like values "
    "(small, medium and large set).",
    cautions=(
        "Braces change how a bumper gives way in a crash and what the frame has to take: size and welds need a rated "
        "design by a qualified person. Local vehicle rules and type approval come first.",
    ),
    words=("vehicle", "truck", "brace", "stiffener", "web", "knee", "tab", "slot", "weld"),
    set_of="bumper",
    presets=(
        Preset(
            "Small set: 1500 by 200 face",
            "reach=90 height=115 tab_pitch=46",
            inch_name="Small set: 60 by 8 in face",
            inches="tab_pitch=1-7/8",
        ),
        Preset("Medium set: 1800 by 250 face", inch_name="Medium set: 72 by 10 in face"),
        Preset(
            "Large set: 2000 by 300 face",
            "reach=150 height=180 tab_pitch=100 lightening=50",
            inch_name="Large set: 78 by 12 in face",
        ),
        Preset("One tab, to the tow opening", "reach=80 height=80 tabs=1 toe=12"),
    ),
)
