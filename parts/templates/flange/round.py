r"""Round flange: a ring with a bore for the pipe and bolt holes on a circle.

        ______
      / o    o \       od, bore, bolt_circle: diameters
     /   ____   \      the holes straddle the centre lines: none stands at the top
    |o  /    \  o|
    |o  \____/  o|
     \          /
      \_o____o_/

Presets called Class 150 and PN 16 carry outside diameter, bolt circle and holes of ASME B16.5 class 150 and EN 1092-1
PN 16, in the unit of the standard. Their bore is the pipe's outside diameter (ASME B36.10M, ISO 4200 series 1: from
memory) and 2 mm. They are as thick as air plasma still cuts their bolt holes and the rim beside them,
thinner than the standard has it: a plate cut to them bolts up to the flange of the standard; it is none.
"""

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction

from parts.errors import Problem
from parts.geometry import Point, bolt_circle, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN, joined_unit, to_figures

_KEEP = "to keep metal between the holes"


class FlangeRound(BoltHoles, Lettered):
    """The centre is at the origin."""

    od: float = length("Outside diameter", default=160, minimum=20, maximum=2400)
    bore: float = length(
        "Bore", default=62, minimum=0, maximum=2300, help="The pipe's outside diameter plus 2 mm; 0: a blank."
    )
    bolt_circle: float = length("Bolt circle", default=120, minimum=10, maximum=2390, group="Holes")
    holes: int = count("Bolt holes", default=4, minimum=2, maximum=64, help="Flanges of pipes have 4, 8, 12 and so on.")
    stand: str = choice(
        "Holes stand", default="straddling", choices=("straddling", "on-line"), group="Holes",
        help="Straddling the upright centre line, as pipe flanges do, or the first one on it.",
    )  # fmt: skip
    bolt: str = bolt("Bolt", default="M12", diameter="hole")

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolt holes, clockwise from the one at the top or first right of it."""
        step = 2 * math.pi / self.holes
        first = math.pi / 2 - (step / 2 if self.stand == "straddling" else 0)
        return tuple(reversed(bolt_circle((0, 0), self.bolt_circle, self.holes, first + step)))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the holes reach the edge, the bore or each other."""
        hole = self.hole_size
        yield from self.under("bolt_circle", self.od - hole, "for the holes to stay inside the edge")
        yield from self.under("bore", self.od, "to leave a ring")
        yield from self.over("bolt_circle", self.bore + hole, "for the holes to clear the bore")
        yield from self.over("bolt_circle", hole / math.sin(math.pi / self.holes), _KEEP)


def outline(p: FlangeRound) -> Profile:
    """Draw the ring: the bore first, then the holes around it."""
    inside = (Opening(circle((0, 0), p.bore), "bore", "bore"),) if p.bore else ()
    holes = p.holes_at(p.centres, "bolt hole", "bolt_circle")
    return Profile((circle((0, 0), p.od),), inside + holes, dimensions=tuple(dimensions(p)))


