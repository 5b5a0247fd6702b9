r"""Test square: an L, a full plate or a frame, its datum holes and slots measured to prove that a table cuts true.

leg_y  _____
      | o | leg_width     hollow-l: the two legs; frame: two more bars close it; full: no window
      | U | Y             datum holes stand in a row along X and along Y, `first` from both edges
      | o |               of the datum corner, which is sharp and holds one hole of both rows;
      | U |__________     the slots lie between the holes, along X and along Y
      | o  inside_size|   the text stands along X
      | o (==) o (==) o |
      |_________________| leg_x
"""

import math
from collections.abc import Iterator

from parts.artwork import arrow, characters, scribed, text_width
from parts.errors import Problem
from parts.geometry import Corner, Point, circle, circles, fillet, polygon, relief, round_clear_of, slot
from parts.profile import Dimension, Opening, Profile, Scribe, openings
from parts.spec import MeasuringPlace, Parameters, Preset, Template, choice, count, flag, length, text
from parts.templates.shared.scribed_text import too_long

MARKS = "Scribed marks"

# In text heights: the arrow, the side of its head, the gap to its letter, the gap to the text, the margin all round.
ARROW, HEAD, LETTER_GAP, TEXT_GAP, MARGIN = 2.5, 0.4, 0.5, 1.0, 0.5


