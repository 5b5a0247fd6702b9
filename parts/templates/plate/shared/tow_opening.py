r"""What is in the middle of a face: a fairlead's window with its bolts, or slots for two tow tabs.

o  ___________  o       the bolts of the fairlead beside its window, one or two a side
  |___________|
o               o

   ||       ||          slots as the tow tabs want them: bumper-tow-tab
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry.figure import Window, level_slot
from parts.profile import Dimension
from parts.spec import BY_DIAMETER, Parameters, When, bolt, bolt_mm, choice, hole_diameter, length
from parts.templates.shared.feature import Feature, across, diameter, upright, window_sizes
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked
from parts.templates.shared.joint import BESIDE, MOST_OF_ROOM, ROOT
from parts.templates.shared.tabs import TabSlot

_TOW = "Winch or tow opening"
HOOKS_FIT = (
    "The hook slots are as large as their tow tabs and the clearance. Drawn earlier, and not asked for by hook_width, "
    "they were 32 by 90 mm: compare with what is cut already."
)


class TowOpening(WorkedHoles):
    """Lengths in mm; heights are measured from the lower edge of the face."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {"winch_bolt": ("winch_hole_kind", "fairlead")}
    optional: ClassVar[tuple[str, ...]] = ("winch_hole_kind",)
    shared_when: ClassVar[Mapping[str, When]] = where_worked("winch_hole_kind")

    tow: str = choice(
        "Opening in the middle", default="fairlead", choices=("none", "fairlead", "tow-hooks"), group=_TOW
    )
    tow_up: float = length(
        "Opening in the middle, its centre up",
        default=110,
        minimum=10,
        maximum=790,
        group=_TOW,
        when=("tow",),
        moves="care",
    )
    winch_width: float = length(
        "Fairlead window width", default=180, minimum=20, maximum=800, group=_TOW, when=("tow", "fairlead")
    )
    winch_height: float = length(
        "Fairlead window height", default=60, minimum=20, maximum=500, group=_TOW, when=("tow", "fairlead")
    )
    winch_radius: float = length(
        "Fairlead window corner radius",
        default=12,
        minimum=0,
        maximum=250,
        group=_TOW,
        when=("tow", "fairlead"),
        moves="care",
    )
    winch_bolt: str = bolt("Fairlead bolts", default="M12", diameter="winch_hole", group=_TOW, when=("tow", "fairlead"))
    winch_hole: float = length("Fairlead hole diameter", default=13.5, inches="9/16", minimum=1, maximum=60, group=_TOW)
    winch_slot: float = length(
        "Fairlead slot length",
        default=0,
        minimum=0,
        maximum=300,
        group=_TOW,
        help="Along; 0 for round holes.",
        when=("tow", "fairlead"),
    )
    winch_bolts: float = length(
        "Between fairlead bolt centres, along",
        default=254,
        minimum=30,
        maximum=1500,
        group=_TOW,
        when=("tow", "fairlead"),
    )
    winch_rows: float = length(
        "Between fairlead bolt centres, up",
        default=50,
        minimum=0,
        maximum=600,
        group=_TOW,
        help="0: one bolt on each side, as fairleads of two bolts have.",
        when=("tow", "fairlead"),
    )
    hook_spacing: float = length(
        "Between tow-hook slot centres", default=560, minimum=30, maximum=2800, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_tab: float = length(
        "Tow tab, thickness", default=20, inches="3/4", minimum=3, maximum=150, group=_TOW, when=("tow", "tow-hooks"),
        help="bumper-tow-tab.",
    )  # fmt: skip
    hook_neck: float = length(
        "Tow tab, height of its neck", default=88, minimum=20, maximum=600, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_clearance: float = length(
        "Clearance round a tow tab", default=0.8, inches="1/32", minimum=0, maximum=5, group=_TOW,
        when=("tow", "tow-hooks"), help="On each side.",
    )  # fmt: skip
    hook_width: float = length(
        "Hook slot width", default=0, minimum=0, maximum=200, group=_TOW, when=("tow", "tow-hooks"), auto="hook_wide",
        help="0: the tow tab and its clearance, the corners relieved.",
    )  # fmt: skip
    hook_height: float = length(
        "Hook slot height", default=0, minimum=0, maximum=700, group=_TOW, when=("tow", "tow-hooks"), auto="hook_high",
        help="0: the tow tab and its clearance.",
    )  # fmt: skip
    hook_radius: float = length(
        "Hook slot corner radius", default=8, minimum=0, maximum=100, group=_TOW, when=("hook_width",), moves="care"
    )
    winch_hole_kind: str = hole_kind("winch_bolt", "Fairlead holes are made")

    @property
    def hole_fit(self) -> str:
        """How loose the holes for bolts are."""
        raise NotImplementedError

    @property
    def most_relief(self) -> float:
        """Radius of a relief in mm where nothing else limits it."""
        raise NotImplementedError

    @property
    def fairlead_hole(self) -> float:
        """Diameter of the fairlead's holes, and width of its slots."""
        return hole_diameter(self.winch_bolt, self.hole_fit, self.winch_hole)

    @property
    def hook_wide(self) -> float:
        """Width of the hook slots, mm."""
        return self.hook_width or self.hook_tab + 2 * self.hook_clearance

    @property
    def hook_high(self) -> float:
        """Height of the hook slots, mm."""
        return self.hook_height or self.hook_neck + 2 * self.hook_clearance

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """What hook slots fit, with what holds anyway."""
        return (*((HOOKS_FIT,) if self.tow == "tow-hooks" and not self.hook_width else ()), *super().own_cautions)

    @property
    def tow_features(self) -> Iterator[Feature]:
        """The window and the bolts of a fairlead, or the slots of tow tabs."""
        if self.tow == "fairlead":
            window = Window((0.0, self.tow_up), self.winch_width, self.winch_height, self.winch_radius)
            yield Feature("fairlead window", (window,), "tow_up", breadth="winch_width")
            bolts = level_slot((self.winch_bolts / 2, self.tow_up), self.winch_slot, self.fairlead_hole)
            name = "fairlead bolt slot" if self.winch_slot else "fairlead bolt hole"
            rows, size = stacked(bolts, self.winch_rows), bolt_mm(self.winch_bolt)
            yield Feature(name, rows, "tow_up", "winch_bolts", bolt=size)
        elif self.tow == "tow-hooks":
            yield Feature("tow-hook slot", (self._hook_slot,), "tow_up", "hook_spacing")

    @property
    def _hook_slot(self) -> Window:
        """The right slot of the tow hooks: with round corners, or relieved where it is as the tow tab wants it."""
        centre, wide, high = (self.hook_spacing / 2, self.tow_up), self.hook_wide, self.hook_high
        if self.hook_width:
            return Window(centre, wide, high, self.hook_radius)
        r = min(self.most_relief, MOST_OF_ROOM * min(wide, high) / 2 / ROOT)
        beyond = 2 * BESIDE * r
        return TabSlot(centre, wide + beyond, high + beyond, 0.0, (high, wide), r, 0.0, is_level=False)

    def tow_problems(self, height: float) -> Iterator[Problem]:
        """Yield a problem where an opening is too tall for a face of this height, or its sizes don't go together."""
        if self.tow == "fairlead":
            yield from self.under("winch_height", height, "in the height of the face")
            yield from self.at_most("winch_radius", min(self.winch_width, self.winch_height) / 2, "in the window")
            yield from slot_problems(self, "winch_slot", self.fairlead_hole)
            if self.winch_rows:
                yield from pair_problems(self, "winch_rows", self.fairlead_hole, height)
        elif self.tow == "tow-hooks":
            of_height = "hook_height" if self.hook_height else "hook_neck"
            beside = self.hook_high - getattr(self, of_height)
            yield from self.under(of_height, height - beside, "in the height of the face")
            if self.hook_width:
                yield from self.at_most("hook_radius", min(self.hook_wide, self.hook_high) / 2, "in the slot")

    def fairlead_measured(self, feature: Feature) -> Iterator[Dimension]:
        """Yield where the bolts of the fairlead can be measured."""
        low, high = feature.windows[0], feature.windows[-1]
        if self.winch_rows:
            yield Dimension("winch_rows", low.centre, high.centre, "right")
        if self.winch_slot:
            yield across("winch_slot", low)
        if self.winch_bolt == BY_DIAMETER:
            yield upright("winch_hole", low) if self.winch_slot else diameter("winch_hole", low)

    def hooks_measured(self, slot: Window) -> Iterator[Dimension]:
        """Yield where a slot can be measured as far as it is given, and the tow tab in it."""
        (x, y), wide, high = slot.centre, self.hook_tab / 2, self.hook_neck / 2
        yield Dimension("hook_tab", (x - wide, y), (x + wide, y), "above")
        yield Dimension("hook_neck", (x, y - high), (x, y + high), "right")
        if self.hook_clearance:
            yield Dimension("hook_clearance", (x, y + high), (x, y + high + self.hook_clearance), "right")
        if self.hook_width:
            yield across("hook_width", slot)
            yield from (each for each in window_sizes("hook", slot) if each.parameter == "hook_radius")
        if self.hook_height:
            yield Dimension("hook_height", (x, y - self.hook_high / 2), (x, y + self.hook_high / 2), "right")


def stacked(window: Window, apart: float) -> tuple[Window, ...]:
    """Return two of a window, one half of `apart` below its place and one above; one where it is 0."""
    x, y = window.centre
    return (window.at(x, y - apart / 2), window.at(x, y + apart / 2)) if apart else (window,)


def slot_problems(p: Parameters, name: str, width: float) -> Iterator[Problem]:
    """Yield a problem where a slot is shorter than its bolt needs."""
    if 0 < getattr(p, name) < width:
        yield p.problem(name, f"must be 0, or at least the hole's {p.say(width)}.")


def pair_problems(p: Parameters, name: str, each: float, height: float) -> Iterator[Problem]:
    """Yield a problem where two openings one above the other meet, or are too tall together for a face's height."""
    clash = [*p.over(name, each, "to keep metal between them")]
    yield from clash or p.under(name, height - each, "in the height of the face")
