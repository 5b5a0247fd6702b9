r"""Chain sprocket: a plate wheel for roller chain, its teeth those of ISO 606 (ASME B29.1 chains), bore and bolt holes.

        _/\_  _/\_
      _/    \/    \_      pitch: from roller to roller of the chain, in a straight line
     \              /     roller: diameter of its rollers
     /   o  __  o   \     gap: how wide the gaps between teeth are, of what the standard allows
    <      (__)      >    tip: diameter over the teeth; 0: about pitch (0.6 + cot(180 / teeth))
     \   o      o   /
      \_  /\__/\  _/

A gap is three arcs that run on into each other: the seat of the roller and a flank on each side of it. With d1 for the
roller and z for the teeth the standard has: pitch diameter d = pitch / sin(180 / z), root diameter d - d1; seat radius
0.505 d1 to 0.505 d1 + 0.069 cbrt(d1) over 140 - 90 / z to 120 - 90 / z degrees; flank radius 0.12 d1 (z + 2) to
0.008 d1 (z² + 180), the first of each pair in the narrowest seat with the second flank; tip diameter
d + pitch (1 - 1.6 / z) - d1 to d + 1.25 pitch - d1 (tooth gap from memory).
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, bolt_circle, circle
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_GAPS = {"narrow": 0.0, "middle": 0.5, "wide": 1.0}
_OF_FLANK = 0.6
"""How far up a tip stands at most, of the way from the standard's least to where the flanks meet: it keeps a land."""
_CHAIN = "Chain"


class Gap(NamedTuple):
    """The upper half of a gap whose middle is on the x axis: radii in mm, angles in radians.

    The seat is about `seat_at` on the x axis and ends at `seat_end`, `half_angle` round from the root; the flank is
    about `flank_at`, in the tooth.
    """

    seat_radius: float
    half_angle: float
    flank_radius: float
    seat_at: Point
    seat_end: Point
    flank_at: Point

    def meets(self, angle: float) -> float:
        """Return how far from the wheel's centre the flank meets the ray at an angle; 0 where it doesn't."""
        (x, y), c, s = self.flank_at, math.cos(angle), math.sin(angle)
        square = self.flank_radius**2 - (y * c - x * s) ** 2
        return x * c + y * s + math.sqrt(square) if square > 0 else 0.0

    def angle_at(self, radius: float) -> float:
        """Return the angle at which the flank is so far from the wheel's centre."""
        away = math.hypot(*self.flank_at)
        cosine = (away**2 + radius**2 - self.flank_radius**2) / (2 * away * radius)
        return math.atan2(self.flank_at[1], self.flank_at[0]) - math.acos(min(max(cosine, -1.0), 1.0))


