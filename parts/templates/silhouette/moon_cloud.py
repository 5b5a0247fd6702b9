r"""Moon with cloud: a crescent that holds a cloud, drawn in one outline of arcs that touch, craters and a line cut out.

         _.-""-. tip_radius
      .-'    .'
    .' o    (         hollow_radius
   / o      (    _
  |         _\.-' `-. _  lobe_radius
  |  O     (  .---.  ( `.      cloud_height
 .-`.      (           ) `-.
(     waist                 )  end_radius
 `-------------------------'
 reach left of the moon; cloud_width
"""

import math
from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Circle, Loop, Point, Vertex, circle, meetings
from parts.geometry.figure import Pin, polar
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, angle, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung
from parts.templates.silhouette.shared.kissing import kissing
from parts.templates.silhouette.shared.tapered import apart_from_both, curved

PUFFS = (0.43, 0.7)
"""Where the cloud's two upper lobes are, as shares of its width from the left. By eye."""
LESS = (0.76, 0.74)
"""Radius and top of the second upper lobe, as shares of those of the first. By eye."""
CRATERS = ((180.0, 1.0, 0.45), (206.0, 0.5, 0.62), (153.0, 0.62, 0.42), (133.0, 0.42, 0.55), (166.0, 0.4, 0.78))
"""Where the craters are, in degrees about the moon's centre; their shares of the first's diameter; and how far out from
the hollow, as a share of the crescent's width there. By eye."""
LINE = (math.radians(12), math.radians(140))
"""From where to where the line follows the first lobe. By eye."""
MOST_BULGE = 0.96
"""Of the rounds between lobes and of the lobes: less than half a turn."""


