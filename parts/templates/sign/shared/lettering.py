"""Lettering of signs: the text and its face, its size, what holds what would drop out, and the size over all.

A sign's parameters are `Lettering`. It says how large it is at a cap height (`size_at`); from that follows the cap
height where the size over all is asked for. Lengths that were typed stand; those left at 0 go with the cap height, and
bridges with what the process leaves standing.
"""

import math
from collections.abc import Iterator, Mapping
from math import inf, radians

from parts.artwork.glyphs import (
    OWN,
    Align,
    Layout,
    Text,
    face,
    is_there,
    laid_out,
    traits,
    words,
)
from parts.artwork.pipeline import Bridge, Fit, Made, Steps, Sturdy, Ties
from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import GeometryError, Problem, Refused
from parts.geometry import Point
from parts.profile import Dimension
from parts.spec import STOCK, Parameters, Value, angle, choice, length, number, say_least, thickness, trying
from parts.spec import text as words_typed
from parts.templates.shared.lettered_words import (
    FINEST,
    MORE_MM,
    MOVED,
    WIDEST,
    ease_for,
    moves_of,
    word_problems,
)
from parts.units import Units, format_length

LETTERING, BRIDGES, OVER_ALL = "Lettering", "Bridges", "Size over all"
LEAST_CAP = 4.0
"""The least cap height that follows from a size over all, mm, whatever the process."""
BRIDGE_OF_CAP = 1 / 16
"""A bridge's width where it is left open, in cap heights (by eye)."""
_LARGE = 1e6
# A cap height at which letters stand as far apart as the face has them.
_ROUNDS = 6

CAUTIONS = (
    "Deburr letters, edges and tips: what hangs at the height of hands or eyes can injure.",
    "Hang it from fastenings that hold a multiple of its weight and of the wind on it; over a way or a door, and near "
    "a road, local rules say what may hang there and how.",
    "A house number has to be read by who comes to help: local rules may say how high and how light it must be.",
)
"""What holds for every sign."""


