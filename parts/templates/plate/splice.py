r"""Splice plate: joins two bars or members end to end, a group of bolts either side of the gap between them.

     ______________________________
    |  o   o   o  :  :  o   o   o  |    rows along the member on each side, `pitch` apart
    |             :  :             |    lines of them across it, `gauge` apart
    |__o___o___o__:__:__o___o___o__|    end: plate's end to the first row
                  gap                   inner: member's end to its first row

Distances left at 0 are those of AISC 360 for the bolt: edge distance by table J3.4 or J3.4M, spacing of 3 diameters
by section J3.3. The length follows from them.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.fasteners import least_edge_mm, preferred_spacing_mm
from parts.geometry import Point, grid, rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, bolt_mm, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

STANDARD = "Bolt distances"


class PlateSplice(BoltHoles, Lettered):
    """The middle of the gap is at the origin, the members along x."""

    width: float = length(
        "Width", default=100, minimum=20, maximum=1500, help="Across the members; the lines stand about its middle."
    )
    gap: float = length("Gap between the members", default=10, minimum=0, maximum=500)
    corner_radius: float = length("Corner radius", default=6, minimum=0, maximum=200, moves="free")
    rows: int = count("Rows on each side", default=2, minimum=1, maximum=20)
    lines: int = count("Bolt lines across", default=2, minimum=1, maximum=12)
    bolt: str = bolt("Bolt", default="M16", diameter="hole")
    pitch: float = length(
        "Bolt rows apart, along",
        default=0,
        minimum=0,
        maximum=500,
        group=STANDARD,
        help="0: 3 diameters (AISC 360 J3.3).",
        when=("rows", "2"),
    )
    gauge: float = length(
        "Bolt lines apart, across", default=0, minimum=0, maximum=1000, group=STANDARD,
        help="0: 3 diameters (AISC 360 J3.3).", when=("lines", "2"),
    )  # fmt: skip
    end: float = length(
        "Plate's end to the first row", default=0, minimum=0, maximum=300, group=STANDARD,
        help="0: as AISC 360 table J3.4 asks.", moves="free",
    )  # fmt: skip
    inner: float = length(
        "Member's end to its first row", default=0, minimum=0, maximum=300, group=STANDARD,
        help="0: as AISC 360 table J3.4 asks.",
    )  # fmt: skip

    @property
    def across_bolt(self) -> float:
        """Diameter of the bolt in mm; where the hole is given, the hole stands for it, to the safe side."""
        return bolt_mm(self.bolt) or self.hole_size

    @property
    def least_edge(self) -> float:
        """Least distance from a bolt to an edge, mm."""
        return least_edge_mm(self.across_bolt, self.hole_size)

    @property
    def row_pitch(self) -> float:
        """Along the members, row to row."""
        return self.pitch or preferred_spacing_mm(self.across_bolt)

    @property
    def line_gauge(self) -> float:
        """Across the members, line to line."""
        return self.gauge or preferred_spacing_mm(self.across_bolt)

    @property
    def first(self) -> float:
        """From the middle of the gap to the first row."""
        return self.gap / 2 + (self.inner or self.least_edge)

    @property
    def last(self) -> float:
        """From the middle of the gap to the last row."""
        return self.first + (self.rows - 1) * self.row_pitch

    @property
    def half(self) -> float:
        """Half the length of the plate."""
        return self.last + (self.end or self.least_edge)

    @property
    def line_height(self) -> float:
        """From the middle to the outermost line."""
        return (self.lines - 1) * self.line_gauge / 2

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes: the group on the left, then that on the right."""
        spacing = self.row_pitch, self.line_gauge
        left = grid((-self.last, -self.line_height), spacing, self.rows, self.lines)
        return (*left, *grid((self.first, -self.line_height), spacing, self.rows, self.lines))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where a distance given is too small for the hole, or the lines leave the plate."""
        hole = self.hole_size
        for name, least, why in (
            ("pitch", hole, "to keep metal between the holes"),
            ("gauge", hole, "to keep metal between the holes"),
            ("end", hole / 2, "to keep metal at the end"),
            ("inner", hole / 2 - self.gap / 2, "to keep metal between the two groups"),
        ):
            is_idle = (name == "pitch" and self.rows == 1) or (name == "gauge" and self.lines == 1)
            if getattr(self, name) and not is_idle:
                yield from self.over(name, least, why)
        needed = 2 * self.line_height + hole
        if needed >= self.width:
            yield from self.over("width", needed, f"for {self.lines} lines {self.say(self.line_gauge)} apart")
        yield from self.at_most("corner_radius", min(self.width / 2, self.half), "on half of the shorter side")


def outline(p: PlateSplice) -> Profile:
    """Draw the plate and both groups of holes."""
    plate = rectangle((-p.half, -p.width / 2), 2 * p.half, p.width, p.corner_radius)
    return Profile((plate,), p.holes_at(p.centres, "bolt hole", "rows"), dimensions=tuple(dimensions(p)))


def dimensions(p: PlateSplice) -> Iterator[Dimension]:
    """Yield where each length can be measured, those left to the standard too."""
    foot, top, low = -p.width / 2, p.width / 2, -p.line_height
    yield Dimension("width", (-p.half, foot), (-p.half, top), "left")
    if p.gap:
        yield Dimension("gap", (-p.gap / 2, top), (p.gap / 2, top), "above")
    if p.corner_radius:
        x, y, out = p.half - p.corner_radius, top - p.corner_radius, p.corner_radius * 0.5**0.5
        yield Dimension("corner_radius", (x, y), (x + out, y + out), "radius")
    if p.rows > 1:
        yield Dimension("pitch", (p.first, low), (p.first + p.row_pitch, low), "below")
    if p.lines > 1:
        yield Dimension("gauge", (p.last, low), (p.last, low + p.line_gauge), "right")
    yield Dimension("end", (p.last, low), (p.half, low), "below")
    yield Dimension("inner", (p.gap / 2, low), (p.first, low), "below")
    yield from p.hole_measured((-p.last, low))


TEMPLATE = Template(
    "plate-splice",
    "Splice plate",
    PlateSplice,
    outline,
    summary="Joins two members end to end: a bolt group either side of the gap, at the distances of AISC 360.",
    cautions=(
        "A splice carries what the member carries: have plates, bolts and their number settled by a qualified engineer "
        "under the local code. The distances here are minimums of detailing, not strength.",
        "Don't splice a vehicle's frame or a lifting beam from a drawing alone.",
    ),
    sizes=("width",),
    words=("joint", "fishplate", "connection", "butt", "coupling", "flat bar", "beam", "rail", "strap"),
    presets=(
        Preset("Garden bench rail, flat bar 50", "width=50 lines=1 bolt=M8 thickness=5 gap=2", is_metric=True),
        Preset("Trailer side rail, 3/8 bolts", "width=4in bolt=3/8 thickness=1/4in gap=1/8in rows=3 gauge=2in"),
        Preset("Gantry rail of the table", "width=80 gap=0 bolt=M10 rows=4 pitch=40 gauge=40 end=20 inner=20"),
        Preset("Shelter beam, 3/4 bolts at AISC J3.4", "width=6in bolt=3/4 thickness=1/2in rows=3 gap=1/2in"),
    ),
)
