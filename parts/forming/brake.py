"""The press brake: the die it bends over, the radius and neutral line it leaves, and what it asks of a flat.

    V opening      width of the die's groove, from shoulder to shoulder
    flange         what is bent up beside a bend line; *outside flange* is it as measured on the bent part
    inside radius  of the bend; in air bending it follows from the V opening

Radius, K and V opening of one bend belong together: V is the one for the thickness, or the wider one that leaves the
radius asked for; the radius left to itself is the one that V leaves, or the least of the metal and then the V for it.
A shop's own number stands over each, and over those a test bend of the shop, where it suits. Lengths are mm, thickness
first. A bend line lies on the middle of its bend.
"""

import math
from dataclasses import dataclass
from functools import cache, lru_cache

from parts import shop
from parts.data import threshold
from parts.forming import air_bending
from parts.forming.allowance import Fold
from parts.forming.neutral import Formula, NeutralLine, neutral_line
from parts.forming.own_bend import OwnBend

ALLOWANCE_NUMBERS = (
    *("brake.v_opening_ratio", "brake.inside_radius_per_v", "brake.k_factor", "k_factors"),
    *("air_bending.v_openings", "air_bending.radius_per_v", "air_bending.least_radius", "test_bends"),
    "least_bend_radius",
)
"""The names of the numbers that radius, K and V opening of a bend rest on."""

FLANGE_NUMBERS = (*ALLOWANCE_NUMBERS, "brake.flange_per_v", "rules.short-flange")
"""And those of the flange that a die asks for."""