class SquareTest(Parameters):
    """The datum corner is at the origin, one leg along x and one along y."""

    form: str = choice(
        "Form", default="hollow-l", choices=("hollow-l", "full", "frame"),
        help="hollow-l: two legs. full: a plate. frame: a plate with a window.",
    )  # fmt: skip
    leg_x: float = length("Outside length along X", default=350, minimum=80, maximum=3000)
    leg_y: float = length("Outside length along Y", default=350, minimum=80, maximum=3000)
    leg_width: float = length(
        "Width of the legs",
        default=60,
        minimum=15,
        maximum=500,
        help="Of the hollow forms.",
        when=("form", "hollow-l", "frame"),
    )
    inside_corner: str = choice(
        "Inside corner", default="relief", choices=("relief", "radius"), group="Corners",
        help="relief: opened past the corner, so that a square edge seats. radius: rounded.",
        when=("form", "hollow-l", "frame"),
    )  # fmt: skip
    inside_size: float = length(
        "Radius at the inside corner", default=4, minimum=0, maximum=200, group="Corners",
        help="Of the relief, or of the rounding.",
        when=("form", "hollow-l", "frame"),
    )  # fmt: skip
    corner_radius: float = length(
        "Radius of the other outside corners", default=3, minimum=0, maximum=200, group="Corners",
        help="The datum corner stays sharp.", moves="free",
    )  # fmt: skip
    hole: float = length("Datum hole diameter", default=10, minimum=1, maximum=60, group="Holes")
    first: float = length(
        "First hole from the corner", default=25, minimum=3, maximum=500, group="Holes",
        help="Its centre, from both edges: the corner hole belongs to both rows.", moves="care",
    )  # fmt: skip
    spacing: float = length("Hole spacing", default=100, minimum=5, maximum=2000, group="Holes")
    holes_x: int = count("Holes along X", default=4, minimum=2, maximum=12)
    holes_y: int = count("Holes along Y", default=4, minimum=2, maximum=12)
    fourth_hole: bool = flag(
        "Hole opposite the corner", default=True, group="Holes",
        help="In a full plate or a frame, so that both diagonals can be compared.",
        when=("form", "full", "frame"),
    )  # fmt: skip
    slots: int = count(
        "Slots each way", default=2, minimum=0, maximum=11, group="Slots",
        help="Between the holes, first at the corner: their width and length show the kerf.",
    )  # fmt: skip
    slot_width: float = length("Slot width", default=12, minimum=1, maximum=100, group="Slots", when=("slots",))
    slot_length: float = length(
        "Slot length", default=50, minimum=2, maximum=1500, group="Slots", help="Over all.", when=("slots",)
    )
    text: str = text("Text", default="TABLE 1", characters=characters(), longest=24, group=MARKS)
    text_height: float = length(
        "Text height", default=8, minimum=2, maximum=100, group=MARKS, when=[("text",), ("axes",)], moves="free"
    )
    axes: bool = flag("Arrows X and Y", default=True, group=MARKS, moves="free")

    @property
    def hollow(self) -> bool:
        """Whether the square has legs of a width."""
        return self.form != "full"

    @property
    def has_fourth(self) -> bool:
        """Whether there is a hole opposite the datum corner."""
        return self.fourth_hole and self.form != "hollow-l"

    @property
    def marked(self) -> bool:
        """Whether anything is scribed."""
        return bool(self.axes or self.text.strip())

    @property
    def far(self) -> Point:
        """How far from the datum edges the last hole of each row is."""
        return self.first + (self.holes_x - 1) * self.spacing, self.first + (self.holes_y - 1) * self.spacing

    @property
    def setback(self) -> float:
        """How far from the inside corner its relief or rounding begins on each edge."""
        return self.inside_size * self.spread

    @property
    def spread(self) -> float:
        """How far along the edges the inside corner's relief or rounding reaches, as a multiple of its radius."""
        return math.sqrt(2) if self.inside_corner == "relief" else 1.0

    @property
    def shelf(self) -> float:
        """How much of a leg's width the relief leaves: it sinks r (1 - sin 45°) below the inside edges."""
        sunk = 1 - math.sqrt(0.5) if self.inside_corner == "relief" else 0.0
        return self.leg_width - sunk * self.inside_size

    @property
    def ends(self) -> list[tuple[Point, float]]:
        """Centre and radius of each round that comes near the end of a leg: last holes, ends of the last slots."""
        (x, y), rounds = self.far, [((self.far[0], self.first), self.hole / 2)]
        rounds += [((self.first, y), self.hole / 2)]
        if self.has_fourth:
            rounds += [((x, y), self.hole / 2)]
        if self.slots:
            end = self.first + (self.slots - 0.5) * self.spacing + (self.slot_length - self.slot_width) / 2
            rounds += [((end, self.first), self.slot_width / 2), ((self.first, end), self.slot_width / 2)]
        return rounds

    @property
    def row_top(self) -> float:
        """How far from the edge holes and slots reach into a leg; the marks stand beyond."""
        return self.first + max(self.hole, self.slot_width if self.slots else 0.0) / 2

    @property
    def band(self) -> float:
        """Width of the strip for the marks, which stand in its middle, a margin on both sides of the text."""
        return self.shelf - self.row_top if self.hollow else (1 + 2 * MARGIN) * self.text_height

    @property
    def mark_start(self) -> float:
        """How far along a leg the marks begin."""
        return self.leg_width + self.setback if self.hollow else self.row_top + self.band

    @property
    def axis_length(self) -> float:
        """Length of the arrow along X with its letter, in text heights."""
        return ARROW + LETTER_GAP + text_width("X", 1) if self.axes else 0.0

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room, in the order of the form; later ones only where the legs themselves are sound."""
        legs = [*self._leg_problems()]
        yield from legs
        if not legs:
            holes = [*self._hole_problems(), *self._slot_problems()]
            yield from holes
            yield from () if holes else self._corner_problems()
            yield from () if holes or not self.marked else self._mark_problems()

    def _leg_problems(self) -> Iterator[Problem]:
        shorter = min(self.leg_x, self.leg_y)
        if not self.hollow:
            return
        if self.form == "frame":
            clash = [*self.under("leg_width", shorter / 2, "to leave a window")]
            room, where = (shorter - 2 * self.leg_width) / 2, "in the window"
        else:
            clash = [*self.under("leg_width", shorter, "on the shorter leg")]
            room, where = shorter - self.leg_width, "on the shorter leg"
        yield from clash
        if not clash:
            yield from self.under("inside_size", room / self.spread, where)

    def _hole_problems(self) -> Iterator[Problem]:
        yield from self.under("hole", min(2 * self.first, self.spacing), "between the edge and the next hole")
        if self.hollow:
            yield from self.under("first", self.shelf - self.hole / 2, "to keep the holes on the leg")
        for name, leg, last in (("holes_x", self.leg_x, self.far[0]), ("holes_y", self.leg_y, self.far[1])):
            where, room = f"on a leg of {self.say(leg)}", leg - self.hole / 2 - self.first
            if room <= self.spacing:
                yield from self.under("spacing", room, f"for two holes {where}")
            elif last + self.hole / 2 >= leg:
                yield self.problem(name, f"must be at most {math.ceil(room / self.spacing)} {where}.")
        if self.has_fourth and self.form == "frame":
            yield from self._fourth_problems()

    def _fourth_problems(self) -> Iterator[Problem]:
        """The hole opposite the corner stands on a far bar."""
        least = [leg - self.shelf + self.hole / 2 for leg in (self.leg_x, self.leg_y)]
        if all(last <= low for last, low in zip(self.far, least, strict=True)):
            yield self.problem(
                "fourth_hole",
                f"would fall into the window: the last hole must be more than {self.say(least[0])} from the corner "
                f"along X, or more than {self.say(least[1])} along Y.",
            )

    def _slot_problems(self) -> Iterator[Problem]:
        if not self.slots:
            return
        bays = min(self.holes_x, self.holes_y) - 1
        if self.slots > bays:
            yield self.problem("slots", f"must be at most {bays}, one between each two holes.")
        room = 2 * min(self.first, self.shelf - self.first) if self.hollow else 2 * self.first
        where = "on the leg" if self.hollow else "inside the edge"
        yield from self.under("slot_width", room, where)
        yield from self.at_most("slot_width", self.slot_length, "for a slot of this length")
        # The first slots' round ends stand g + w/2 from the corner along X and along Y: clear of each other
        # where sqrt 2 (g + w/2) > w, of the corner hole where g > hole / 2.
        gap = max(self.hole / 2, self.slot_width * (math.sqrt(0.5) - 0.5))
        yield from self.under("slot_length", self.spacing - 2 * gap, "between two holes")

    def _corner_problems(self) -> Iterator[Problem]:
        limit = min(self.leg_x, self.leg_y) / 2
        if self.form == "hollow-l":
            limit = min(self.leg_width / 2, min(self.leg_x, self.leg_y) - self.leg_width - self.setback)
        yield from self.at_most("corner_radius", limit, "to fit the ends")
        clear = min(round_clear_of(at, radius, corner) for corner in self.rounded for at, radius in self.ends)
        if self.corner_radius <= limit:
            yield from self.under("corner_radius", clear, "to clear the last hole")

    @property
    def rounded(self) -> tuple[Point, ...]:
        """The outside corners that are rounded: all that don't lie at the datum corner."""
        if self.form == "hollow-l":
            w = self.leg_width
            return (self.leg_x, 0.0), (self.leg_x, w), (w, self.leg_y), (0.0, self.leg_y)
        return (self.leg_x, 0.0), (self.leg_x, self.leg_y), (0.0, self.leg_y)

    def _mark_problems(self) -> Iterator[Problem]:
        high = [*self._height_problems()]
        yield from high
        if high or not self.text.strip():
            return
        gap = TEXT_GAP if self.axes else 0.0
        highest = self._highest(self.axis_length + gap + text_width(self.text, 1), self.leg_x)
        if self.text_height > highest:
            room = self.leg_x - self._end_margin - self.mark_start - (self.axis_length + gap) * self.text_height
            yield too_long(self, self.text, "text_height", "the leg along X", (room, highest))

    def _height_problems(self) -> Iterator[Problem]:
        limits = [math.inf]
        if self.hollow:
            limits.append(self.band / (1 + 2 * MARGIN))
        else:
            next_row = min(self.far) - self.hole / 2 - self.row_top
            limits.append(next_row / (1 + 2 * MARGIN))
        if self.axes:
            limits.append(self._highest(self.axis_length, self.leg_x))
            limits.append(self._highest(ARROW + LETTER_GAP + 1, self.leg_y))
        if min(limits) < (self.specs()["text_height"].minimum or 0.0):
            yield self.problem("text_height", "has no room; leave the text empty and the arrows off.")
        else:
            yield from self.at_most("text_height", min(limits), "for the marks to have room")

    @property
    def _end_margin(self) -> float:
        return max(MARGIN * self.text_height, self.corner_radius)

    def _highest(self, heights: float, leg: float) -> float:
        """The text height at which marks `heights` text heights long end a margin and a rounding from a leg's end."""
        start, before = (self.mark_start, 0.0) if self.hollow else (self.row_top, 1 + 2 * MARGIN)
        ways = ((0.0, MARGIN), (self.corner_radius, 0.0))
        return min((leg - start - end) / (before + heights + more) for end, more in ways)