class PlateSprocket(BoltHoles, Lettered):
    """The centre is at the origin, the middle of a gap on the x axis."""

    teeth: int = count("Teeth", default=17, minimum=9, maximum=120, group="Teeth")
    pitch: float = length(
        "Chain pitch", default=12.7, inches="1/2", minimum=4, maximum=130, group=_CHAIN,
        help="From roller to roller: 12.7 for 08A (number 40), 15.875 for 10A (50), 19.05 for 12A (60).",
    )  # fmt: skip
    roller: float = length(
        "Roller diameter", default=7.92, inches="0.312", minimum=2, maximum=80, group=_CHAIN,
        help="Measure the chain: 08A has 7.92, 08B 8.51.",
    )  # fmt: skip
    gap: str = choice(
        "Gaps between teeth",
        default="middle",
        choices=tuple(_GAPS),
        group="Teeth",
        help="Of what ISO 606 allows.",
        moves="free",
    )
    tip: float = length(
        "Diameter over the tips", default=0, minimum=0, maximum=6000, group="Teeth", auto="tip_diameter",
        help="0: about pitch (0.6 + cot(180 / teeth)).",
    )  # fmt: skip
    bore: float = length("Bore", default=20, minimum=0, maximum=4000, help="The shaft, or the hub to weld in; 0: none.")
    holes: int = count("Holes on a circle", default=0, minimum=0, maximum=24)
    bolt_circle: float = length("Bolt circle", default=42, minimum=4, maximum=5000, group="Holes", when=("holes",))
    bolt: str = bolt("Bolt", default="M8", diameter="hole", when=("holes",))

    @property
    def half_step(self) -> float:
        """Half the angle from tooth to tooth."""
        return math.pi / self.teeth

    @property
    def pitch_diameter(self) -> float:
        """Diameter of the circle on which the rollers' centres lie, mm."""
        return self.pitch / math.sin(self.half_step)

    @property
    def root_diameter(self) -> float:
        """Diameter at the bottom of the gaps, mm."""
        return self.pitch_diameter - self.roller

    @property
    def tip_limits(self) -> tuple[float, float]:
        """The least and the greatest tip diameter of the standard, mm."""
        base = self.pitch_diameter - self.roller
        return base + self.pitch * (1 - 1.6 / self.teeth), base + 1.25 * self.pitch

    @property
    def tip_diameter(self) -> float:
        """Diameter over the tips, mm: as given, or as turned where the standard allows that and tips stay broad."""
        low, high = self.tip_limits
        turned = self.pitch * (0.6 + 1 / math.tan(self.half_step))
        return self.tip or min(max(turned, low), high, low + _OF_FLANK * (self.flanks_meet - low))

    @property
    def flanks_meet(self) -> float:
        """Diameter at which the flanks of a tooth meet, mm."""
        return 2 * self.form.meets(self.half_step)

    @cached_property
    def form(self) -> Gap:
        """The form of a gap."""
        d1, z, share = self.roller, self.teeth, _GAPS[self.gap]
        seat = 0.505 * d1 + share * 0.069 * math.cbrt(d1)
        half = math.radians(140 - 20 * share - 90 / z) / 2
        narrow, wide = 0.008 * d1 * (z**2 + 180), 0.12 * d1 * (z + 2)
        flank = narrow + share * (wide - narrow)
        at, (ux, uy) = self.root_diameter / 2 + seat, (-math.cos(half), math.sin(half))
        end, centre = ((at + r * ux, r * uy) for r in (seat, seat + flank))
        return Gap(seat, half, flank, (at, 0.0), end, centre)

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolt holes, the first at the top."""
        return bolt_circle((0, 0), self.bolt_circle, self.holes, math.pi / 2) if self.holes else ()

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where rollers have no room, a tip isn't the standard's, or holes reach the teeth."""
        clash = [*self.at_most("roller", 0.7 * self.pitch, "for teeth between the rollers")]
        yield from clash
        if clash:
            return
        yield from self._tip_problems()
        yield from self.under("bore", self.root_diameter, "to leave metal below the teeth")
        if self.holes:
            hole = self.hole_size
            yield from self.under("bolt_circle", self.root_diameter - hole, "for the holes to clear the teeth")
            if self.bore:
                yield from self.over("bolt_circle", self.bore + hole, "for the holes to clear the bore")
            if self.holes > 1:
                yield from self.over(
                    "bolt_circle", hole / math.sin(math.pi / self.holes), "for metal between the holes"
                )

    def _tip_problems(self) -> Iterator[Problem]:
        low, high = self.tip_limits
        if self.flanks_meet <= low:
            yield self.tight("roller", "for flanks that reach the tip of the standard")
        elif self.tip:
            yield from self.at_least("tip", low, "by ISO 606 for this chain")
            if self.flanks_meet <= high:
                yield from self.under("tip", self.flanks_meet, "where the flanks of a tooth meet")
            else:
                yield from self.at_most("tip", high, "by ISO 606 for this chain")


def outline(p: PlateSprocket) -> Profile:
    """Draw the teeth, the bore and the bolt holes."""
    inside = (Opening(circle((0, 0), p.bore), "bore", "bore"),) if p.bore else ()
    holes = p.holes_at(p.centres, "hole", "bolt_circle")
    return Profile((toothed(p),), inside + holes, dimensions=tuple(dimensions(p)))


