r"""Cone frustum: a cone without its tip, laid flat in one sheet or several alike, to roll or to press along lines.

         ____-----____
      .-'    \ | /    '-.      wide_end, narrow_end: diameters; cone_high: along its axis
     /  .     \|/     .  \     pieces: sheets in all, of which one is drawn
     \_/ '-.___|___.-' \_/     bends: lines in each sheet to press it along; 0 to roll it
        '-._________.-'

The middle of the sheet keeps its length. With S for the slant length there and D, d for the diameters there, the flat
is a sector from radius S d / (D - d) to S D / (D - d), of 180 (D - d) / S degrees in all. Outside and inside diameters
are off those of the middle by a thickness times the cosine of the angle between side and axis.

A pressed cone has flat facets: each line is bent by the outside angle of a regular pyramid's facets at an edge, and
the first and the last facet of a sheet are halves.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Line, Loop
from parts.geometry.figure import polar
from parts.profile import Bend, Profile
from parts.spec import STOCK, Parameters, Preset, Template, choice, count, length, thickness

_UP = math.pi / 2
_SIDES = {"outside": -1, "middle": 0, "inside": 1}
_MOST_TURN = math.radians(355)


class DevelopedCone(Parameters):
    """The tip of the cone is at the origin, the sheet even about the y axis."""

    thickness: float = thickness("Thickness", default=2, minimum=0.3, maximum=150, group=STOCK)
    wide_end: float = length("Diameter of the wide end", default=200, minimum=10, maximum=6000, drawn=False)
    narrow_end: float = length("Diameter of the narrow end", default=120, minimum=5, maximum=5990, drawn=False)
    cone_high: float = length(
        "Height along the axis, between the edges", default=150, minimum=5, maximum=6000, drawn=False
    )
    measured: str = choice("Diameters are", default="outside", choices=tuple(_SIDES))
    pieces: int = count("Sheets in all", default=1, minimum=1, maximum=12, group="Sheet", help="One is drawn.")
    bends: int = count(
        "Press lines in each sheet", default=0, minimum=0, maximum=72, group="Sheet", help="To press it; 0: rolled.",
        moves="free",
    )  # fmt: skip

    @property
    def middle(self) -> tuple[float, float]:
        """Diameters of the middle of the sheet at the wide and the narrow end, mm."""
        off = (
            _SIDES[self.measured]
            * self.thickness
            * self.cone_high
            / math.hypot(self.cone_high, (self.wide_end - self.narrow_end) / 2)
        )
        return self.wide_end + off, self.narrow_end + off

    @property
    def slant(self) -> float:
        """Length of the side, mm."""
        return math.hypot(self.cone_high, (self.wide_end - self.narrow_end) / 2)

    @property
    def radii(self) -> tuple[float, float]:
        """Radii of the flat at the wide and the narrow end, mm."""
        wide, narrow = self.middle
        return self.slant * wide / (wide - narrow), self.slant * narrow / (wide - narrow)

    @property
    def sweep(self) -> float:
        """Angle of one sheet, radians."""
        wide, narrow = self.middle
        return math.pi * (wide - narrow) / self.slant / self.pieces

    @property
    def bend_angle(self) -> float:
        """What each line is bent by, radians: of a pyramid with as many facets, whose sides meet at the same angle.

        About its tip the facets make a regular polygon on a sphere, of sides a: the angle A at its corners is
        2 asin(cos(pi / n) / cos(a / 2)).
        """
        facets = self.bends * self.pieces
        return math.pi - 2 * math.asin(math.cos(math.pi / facets) / math.cos(self.sweep / self.bends / 2))

    @property
    def bend_ways(self) -> tuple[float, ...]:
        """The angles at which the bend lines lie, from the left."""
        step = self.sweep / max(self.bends, 1)
        return tuple(_UP + self.sweep / 2 - (i + 0.5) * step for i in range(self.bends))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where there is no cone, or too few lines to close it."""
        yield from self.under(
            "narrow_end", self.wide_end, "for a cone; a plain tube is a rectangle as long as it is round"
        )
        yield from self.under("thickness", self.narrow_end / 2, "to be bent to this end")
        if self.narrow_end >= self.wide_end:
            return
        if self.sweep > _MOST_TURN:
            yield self.problem("pieces", "must be 2 or more: so flat a cone doesn't lie in one sheet.", {"pieces": "2"})
        if self.bends and self.bends * self.pieces < 3:
            least = math.ceil(3 / self.pieces)
            yield self.problem(
                "bends", f"must be 0 or at least {least}, so that the cone closes.", {"bends": str(least)}
            )


def outline(p: DevelopedCone) -> Profile:
    """Draw one sheet with its bend lines, the outside of the cone towards you."""
    outer, inner = p.radii
    lines = tuple(Line(polar(inner, way), polar(outer, way)) for way in p.bend_ways)
    bends = tuple(Bend(line, p.bend_angle, up=False) for line in lines)
    return Profile((sector(p),), (), bends)


def sector(p: DevelopedCone) -> Loop:
    """Return the edge of a sheet, counter-clockwise from the wide end of its right side."""
    (outer, inner), half = p.radii, p.sweep / 2
    right, left, turn = _UP - half, _UP + half, math.tan(half / 2)
    return Loop.through(
        [
            (*polar(outer, right), turn),
            (*polar(outer, left), 0.0),
            (*polar(inner, left), -turn),
            (*polar(inner, right), 0.0),
        ]
    )


TEMPLATE = Template(
    "developed-cone",
    "Cone frustum",
    DevelopedCone,
    outline,
    summary="A cone without its tip laid flat, in one sheet or several alike, to roll or to press along bend lines.",
    cautions=(
        "Rolls and brakes crush: keep hands clear, and leave guards in place.",
        "Hoppers, chimneys and what holds pressure or people fall under the local code: see a qualified person.",
    ),
    sizes=("wide_end", "narrow_end", "cone_high"),
    words=(
        "cone",
        "frustum",
        "truncated",
        "reducer",
        "hopper",
        "funnel",
        "chimney",
        "cap",
        "lampshade",
        "development",
        "flat pattern",
        "rolled",
        "taper",
        "concentric",
    ),
    presets=(
        Preset(
            "Duct reducer, 200 to 160",
            "narrow_end=160 cone_high=200 thickness=0.8 process=laser",
            inches="wide_end=8 narrow_end=6 cone_high=8",
            inch_name="Duct reducer, 8 to 6 in",
        ),
        Preset(
            "Hopper, 600 to 150, two halves pressed",
            "wide_end=600 narrow_end=150 cone_high=450 pieces=2 bends=8 thickness=3",
            inches="wide_end=24 narrow_end=6 cone_high=18",
            inch_name="Hopper, 24 to 6 in, two halves pressed",
        ),
        Preset(
            "Rain cap, flat cone",
            "wide_end=400 narrow_end=20 cone_high=90 thickness=1 process=laser",
            inches="wide_end=16 narrow_end=1",
        ),
        Preset(
            "Post base, four sheets of 6 plate",
            "wide_end=500 narrow_end=300 cone_high=700 pieces=4 bends=5 thickness=6",
            inches="wide_end=20 narrow_end=12 cone_high=28",
            inch_name="Post base, four sheets of 1/4 in plate",
        ),
    ),
)
