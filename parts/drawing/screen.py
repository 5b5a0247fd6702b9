"""The drawing in a window of a screen: as large as its room allows, its lettering of one size there, 1 unit a pixel.

It shows the dimensions of the first level (`levels`), or every one. The others are placed too, each for itself, to be
shown while its parameter is asked for. Where every one is too many for the window, the drawing is larger than that.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from parts.drawing.dimensions import SIDES, Stacks
from parts.drawing.frame import Frame, Sizes
from parts.drawing.kept import Kept
from parts.drawing.layout import Layout, Plan, bare_scale
from parts.drawing.primitives import Drawing, Group
from parts.drawing.room import Occupancy
from parts.geometry import Box
from parts.record import Record


@dataclass(frozen=True, slots=True)
class Window:
    """The room that a drawing has on a screen, px, and whether every dimension is wanted.

    Where `asked` names a parameter, those of the second level are placed for that one alone.
    `kept` is how the drawing there was laid out before a value changed, to be tried first.
    """

    width: float
    height: float
    every: bool = False
    asked: str = ""
    kept: Kept | None = None

    @property
    def is_likely(self) -> bool:
        """Whether a screen can have it."""
        return all(LEAST <= side <= MOST for side in (self.width, self.height))

    @property
    def is_narrow(self) -> bool:
        """Whether it is that of a phone."""
        return self.width < NARROW

    @property
    def text(self) -> float:
        """Size of its lettering, px: read at arm's length, or held in the hand."""
        return 12.0 if self.is_narrow else 13.0

    @property
    def most(self) -> int:
        """How many dimensions of the first level it has room for."""
        return 8 if self.is_narrow else 14


NARROW = 560.0
"""Width of a window, px, below which it is that of a phone."""
DESK, PHONE = Window(952.0, 681.0), Window(338.0, 316.0)
"""What is taken for a window whose size isn't known."""
FIRST = 0.955
"""Share of the scale that lanes would leave that is tried first: a little too small is drawn once, too large twice."""
ENOUGH, LOOSER = 1.05, 1.02
"""How many times as large a drawing may be to be left as it is; and by how much more than one before it."""
LANES = 2
"""Lanes that a side is first thought to need at most."""
LEAST, MOST = 160.0, 4000.0
"""Sizes of a window that a screen can have, px."""


def lay_out_on_screen(record: Record, window: Window) -> Drawing:
    """Return the drawing of a part for a window; its paper is as large as what is drawn, no larger than needed."""
    layout, sizes = _ScreenLayout(record, window), Sizes(window.text)
    paper = window.width, window.height
    plan = layout.largest(paper, sizes)
    x0, _, x1, _ = plan.box
    drawing = layout.finished(plan, max(window.width, x1 - x0 + 2 * sizes.margin), window.height)
    return replace(drawing, kept=layout.kept(plan, paper))


class _ScreenLayout(Layout):
    """The part large, its leaders apart, and the dimensions of the window's level."""

    least_share = 0.4
    apart, cell, tries, nearly = True, 0.6, 4, 1.05

    def __init__(self, record: Record, window: Window) -> None:
        super().__init__(record, before=window.kept.ways if window.kept else ())
        self._kept = window.kept
        self.enough = max(ENOUGH, LOOSER * window.kept.slack) if window.kept else ENOUGH
        every = window.every or record.own_dimensions_only
        self._told = self._dimensions.every if every else self._dimensions.first(window.most)
        self._asked = window.asked
        self._stacks: dict[Occupancy, Stacks] = {}

    def _first_scale(self, whole: float, room: tuple[float, float], sizes: Sizes) -> float:
        """As before a value changed, or with as many lanes at each side as it has dimensions, of many fewer."""
        if self._kept:
            return max(self._kept.share, self.least_share) * whole
        sides = Counter(each.shown.style for each in self._told)
        taken = {side: sizes.first_lane + (min(sides[side], LANES) - 1) * sizes.lane for side in SIDES if sides[side]}
        x0, y0, x1, y1 = self._record.box
        across = (room[0] - taken.get("left", 0.0) - taken.get("right", 0.0)) / (x1 - x0)
        up = (room[1] - taken.get("below", 0.0) - taken.get("above", 0.0)) / (y1 - y0)
        return max(FIRST * min(across, up), 1.1 * self.least_share * whole)

    def kept(self, plan: Plan, paper: tuple[float, float]) -> Kept:
        """Return how a plan is laid out."""
        room, scale = self._room(paper, plan.frame.sizes), plan.frame.scale
        ways = tuple(group.way for group in plan.groups if group.way)
        return Kept(scale / bare_scale(self._record, *room), self._wanted(plan.box, scale, room) / scale, ways)

    def _dimensioned(self, frame: Frame, room: Occupancy) -> Iterator[Group]:
        self._stacks[room] = {}
        return self._dimensions.chosen(frame, room, self._told, self._stacks[room])

    def _spare(self, frame: Frame, room: Occupancy, paper: Box) -> Iterator[Group]:
        told = self._told
        if self._asked:
            told = (*told, *(each for each in self._dimensions.every if each.shown.parameter != self._asked))
        spare = self._dimensions.spare(frame, room, told, self._stacks[room], paper)
        return (replace(group, spare=True) for group in spare)
