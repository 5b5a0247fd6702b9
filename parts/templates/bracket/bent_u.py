r"""Bent U: a web between two flanges bent up, holes in each; the web may stand out beside the flanges.

             ________________
    ________| |            | |_________
            |                |         |
    flange  |      web       |  flange | width
      A     |                |    B    |
    ________|__            __|_________|
              |____________|             shoulder, with a relief at each end of a bend

Flanges and web are outside dimensions of the bent part: over the metal, from corner to corner.
"""

from collections.abc import Iterator

from parts.cutting import cut_for
from parts.errors import Problem
from parts.forming import Strip, strip
from parts.geometry import Loop, fillet, polygon, rectangle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, count, length
from parts.templates.bracket.shared.bent_rows import BentRows, row_bolt, row_first
from parts.templates.shared.bent import BRAKE_CAUTION, SIZE_CAUTION, bend_lines, relief_slot


class BracketBentU(BentRows):
    """The free end of flange A is on the y axis of the flat, the lower side of the flanges on the x axis."""

    flange_a: float = length("Flange A, outside", default=60, minimum=8, maximum=1000)
    web: float = length("Web, outside", default=90, minimum=8, maximum=2000, help="Over both flanges.")
    flange_b: float = length("Flange B, outside", default=60, minimum=8, maximum=1000)
    shoulder: float = length(
        "Web beyond the flanges", default=0, minimum=0, maximum=500, help="On each side; it stays flat.", moves="care"
    )
    relief: float = length(
        "Relief at the bends", default=0, minimum=0, maximum=100, group="Bending",
        help="Width of the slots beside the flanges; 0: the thickness, or what the process cuts.", when=("shoulder",),
        moves="free", auto="slot",
    )  # fmt: skip
    holes_a: int = count("Holes in flange A", default=2, minimum=0, maximum=12)
    holes_b: int = count("Holes in flange B", default=2, minimum=0, maximum=12)
    holes_web: int = count("Holes in the web", default=2, minimum=0, maximum=12, help="Along its middle.")
    mark: float = length(
        "Holes of A and B from the outside of the web",
        default=40,
        inches="1-3/4",
        minimum=3,
        maximum=1000,
        group="Holes",
        when=[("holes_a",), ("holes_b",)],
    )
    first: float = row_first("holes_a", "holes_b", "holes_web")
    bolt: str = row_bolt("holes_a", "holes_b", "holes_web")

    @property
    def flat(self) -> Strip:
        """The flat: flange A, web, flange B."""
        fold = self.fold(90)
        return strip((self.flange_a, self.web, self.flange_b), (fold, fold))

    @property
    def bent_size(self) -> tuple[float, float, float]:
        """Flange A lies flat, the web stands on it."""
        return max(self.flange_a, self.flange_b), self.width + 2 * self.shoulder, self.web

    @property
    def slot(self) -> float:
        """Width of the relief slots, mm."""
        cut = cut_for(self.process, self.material, self.thickness)
        return self.relief or max(self.thickness, cut.narrowest_slot_mm)

    @property
    def mould(self) -> tuple[float, float]:
        """Where on the flat the outside corners of the web are, as measured from its middle."""
        start, end = self.flat.spans[1]
        setback = self.fold(90).setback
        return start - setback, end + setback

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where bends take a piece, a hole lies in a bend, or a shoulder has no room."""
        fold = self.fold(90)
        clash = [
            *self.over("flange_a", fold.setback, "beyond the bend"),
            *self.over("web", 2 * fold.setback, "between the bends"),
            *self.over("flange_b", fold.setback, "beyond the bend"),
        ]
        yield from clash
        if clash:
            return
        if self.holes_web:
            yield from self.over("web", 2 * fold.setback + self.hole_size, "for the hole between the bends")
        shortest = min(
            [getattr(self, f"flange_{letter}") for letter in "ab" if getattr(self, f"holes_{letter}")], default=0.0
        )
        yield from self.row_problems({"mark": (max(self.holes_a, self.holes_b), fold.setback, shortest)})
        yield from self.across_problems(self.holes_web)
        yield from self.corner_problems()
        if self.shoulder:
            yield from self.shoulder_problems()

    def shoulder_problems(self) -> Iterator[Problem]:
        """Yield a problem where the reliefs meet or leave too little of a shoulder."""
        fold = self.fold(90)
        depth = 2 * fold.setback - fold.allowance / 2
        yield from self.over("shoulder", self.slot + self.thickness, "for the relief and metal beside it")
        yield from self.at_most("corner_radius", self.shoulder - self.slot, "on the shoulders")
        yield from self.at_most("corner_radius", self.web / 2, "on the shoulders")
        yield from self.over("web", 2 * depth + self.thickness, "for metal between the reliefs")


def outline(p: BracketBentU) -> Profile:
    """Draw the flat with its bend lines."""
    flat, (start, end) = p.flat, p.flat.spans[1]
    inside = (
        *p.holes_at(p.row(p.flange_a - p.mark, p.holes_a), "hole in flange A", "mark"),
        *p.holes_at(p.row((start + end) / 2, p.holes_web), "hole in the web", "web"),
        *p.holes_at(p.row(flat.length - p.flange_b + p.mark, p.holes_b), "hole in flange B", "mark"),
    )
    edge = shouldered(p) if p.shoulder else rectangle((0, 0), flat.length, p.width, p.corner_radius)
    return Profile((edge,), inside, bend_lines(flat, p.width), tuple(dimensions(p)))


def shouldered(p: BracketBentU) -> Loop:
    """Return the edge of a flat whose web is wider than its flanges."""
    flat, w, s, r = p.flat, p.width, p.shoulder, p.corner_radius
    (edge_a, edge_b), (line_a, line_b), beyond = p.mould, flat.lines, p.fold(90).relief
    a, b = line_a + beyond, line_b - beyond
    return polygon(
        [
            fillet(0, 0, r), *relief_slot(a, edge_a, 0, -p.slot),
            fillet(edge_a, -s, r), fillet(edge_b, -s, r), *relief_slot(b, edge_b, 0, -p.slot)[::-1],
            fillet(flat.length, 0, r), fillet(flat.length, w, r), *relief_slot(b, edge_b, w, p.slot),
            fillet(edge_b, w + s, r), fillet(edge_a, w + s, r), *relief_slot(a, edge_a, w, p.slot)[::-1],
            fillet(0, w, r),
        ]
    )  # fmt: skip


def dimensions(p: BracketBentU) -> Iterator[Dimension]:
    """Yield where each length can be measured: outside dimensions run to the outside corners of the bends."""
    flat, (edge_a, edge_b), top = p.flat, p.mould, p.width + p.shoulder
    yield Dimension("flange_a", (0, 0), (p.flange_a, 0), "below")
    yield Dimension("web", (edge_a, top), (edge_b, top), "above")
    yield Dimension("flange_b", (flat.length - p.flange_b, 0), (flat.length, 0), "below")
    yield Dimension("width", (0, 0), (0, p.width), "left")
    if p.shoulder:
        yield Dimension("shoulder", (edge_b, p.width), (edge_b, top), "right")
    if p.shoulder:
        yield Dimension("relief", (edge_a, -p.slot), (edge_a, 0), "left")
    if r := p.corner_radius:
        yield Dimension("corner_radius", (flat.length - r, p.width - r), (flat.length, p.width - r), "radius")
    row_a, row_b = p.row(p.flange_a - p.mark, p.holes_a), p.row(flat.length - p.flange_b + p.mark, p.holes_b)
    row_web = p.row(sum(flat.spans[1]) / 2, p.holes_web)
    for centres, mould in ((row_a, p.flange_a), (row_b, flat.length - p.flange_b)):
        if centres:
            yield Dimension("mark", centres[0], (mould, centres[0][1]), "below")
    longest = max((row_a, row_b, row_web), key=len)
    if len(longest) > 1:
        yield Dimension("first", (longest[0][0], 0), longest[0], "left")
    if longest:
        yield from p.hole_measured(longest[0])


TEMPLATE = Template(
    "bracket-bent-u",
    "Bent U",
    BracketBentU,
    outline,
    summary="A U or channel folded from sheet: outside dimensions asked, the flat drawn with bend lines and holes.",
    cautions=(
        BRAKE_CAUTION,
        "See that the second flange clears the punch before you bend the first: a deep, narrow U may not come off.",
        SIZE_CAUTION,
    ),
    sizes=("flange_a", "web", "flange_b"),
    words=("u", "channel", "clevis", "saddle", "bent", "folded", "bracket", "yoke"),
    presets=(
        Preset(
            "Bench leg shoe",
            "flange_a=48 web=66 flange_b=48 width=60 thickness=3 bolt=M8 mark=30 first=15 holes_web=1",
            inches="flange_b=1-3/4 flange_a=1-3/4",
        ),
        Preset(
            "Trailer jockey wheel yoke",
            "flange_a=80 web=100 flange_b=80 width=50 thickness=5 bolt=M12 holes_a=1 holes_b=1 holes_web=1 mark=52",
        ),
        Preset(
            "Trail sign post shoe",
            "flange_a=75 web=96 flange_b=75 thickness=3 bolt=M8 mark=45 shoulder=22 relief=4 holes_web=0",
        ),
    ),
)
