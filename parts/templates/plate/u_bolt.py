r"""U-bolt plate: holes for U-bolts round a tube, one or more along it; a second tube may cross on the other face.

     _____________________
    /   o           o     \     the legs of a U-bolt stand beside the tube: from leg to leg
    |      |     |        |     it is the tube, the rod and the play on both sides
    |      |tube |        |
    |      |     |        |     pitch: from one U-bolt to the next along the tube
    \___o___________o_____/
            width               cross_tube: across the plate, its U-bolts cross_pitch apart

The rod is the bolt chosen; where its hole is given by diameter, the hole's size stands for it.
"""

from collections.abc import Iterator
from itertools import combinations

from parts.errors import Problem
from parts.geometry import Point, distance, rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, bolt_mm, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered

_TUBES = "Tubes"


class PlateUBolt(BoltHoles, Lettered):
    """The centre of the plate is at the origin; the tube runs along the y axis, one that crosses along x."""

    width: float = length("Width, across the tube", default=120, minimum=15, maximum=1500)
    height: float = length("Height, along the tube", default=140, minimum=15, maximum=1500)
    corner_radius: float = length("Corner radius", default=10, minimum=0, maximum=300, moves="free")
    tube: float = length(
        "Tube or pipe, outside diameter", default=60.3, inches="2-3/8", minimum=5, maximum=1000, group=_TUBES,
        help="As measured, or the inside width of the U-bolt with no play: pipe is called by its bore.",
    )  # fmt: skip
    play: float = length(
        "Play on each side of a tube", default=1, minimum=0, maximum=20, group=_TUBES, help="For paint, or a liner."
    )
    u_bolts: int = count("U-bolts along the tube", default=2, minimum=1, maximum=8, group=_TUBES)
    pitch: float = length(
        "From one U-bolt to the next", default=90, minimum=5, maximum=1400, group=_TUBES, when=("u_bolts", "2")
    )
    cross_tube: float = length(
        "Tube that crosses, outside diameter", default=0, minimum=0, maximum=1000, group=_TUBES,
        help="On the other face, by two U-bolts; 0 for none.",
    )  # fmt: skip
    cross_pitch: float = length(
        "From one U-bolt to the next along the tube that crosses", default=90, minimum=5, maximum=1400, group=_TUBES,
        when=("cross_tube",),
    )  # fmt: skip
    bolt: str = bolt("U-bolt, its rod", default="M10", diameter="hole")

    @property
    def rod(self) -> float:
        """Diameter of the rod, mm."""
        return bolt_mm(self.bolt) or self.hole

    def legs(self, tube: float) -> float:
        """Return how far the legs of a U-bolt round this tube are apart, centre to centre, mm."""
        return tube + self.rod + 2 * self.play

    @property
    def centres(self) -> tuple[Point, ...]:
        """Holes of the U-bolts along the tube, left and right by turns from the lowest up."""
        half, low = self.legs(self.tube) / 2, -self.pitch * (self.u_bolts - 1) / 2
        return tuple((x, low + i * self.pitch) for i in range(self.u_bolts) for x in (-half, half))

    @property
    def crossing(self) -> tuple[Point, ...]:
        """Holes of the two U-bolts round the tube that crosses, those of the left one first."""
        if not self.cross_tube:
            return ()
        half, out = self.legs(self.cross_tube) / 2, self.cross_pitch / 2
        return tuple((x, y) for x in (-out, out) for y in (-half, half))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where legs leave the plate, or holes meet."""
        hole = self.hole_size
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        yield from self.over("width", self.legs(self.tube) + hole, "for both legs beside this tube")
        if self.u_bolts > 1:
            yield from self.over("pitch", hole, "for metal between the holes")
        yield from self.over("height", 2 * self.centres[-1][1] + hole, "for the outer U-bolts")
        if not self.cross_tube:
            return
        yield from self.over("height", self.legs(self.cross_tube) + hole, "for both legs beside the tube that crosses")
        yield from self.over("width", self.cross_pitch + hole, "for both U-bolts of the tube that crosses")
        yield from self.over("cross_pitch", hole, "for metal between the holes")
        if any(distance(a, b) <= hole for a, b in combinations((*self.centres, *self.crossing), 2)):
            yield self.tight("cross_pitch", "beside the holes for the other tube")


def outline(p: PlateUBolt) -> Profile:
    """Draw the plate and the holes, those of the tube along it first."""
    plate = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    inside = (*p.holes_at(p.centres, "hole", "tube"), *p.holes_at(p.crossing, "hole", "cross_tube"))
    return Profile((plate,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateUBolt) -> Iterator[Dimension]:
    """Yield where each length can be measured: a tube between the inner sides of a U-bolt's legs, less the play."""
    x, y, r, hand = p.width / 2, p.height / 2, p.corner_radius, 0.5**0.5
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * hand, y - r + r * hand), "radius")
    top, side = p.centres[-1][1], p.tube / 2
    yield Dimension("tube", (-side, top), (side, top), "above")
    if p.play:
        yield Dimension("play", (side, top), (side + p.play, top), "above")
    if p.u_bolts > 1:
        yield Dimension("pitch", p.centres[-3], p.centres[-1], "right")
    if p.cross_tube:
        out, over = p.cross_pitch / 2, p.cross_tube / 2
        yield Dimension("cross_tube", (out, -over), (out, over), "right")
        yield Dimension("cross_pitch", p.crossing[0], p.crossing[2], "below")
    yield from p.hole_measured(p.centres[0])


TEMPLATE = Template(
    "plate-u-bolt",
    "U-bolt plate",
    PlateUBolt,
    outline,
    summary="Holes for U-bolts from the tube's size and the rod; a second tube may cross on the other face.",
    cautions=(
        "Masts, aerials, signs and axles that come down can hurt someone: have U-bolts, plate and wind or road load "
        "settled by a qualified person under the local code.",
        "A U-bolt alone grips by friction: stop a loaded tube from sliding by a weld, a bolt or a step.",
    ),
    sizes=("tube",),
    words=(
        "u bolt",
        "ubolt",
        "clamp",
        "tube",
        "pipe",
        "mast",
        "antenna",
        "axle",
        "spring",
        "exhaust",
        "muffler",
        "cross",
    ),
    presets=(
        Preset(
            "Pipe of 33.7 (ISO 4200), two U-bolts M8",
            "tube=33.7 bolt=M8 width=80 height=100 pitch=65 thickness=5",
            inches="tube=1.315",
            inch_name="1 in pipe of ASME B36.10M, two U-bolts",
        ),
        Preset(
            "Mast of 48.3 (ISO 4200) to a boom of the same",
            "tube=48.3 cross_tube=48.3 bolt=M8 width=150 height=150 pitch=110 cross_pitch=110 thickness=5",
            inches="tube=1.9 cross_tube=1.9",
            inch_name="Mast of 1-1/2 in pipe (ASME B36.10M) to a boom of the same",
        ),
        Preset(
            "Trailer axle tube of 60.3, spring pad",
            "width=115 height=130 bolt=M12 play=0.5 thickness=8 pitch=80",
            inches="tube=2-3/8",
        ),
        Preset(
            "Fence post of 2-3/8 in, one U-bolt",
            "tube=2-3/8in bolt=3/8 u_bolts=1 width=4in height=2in thickness=1/4in corner_radius=1/4in",
        ),
        Preset(
            "Exhaust hanger, tube of 2-1/8 in",
            "tube=54 bolt=M8 u_bolts=1 width=90 height=50 thickness=3 play=0.5",
            inches="tube=2-1/8",
        ),
    ),
)