def dimensions(p: FlangeRound) -> Iterator[Dimension]:
    """Yield where each diameter can be measured, leaders leaving between the holes."""
    yield Dimension("od", (0, 0), (p.od / 2, 0), "diameter")
    if p.bore:
        out = p.bore / 2 * math.sqrt(0.5)
        yield Dimension("bore", (0, 0), (-out, out), "diameter")
    yield Dimension("bolt_circle", (0, 0), p.centres[0], "diameter")
    yield from p.hole_measured(p.centres[len(p.centres) // 2])


def _holes(count: int) -> str:
    return "" if count == 4 else f"holes={count} "


def _stock(od: float, bolt_circle: float, hole: float, rack: Mapping[float, str]) -> str:
    """The thickest plate of a rack, all mm, in which plasma cuts these holes and leaves the rim beside them."""
    most = min(hole / _HOLE_THICKNESSES, (od - bolt_circle - hole) / 2)
    return rack[max(plate for plate in rack if plate <= most + LIMIT_SLACK_MM)]


_HOLE_THICKNESSES = 1.5
"""The smallest hole of air plasma, in thicknesses; the rim is to be as wide as the plate is thick (common practice)."""
_INCH_RACK = {6.35: "1/4in", 7.9375: "5/16in", 9.525: "3/8in", 12.7: "1/2in"}
_MM_RACK = {float(plate): str(plate) for plate in (6, 8, 10, 12)}


def _asme(size: str, od: str, circle: str, holes: int, hole: str, bore: str) -> Preset:
    od_mm, circle_mm, hole_mm = (float(sum(map(Fraction, said.split("-")))) * MM_PER_IN for said in (od, circle, hole))
    return Preset(
        f"Class 150, NPS {size}",
        f"od={joined_unit(od, 'in')} bolt_circle={joined_unit(circle, 'in')} {_holes(holes)}bolt=by-diameter "
        f"hole={joined_unit(hole, 'in')} bore={bore} thickness={_stock(od_mm, circle_mm, hole_mm, _INCH_RACK)}",
        inches=f"bore={to_figures(round(float(bore) / MM_PER_IN, 2))}",
    )


def _en(size: int, od: int, circle: int, holes: int, hole: int, bore: str) -> Preset:
    return Preset(
        f"PN 16, DN {size}",
        f"od={od} bolt_circle={circle} {_holes(holes)}bolt=by-diameter hole={hole} bore={bore} "
        f"thickness={_stock(od, circle, hole, _MM_RACK)}",
        is_metric=True,
    )


TEMPLATE = Template(
    "flange-round",
    "Round flange",
    FlangeRound,
    outline,
    summary="A ring by its bolt circle, the holes straddling the centre lines; sizes of ASME B16.5 and EN 1092-1.",
    cautions=(
        "A ring cut from plate is not a pressure part: flanges under pressure, gas, steam or vacuum are bought to the "
        "standard, rated and marked, and fitted under the local code.",
        "Where a flange joins what turns or carries load, have plate, bolts and welds settled by a qualified engineer.",
    ),
    words=("ring", "pipe", "bolt circle", "pcd", "blank", "duct", "collar", "companion", "blind", "disk"),
    presets=(
        Preset("Stove pipe collar", "od=230 bore=152 bolt_circle=195 bolt=M8 holes=6 thickness=4"),
        Preset("Blank for a rain barrel outlet", "od=120 bore=0 bolt_circle=90 bolt=M10 thickness=5", inches="od=5"),
        Preset("Trailer, spare wheel carrier", "od=180 bore=68 bolt_circle=112 bolt=M14 holes=5 stand=on-line"),
        _asme("1/2", "3-1/2", "2-3/8", 4, "5/8", "23.3"),
        _asme("3/4", "3-7/8", "2-3/4", 4, "5/8", "28.7"),
        _asme("1", "4-1/4", "3-1/8", 4, "5/8", "35.4"),
        _asme("1-1/4", "4-5/8", "3-1/2", 4, "5/8", "44.2"),
        _asme("1-1/2", "5", "3-7/8", 4, "5/8", "50.3"),
        _asme("2", "6", "4-3/4", 4, "3/4", "62.3"),
        _asme("2-1/2", "7", "5-1/2", 4, "3/4", "75"),
        _asme("3", "7-1/2", "6", 4, "3/4", "90.9"),
        _asme("3-1/2", "8-1/2", "7", 8, "3/4", "103.6"),
        _asme("4", "9", "7-1/2", 8, "3/4", "116.3"),
        _asme("5", "10", "8-1/2", 8, "7/8", "143.3"),
        _asme("6", "11", "9-1/2", 8, "7/8", "170.3"),
        _asme("8", "13-1/2", "11-3/4", 8, "7/8", "221.1"),
        _asme("10", "16", "14-1/4", 12, "1", "275.1"),
        _asme("12", "19", "17", 12, "1", "325.9"),
        _en(15, 95, 65, 4, 14, "23.3"),
        _en(20, 105, 75, 4, 14, "28.9"),
        _en(25, 115, 85, 4, 14, "35.7"),
        _en(32, 140, 100, 4, 18, "44.4"),
        _en(40, 150, 110, 4, 18, "50.3"),
        _en(50, 165, 125, 4, 18, "62.3"),
        _en(65, 185, 145, 8, 18, "78.1"),
        _en(80, 200, 160, 8, 18, "90.9"),
        _en(100, 220, 180, 8, 18, "116.3"),
        _en(125, 250, 210, 8, 18, "141.7"),
        _en(150, 285, 240, 8, 22, "170.3"),
        _en(200, 340, 295, 12, 22, "221.1"),
    ),
)
