r"""Bent profile: a strip of up to nine pieces with up to eight bends, each up or down by its own angle.

     _____________________________________
    |     |       |          |       |     |
    | o   |       |          |       |   o |
    |  1  |   2   |    3     |   4   |  5  |  width
    | o   |       |          |       |   o |
    |_____|_______|__________|_______|_____|
        bend 1  bend 2     bend 3  bend 4

Outside dimensions of the bent part, each piece from mould point to mould point, where its outside faces would meet
those of its neighbours. Up is toward the face drawn; a bend of less than 0 goes down.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.forming import BentStrip, Fold, Strip, strip
from parts.geometry import rectangle
from parts.profile import Dimension, DimensionStyle, Profile
from parts.spec import STOCK, Preset, Template, angle, count, length, thickness
from parts.templates.bracket.shared.bent_rows import BentRows, row_bolt, row_first
from parts.templates.shared.bent import BRAKE_CAUTION, SIZE_CAUTION, bend_lines
from parts.units import format_angle

LEAST = 5
"""Degrees that a bend turns at least."""
MOST = 8
"""Bends of a profile."""
_BENDS = "Bending"


class BracketBentProfile(BentRows):
    """The free end of piece 1 is on the y axis of the flat."""

    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)
    bends: int = count("Bends", default=4, minimum=1, maximum=MOST, help="One piece more than bends.")
    piece_1: float = length("Piece 1, outside", default=25, minimum=3, maximum=2500)
    piece_2: float = length("Piece 2, outside", default=50, minimum=3, maximum=2500)
    piece_3: float = length("Piece 3, outside", default=100, minimum=3, maximum=2500, when=("bends", "2"))
    piece_4: float = length("Piece 4, outside", default=50, minimum=3, maximum=2500, when=("bends", "3"))
    piece_5: float = length("Piece 5, outside", default=25, minimum=3, maximum=2500, when=("bends", "4"))
    piece_6: float = length("Piece 6, outside", default=40, minimum=3, maximum=2500, when=("bends", "5"))
    piece_7: float = length("Piece 7, outside", default=40, minimum=3, maximum=2500, when=("bends", "6"))
    piece_8: float = length("Piece 8, outside", default=40, minimum=3, maximum=2500, when=("bends", "7"))
    piece_9: float = length("Piece 9, outside", default=40, minimum=3, maximum=2500, when=("bends", "8"))
    bend_1: float = angle(
        "Bend 1", default=90, minimum=-150, maximum=150, group=_BENDS, help="Up; down where less than 0."
    )
    bend_2: float = angle("Bend 2", default=90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "2"))
    bend_3: float = angle("Bend 3", default=90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "3"))
    bend_4: float = angle("Bend 4", default=90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "4"))
    bend_5: float = angle("Bend 5", default=-90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "5"))
    bend_6: float = angle("Bend 6", default=90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "6"))
    bend_7: float = angle("Bend 7", default=-90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "7"))
    bend_8: float = angle("Bend 8", default=90, minimum=-150, maximum=150, group=_BENDS, when=("bends", "8"))
    holes_a: int = count("Holes in the first piece", default=0, minimum=0, maximum=12)
    holes_b: int = count("Holes in the last piece", default=0, minimum=0, maximum=12)
    mark_a: float = length(
        "Holes of the first piece from its end", default=20, minimum=3, maximum=2500, group="Holes", when=("holes_a",)
    )
    mark_b: float = length(
        "Holes of the last piece from its end", default=20, minimum=3, maximum=2500, group="Holes", when=("holes_b",)
    )
    first: float = row_first("holes_a", "holes_b")
    bolt: str = row_bolt("holes_a", "holes_b")

    @property
    def outside(self) -> tuple[float, ...]:
        """The outside dimensions of its pieces, mm."""
        return tuple(getattr(self, f"piece_{i}") for i in range(1, self.bends + 2))

    @property
    def folds(self) -> tuple[Fold, ...]:
        """Its bends in order."""
        degrees = (getattr(self, f"bend_{i}") for i in range(1, self.bends + 1))
        return tuple(self.fold(abs(each), up=each > 0) for each in degrees)

    @property
    def flat(self) -> Strip:
        """The flat: the pieces with a bend between each two."""
        return strip(self.outside, self.folds)

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """The first piece lies level."""
        x0, y0, x1, y1 = BentStrip(self.flat).outline.box
        return x1 - x0, self.width, y1 - y0

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where a bend is none or takes a piece, pieces run into each other, or a hole has no room."""
        flat = [f"bend_{i}" for i in range(1, self.bends + 1) if abs(getattr(self, f"bend_{i}")) < LEAST]
        clash = [
            self.problem(name, f"must be {format_angle(LEAST)} or more, up or down; for none take a bend less.")
            for name in flat
        ]
        setbacks = [0.0, *(fold.setback for fold in self.folds), 0.0]
        for i in range(self.bends + 1):
            taken = setbacks[i] + setbacks[i + 1]
            clash += self.over(
                f"piece_{i + 1}", taken, "between its bends" if 0 < i < self.bends else "beyond its bend"
            )
        yield from clash
        if clash:
            return
        if (at := BentStrip(self.flat).meets_itself) is not None:
            message = "runs into a piece before it as it is bent: make it shorter, or turn a bend before it less."
            yield self.problem(f"piece_{at + 1}", message)
        yield from self._row_problems(setbacks)
        yield from self.corner_problems()

    def _row_problems(self, setbacks: list[float]) -> Iterator[Problem]:
        half = self.hole_size / 2
        for name, holes, i in (("mark_a", self.holes_a, 0), ("mark_b", self.holes_b, self.bends)):
            if holes:
                yield from self.over(name, half, "inside the end")
                room = self.outside[i] - max(setbacks[i], setbacks[i + 1]) - half
                yield from self.under(name, room, "for the hole to clear the bend")
        yield from self.across_problems(max(self.holes_a, self.holes_b))