def outline(p: SquareTest) -> Profile:
    """Draw the square counter-clockwise from the datum corner."""
    along_x = [(p.first + i * p.spacing, p.first) for i in range(p.holes_x)]
    along_y = [(p.first, p.first + i * p.spacing) for i in range(1, p.holes_y)]
    inside = (
        *openings(circles(along_x, p.hole), "hole along X", "hole"),
        *openings(circles(along_y, p.hole), "hole along Y", "hole"),
    )
    if p.has_fourth:
        inside += (Opening(circle(p.far, p.hole), "hole opposite the corner", "fourth_hole"),)
    for i in range(p.slots):
        middle = p.first + (i + 0.5) * p.spacing
        flat = slot((middle, p.first), p.slot_length, p.slot_width)
        upright = slot((p.first, middle), p.slot_length, p.slot_width, math.pi / 2)
        inside += (Opening(flat, "slot along X", "slots"), Opening(upright, "slot along Y", "slots"))
    if p.form == "frame":
        inside += (Opening(polygon(window(p)), "window", "leg_width"),)
    return Profile((polygon(corners(p)),), inside, tuple(marks(p)), tuple(dimensions(p)))


def corners(p: SquareTest) -> list[Corner | Point]:
    """Return the outside corners counter-clockwise from the datum corner, the L's inside corner among them."""
    ends = [fillet(x, y, p.corner_radius) for x, y in p.rounded]
    if p.form != "hollow-l":
        return [(0.0, 0.0), *ends]
    return [(0.0, 0.0), *ends[:2], inside_corner(p, p.leg_width, p.leg_width), *ends[2:]]


