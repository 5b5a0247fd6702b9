r"""Ring, disc or sector: round plate, with or without an opening, whole or a piece of it; holes on a circle.

      ________            __----__
     /  ____  \          /   __   \     od, bore: diameters
    |  /    \  |        /  .'  '.  \    sweep: the angle of a sector, from side to side
    |  \____/  |        \_/      \_/    corner_radius: at the four corners of a sector
     \________/           sector
        ring

Holes stand evenly round the whole of a ring or a disc. In a sector they stand half a step in from its sides, so that
sectors laid side by side make a ring with holes evenly round.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, circle
from parts.geometry.figure import polar
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, angle, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_UP = math.pi / 2


class PlateRing(BoltHoles, Lettered):
    """The centre of the circles is at the origin; a sector is even about the y axis."""

    form: str = choice("Form", default="ring", choices=("ring", "disc", "sector"))
    od: float = length("Outside diameter", default=300, minimum=10, maximum=6000)
    bore: float = length(
        "Inside diameter", default=200, minimum=0, maximum=5990, when=("form", "ring", "sector"),
        help="Of a sector 0: it runs to the centre.",
    )  # fmt: skip
    sweep: float = angle("Angle of the sector", default=90, minimum=5, maximum=350, when=("form", "sector"))
    corner_radius: float = length(
        "Corner radius of the sector", default=5, minimum=0, maximum=300, when=("form", "sector"), moves="free"
    )
    holes: int = count("Holes on a circle", default=0, minimum=0, maximum=72)
    bolt_circle: float = length("Bolt circle", default=250, minimum=4, maximum=5980, group="Holes", when=("holes",))
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=("holes",))

    @property
    def inner(self) -> float:
        """Inside diameter, mm; 0 of what is full to the centre."""
        return 0.0 if self.form == "disc" else self.bore

    @property
    def half(self) -> float:
        """Half the angle of the sector; of a ring half a turn."""
        return math.radians(self.sweep) / 2 if self.form == "sector" else math.pi

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes: clockwise, the first at the top of a ring, of a sector beside its left side."""
        step = 2 * self.half / max(self.holes, 1)
        first = _UP + self.half - step / 2 if self.form == "sector" else _UP
        return tuple(polar(self.bolt_circle / 2, first - i * step) for i in range(self.holes))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where no ring is left, a corner has no room, or holes meet an edge or each other."""
        if self.form == "ring" and not self.bore:
            yield self.problem("bore", "must be more than 0 in a ring; a disc has no opening.", {"form": "disc"})
        clash = [*self.under("bore", self.od, "to leave metal")] if self.form != "disc" else []
        yield from clash
        if clash:
            return
        if self.form == "sector":
            yield from self._corner_problems()
        if self.holes:
            yield from self._hole_problems()

    def _corner_problems(self) -> Iterator[Problem]:
        """A corner's circle of radius c is c from a side, and R - c or r + c from the centre."""
        sine = math.sin(min(self.half, _UP))
        most = [self.od / 2 * sine / (1 + sine)]
        if self.bore:
            most.append((self.od - self.bore) / 4)
            most += [self.bore / 2 * sine / (1 - sine)] if sine < 1 else []
        else:
            most.append(self.od / 4)
        yield from self.at_most("corner_radius", min(most), "in this sector")

    def _hole_problems(self) -> Iterator[Problem]:
        hole = self.hole_size
        yield from self.under("bolt_circle", self.od - hole, "for the holes to stay inside the edge")
        if self.inner:
            yield from self.over("bolt_circle", self.inner + hole, "for the holes to clear the inside edge")
        if self.holes > 1 or self.form == "sector":
            sine = math.sin(min(self.half / self.holes, _UP))
            why = "for metal between the holes" if self.holes > 1 else "for the hole to clear the sides"
            yield from self.over("bolt_circle", hole / sine, why)