class Lettering(Parameters):
    """What signs share."""

    effort = 30

    text: str = words_typed(
        "Text", default="FERNHOLLOW | WORKSHOP", characters="", longest=120, group=LETTERING,
        help="A bar with a blank on both sides begins a line: FERNHOLLOW | WORKSHOP.",
    )  # fmt: skip
    font: str = choice(
        "Face", default="sans", choices=words(), group=LETTERING,
        help="stencil: made to be cut, nothing drops out. capitals: no small letters.", also=OWN,
    )  # fmt: skip
    cap_height: float = length(
        "Height of the capitals", default=80, minimum=8, maximum=2000, group=LETTERING,
        help="Where a size over all is given, that says it.",
    )  # fmt: skip
    spacing: float = number(
        "Added between letters", default=0.03, minimum=-0.1, maximum=1, group=LETTERING, moves="free",
        help="In cap heights: 0.1 is a tenth of one.",
    )  # fmt: skip
    line_gap: float = number(
        "Between lines", default=0.5, minimum=0, maximum=3, group=LETTERING, moves="free",
        help="In cap heights; more where letters reach down.",
    )  # fmt: skip
    align: Align = choice(
        "Lines set", default="centre", choices=("left", "centre", "right"), group=LETTERING, moves="free"
    )
    curve: float = angle(
        "Along an arc of", default=0, minimum=-300, maximum=300, group=LETTERING, moves="free",
        help="Straight at 0. Over the top, less than 0 along the bottom; the widest line takes so much of its circle.",
    )  # fmt: skip
    corners: str = choice(
        "Corners of the letters", default="round", choices=("round", "sharp"), group=LETTERING, moves="free",
        help="round: by the thickness, much as a jet leaves them. sharp: as the face has them.",
    )  # fmt: skip
    islands: str = choice(
        "What would drop out", default="held", choices=("held", "dropped"), group=BRIDGES, moves="never",
        help="held: by bridges. dropped: it falls out, as the middle of an O does.",
    )  # fmt: skip
    tie: float = length(
        "Width of the bridges", default=0, minimum=0, maximum=200, group=BRIDGES, moves="free",
        help="Metal left to hold what would drop out. 0: by the height of the letters and the process.",
        auto="bridge", when=("islands", "held"),
    )  # fmt: skip
    mending: float = number(
        "Thin places mended", default=0, minimum=0, maximum=1, group=BRIDGES, moves="free",
        help="Faithful to the face at 0; at 1 sturdy, thin bridges widened and points blunted.",
    )  # fmt: skip
    bridges: str = words_typed(
        "Bridges moved", default="", characters="abcdefghijklmnopqrstuvwxyz0123456789.:- ", longest=400, group=BRIDGES,
        help="Each by its name and how far, in breadths of what it holds: 1.1.top:0.2.", when=("islands", "held"),
    )  # fmt: skip
    overall_width: float = length(
        "Width over all", default=0, minimum=0, maximum=6000, group=OVER_ALL,
        help="As the letters need where it is 0; else they are as large as it allows.",
    )  # fmt: skip
    overall_height: float = length(
        "Height over all", default=0, minimum=0, maximum=6000, group=OVER_ALL, help="The same."
    )
    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)

    def set_at(self, cap: float) -> Layout | None:
        """Return the text as set with capitals of a height, in cap heights: what lies between letters can be cut.

        None where an arc has no room for it, or nothing is seen.
        """
        return laid_out(self.words_at(cap))

    def words_at(self, cap: float) -> Text:
        """Return the text as it is to be set with capitals of a height."""
        apart, curve = self.apart_at(cap) / cap, radians(self.curve)
        return Text(self.text, face(self.font), self.spacing, self.line_gap, self.align, curve, apart)

    @cached_property
    def cut(self) -> Cut | None:
        """How the process cuts the plate; None where it can't, which is told elsewhere."""
        try:
            return cut_for(self.process, self.material, self.thickness)
        except Refused:
            return None

    def bridge_at(self, cap: float) -> float:
        """Return how wide bridges are beside capitals of a height, mm; 0 where nothing is held."""
        if self.islands == "dropped":
            return 0.0
        standing = self.cut.narrowest_bridge_mm if self.cut else self.thickness
        return self.tie or math.ceil(10 * min(max(BRIDGE_OF_CAP * cap, standing), WIDEST * cap) - 1e-6) / 10

    @property
    def bridge(self) -> float:
        """How wide bridges are, mm: as asked for, or as suits letters and process; 0 where nothing is held."""
        return self.bridge_at(self.cap)

    def apart_at(self, cap: float) -> float:
        """Return the least between two letters, mm: a bridge's width, once lines and arcs are fitted to both."""
        bridge = self.bridge_at(cap)
        return bridge + 2 * Fit().tolerance_mm if bridge else 0.0

    @property
    def lines(self) -> Layout:
        """The text as set, once it is known that it can be.

        Raises:
            GeometryError: it can't.
        """
        return self._sized[1]

    def _lines_at(self, cap: float) -> Layout:
        lines = self.set_at(cap)
        if not lines:
            raise GeometryError("The text can't be set along this arc.")
        return lines

    def size_at(self, cap: float, lines: Layout) -> tuple[float, float]:
        """Return the least width and height that the sign needs with capitals of a height, mm."""
        raise NotImplementedError

    def fits(self, cap: float, lines: Layout) -> bool:
        """Tell whether letters of a cap height have room in the size over all."""
        width, height = self.size_at(cap, lines)
        return width <= (self.overall_width or inf) and height <= (self.overall_height or inf)

    @property
    def is_sized(self) -> bool:
        """Whether the size over all says how large the letters are."""
        return bool(self.overall_width or self.overall_height)

    @property
    def cap(self) -> float:
        """The height of the capitals, mm: as asked for, or the most that the size over all has room for."""
        return self._sized[0]

    @cached_property
    def _sized(self) -> tuple[float, Layout]:
        """The height of the capitals and the text as set so.

        How far letters stand apart in cap heights hangs on the cap height, so that these are found in rounds.
        """
        if not self.is_sized:
            return self.cap_height, self._lines_at(self.cap_height)
        lines = self._lines_at(_LARGE)
        for _ in range(_ROUNDS):
            again = self._lines_at(max(self._largest(lines), LEAST_CAP))
            if again.box == lines.box:
                break
            lines = again
        return self._largest(lines), lines

    def _largest(self, lines: Layout) -> float:
        low, high = 0.0, 4.0 * max(self.overall_width, self.overall_height)
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.fits(middle, lines) else (low, middle)
        return low

    @property
    def size(self) -> tuple[float, float]:
        """Width and height over all, mm."""
        width, height = self.size_at(self.cap, self.lines)
        return self.overall_width or width, self.overall_height or height

    @property
    def moved(self) -> tuple[tuple[str, float], ...]:
        """The bridges that were moved, by their names."""
        return moves_of(self.bridges)

    def steps(self, frame: str) -> Steps:
        """Return what is done from metal to loops; `frame` as in `Ties`."""
        bridge = self.bridge
        ties = Ties(bridge + MORE_MM, frame=frame) if bridge else None  # type: ignore[arg-type]
        mending = Sturdy(bridge_mm=bridge or 3.0, kerf_mm=1.5, amount=self.mending) if self.mending else None
        ease, blunt = ease_for(self.cap, self.thickness) if self.corners == "round" else (0.0, 0.0)
        blunt = blunt if frame == "outer" else 0.0
        return Steps(ties, self.moved, mending, Fit(), ease, blunt, neck_mm=bridge)

    @property
    def made(self) -> Made:
        """The sign's loops, and what was done for them."""
        raise NotImplementedError

    def problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set, then what has no room, then what of the bridges can't be."""
        yield from (found := list(self.layout_problems()))
        if not found:
            yield from self.bridge_problems()

    def layout_problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set, then what has no room: all but what only making the sign tells."""
        raise NotImplementedError

    @property
    def has_layout_problems(self) -> bool:
        """Whether there is one of these, so that there is nothing to sketch."""
        with trying(worded=False):
            return any(self.layout_problems())

    def text_problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set: what the face lacks, nothing to be seen, no room on an arc."""
        if found := list(word_problems(self)):
            yield from found
        elif self.set_at(_LARGE if self.is_sized else self.cap_height) is None and self.curve:
            yield self.problem(
                "curve", "leaves the letters no room on so small a circle: less of it makes the circle larger."
            )
        elif self.set_at(_LARGE) is None:
            yield self.problem("text", "must have a letter or a figure in it.")

    def size_problems(self) -> Iterator[Problem]:
        """Yield a size over all that has no room for letters, and bridges that are out of all measure to them."""
        least, why = self._least_cap() if self.is_sized else (LEAST_CAP, "")
        least_size = self.size_at(least, self._lines_at(least))
        for name, mm in zip(("overall_width", "overall_height"), least_size, strict=True):
            if getattr(self, name) and (found := list(self.at_least(name, math.ceil(mm), why))):
                yield from found
                return
        if self.tie and self.islands == "held":
            yield from self.at_least("tie", FINEST * self.cap, "to hold anything of letters so large, or 0")
            yield from self.at_most("tie", WIDEST * self.cap, "to leave something of letters so small, or 0")

    def _least_cap(self) -> tuple[float, str]:
        """The least cap height that a size over all may lead to, mm, and why: no stroke is as narrow as the kerf."""
        kerf, stroke = self.cut.kerf_mm if self.cut else 0.0, traits(face(self.font)).stroke
        if kerf <= LEAST_CAP * stroke or not stroke:  # a font of someone's own may have no narrow place
            return LEAST_CAP, "for letters that can be seen"
        return kerf / stroke, f"for strokes wider than the {self.say(kerf)} kerf"

    def bridge_problems(self) -> Iterator[Problem]:
        """Yield what of the bridges can't be: words that say nothing, bridges that there aren't, pieces not held."""
        rest = MOVED.sub("", self.bridges).strip()
        if rest or (self.bridges and not self.bridge):
            told = f"has {rest!r}, which can't be read" if rest else "moves bridges, and there are none"
            yield self.problem("bridges", f"{told}; it must be names and shares, such as 1.1.top:0.2.")
            return
        try:
            _ = self.made
        except GeometryError as error:
            yield self.problem("text", str(error))
            return
        if self.bridge and self.made.loose:
            message = "doesn't hold all of these letters: wider ones reach further, narrower ones hold smaller pieces."
            yield self.problem("tie", message)
        elif unmoved := self.made.unmoved:
            known = ", ".join(bridge.key for bridge in self.made.bridges[:12]) or "none"
            told = f"moves {unmoved[0]}, which isn't there or has no room there"
            yield self.problem("bridges", f"{told}; there are: {known}.")

    def text_dimensions(self, at: Point, bridges: tuple[Bridge, ...]) -> Iterator[Dimension]:
        """Yield the cap height and the width of a bridge; `at` is where the first line's base line begins."""
        if not self.is_sized:
            yield Dimension("cap_height", at, (at[0], at[1] + self.cap_height), "left")
        for bridge in bridges:
            if abs(bridge.width_mm - self.bridge) <= 2 * MORE_MM:
                yield Dimension("tie", *bridge.across(self.bridge), "along")
                return

    def size_dimensions(self) -> Iterator[Dimension]:
        """Yield the size over all where it was asked for."""
        width, height = self.size
        if self.overall_width:
            yield Dimension("overall_width", (0, 0), (width, 0), "below")
        if self.overall_height:
            yield Dimension("overall_height", (0, 0), (0, height), "left")