def inside_corner(p: SquareTest, x: float, y: float) -> Corner:
    """Return an inside corner, relieved or rounded."""
    return (relief if p.inside_corner == "relief" else fillet)(x, y, p.inside_size)


def window(p: SquareTest) -> list[Corner]:
    """Return the corners of the frame's window, counter-clockwise from the one by the datum corner."""
    w, x, y = p.leg_width, p.leg_x - p.leg_width, p.leg_y - p.leg_width
    return [inside_corner(p, *at) for at in ((w, w), (x, w), (x, y), (w, y))]


def marks(p: SquareTest) -> Iterator[Scribe]:
    """Yield the arrows with their letters and the text, along the middle of the strip beside the holes."""
    h, start, middle = p.text_height, p.mark_start, p.row_top + p.band / 2
    along = start
    if p.axes:
        tip = start + ARROW * h
        yield from arrow((start, middle), (tip, middle), HEAD * h)
        yield from arrow((middle, start), (middle, tip), HEAD * h)
        along = tip + LETTER_GAP * h
        yield from scribed("X", (along, middle - h / 2), h)
        yield from scribed("Y", (middle - text_width("Y", h) / 2, along), h)
        along += text_width("X", h) + TEXT_GAP * h
    yield from scribed(p.text, (along, middle - h / 2), h)


