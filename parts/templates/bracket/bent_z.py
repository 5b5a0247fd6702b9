r"""Bent Z: two flanges a step apart, bent opposite ways, a row of holes in each; the drawing is the flat.

     ____________________________________
    |          |           |             |
    | o        |           |           o |
    |          |    web    |             |  width
    | o        |           |           o |
    |__________|___________|_____________|
      flange_a               flange_b

Outside dimensions of the bent part; the web is measured over all, along its face, from the outside of one bend to
the outside of the other: the height of the Z where it stands square.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.forming import Strip, strip
from parts.geometry import rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, angle, count, length
from parts.templates.bracket.shared.bent_rows import BentRows, row_bolt, row_first
from parts.templates.shared.bent import BRAKE_CAUTION, SIZE_CAUTION, bend_lines


class BracketBentZ(BentRows):
    """Flange A is bent up from, flange B bent back down; the free end of A is on the y axis of the flat."""

    flange_a: float = length("Flange A, outside", default=60, minimum=8, maximum=1000)
    web: float = length("Web, over both bends", default=60, minimum=3, maximum=1000, help="The height where square.")
    flange_b: float = length("Flange B, outside", default=60, minimum=8, maximum=1000)
    bend: float = angle(
        "Angle of the bends", default=90, minimum=10, maximum=90, group="Bending", help="Turned through, each."
    )
    holes_a: int = count("Holes in flange A", default=2, minimum=0, maximum=12)
    holes_b: int = count("Holes in flange B", default=2, minimum=0, maximum=12)
    mark_a: float = length(
        "Holes of A from the outside of its bend",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_a",),
    )
    mark_b: float = length(
        "Holes of B from the outside of its bend",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_b",),
    )
    first: float = row_first("holes_a", "holes_b")
    bolt: str = row_bolt("holes_a", "holes_b")

    @property
    def flat(self) -> Strip:
        """The flat: flange A, a bend up, the web, a bend down, flange B."""
        return strip((self.flange_a, self.web, self.flange_b), (self.fold(self.bend), self.fold(self.bend, up=False)))

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """Both flanges lie flat, one above the other."""
        along, rise, t = math.cos(math.radians(self.bend)), math.sin(math.radians(self.bend)), self.thickness
        run = self.flange_a + self.web * along - t * rise + self.flange_b
        return run, self.width, self.web * rise + t * along

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bends take a piece, a hole lies in a bend or holes meet."""
        setback = self.fold(self.bend).setback
        clash = [
            *self.over("flange_a", setback, "beyond the bend"),
            *self.over("web", 2 * setback, "between the bends"),
            *self.over("flange_b", setback, "beyond the bend"),
        ]
        yield from clash
        if clash:
            return
        yield from self.row_problems(
            {"mark_a": (self.holes_a, setback, self.flange_a), "mark_b": (self.holes_b, setback, self.flange_b)}
        )
        yield from self.corner_problems()


def outline(p: BracketBentZ) -> Profile:
    """Draw the flat with its bend lines."""
    flat = p.flat
    inside = (
        *p.holes_at(p.row(p.flange_a - p.mark_a, p.holes_a), "hole in flange A", "mark_a"),
        *p.holes_at(p.row(flat.length - p.flange_b + p.mark_b, p.holes_b), "hole in flange B", "mark_b"),
    )
    sheet = rectangle((0, 0), flat.length, p.width, p.corner_radius)
    return Profile((sheet,), inside, bend_lines(flat, p.width), tuple(dimensions(p)))


def dimensions(p: BracketBentZ) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run to the outside corners of the bends."""
    end, (start, stop), setback = p.flat.length, p.flat.spans[1], p.fold(p.bend).setback
    yield Dimension("flange_a", (0, 0), (p.flange_a, 0), "below")
    yield Dimension("web", (start - setback, p.width), (stop + setback, p.width), "above")
    yield Dimension("flange_b", (end - p.flange_b, 0), (end, 0), "below")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (end - r, p.width - r), (end, p.width - r), "radius")
    row_a = p.row(p.flange_a - p.mark_a, p.holes_a)
    row_b = p.row(end - p.flange_b + p.mark_b, p.holes_b)
    for name, centres, mould in (("mark_a", row_a, p.flange_a), ("mark_b", row_b, end - p.flange_b)):
        if centres:
            yield Dimension(name, centres[0], (mould, centres[0][1]), "below")
    longest = max((row_a, row_b), key=len)
    if len(longest) > 1:
        yield Dimension("first", (longest[0][0], 0), longest[0], "left")
    if longest:
        yield from p.hole_measured(longest[0])


TEMPLATE = Template(
    "bracket-bent-z",
    "Bent Z",
    BracketBentZ,
    outline,
    summary="A Z or offset folded from sheet: two flanges a step apart, the flat drawn with bend lines and holes.",
    cautions=(
        BRAKE_CAUTION,
        SIZE_CAUTION,
    ),
    sizes=("flange_a", "web", "flange_b"),
    words=("z", "zed", "offset", "joggle", "step", "bent", "folded", "bracket", "clip"),
    presets=(
        Preset(
            "Bench top clip",
            "flange_a=35 web=40 flange_b=35 width=40 thickness=3 bolt=M6 holes_a=1 holes_b=1 mark_a=22 mark_b=22",
        ),
        Preset(
            "Trailer floor edge",
            "flange_a=50 flange_b=70 width=200 thickness=4 holes_a=3 holes_b=3 mark_a=32 mark_b=45",
        ),
        Preset(
            "Trail sign stand-off",
            "web=45 bend=60 thickness=3 bolt=M8 width=100 flange_a=50 flange_b=50 mark_a=32 mark_b=32 first=18",
        ),
    ),
)