def least_cap(values: Mapping[str, Value], cut: Cut, units: Units, *, raised: bool) -> Mapping[str, str]:
    """Return what is said beside the cap height: from which on the process cuts the strokes and counters of the face.

    Of letters that are cut out, a stroke is a slot, a counter an island and what lies between two strokes a bridge; of
    raised ones a stroke is a bridge, a counter a hole and what lies between a slot.
    """
    if not is_there(str(values["font"])):
        return {}
    own = face(str(values["font"]))
    known, slot, bridge = traits(own), cut.narrowest_slot_mm, cut.narrowest_bridge_mm
    asked = (bridge, cut.smallest_hole_mm, slot) if raised else (slot, bridge, bridge)
    shares = (known.stroke, known.counter, known.gap)
    least = max(mm / share for mm, share in zip(asked, shares, strict=True) if share)
    said, plate = say_least(math.ceil(least), units), format_length(cut.thickness_mm, units)
    capitals = f"{cut.title} in {plate} plate cuts capitals of this face from {said} on."
    return {"cap_height": capitals, "font": own.about} if own.about else {"cap_height": capitals}


def first_base(layout: Layout, cap: float, middle: Point) -> Point:
    """Return where the first line's base line begins, or its middle on an arc, with the block's middle at a point."""
    x0, y0, x1, y1 = layout.box
    x = 0.0 if layout.radius else layout.lines[0].box[0]
    return middle[0] + cap * (x - (x0 + x1) / 2), middle[1] + cap * (layout.lines[0].base - (y0 + y1) / 2)


__all__ = ["BRIDGES", "CAUTIONS", "LETTERING", "OVER_ALL", "Lettering", "first_base"]