def outline(p: PlateRing) -> Profile:
    """Draw the edge, the opening and the holes."""
    edge = sector(p) if p.form == "sector" else circle((0, 0), p.od)
    inside = (Opening(circle((0, 0), p.bore), "opening", "bore"),) if p.form == "ring" else ()
    holes = p.holes_at(p.centres, "hole", "bolt_circle")
    return Profile((edge,), inside + holes, dimensions=tuple(dimensions(p)))


def sector(p: PlateRing) -> Loop:
    """Return the edge of a sector, counter-clockwise from the outer end of its right side."""
    outer, inner, c, half = p.od / 2, p.bore / 2, p.corner_radius, p.half
    right, left = _UP - half, _UP + half
    off, along = _seat(outer - c, c)
    vertices: list[Vertex] = [
        (*polar(along, right), math.tan((_UP + off) / 4)),
        (*polar(outer, right + off), math.tan((half - off) / 2)),
        (*polar(outer, left - off), math.tan((_UP + off) / 4)),
        (*polar(along, left), 0.0),
    ]
    if not inner:
        return Loop.through([*vertices, (0.0, 0.0, 0.0)])
    off, along = _seat(inner + c, c)
    turn = math.tan((_UP - off) / 4)
    return Loop.through(
        [
            *vertices,
            (*polar(along, left), turn),
            (*polar(inner, left - off), -math.tan((half - off) / 2)),
            (*polar(inner, right + off), turn),
            (*polar(along, right), 0.0),
        ]
    )


def _seat(away: float, radius: float) -> tuple[float, float]:
    """Of a corner's circle that far from the centre: the angle from the side to it, and where it touches the side."""
    return math.asin(radius / away), math.sqrt(away**2 - radius**2)


def dimensions(p: PlateRing) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    yield Dimension("od", (0, 0), polar(p.od / 2, _UP - 0.7 * min(p.half, _UP)), "diameter")
    if p.inner:
        yield Dimension("bore", (0, 0), polar(p.bore / 2, _UP + 0.4 * min(p.half, _UP)), "diameter")
    if p.form == "sector" and (c := p.corner_radius):
        off, _ = _seat(p.od / 2 - c, c)
        (x, y), turn = polar(p.od / 2 - c, _UP - p.half + off), _UP - p.half + off
        yield Dimension("corner_radius", (x, y), (x + c * math.cos(turn), y + c * math.sin(turn)), "radius")
    if p.holes:
        yield Dimension("bolt_circle", (0, 0), p.centres[0], "diameter")
        yield from p.hole_measured(p.centres[len(p.centres) // 2])


TEMPLATE = Template(
    "plate-ring",
    "Ring, disc or sector",
    PlateRing,
    outline,
    summary="A ring, a plain disc or a sector of either, with holes on a circle; sectors go together to a ring.",
    cautions=(
        "What turns, lifts or holds pressure is for a qualified person to size: a ring cut from plate isn't rated.",
    ),
    sizes=("od", "bore"),
    words=("ring", "disc", "disk", "circle", "round", "sector", "segment", "arc", "donut", "annulus", "blank", "wedge"),
    presets=(
        Preset("Fire pit rim, a quarter of four", "form=sector od=900 bore=700 holes=2 bolt_circle=800 thickness=5"),
        Preset("Table base disc", "form=disc od=450 thickness=5 holes=4 bolt_circle=120 bolt=M8"),
        Preset("Drum lid blank", "form=disc od=590 thickness=2", inches="od=23"),
        Preset("Tank stand ring, 12 holes", "od=24in bore=18in holes=12 bolt_circle=21in bolt=1/2 thickness=3/8in"),
        Preset("Pipe wall collar", "od=200 bore=115 holes=4 bolt_circle=160 bolt=M6 thickness=3", inches="bore=4-5/8"),
        Preset(
            "Corner shelf, a quarter disc", "form=sector od=800 bore=0 corner_radius=25 thickness=4", inches="od=30"
        ),
    ),
)
