r"""The outline of a face that is the same left and right of its middle: tapered at the foot, clipped at the top.

      ______________________
     /                      \    clip cuts the top corners
    |                        |
     \__                  __/    taper_rise and taper_length, at each end
        \________________/

The middle of the lower edge is at the origin. Lengths are mm.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, fillet, largest_fillet, polygon
from parts.profile import Dimension
from parts.spec import Parameters, length
from parts.templates.shared.feature import Edge, both_halves
from parts.tolerance import PARALLEL_RAD

OUTLINE = "width", "height", "taper_rise", "taper_length", "clip", "corner_radius", "top_radius"
"""Its parameters, which lead in the form."""


class TaperedFace(Parameters):
    """A template's parameters with the size of the face, its tapers, clips and radii."""

    width: float = length("Width", default=1800, minimum=300, maximum=3000)
    height: float = length("Height", default=250, minimum=80, maximum=800)
    taper_rise: float = length(
        "Taper at each end, up", default=90, minimum=0, maximum=700, help="Tyre clearance; 0 for none.", moves="care"
    )
    taper_length: float = length(
        "Taper at each end, along", default=300, minimum=10, maximum=1400, when=("taper_rise",), moves="care"
    )
    clip: float = length(
        "Clip at the top corners", default=45, minimum=0, maximum=300, help="0 for none.", moves="care"
    )
    corner_radius: float = length(
        "Radius at the lower corners",
        default=20,
        minimum=0,
        maximum=400,
        group="Corners",
        help="Taper and ends.",
        moves="free",
    )
    top_radius: float = length(
        "Radius at the top corners", default=15, minimum=0, maximum=400, group="Corners", moves="free"
    )

    @property
    def foot(self) -> Point:
        """Where the right half of the lower edge ends: at the taper, or at the end."""
        return self.width / 2 - (self.taper_length if self.taper_rise else 0.0), 0.0

    @property
    def taper(self) -> float:
        """Angle of the taper from the level, radians."""
        return math.atan2(self.taper_rise, self.taper_length)

    @property
    def corners(self) -> list[Corner]:
        """The right half of the outline from the lower edge up."""
        half, r = self.width / 2, self.corner_radius
        foot = [fillet(*self.foot, r)] if self.taper_rise else []
        ends = [(half, self.height - self.clip), (half - self.clip, self.height)]
        top = [fillet(x, y, self.top_radius) for x, y in (ends if self.clip else ends[:1])]
        return [*foot, fillet(half, self.taper_rise, r), *top]

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The straight edges that bound the right half outward: end, clip, taper."""
        half, slant = self.width / 2, math.sqrt(0.5)
        edges = ((1.0, 0.0, half), (slant, slant, (half + self.height - self.clip) * slant))
        nx, ny = math.sin(self.taper), -math.cos(self.taper)
        return (*edges, (nx, ny, nx * self.foot[0])) if nx > PARALLEL_RAD else edges

    @property
    def end_straight(self) -> tuple[float, float]:
        """From which height to which the end is straight, between the radii."""
        turns = math.pi / 2 - self.taper if self.taper_rise else math.pi / 2, math.pi / 4 if self.clip else math.pi / 2
        lower, upper = (r * math.tan(t / 2) for r, t in zip((self.corner_radius, self.top_radius), turns, strict=True))
        return self.taper_rise + lower, self.height - self.clip - upper

    @property
    def outline(self) -> Loop:
        """The edge of the face, counter-clockwise from the right end of its lower edge."""
        return polygon(both_halves(self.corners))

    def outline_problems(self) -> Iterator[Problem]:
        """Yield a problem where taper, clips or radii meet."""
        clash = [
            *self.under("taper_rise", self.height, "below the upper edge"),
            *(self.under("taper_length", self.width / 2, "for a lower edge to be left") if self.taper_rise else ()),
        ]
        clash = clash or [
            *self.under("clip", min(self.height - self.taper_rise, self.width / 2), "to leave an end and an upper edge")
        ]
        yield from clash
        if clash:
            return
        lower = both_halves([c if c.at[1] <= self.taper_rise else c.at for c in self.corners])
        clash = [*self.at_most("corner_radius", largest_fillet(lower), "at the lower corners")]
        yield from clash or self.at_most("top_radius", self._top_room(), "at the top corners")

    def _top_room(self) -> float:
        """The largest radius at the top corners, the lower ones taking their part of the ends.

        A fillet of radius r takes r tan(turn / 2) of each edge; the clip turns 45 degrees twice.
        """
        lower_turn = math.pi / 2 - self.taper
        end = self.height - self.taper_rise - self.clip - self.corner_radius * math.tan(lower_turn / 2)
        if not self.clip:
            return min(end, self.width / 2)
        per_mm = math.tan(math.pi / 8)
        return min(end, self.clip / math.sqrt(2), self.width / 2 - self.clip) / per_mm

    def outline_measured(self) -> Iterator[Dimension]:
        """Yield where each length of the outline can be measured."""
        half, h, turn = self.width / 2, self.height, math.pi / 2 - self.taper
        yield Dimension("width", (-half, self.taper_rise), (half, self.taper_rise), "below")
        yield Dimension("height", (-self.foot[0], 0), (self.clip - half, h), "left")
        if self.taper_rise:
            yield Dimension("taper_rise", self.foot, (half, self.taper_rise), "right")
            yield Dimension("taper_length", self.foot, (half, self.taper_rise), "below")
        if self.clip:
            yield Dimension("clip", (half - self.clip, h), (half, h - self.clip), "above")
        if r := self.corner_radius:
            centre = half - r, self.taper_rise + r * math.tan(turn / 2)
            yield _radius("corner_radius", centre, r, -turn / 2)
        if r := self.top_radius:
            turn = math.pi / 4 if self.clip else math.pi / 2
            centre = half - r, h - self.clip - r * math.tan(turn / 2)
            yield _radius("top_radius", centre, r, turn / 2)


def _radius(name: str, centre: Point, r: float, angle: float) -> Dimension:
    """Where a radius can be measured, on the middle of its arc."""
    (x, y), c, s = centre, math.cos(angle), math.sin(angle)
    return Dimension(name, centre, (x + r * c, y + r * s), "radius")