def outline(p: BracketBentProfile) -> Profile:
    """Draw the flat with its bend lines."""
    flat = p.flat
    inside = (
        *p.holes_at(p.row(p.mark_a, p.holes_a), "hole in the first piece", "mark_a"),
        *p.holes_at(p.row(flat.length - p.mark_b, p.holes_b), "hole in the last piece", "mark_b"),
    )
    sheet = rectangle((0, 0), flat.length, p.width, p.corner_radius)
    return Profile((sheet,), inside, bend_lines(flat, p.width), tuple(dimensions(p)))


def dimensions(p: BracketBentProfile) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run to the outside corners of the bends."""
    flat, setbacks = p.flat, [0.0, *(fold.setback for fold in p.folds), 0.0]
    end = flat.length
    for i, (start, stop) in enumerate(flat.spans):
        side: DimensionStyle = "above" if i % 2 else "below"
        y = p.width if i % 2 else 0.0
        yield Dimension(f"piece_{i + 1}", (start - setbacks[i], y), (stop + setbacks[i + 1], y), side)
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (end - r, p.width - r), (end, p.width - r), "radius")
    rows = p.row(p.mark_a, p.holes_a), p.row(end - p.mark_b, p.holes_b)
    for name, centres, edge in zip(("mark_a", "mark_b"), rows, (0.0, end), strict=True):
        if centres:
            yield Dimension(name, (edge, centres[-1][1]), centres[-1], "above")
    longest = max(rows, key=len)
    if len(longest) > 1:
        yield Dimension("first", (longest[0][0], 0), longest[0], "left")
    if longest:
        yield from p.hole_measured(longest[0])


TEMPLATE = Template(
    "bracket-bent-profile",
    "Bent profile",
    BracketBentProfile,
    outline,
    summary="A strip with up to eight bends, each up or down by its own angle: lipped channels, gutters, trims.",
    cautions=(
        BRAKE_CAUTION,
        "Look at the formed view: what is bent already has to clear the punch and the ram at every step.",
        SIZE_CAUTION,
    ),
    sizes=("piece_1", "piece_2", "piece_3"),
    words=(
        "profile",
        "folding",
        "channel",
        "lip",
        "lipped",
        "trim",
        "flashing",
        "gutter",
        "edge",
        "bent",
        "folded",
        "purlin",
    ),
    presets=(
        Preset(
            "Lipped channel, shelf post",
            "thickness=2 piece_1=15 piece_2=40 piece_3=60 piece_4=40 piece_5=15 width=900 corner_radius=0",
        ),
        Preset(
            "Box gutter",
            "thickness=1 piece_1=15 piece_2=90 piece_3=120 piece_4=110 piece_5=20 bend_1=-90 bend_4=-90 "
            "width=1200 corner_radius=0 process=laser",
        ),
        Preset(
            "Roof edge with drip",
            "thickness=1 bends=3 piece_1=120 piece_2=80 piece_3=15 piece_4=12 bend_1=-95 bend_2=-45 bend_3=120 "
            "width=1200 corner_radius=0 process=laser",
        ),
        Preset(
            "Ribbed panel strip, eight bends",
            "thickness=1 bends=8 piece_1=40 piece_2=30 piece_3=30 piece_4=30 piece_5=40 piece_6=30 piece_7=30 "
            "piece_8=30 bend_1=45 bend_2=-45 bend_3=-45 bend_4=45 bend_5=45 bend_6=-45 bend_7=-45 "
            "bend_8=45 width=300 corner_radius=0 process=laser",
        ),
        Preset(
            "Step of a tool wall, two bends",
            "bends=2 piece_1=40 piece_2=60 piece_3=90 bend_2=-75 width=200 holes_b=2",
        ),
    ),
)