@dataclass(frozen=True, slots=True)
class Brake:
    """What the brake of a shop does in one material, as ratios: see `parts/data/bending.toml`.

    V opening, radius, K and least radius are 0 where the shop has none of its own; `k_source` says where its K is
    from. `tests` are the shop's test bends in the very material.
    """

    material: str
    title: str
    group: str
    v_opening_ratio: float
    flange_per_v: float
    inside_radius_per_v: float
    k_factor: float
    k_by: Formula
    hole_ratio: float
    slot_ratio: float
    punch_width: float
    k_source: str
    least_radius_ratio: float
    tests: tuple[OwnBend, ...]

    def tested(self, thickness: float, radius: float = 0.0) -> OwnBend | None:
        """Return the test bend that suits a thickness, and an inside radius where one is given.

        Of several it is the one whose radius is nearest, or whose V is nearest to the one for the thickness; then the
        one whose sheet is called most alike.
        """
        suits = [test for test in self.tests if test.suits(thickness) and (not radius or test.leaves(radius))]
        if not suits:
            return None
        usual = self._usual_v(thickness)

        def off(test: OwnBend) -> tuple[float, float]:
            way = test.radius - radius if radius else test.row.v_opening_mm - usual
            return abs(way), abs(test.row.thickness_mm - thickness)

        return min(suits, key=off)

    def v_opening(self, thickness: float, radius: float = 0.0) -> float:
        """Return the V opening: that for the thickness, or the wider one that leaves a given inside radius."""
        if test := self.tested(thickness, radius):
            return test.row.v_opening_mm
        return max(self._usual_v(thickness), radius / self.radius_per_v)

    def _usual_v(self, thickness: float) -> float:
        ratio = self.v_opening_ratio or air_bending.v_opening_ratio(thickness)
        return ratio * thickness

    @property
    def radius_per_v(self) -> float:
        """The inside radius that air bending leaves, in V openings: the shop's own, or by material."""
        return self.inside_radius_per_v or air_bending.radius_per_v(self.group)

    def inside_radius(self, thickness: float) -> float:
        """Return the inside radius where none is given: what air bending leaves, and no less than the metal stands.

        Where the shop has its own radius per V, it is that alone: what its brake leaves, it leaves. A test bend says
        just that.
        """
        if test := self.tested(thickness):
            return test.radius
        left = self.radius_per_v * self.v_opening(thickness)
        return left if self.inside_radius_per_v else max(left, self.least_radius(thickness))

    def least_radius(self, thickness: float) -> float:
        """Return the least inside radius that the metal stands, the shop's own or of `metal`; 0 where none is known."""
        if self.least_radius_ratio:
            return self.least_radius_ratio * thickness
        table = air_bending.least_radius(self.group)
        return table.at(thickness) if table else 0.0

    @property
    def metal(self) -> str:
        """Of which metal the least radius is known; nothing where none is."""
        if self.least_radius_ratio:
            return self.title
        table = air_bending.least_radius(self.group)
        return table.metal if table else ""

    @property
    def knows_metal(self) -> bool:
        """Whether the least radius is that of this material, and not of another of its group."""
        table = air_bending.least_radius(self.group)
        return bool(self.least_radius_ratio) or (table is not None and self.material in table.materials)

    @property
    def harder(self) -> air_bending.Harder | None:
        """The harder grade of the metal, of which the least radius isn't; None where it is the shop's own, or unknown.

        A shop that gives its own says it of the sheet it has.
        """
        table = air_bending.least_radius(self.group)
        return table.harder if table and self.knows_metal and not self.least_radius_ratio else None

    def neutral(self, thickness: float, radius: float) -> NeutralLine:
        """Return where the neutral line of a bend lies without a K of its own: tested, the shop's, or by a formula.

        A test bend's K is the one that gives its deduction at this radius and thickness.
        """
        if test := self.tested(thickness, radius):
            return NeutralLine(test.k_at(radius, thickness), test.name, test.name, "yours")
        if self.k_factor:
            return NeutralLine(self.k_factor, "the shop's own", self.k_source, "yours")
        return neutral_line(self.k_by, self.group, radius, thickness)

    def clearance(self, thickness: float, radius: float, *, is_round: bool) -> float:
        """Return the least distance from where a bend begins to the edge of a round hole, or another opening."""
        return (self.hole_ratio if is_round else self.slot_ratio) * thickness + radius

    def least_between(self, one: Fold, other: Fold) -> float:
        """Return the least distance between the lines of two bends side by side, of which either may be made first.

        The second of them wants the flange that its die asks for, flat up to where the first begins.
        """
        t = one.thickness
        return min(
            self.least_flange(t, one.radius) + other.allowance / 2,
            self.least_flange(t, other.radius) + one.allowance / 2,
        )

    def least_flange(self, thickness: float, radius: float) -> float:
        """Return the least flange on the flat, from bend line to edge, for a bend of 90 degrees.

        The die asks for an outside flange of `flange_per_v` x V. A bend of 90 degrees takes up R + T of it, and
        the flat gives half the bend allowance, pi/4 (R + K T), for that (standard formulas, as in Machinery's
        Handbook).
        """
        outside = self.flange_per_v * self.v_opening(thickness, radius)
        k = self.neutral(thickness, radius).k
        return outside - (radius + thickness) + math.pi / 4 * (radius + k * thickness)


@cache
def sharpest() -> float:
    """Return how far a punch of 30 degrees turns the sheet, radians; what turns further is formed round a bar."""
    return math.radians(threshold("short-flange", "sharpest_deg"))


def brake(material: str) -> Brake:
    """Return this shop's brake in a material; remembered, so asking again costs microseconds.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return brake_at(shop.edition(), material)


@lru_cache(maxsize=64)
def brake_at(at: shop.Edition, material: str) -> Brake:
    """Return the brake of one state of the shop's numbers in a material."""
    data = shop.load(at)
    own, of = data.brake, data.materials[material]
    return Brake(
        material,
        of.title,
        of.group,
        own.v_opening_ratio,
        own.flange_per_v,
        own.inside_radius_per_v,
        own.k_factor,
        own.k_by,
        own.hole_ratio,
        own.slot_ratio,
        own.punch_width_mm,
        own.sources["k_factor"],
        data.least_bend_radius[material].ratio if material in data.least_bend_radius else 0.0,
        tuple(map(OwnBend, data.test_bends[material].rows)) if material in data.test_bends else (),
    )