def toothed(p: PlateSprocket) -> Loop:
    """Return the edge counter-clockwise: into each gap by its lower flank, round the seat, out and over a tip."""
    form, radius, step = p.form, p.tip_diameter / 2, 2 * p.half_step
    high = form.angle_at(radius)
    (tx, ty), (fx, fy), (ex, ey) = polar(radius, high), form.flank_at, form.seat_end
    sweep = math.atan2(ty - fy, tx - fx) - math.atan2(ey - fy, ex - fx)
    flank, seat, over = math.tan(sweep / 4), -math.tan(form.half_angle / 2), math.tan((step - 2 * high) / 4)
    gap = [((tx, -ty), flank), ((ex, -ey), seat), ((ex, ey), flank), ((tx, ty), over)]
    vertices: list[Vertex] = []
    for i in range(p.teeth):
        c, s = math.cos(i * step), math.sin(i * step)
        vertices += [(c * x - s * y, s * x + c * y, bulge) for (x, y), bulge in gap]
    return Loop.through(vertices)


def dimensions(p: PlateSprocket) -> Iterator[Dimension]:
    """Yield where each length can be measured: pitch and roller where two links would lie."""
    step, on = 2 * p.half_step, p.pitch_diameter / 2
    gaps = [polar(on, i * step) for i in range(2)]
    yield Dimension("pitch", gaps[1], gaps[0], "along")
    yield Dimension("roller", gaps[0], (p.root_diameter / 2, 0.0), "diameter")
    yield Dimension("tip", (0, 0), polar(p.tip_diameter / 2, (p.teeth // 3 + 0.5) * step), "diameter")
    if p.bore:
        yield Dimension("bore", (0, 0), polar(p.bore / 2, math.radians(200)), "diameter")
    if p.holes:
        yield Dimension("bolt_circle", (0, 0), p.centres[0], "diameter")
        yield from p.hole_measured(p.centres[len(p.centres) // 2])


TEMPLATE = Template(
    "plate-sprocket",
    "Chain sprocket",
    PlateSprocket,
    outline,
    summary="A plate wheel for roller chain by pitch, roller and teeth: gaps of ISO 606, bore and bolt holes.",
    cautions=(
        "A chain drive catches hands and clothes: guard it as the local rules for machinery ask.",
        "A plate cut soft wears fast, and what lifts, brakes or carries people wants a rated wheel and chain.",
        "Tooth faces are chamfered after cutting so that the chain's inner plates find them.",
    ),
    sizes=("pitch", "roller"),
    words=("sprocket", "chain", "roller chain", "chainring", "teeth", "drive", "cog", "iso 606", "go kart", "bicycle"),
    presets=(
        Preset("08A chain (number 40), 24 teeth", "teeth=24 bore=25 holes=4 bolt_circle=60", inches="bore=1 bolt=3/8"),
        Preset("08B chain, 19 teeth, hub of 40", "teeth=19 roller=8.51 bore=40 thickness=5", is_metric=True),
        Preset(
            "10A chain (number 50), 30 teeth",
            "teeth=30 pitch=15.875 roller=10.16 bore=30 holes=6 bolt_circle=100 bolt=M10",
            inches="roller=0.4 bore=1-1/4 bolt=3/8",
        ),
        Preset(
            "12A chain (number 60), 21 teeth",
            "teeth=21 pitch=19.05 roller=11.91 bore=45 thickness=10 process=waterjet",
            inches="roller=0.469 bore=1-3/4",
        ),
        Preset(
            "16A chain (number 80), 40 teeth",
            "teeth=40 pitch=25.4 roller=15.88 bore=80 holes=8 bolt_circle=180 bolt=M16 thickness=10 process=waterjet",
            inches="roller=5/8 bore=3 bolt=5/8",
        ),
    ),
)
