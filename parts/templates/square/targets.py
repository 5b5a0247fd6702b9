r"""Bed corner targets: small plates cut where the bed's corners are, each with a scribed cross to tape from.

     _____                                    _____
    |  3  |                                  |  4  |     size of each plate, arm of each cross from its middle
    |  +  |                                  |  +  |
    |_____|                                  |_____|
       |   up, from cross to cross
     __|__              across                _____
    |  1  |----------------------------------|  2  |
    |  +  |                                  |  +  |
    |_____|                                  |_____|

The arms to the right and up end in arrows with X and Y; the text stands below each cross.

Cut it where it lies, on a sheet that isn't moved meanwhile; the plates stay where they are until all are taped.
"""

from collections.abc import Iterator

from parts.artwork import Label, characters, head, scribe_all, text_width
from parts.errors import Problem
from parts.geometry import Line, Point, circle, rectangle
from parts.profile import Dimension, Opening, Profile, Scribe
from parts.spec import MeasuringPlace, Parameters, Preset, Template, choice, flag, length, text
from parts.templates.shared.scribed_text import too_long

_CROSSES = "Crosses"
_PLATES = "lower left plate", "lower right plate", "upper left plate", "upper right plate"
_LABEL_ROOM = 2.0
"""Free of the cross and of the edge around a plate's number, as a share of half its height."""
_HEAD, _GAP, _CLEAR = 0.4, 0.5, 0.75
"""In heights of the numbers: the side of an arrow's head, and what is left free between an arm and its letter; of a
hole's diameter, from where an arm begins."""