class SilhouetteMoonCloud(Hung):
    """The moon's centre is at the origin; it opens to the right."""

    moon_radius: float = length("Radius of the moon", default=120, minimum=15, maximum=1250, moves="care")
    hollow_radius: float = length("Radius of the moon's hollow", default=95, minimum=7, maximum=1200, moves="free")
    waist: float = length("Crescent at its widest", default=68, minimum=5, maximum=1200, moves="free")
    tilt: float = angle("Moon opens upward by", default=22, minimum=-20, maximum=50, moves="care")
    tip_radius: float = length("Radius of the tip", default=3, minimum=0.5, maximum=100, moves="free")
    height: float = length("Height from cloud to moon's top", default=210, minimum=20, maximum=2500)
    cloud_width: float = length("Width of the cloud", default=262, minimum=30, maximum=3000, moves="care")
    cloud_height: float = length(
        "Height of the cloud", default=82, inches="3-1/4", minimum=10, maximum=1500, moves="care"
    )
    reach: float = length("Cloud left of the moon", default=16, minimum=0, maximum=1000, moves="free")
    lobe_radius: float = length("Radius of the highest lobe", default=38, minimum=4, maximum=700, moves="free")
    end_radius: float = length("Radius of the cloud's ends", default=23, minimum=3, maximum=500, moves="free")
    inside_radius: float = length("Radius between lobes", default=4, minimum=0.5, maximum=100, moves="free")
    craters: int = count("Craters", default=5, minimum=0, maximum=5, group="Cut out", moves="care")
    crater: float = length(
        "Largest crater",
        default=24,
        inches="15/16",
        minimum=1,
        maximum=400,
        group="Cut out",
        when=("craters",),
        moves="free",
    )
    line_width: float = length(
        "Line in the cloud", default=7, minimum=0, maximum=100, group="Cut out", help="Width; 0 for none.", moves="free"
    )
    line_inset: float = length(
        "Metal over the line", default=12, minimum=1, maximum=300, group="Cut out", when=("line_width",), moves="free"
    )

    @property
    def left(self) -> float:
        """Where the cloud begins."""
        return -self.moon_radius - self.reach

    @property
    def base(self) -> float:
        """Height of the cloud's lower edge."""
        return self.moon_radius - self.height

    @property
    def foot_x(self) -> float:
        """The middle of the cloud."""
        return self.left + self.cloud_width / 2

    @property
    def hollow_at(self) -> Point:
        """Centre of the hollow."""
        return polar(self.hollow_radius - self.moon_radius + self.waist, math.radians(self.tilt))

    @property
    def lobes(self) -> tuple[Pin, Pin, Pin, Pin]:
        """The cloud's lobes from the left: an end, the highest, the second, the other end."""
        e, r, low, (a, b) = self.end_radius, self.lobe_radius, self.base, PUFFS
        small, top = LESS[0] * r, LESS[1] * self.cloud_height
        return (
            Pin((self.left + e, low + e), e),
            Pin((self.left + a * self.cloud_width, low + self.cloud_height - r), r),
            Pin((self.left + b * self.cloud_width, low + top - small), small),
            Pin((self.left + self.cloud_width - e, low + e), e),
        )

    @cached_property
    def pins(self) -> list[Pin]:
        """The arcs round the figure from the cloud's right end, counter-clockwise.

        Raises:
            GeometryError: if moon, hollow and cloud don't cross where they should.
        """
        first, high, second, last = self.lobes
        big, q, f, t = self.moon_radius, self.hollow_radius, self.inside_radius, self.tip_radius
        tip = Pin(apart_from_both((0.0, 0.0), self.hollow_at, big - t, q + t), t)
        into = apart_from_both(high.at, self.hollow_at, high.radius + f, q - f)
        beside = apart_from_both(first.at, (0.0, 0.0), first.radius + f, big + f)
        return [
            last, self._between(second, last), second, self._between(high, second), high, Pin(into, -f),
            Pin(self.hollow_at, -q), tip, Pin((0.0, 0.0), big), Pin(beside, -f), first,
        ]  # fmt: skip

    def _between(self, left: Pin, right: Pin) -> Pin:
        """The round above two lobes, touching both."""
        f = self.inside_radius
        return Pin(apart_from_both(left.at, right.at, left.radius + f, right.radius + f), -f)

    @cached_property
    def curve(self) -> list[Vertex]:
        """The arcs of `pins`, from the cloud's lower edge on the right to that on the left.

        Raises:
            GeometryError: if moon, hollow and cloud don't cross where they should.
        """
        first, *_, last = self.lobes
        return kissing((last.at[0], self.base), self.pins, (first.at[0], self.base))

    @cached_property
    def figure(self) -> Loop:
        """The edge of moon and cloud.

        Raises:
            GeometryError: if moon, hollow and cloud don't cross where they should.
        """
        return Loop.through([(self.lobes[0].at[0], self.base, 0.0), *self.curve])

    @cached_property
    def crater_holes(self) -> list[tuple[Circle, float]]:
        """The craters, each with twice its way to the nearer side of the crescent."""
        made, (hx, hy) = [], self.hollow_at
        for degrees, share, out in CRATERS[: self.craters]:
            ux, uy = polar(1.0, math.radians(degrees))
            along = hx * ux + hy * uy
            inner = along + math.sqrt(max(along**2 + self.hollow_radius**2 - hx**2 - hy**2, 0.0))
            width = self.moon_radius - inner
            centre = polar(inner + out * width, math.radians(degrees))
            made.append((Circle(centre, share * self.crater), 2 * min(out, 1 - out) * width))
        return made

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """Craters and the line in the cloud."""
        made = [Opening(circle(c.centre, c.diameter), "crater", "crater") for c, _ in self.crater_holes]
        if self.line_width:
            (x, y), r = self.lobes[1].at, self._line_radius
            a, b = (Circle((x + r * math.cos(t), y + r * math.sin(t)), self.line_width) for t in LINE)
            made.append(Opening(curved(a, b, r), "line", "line_width"))
        return tuple(made)

    @property
    def _line_radius(self) -> float:
        return self.lobe_radius - self.line_inset - self.line_width / 2

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what of moon and cloud doesn't go together."""
        big, q = self.moon_radius, self.hollow_radius
        found = [
            *self.under("hollow_radius", 0.98 * big, "in a moon of this size"),
            *self.at_most("waist", 0.9 * big, "in a moon of this size"),
            *self.at_most("end_radius", 0.45 * self.cloud_height, "in a cloud of this height"),
            *self.at_most("lobe_radius", 0.48 * self.cloud_height, "in a cloud of this height"),
        ]
        if not found:
            found += self.over("waist", 2.2 * (big - q), "to open the crescent round a hollow of this size")
            found += self.at_most("tip_radius", min(self.waist / 8, big / 12), "for a crescent of this size")
            found += self.at_most("inside_radius", self.end_radius / 3, "between lobes of this size")
            across = 1.5 * big + self.reach
            found += self.over("cloud_width", across, "to reach from left of the moon under its hollow")
        yield from found or self._shape_problems()

    def _shape_problems(self) -> Iterator[Problem]:
        try:
            bulges = [bulge for _, _, bulge in self.curve]
            turns = [*bulges[1:6], bulges[9]]
            sound = max(map(abs, turns)) < MOST_BULGE and not any(meetings([self.figure]))
            sound = sound and self.pins[9].at[1] < 0 and self.lobes[1].at[0] > self.left + self.lobe_radius / 2
        except GeometryError:
            sound = False
        if not sound:
            yield self.problem("cloud_width", "doesn't lead the cloud's lobes from left of the moon into its hollow; "
                               "change it, the cloud's height or its lobes.")  # fmt: skip
        elif self.pins[7].at[0] <= 0:
            yield self.problem("tilt", "brings the crescent's tip over behind its highest point; it must be less.")
        else:
            yield from self._cut_out_problems()

    def _cut_out_problems(self) -> Iterator[Problem]:
        if self.craters:
            most = min(0.6 * width * self.crater / c.diameter for c, width in self.crater_holes)
            yield from self.at_most("crater", min(most, 0.22 * self.moon_radius), "in a crescent of this size")
        if self.line_width:
            yield from self.under("line_inset", 0.7 * self.lobe_radius, "in a lobe of this size")
            yield from self.at_most("line_width", 0.6 * (self.lobe_radius - self.line_inset), "so far in the lobe")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of moon and cloud."""
        big, low, e, f, t = self.moon_radius, self.base, self.end_radius, self.inside_radius, self.tip_radius
        right = self.left + self.cloud_width
        (hx, hy), q, away = self.hollow_at, self.hollow_radius, math.radians(self.tilt) + math.pi
        yield Dimension("moon_radius", (0, 0), polar(big, math.radians(115)), "radius")
        side = polar(q, math.radians(120))
        yield Dimension("hollow_radius", (hx, hy), (hx + side[0], hy + side[1]), "radius")
        yield Dimension("waist", polar(big, away), polar(big - self.waist, away), "along")
        yield Dimension("height", (right - e, low), (0, big), "right")
        yield Dimension("cloud_width", (self.left, low + e), (right, low + e), "below")
        _, high, second, last = self.lobes
        yield Dimension("cloud_height", (right - e, low), (high.at[0], low + self.cloud_height), "right")
        if self.reach:
            yield Dimension("reach", (self.left, low + e), (-big, 0), "above")
        up = math.sqrt(0.5)
        (x, y), r = high
        yield Dimension("lobe_radius", (x, y), (x + r * up, y + r * up), "radius")
        (x, y), r = last
        yield Dimension("end_radius", (x, y), (x + r * up, y + r * up), "radius")
        x, y = self._between(high, second).at
        yield Dimension("inside_radius", (x, y), (x, y - f), "radius")
        x, y = self.pins[7].at
        yield Dimension("tip_radius", (x, y), (x + t, y), "radius")
        if self.craters:
            (x, y), d = self.crater_holes[0][0]
            yield Dimension("crater", (x, y), (x - d / 2, y), "diameter")
        if self.line_width:
            (x, y), r = high
            inset = y + r - self.line_inset
            yield Dimension("line_inset", (x, y + r), (x, inset), "along")
            yield Dimension("line_width", (x, inset), (x, inset - self.line_width), "along")


TEMPLATE = Template(
    "silhouette-moon-cloud",
    "Moon with cloud",
    SilhouetteMoonCloud,
    hung,
    summary="A crescent moon that holds a cloud, in one piece and true arcs, craters and a line cut out.",
    cautions=CAUTIONS,
    sizes=(),
    words=(
        "ornament", "night", "sky", "crescent", "nursery", "garden", "weather", "wall art", "pendant", "mobile",
        "decoration", "yard art",
    ),
    presets=(
        Preset("Night walk, on a stake", "hang=none foot=stake foot_length=240 craters=0 "
               "moon_radius=140 hollow_radius=111 waist=78 height=254 cloud_width=316 cloud_height=114 reach=18 "
               "lobe_radius=51 "
               "end_radius=34 line_width=8 line_inset=16"),
        Preset("Window hanger", "moon_radius=55 hollow_radius=43.5 waist=31 tip_radius=1.5 height=100 "
               "cloud_width=125 cloud_height=45 reach=7 lobe_radius=20 end_radius=13.5 inside_radius=2 craters=0 "
               "line_width=0 hole=4 eye=3 thickness=2"),
        Preset("Large, over the common room", "moon_radius=400 hollow_radius=320 waist=220 tilt=30 tip_radius=8 "
               "height=720 cloud_width=920 cloud_height=330 reach=50 lobe_radius=148 end_radius=98 inside_radius=12 "
               "crater=70 line_width=20 line_inset=46 hang=lug hole=11 eye=14 thickness=4", inches="lobe_radius=5-3/4"),
    ),
)  # fmt: skip
