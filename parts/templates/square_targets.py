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

Cut it where it lies, on a sheet that isn't moved meanwhile; the plates stay where they are until all are taped.
"""

from collections.abc import Iterator

from parts.artwork.label import Label, scribe_all
from parts.errors import Problem
from parts.geometry.draft import circle, rectangle
from parts.geometry.segment import Line, Point
from parts.parameter import choice, length
from parts.profile import Dimension, Opening, Profile, Scribe
from parts.template import Parameters, Preset, Template

_CROSSES = "Crosses"
_PLATES = "lower left plate", "lower right plate", "upper left plate", "upper right plate"
_LABEL_ROOM = 2.0
"""Free of the cross and of the edge around a plate's number, as a share of half its height."""


class SquareTargets(Parameters):
    """The lower left plate's corner is at the origin."""

    across: float = length("Between the crosses along X", default=1100, minimum=60, maximum=12000)
    up: float = length("Between the crosses along Y", default=1100, minimum=60, maximum=12000)
    size: float = length("Side of each plate", default=90, minimum=30, maximum=500)
    corner_radius: float = length("Corner radius", default=5, minimum=0, maximum=200)
    arm: float = length(
        "Arm of each cross", default=18, minimum=3, maximum=240, group=_CROSSES, help="From its middle."
    )
    middle: str = choice(
        "Middle of each cross", default="scribed", choices=("scribed", "hole"), group=_CROSSES,
        help="hole: cut through as well, for a tape's hook or a pin.",
    )  # fmt: skip
    hole: float = length("Its hole", default=12, minimum=1, maximum=100, group=_CROSSES, when=("middle", "hole"))
    number: float = length(
        "Height of the numbers", default=8, minimum=0, maximum=100, group=_CROSSES, help="1 to 4; 0 for none."
    )

    @property
    def middles(self) -> tuple[Point, ...]:
        """The middles of the crosses: lower left, lower right, upper left, upper right."""
        half = self.size / 2
        return tuple((half + dx, half + dy) for dy in (0.0, self.up) for dx in (0.0, self.across))

    @property
    def labels(self) -> tuple[Label, ...]:
        """The number of each plate, above its cross."""
        if not self.number:
            return ()
        rise = (self.arm + self.size / 2) / 2
        return tuple(Label(str(n), (x, y + rise), self.number) for n, (x, y) in enumerate(self.middles, start=1))

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
            yield from self.under("hole", 2 * self.arm, "for the arms to show around it")
        yield from self.at_most("number", (self.size / 2 - self.arm) / _LABEL_ROOM, "beyond the arm")


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
    clear = 0.75 * p.hole if p.middle == "hole" else 0.0
    if not clear:
        yield Scribe((Line((x - p.arm, y), (x + p.arm, y)),))
        yield Scribe((Line((x, y - p.arm), (x, y + p.arm)),))
    elif clear < p.arm:
        for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1)):
            yield Scribe((Line((x + clear * dx, y + clear * dy), (x + p.arm * dx, y + p.arm * dy)),))


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
        rise = p.labels[3].middle[1] - p.number / 2
        yield Dimension("number", (fourth[0], rise), (fourth[0], rise + p.number), "right")


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
    words=("corner", "cross", "diagonal", "tape", "squareness", "calibration", "table", "bed", "target"),
    presets=(
        Preset("Fernhollow table, 4 ft by 8 ft sheet", "up=2200 thickness=3"),
        Preset("Half a sheet", "across=1000 up=1000 size=80 arm=15 thickness=2 corner_radius=3"),
        Preset("With holes for the tape's hook", "middle=hole size=100 up=2000"),
    ),
)