class SquareTargets(Parameters):
    """The lower left plate's corner is at the origin."""

    across: float = length("Between the crosses along X", default=1100, minimum=60, maximum=12000)
    up: float = length("Between the crosses along Y", default=1100, minimum=60, maximum=12000)
    size: float = length("Side of each plate", default=90, minimum=30, maximum=500)
    corner_radius: float = length("Corner radius", default=5, minimum=0, maximum=200, moves="free")
    arm: float = length(
        "Arm of each cross", default=18, minimum=3, maximum=240, group=_CROSSES, help="From its middle.", moves="free"
    )
    middle: str = choice(
        "Middle of each cross", default="scribed", choices=("scribed", "hole"), group=_CROSSES,
        help="hole: cut through as well, for a tape's hook or a pin.",
    )  # fmt: skip
    hole: float = length(
        "Hole in each cross, diameter",
        default=12,
        minimum=1,
        maximum=100,
        group=_CROSSES,
        when=("middle", "hole"),
        moves="care",
    )
    number: float = length(
        "Height of the numbers", default=8, minimum=0, maximum=100, group=_CROSSES,
        help="1 to 4, and of the text; 0 for none.", moves="free",
    )  # fmt: skip
    text: str = text("Text", default="TABLE 1", characters=characters(), longest=24, group=_CROSSES, when=("number",))
    axes: bool = flag(
        "Arrows X and Y",
        default=True,
        group=_CROSSES,
        help="On the arms of each cross.",
        when=("number",),
        moves="free",
    )

    @property
    def middles(self) -> tuple[Point, ...]:
        """The middles of the crosses: lower left, lower right, upper left, upper right."""
        half = self.size / 2
        return tuple((half + dx, half + dy) for dy in (0.0, self.up) for dx in (0.0, self.across))

    @property
    def rise(self) -> float:
        """How far above a cross the middle of its number is, half way from the arm to the edge."""
        return (self.arm + self.size / 2) / 2

    @property
    def labels(self) -> tuple[Label, ...]:
        """The number of each plate above its cross, the text below it, and the letters beside its arms."""
        return tuple(label for n, at in enumerate(self.middles, start=1) for label in self._labels(n, at))

    def _labels(self, n: int, at: Point) -> Iterator[Label]:
        (x, y), h, rise = at, self.number, self.rise
        if not h:
            return
        yield Label(str(n), (x, y + rise), h)
        if self.text.strip():
            yield Label(self.text, (x, y - rise), h)
        if self.axes:
            yield Label("X", (x + self.arm - text_width("X", h) / 2, y - (_GAP + 0.5) * h), h)
            yield Label("Y", (x - _GAP * h - text_width("Y", h) / 2, y + self.arm - h / 2), h)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where plates meet, or cross, hole or number have no room on them."""
        yield from self.over("across", self.size, "to keep the plates apart")
        yield from self.over("up", self.size, "to keep the plates apart")
        clash = [
            *self.at_most("corner_radius", self.size / 2, "on the plates"),
            *self.under("arm", self.size / 2, "on the plates"),
        ]
        yield from clash
        if clash:
            return
        if self.middle == "hole":
            clash = [*self.under("hole", 2 * self.arm, "for the arms to show around it")]
            yield from clash
        if self.number and not clash:
            yield from self._mark_problems()

    def _mark_problems(self) -> Iterator[Problem]:
        """The letters stand between the arm's tip and the cross's middle, or its hole; the text between the corners."""
        high = [*self.at_most("number", (self.size / 2 - self.arm) / _LABEL_ROOM, "beyond the arm")]
        if self.axes and not high:
            taken = self.hole / 2 if self.middle == "hole" else 0.0
            wide = max(text_width("X", 1), 1.0) + _GAP
            high = [*self.at_most("number", (self.arm - taken) / wide, "beside the arms; or take the arrows off")]
        yield from high
        if self.text.strip() and not high:
            straight = self.size - 2 * self.corner_radius
            if text_width(self.text, self.number) > straight - self.number:
                highest = straight / (1 + text_width(self.text, 1))
                yield too_long(self, self.text, "number", "a plate", (straight - self.number, highest))


def outline(p: SquareTargets) -> Profile:
    """Draw the four plates where they lie on the bed, from the lower left one."""
    half = p.size / 2
    plates = tuple(rectangle((x - half, y - half), p.size, p.size, p.corner_radius) for x, y in p.middles)
    holes = tuple(Opening(circle(at, p.hole), "hole in a cross", "hole") for at in p.middles)
    crosses = tuple(mark for at in p.middles for mark in _cross(p, at))
    inside = holes if p.middle == "hole" else ()
    return Profile(plates, inside, (*crosses, *scribe_all(p.labels)), tuple(dimensions(p)), _PLATES)


def _cross(p: SquareTargets, at: Point) -> Iterator[Scribe]:
    """Yield the lines of one cross; around a hole, what of its arms lies outside it, clear by half its radius."""
    x, y = at
    clear = _CLEAR * p.hole if p.middle == "hole" else 0.0
    if not clear:
        yield Scribe((Line((x - p.arm, y), (x + p.arm, y)),))
        yield Scribe((Line((x, y - p.arm), (x, y + p.arm)),))
    elif clear < p.arm:
        for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1)):
            yield Scribe((Line((x + clear * dx, y + clear * dy), (x + p.arm * dx, y + p.arm * dy)),))
    if p.axes and p.number:
        yield head(at, (x + p.arm, y), _HEAD * p.number)
        yield head(at, (x, y + p.arm), _HEAD * p.number)


def dimensions(p: SquareTargets) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    first, second, third, fourth = p.middles
    x, y = first
    yield Dimension("across", first, second, "below")
    yield Dimension("up", first, third, "left")
    yield Dimension("size", (x - p.size / 2, y), (x + p.size / 2, y), "below")
    if p.corner_radius:
        corner = second[0] + p.size / 2 - p.corner_radius, y - p.size / 2 + p.corner_radius
        yield Dimension("corner_radius", corner, (corner[0], y - p.size / 2), "radius")
    yield Dimension("arm", fourth, (fourth[0] + p.arm, fourth[1]), "above")
    if p.middle == "hole":
        yield Dimension("hole", third, (third[0] + p.hole / 2, third[1]), "diameter")
    if p.number:
        low = fourth[1] + p.rise - p.number / 2
        yield Dimension("number", (fourth[0], low), (fourth[0], low + p.number), "right")


def readings(p: SquareTargets) -> Iterator[MeasuringPlace]:
    """Yield the four sides and both diagonals, from cross to cross, then all of them again with the tape turned round.

    Taped once, three readings to spare would hardly show a slip, nor how much they really scatter.
    """
    first, second, third, fourth = p.middles
    places = [
        MeasuringPlace("centres", start, end, far=far, cross=True)
        for start, end, far in (
            (first, second, False), (third, fourth, True), (first, third, False), (second, fourth, True),
            (first, fourth, False), (second, third, False),
        )
    ]  # fmt: skip
    yield from places
    yield from places


TEMPLATE = Template(
    "square-targets",
    "Bed corner targets",
    SquareTargets,
    outline,
    summary="Four small plates cut at the corners of the bed, each with a scribed cross: tape between them shows "
    "scale and squareness of the whole table.",
    cautions=(
        "Tape only with the torch off and the drives disabled: a gantry that moves crushes.",
        "The plates are hot and sharp when just cut; let them cool where they lie, and don't shift the sheet.",
    ),
    readings=readings,
    words=("corner", "cross", "diagonal", "tape", "squareness", "calibration", "table", "bed", "target"),
    presets=(
        Preset("Fernhollow table, 4 ft by 8 ft sheet", "up=2200 thickness=3"),
        Preset("Four targets on half a sheet", "across=1000 up=1000 size=80 arm=15 thickness=2 corner_radius=3"),
        Preset("With holes for the tape's hook", "middle=hole size=100 up=2000"),
    ),
)
