r"""Pipe saddle: a strap over a pipe or conduit, two legs down from its half-round arch, a foot turned out at each.

     _____________________________________________
    |      |   :                       :   |      |
    | o    |   :                       :   |    o |
    |      |   :         arch          :   |      |  width
    | o    |   :                       :   |    o |
    |______|___:_______________________:___|______|
      foot  leg                         leg   foot

The arch is one bend of half a turn, half the pipe and the gap inside; where it begins and ends is scribed. Legs go
straight down from there, so the feet lie where the pipe stands: `rise` from its centre to the base.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.forming import Fold, Strip
from parts.geometry import Line, rectangle
from parts.profile import Dimension, Profile, Scribe
from parts.spec import Preset, Template, count, length
from parts.templates.bracket.shared.bent_rows import BentRows, row_bolt, row_first
from parts.templates.shared.bent import BRAKE_CAUTION, SIZE_CAUTION, bend_lines


class BracketPipeSaddle(BentRows):
    """The free end of one foot is on the y axis of the flat; the face drawn is the outer one."""

    width: float = length("Width", default=50, minimum=8, maximum=2500, help="Along the pipe.")
    pipe_od: float = length(
        "Pipe, outside diameter", default=88.9, drawn=False, minimum=6, maximum=1000, group="Pipe",
        help="As measured: pipe is called by its bore. Form the arch over a bar of this size.",
    )  # fmt: skip
    pipe_gap: float = length(
        "Gap around the pipe", default=0.5, drawn=False, minimum=0, maximum=50, group="Pipe",
        help="For fit, paint or a liner.",
    )  # fmt: skip
    rise: float = length(
        "Base to the pipe's centre", default=44.5, minimum=3, maximum=1000, group="Pipe",
        help="Half the pipe where it lies on the base; a little less to pinch it.",
    )  # fmt: skip
    foot: float = length(
        "Feet, outside", default=60, minimum=8, maximum=1000, help="From the end to the inner face of the leg."
    )
    holes_foot: int = count("Holes in each foot", default=1, minimum=0, maximum=12)
    mark: float = length(
        "Holes of the feet from the inner face of the leg",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=("holes_foot",),
    )
    first: float = row_first("holes_foot")
    bolt: str = row_bolt("holes_foot")

    @property
    def arch(self) -> Fold:
        """The half round over the pipe."""
        return self.fold(180, up=False, radius=self.pipe_od / 2 + self.pipe_gap)

    @property
    def flat(self) -> Strip:
        """The flat: foot, leg, arch, leg, foot; an arch of half a turn has no outside corner to measure a leg to."""
        turn = self.fold(90)
        foot, leg = self.foot - turn.setback, self.rise - turn.setback
        return Strip((foot, leg, leg, foot), (turn, self.arch, turn))

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The saddle on its feet."""
        return 2 * (self.foot + self.arch.radius), self.width, self.rise + self.arch.radius + self.thickness

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bends take a piece, a hole lies in a bend or holes meet."""
        setback = self.fold(90).setback
        clash = [
            *self.over("foot", setback, "beyond the bend"),
            *self.over("rise", setback, "for a leg beyond the bend of its foot"),
        ]
        yield from clash
        if clash:
            return
        yield from self.row_problems({"mark": (self.holes_foot, setback, self.foot)})
        yield from self.corner_problems()

    @property
    def rows(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """The centres in the first foot and in the last."""
        return (
            self.row(self.foot - self.mark, self.holes_foot),
            self.row(self.flat.length - self.foot + self.mark, self.holes_foot),
        )


def outline(p: BracketPipeSaddle) -> Profile:
    """Draw the flat with its bend lines, and scribed lines where the arch begins and ends."""
    flat = p.flat
    inside = p.holes_at((*p.rows[0], *p.rows[1]), "hole in the feet", "mark")
    sheet = rectangle((0, 0), flat.length, p.width, p.corner_radius)
    tangents = (flat.spans[1][1], flat.spans[2][0])
    scribed = tuple(Scribe((Line((x, 0.0), (x, p.width)),)) for x in tangents)
    return Profile((sheet,), inside, (*bend_lines(flat, p.width), *scribed), tuple(dimensions(p)))


def dimensions(p: BracketPipeSaddle) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run to the outside corners of the feet's bends."""
    end, tangent = p.flat.length, p.flat.spans[1][1]
    yield Dimension("foot", (0, 0), (p.foot, 0), "below")
    yield Dimension("rise", (tangent - p.rise, p.width), (tangent, p.width), "above")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (end - r, p.width - r), (end, p.width - r), "radius")
    if first := p.rows[0]:
        yield Dimension("mark", first[0], (p.foot, first[0][1]), "below")
        if len(first) > 1:
            yield Dimension("first", (first[0][0], 0), first[0], "left")
        yield from p.hole_measured(first[0])


TEMPLATE = Template(
    "bracket-pipe-saddle",
    "Pipe saddle",
    BracketPipeSaddle,
    outline,
    summary="A strap over a pipe or conduit: half-round arch, straight legs, feet turned out; the flat with its bends.",
    cautions=(
        BRAKE_CAUTION,
        "Gas, pressure and electrical lines are held as their own codes say, by those licensed for it.",
        SIZE_CAUTION,
    ),
    sizes=("pipe_od", "width"),
    words=("saddle", "pipe", "conduit", "strap", "clamp", "clip", "tube", "bent", "bracket"),
    presets=(
        Preset(
            "Bench hoop saddle, 48.3 pipe of ISO 4200",
            "pipe_od=48.3 rise=24 foot=42 width=40 thickness=3 bolt=M8 mark=27 corner_radius=6",
            inches="pipe_od=1.9",
            inch_name="Bench hoop saddle, 1-1/2 in pipe of ASME B36.10M",
        ),
        Preset(
            "Trailer ramp bar, 33.7 pipe of ISO 4200",
            "pipe_od=33.7 rise=17 foot=50 thickness=4 mark=32 width=60 holes_foot=2 bolt=M8 first=15",
            inches="pipe_od=1.315",
            inch_name="Trailer ramp bar, 1 in pipe of ASME B36.10M",
        ),
        Preset(
            "Trail sign post, 76.1 pipe of ISO 4200",
            "pipe_od=76.1 rise=37.5 foot=45 thickness=3 bolt=M8 width=80 holes_foot=2 mark=28 pipe_gap=0.3",
            inches="pipe_od=2.875",
            inch_name="Trail sign post, 2-1/2 in pipe of ASME B36.10M",
        ),
    ),
)
