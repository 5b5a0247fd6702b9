r"""Wave: a row of breaking waves on a base, each an arc up its back, over the crest to a blunt tip, and round its curl.

      crest_radius
       .--.                 .--.
     .'    `.             .'    `.
    ( .-.    `.          ( .-.    `.          height
      (  \     `-._        (  \     `-._
 ______`-'         `-.______`-'         `-._____
|  curl       (line          pitch           |  water
|____________________________________________|
 lead                overall
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Circle, Loop, Point, Vertex, distance, meetings
from parts.geometry.figure import Pin
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, count, length, number
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hang_choice, hung
from parts.templates.silhouette.shared.kissing import joint, kissing
from parts.templates.silhouette.shared.tapered import apart_from_both, curved

LINE = (0.22, 0.92)
"""Where the line under a wave's back begins and ends, as shares of the back's arc from the crest. By eye."""

LOWER = (0.0, 1.0, 0.45, 0.8)
"""By how much each of a group of waves is lower, of what the lowest is (by eye)."""


class SilhouetteWave(Hung):
    """The lower left corner is at the origin; the waves break to the left."""

    overall: float = length("Length of the base", default=460, minimum=40, maximum=3000)
    waves: int = count("Waves", default=3, minimum=1, maximum=20, group="Outline", moves="care")
    water: float = length("Water below the waves", default=34, minimum=5, maximum=1000, moves="free")
    height: float = length("Waves above the water", default=84, minimum=8, maximum=1000)
    crest_radius: float = length("Radius of the crests", default=42, minimum=3, maximum=1000, moves="free")
    curl: float = length("Diameter of the curl", default=44, minimum=4, maximum=1000, moves="free")
    lean: float = length(
        "Crest behind the curl",
        default=17,
        minimum=0,
        maximum=500,
        help="From centre to centre: more opens the curl.",
        moves="free",
    )
    tip_radius: float = length("Radius of the tips", default=3, minimum=0.5, maximum=100, moves="free")
    lead: float = length("Level water at both ends", default=30, minimum=2, maximum=1000, moves="free")
    corner_radius: float = length("Corners of the base", default=8, minimum=0.5, maximum=200, moves="free")
    line_width: float = length(
        "Line under the backs",
        default=7,
        minimum=0,
        maximum=100,
        group="Cut out",
        help="Width; 0 for none. In waves that have room for it.",
        moves="free",
    )
    line_inset: float = length(
        "Metal over the line", default=13, minimum=1, maximum=300, group="Cut out", when=("line_width",), moves="free"
    )
    variation: float = number(
        "Lower waves among them", default=0.32, minimum=0, maximum=0.6, moves="care",
        help="By how much the lowest is lower, as a share of the first one's height. 0: all alike.",
    )  # fmt: skip
    hang: str = hang_choice("none")

    @property
    def foot_x(self) -> float:
        """The middle."""
        return self.overall / 2

    @property
    def sizes(self) -> list[float]:
        """How large each wave is, as a share of the first."""
        return [1 - self.variation * LOWER[i % len(LOWER)] for i in range(self.waves)]

    @property
    def _level(self) -> list[float]:
        """The level water behind each wave, so that a larger one behind it doesn't hang over it."""
        sizes, over = self.sizes, max(self.crest_radius - self.lean, 0.0)
        return [max(after - size, 0.0) * over for size, after in pairwise(sizes)] + [0.0]

    @property
    def pitch(self) -> float:
        """How long the first wave is, from its curl to the trough behind it."""
        return (self.overall - 2 * self.lead - sum(self._level)) / sum(self.sizes)

    @property
    def curls(self) -> list[float]:
        """Where the curls' centres are, from the left."""
        long = [self.pitch * size + level for size, level in zip(self.sizes, self._level, strict=True)]
        return [self.lead + sum(long[:i]) for i in range(self.waves)]

    @cached_property
    def back_radius(self) -> float:
        """Radius of the first one's back: level in the trough behind, and touching the crest's circle from outside."""
        return ((self.pitch - self.lean) ** 2 + self.height**2 - 2 * self.height * self.crest_radius) / (
            2 * self.height
        )

    def wave(self, x: float, size: float = 1.0) -> tuple[Pin, Pin, Pin, Pin]:
        """Back, crest, tip and curl of the wave of a size whose curl is at x.

        Raises:
            GeometryError: if crest and curl leave no tip.
        """
        far, round_, inner = (size * each for each in (self.back_radius, self.crest_radius, self.curl / 2))
        back = Pin((x + size * self.pitch, self.water + far), -far)
        crest = Pin((x + size * self.lean, self.water + size * self.height - round_), round_)
        curl = Pin((x, self.water + inner), -inner)
        r = self.tip_radius
        at = apart_from_both(curl.at, crest.at, inner + r, round_ - r)
        return back, crest, Pin(at, r), curl

    @cached_property
    def figure(self) -> Loop:
        """The waves on their base.

        Raises:
            GeometryError: if crest and curl leave no tip.
        """
        w, r, top, quarter = self.overall, self.corner_radius, self.water, math.tan(math.pi / 8)
        made: list[Vertex] = [(r, 0, 0), (w - r, 0, quarter), (w, r, 0), (w, top - r, quarter), (w - r, top, 0)]
        for x, size in zip(reversed(self.curls), reversed(self.sizes), strict=True):
            made += [*kissing((x + size * self.pitch, top), self.wave(x, size), (x, top)), (x, top, 0)]
        return Loop.through([*made, (r, top, quarter), (0, top - r, 0), (0, r, quarter)])

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """A line in each wave, as far under its back all along."""
        if not self.line_width:
            return ()
        waves = zip(self.curls, self.sizes, strict=True)
        lines = (self._line(x, size) for x, size in waves if self._room_at(size) >= self.line_width)
        return tuple(Opening(line, "line", "line_width") for line in lines)

    def _room_at(self, size: float) -> float:
        """How wide a line may be in a wave of a size, with as much metal on both sides as is asked for."""
        back, _, _, curl = self.wave(0.0, size)
        neck = distance(back.at, curl.at) - size * (self.curl / 2 + self.back_radius)
        return min(neck, self.water) - 2 * self.line_inset

    def _line(self, x: float, size: float) -> Loop:
        back, crest, _, _ = self.wave(x, size)
        (cx, cy), radius = back.at, size * self.back_radius + self.line_inset + self.line_width / 2
        ends = [
            Circle((cx + radius * math.cos(a), cy + radius * math.sin(a)), self.line_width)
            for a in self._along(back.at, crest.at)
        ]
        return curved(ends[0], ends[1], radius)

    def _along(self, back: Point, crest: Point) -> list[float]:
        """Angles at which the line begins and ends, seen from the back's centre."""
        first = math.atan2(crest[1] - back[1], crest[0] - back[0]) % (2 * math.pi)
        return [first + share * (1.5 * math.pi - first) for share in LINE]

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what of the waves doesn't go together."""
        found = [
            *self.under("lead", self.overall / 4, "to leave length for waves"),
            *self.at_most("corner_radius", min(0.45 * self.water, 0.9 * self.lead), "on a base of this size"),
        ]
        if not found:
            found += self.at_most("height", 0.9 * self.pitch, "for waves of this length")
            found += self.at_most("crest_radius", min(0.6 * self.height, self.pitch / 2), "for waves of this size")
            found += self.at_most("curl", 0.75 * self.height, "under a crest of this height")
        if not found:
            found += self.under("lean", self.pitch / 4, "in waves of this length")
            found += self.at_most("tip_radius", min(self.sizes) * self.curl / 6, "for a curl of this size")
        yield from found or self._shape_problems()

    def _shape_problems(self) -> Iterator[Problem]:
        r = self.curl / 2
        thick = min(self.sizes) * (self.height - self.curl)
        try:
            back, crest, tip, curl = self.wave(self.lead)
            sound = tip.at[0] < curl.at[0] and not any(meetings([self.figure]))
            joint(back, crest)
        except GeometryError:
            yield self.problem("lean", "doesn't let the crest run out to a tip before the curl; it must be more, or "
                               "the curl or the crest's radius another.")  # fmt: skip
            return
        if not sound or tip.at[1] < self.water + r:
            yield self.problem("lean", "makes the wave close on itself; change it, or the curl or the crest's radius.")
            return
        neck = distance(back.at, curl.at) - r - self.back_radius
        if min(self.sizes) * neck < 4 * self.tip_radius or thick < 4 * self.tip_radius:
            yield self.problem("tip_radius", "must be less, to be thinner than the metal behind the curl.")
            return
        if crest.at[0] - self.crest_radius < 0:
            yield self.problem("lead", "must be more, or the first wave's tip hangs over the end of the base.")
        if self.line_width:
            yield from self._line_problems(back, crest, neck)

    def _line_problems(self, back: Pin, crest: Pin, neck: float) -> Iterator[Problem]:
        room = min(neck, self.water) - 2 * self.line_inset
        if room <= 0:
            yield from self.under("line_inset", min(neck, self.water) / 2, "to leave a line between it and the curl")
            return
        yield from self.at_most("line_width", room, "with as much metal on both sides")
        first, last = self._along(back.at, crest.at)
        yield from self.at_most("line_width", self.back_radius * (last - first) / 4, "for a line of this length")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the waves."""
        w, top, r = self.overall, self.water, self.curl / 2
        back, crest, tip, curl = self.wave(self.curls[0])
        (cx, cy), (kx, ky) = curl.at, crest.at
        yield Dimension("overall", (0, 0), (w, 0), "below")
        yield Dimension("water", (w, 0), (w, top), "right")
        yield Dimension("height", (w, top), (kx, top + self.height), "right")
        yield Dimension("crest_radius", (kx, ky), (kx, ky + self.crest_radius), "radius")
        side = math.radians(-30)
        yield Dimension("curl", (cx, cy), (cx + r * math.cos(side), cy + r * math.sin(side)), "diameter")
        if self.lean:
            yield Dimension("lean", (cx, cy), (kx, ky), "above")
        (tx, ty), t = tip
        yield Dimension("tip_radius", (tx, ty), (tx - t, ty), "radius")
        yield Dimension("lead", (0, top), (self.lead, top), "above")
        yield Dimension("corner_radius", (self.corner_radius, self.corner_radius), (0, self.corner_radius), "radius")
        if self.line_width:
            first, last = self._along(back.at, crest.at)
            ux, uy = math.cos((first + last) / 2), math.sin((first + last) / 2)
            reaches = [self.back_radius, self.back_radius + self.line_inset]
            reaches.append(reaches[-1] + self.line_width)
            a, b, c = ((back.at[0] + d * ux, back.at[1] + d * uy) for d in reaches)
            yield Dimension("line_inset", a, b, "along")
            yield Dimension("line_width", b, c, "along")


TEMPLATE = Template(
    "silhouette-wave",
    "Waves",
    SilhouetteWave,
    hung,
    summary="A row of breaking waves on a base, in tangent arcs, a line cut under each back; hung, on stake or tab.",
    cautions=CAUTIONS,
    sizes=("overall", "height"),
    words=(
        "ornament", "sea", "ocean", "lake", "surf", "beach", "border", "trail sign", "wall art", "water",
        "decoration", "yard art",
    ),
    presets=(
        Preset("Foot of the trail sign at the lake, on a tab", "overall=700 waves=4 water=60 height=95 crest_radius=48 "
               "curl=50 lean=20 lead=40 corner_radius=10 line_width=9 line_inset=16 foot=tab foot_width=90 "
               "foot_length=60"),
        Preset("One wave, for a garden bench's end", "overall=330 waves=1 water=40 height=130 crest_radius=66 curl=68 "
               "lean=27 tip_radius=5 lead=46 line_width=11 line_inset=14 thickness=5"),
        Preset("Border over the workshop's wash basin", "overall=1200 waves=8 water=40 height=90 crest_radius=46 "
               "curl=47 lean=18 lead=36 line_width=0 hang=two apart=987 hole=6.5 eye=8"),
    ),
)  # fmt: skip
