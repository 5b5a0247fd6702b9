r"""Bent hat: a top on two sides, each with a foot turned out, holes in feet and top; the drawing is the flat.

     ______________________________________
    |      |      |          |      |      |
    | o    |      |          |      |    o |
    |      | side |   top    | side |      |  width
    | o    |      |          |      |    o |
    |______|______|__________|______|______|
      foot                             foot

Outside dimensions of the bent part: a foot from its end to the inner face of its side, the top over both sides, a
side along its face over both bends: the height of the hat where it stands square.
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


class BracketBentHat(BentRows):
    """The free end of one foot is on the y axis of the flat; the face drawn is the outer one."""

    top: float = length("Top, outside", default=90, minimum=8, maximum=2000)
    side: float = length("Sides, over both bends", default=60, minimum=3, maximum=1000, help="The height where square.")
    foot: float = length(
        "Feet, outside", default=60, minimum=8, maximum=1000, help="From the end to the inner face of the side."
    )
    bend: float = angle(
        "Angle of the bends", default=90, minimum=15, maximum=90, group="Bending", help="Turned through, each."
    )
    holes_foot: int = count("Holes in each foot", default=2, minimum=0, maximum=12)
    holes_top: int = count("Holes in the top", default=0, minimum=0, maximum=12, help="Along its middle.")
    mark: float = length(
        "Holes of the feet from the inner face of the side",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_foot",),
    )
    first: float = row_first("holes_foot", "holes_top")
    bolt: str = row_bolt("holes_foot", "holes_top")

    @property
    def flat(self) -> Strip:
        """The flat: foot, side, top, side, foot."""
        up, down = self.fold(self.bend), self.fold(self.bend, up=False)
        return strip((self.foot, self.side, self.top, self.side, self.foot), (up, down, down, up))

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The hat on its feet."""
        along, rise, t = math.cos(math.radians(self.bend)), math.sin(math.radians(self.bend)), self.thickness
        half = self.foot + self.side * along - t * rise
        return 2 * half + self.top, self.width, self.side * rise + t * along

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bends take a piece, a hole lies in a bend or holes meet."""
        setback = self.fold(self.bend).setback
        clash = [
            *self.over("top", 2 * setback, "between the bends"),
            *self.over("side", 2 * setback, "between the bends"),
            *self.over("foot", setback, "beyond the bend"),
        ]
        yield from clash
        if clash:
            return
        if self.holes_top:
            yield from self.over("top", 2 * setback + self.hole_size, "for the hole between the bends")
        yield from self.row_problems({"mark": (self.holes_foot, setback, self.foot)})
        yield from self.across_problems(self.holes_top)
        yield from self.corner_problems()

    @property
    def rows(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """The centres in the first foot, in the top and in the last foot."""
        end = self.flat.length
        return (
            self.row(self.foot - self.mark, self.holes_foot),
            self.row(end / 2, self.holes_top),
            self.row(end - self.foot + self.mark, self.holes_foot),
        )


def outline(p: BracketBentHat) -> Profile:
    """Draw the flat with its bend lines."""
    first, top, last = p.rows
    inside = (
        *p.holes_at((*first, *last), "hole in the feet", "mark"),
        *p.holes_at(top, "hole in the top", "top"),
    )
    sheet = rectangle((0, 0), p.flat.length, p.width, p.corner_radius)
    return Profile((sheet,), inside, bend_lines(p.flat, p.width), tuple(dimensions(p)))


def dimensions(p: BracketBentHat) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run to the outside corners of the bends."""
    flat, setback = p.flat, p.fold(p.bend).setback
    end, (_, side, top, _, _) = flat.length, flat.spans
    yield Dimension("foot", (0, 0), (p.foot, 0), "below")
    yield Dimension("side", (side[0] - setback, 0), (side[1] + setback, 0), "below")
    yield Dimension("top", (top[0] - setback, p.width), (top[1] + setback, p.width), "above")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (end - r, p.width - r), (end, p.width - r), "radius")
    if p.holes_foot:
        x, y = p.rows[0][0]
        yield Dimension("mark", (x, y), (p.foot, y), "below")
    longest = max(p.rows, key=len)
    if len(longest) > 1:
        yield Dimension("first", (longest[0][0], 0), longest[0], "left")
    if longest:
        yield from p.hole_measured(longest[0])


TEMPLATE = Template(
    "bracket-bent-hat",
    "Bent hat",
    BracketBentHat,
    outline,
    summary="A top hat folded from sheet: a top on two sides with feet turned out, square or sloping.",
    cautions=(
        BRAKE_CAUTION,
        "See that the feet clear the punch at the inner bends: a deep, narrow hat may not fit between the tools.",
        SIZE_CAUTION,
    ),
    sizes=("top", "side", "width"),
    words=("hat", "top hat", "omega", "stiffener", "bridge", "bent", "folded", "bracket", "channel"),
    presets=(
        Preset("Bench slat bridge", "top=50 side=30 foot=40 width=40 thickness=3 bolt=M6 holes_foot=1 mark=25"),
        Preset(
            "Trailer deck stiffener",
            "top=70 side=45 foot=42 width=900 thickness=4 bolt=M8 mark=27 holes_foot=7 first=30 bend=75",
            inches="mark=1-1/4",
        ),
        Preset(
            "Trail sign frame hat", "top=80 side=50 foot=45 width=70 thickness=3 bolt=M8 mark=28 holes_top=1 first=18"
        ),
    ),
)