def dimensions(p: SquareTest) -> Iterator[Dimension]:
    """Yield where each length of the square can be measured."""
    yield Dimension("leg_x", (0, 0), (p.leg_x, 0), "below")
    yield Dimension("leg_y", (0, 0), (0, p.leg_y), "left")
    half = math.sqrt(0.5)
    if p.hollow:
        yield Dimension("leg_width", (p.leg_x, 0), (p.leg_x, p.leg_width), "right")
        if p.inside_size:
            from_corner = p.inside_size * (half if p.inside_corner == "relief" else 1)
            x = p.leg_width + from_corner
            on_arc = x - half * p.inside_size
            yield Dimension("inside_size", (x, x), (on_arc, on_arc), "radius")
    if p.corner_radius:
        x, y = p.leg_x - p.corner_radius, p.corner_radius
        on_arc_at = x + half * p.corner_radius, y - half * p.corner_radius
        yield Dimension("corner_radius", (x, y), on_arc_at, "radius")
    yield Dimension("hole", (p.first, p.first), (p.first + p.hole / 2, p.first), "diameter")
    yield Dimension("first", (0, p.first), (p.first, p.first), "below")
    yield Dimension("spacing", (p.first, p.first), (p.first + p.spacing, p.first), "below")
    if p.slots:
        x = p.first + p.spacing / 2
        yield Dimension("slot_width", (x, p.first - p.slot_width / 2), (x, p.first + p.slot_width / 2), "right")
        ends = (p.first, x - p.slot_length / 2), (p.first, x + p.slot_length / 2)
        yield Dimension("slot_length", *ends, "left")
    if p.marked:
        x, y = p.mark_start, p.row_top + (p.band - p.text_height) / 2
        yield Dimension("text_height", (x, y), (x, y + p.text_height), "left")


def readings(p: SquareTest) -> Iterator[MeasuringPlace]:
    """Yield what settles every error of the table: rows of holes, diagonals, a side, a slot, a hole; and the flip.

    The letters of the first are as they were before there were second readings.
    """
    corner, (far_x, far_y) = (p.first, p.first), p.far
    yield MeasuringPlace("centres", corner, (far_x, p.first))
    yield MeasuringPlace("centres", corner, (p.first, far_y))
    if p.has_fourth:
        yield MeasuringPlace("centres", corner, p.far)
    yield MeasuringPlace("centres", (far_x, p.first), (p.first, far_y))
    yield MeasuringPlace("outside", (0.0, 0.0), (p.leg_x, 0.0))
    if p.slots:
        up, half = p.first + p.spacing / 2, p.slot_width / 2
        yield MeasuringPlace("inside", (p.first - half, up), (p.first + half, up))
    yield MeasuringPlace("hole", (p.first - p.hole / 2, p.first), (p.first + p.hole / 2, p.first))
    yield MeasuringPlace("reversal", (0.0, 0.0), (0.0, p.leg_y - p.corner_radius))
    yield from second_readings(p)


def second_readings(p: SquareTest) -> Iterator[MeasuringPlace]:
    """Yield another place for each error that only one reading tells: a side, a slot, a hole, the gap along X."""
    yield MeasuringPlace("outside", (0.0, 0.0), (0.0, p.leg_y))
    if p.slots:
        along, half = p.first + p.spacing / 2, p.slot_width / 2
        yield MeasuringPlace("inside", (along, p.first - half), (along, p.first + half))
    far_x = p.far[0]
    yield MeasuringPlace("hole", (far_x - p.hole / 2, p.first), (far_x + p.hole / 2, p.first))
    yield MeasuringPlace("reversal", (0.0, 0.0), (p.leg_x - p.corner_radius, 0.0))


TEMPLATE = Template(
    "square-test",
    "Test square",
    SquareTest,
    outline,
    summary="Proves that a table cuts square and to size: datum holes, slots each way for the kerf, scribed axes.",
    cautions=(
        "Let the square cool and deburr it before you handle or measure it: cut edges are sharp and stay hot.",
        "Measure with the machine stopped; move a gantry or its stops only with the drives locked out.",
    ),
    words=("calibration", "squareness", "diagonal", "kerf", "gauge", "true", "L", "frame"),
    readings=readings,
    presets=(
        Preset("Corner of the sheet"),
        Preset(
            "Small square, from an off-cut",
            "leg_x=180 leg_y=180 leg_width=45 spacing=60 holes_x=3 holes_y=3 slots=1 slot_length=35 first=20",
        ),
        Preset("Frame for both diagonals", "form=frame leg_x=400 leg_y=400 spacing=175 holes_x=3 holes_y=3"),
    ),
)
