"""A figure asked for by its width or height over all: its lengths follow in proportion, but not what a process sets.

Holes stay as they are, since a nail or a screw goes through them. Bridges, slots and cut-outs get no narrower than the
process cuts them, or than they are typed.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import ClassVar, Self, TypeVar

from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import GeometryError, Problem, Refused
from parts.geometry import Box
from parts.profile import Dimension, Profile
from parts.spec import Parameters, length
from parts.templates.shared.lettered import Lettered
from parts.tolerance import LIMIT_SLACK_MM

S = TypeVar("S", bound="Sized")
SIZE = "Size over all"
_ROUNDS, EXACT_MM, SAME_MM = 12, 1e-7, 0.05
"""Each round, what doesn't grow in proportion is off by a share of what it was; how near is as asked; what is alike."""


class TooSmall(GeometryError):
    """What doesn't grow in proportion is larger than the size asked for, by about `lacks` mm."""

    def __init__(self, lacks: float) -> None:
        super().__init__("What doesn't grow with it is larger than that.")
        self.lacks = lacks


class Sized(Lettered):
    """What can be asked for by its size over all, with foot and lug."""

    kept: ClassVar[frozenset[str]] = frozenset({"hole", "thickness"})
    """Lengths that no size over all changes."""
    bridges_of: ClassVar[frozenset[str]] = frozenset({"eye", "bridge", "tie", "line_inset"})
    """Lengths of metal that is no narrower than the narrowest bridge."""
    cut_groups: ClassVar[frozenset[str]] = frozenset({"Cut out", "Veins", "Slots", "Baubles", "Ring", "Slots and dots"})
    """Groups of lengths that are cut out, no narrower than the narrowest slot."""

    overall_width: float = length(
        "Width over all", default=0, minimum=0, maximum=6000, group=SIZE, auto="whole_width",
        help="All follows it but holes and what the process sets. 0: as it comes.",
    )  # fmt: skip
    overall_height: float = length(
        "Height over all", default=0, minimum=0, maximum=6000, group=SIZE, auto="whole_height",
        help="The same, with foot and lug.",
    )  # fmt: skip

    @property
    def whole(self) -> Box:
        """The box of all there is as its own lengths say.

        Raises:
            GeometryError: if it can't be drawn.
        """
        raise NotImplementedError

    def own_problems(self) -> Iterator[Problem]:
        """Yield what of its own lengths doesn't go together, whatever its size."""
        raise NotImplementedError

    @property
    def whole_width(self) -> float:
        """How wide all there is is."""
        x0, _, x1, _ = self.sized.whole
        return x1 - x0

    @property
    def whole_height(self) -> float:
        """How high all there is is."""
        _, y0, _, y1 = self.sized.whole
        return y1 - y0

    @property
    def is_sized(self) -> bool:
        """Whether it is asked for by its size over all."""
        return bool(self.overall_width or self.overall_height)

    @cached_property
    def sized(self) -> Self:
        """The same as its lengths are at the size over all.

        Raises:
            GeometryError: if it can't be drawn, or has no such size.
        """
        if not self.is_sized:
            return self
        asked, side = (self.overall_width, 0) if self.overall_width else (self.overall_height, 1)
        return solved(self.at_scale, 1.0, asked, side)

    def extent(self, side: int) -> float:
        """Return how wide (0) or high (1) all there is is."""
        return self.whole[side + 2] - self.whole[side]

    def at_scale(self, scale: float) -> Self:
        """Return the same, so many times as large as its own lengths say."""
        specs = self.specs()
        lengths = {n: getattr(self, n) for n, each in specs.items() if each.kind == "length" and self.follows(n)}
        values = {name: max(scale * value, min(value, self.least(name))) for name, value in lengths.items()}
        return self.changed(**{**values, "overall_width": 0.0, "overall_height": 0.0})

    def follows(self, name: str) -> bool:
        """Return whether a length follows the size over all."""
        beside = (*Parameters.model_fields, *Lettered.optional, "overall_width", "overall_height")
        return name not in self.kept and name not in beside

    def least(self, name: str) -> float:
        """Return what a length that follows isn't made narrower than, mm."""
        if not self.cut:
            return 0.0
        if name in self.bridges_of:
            return self.cut.narrowest_bridge_mm
        if self.specs()[name].group not in self.cut_groups:
            return 0.0
        is_slot = name.endswith(("_width", "_end"))
        return max(self.cut.narrowest_slot_mm, self.cut.pierce_diameter_mm) if is_slot else self.cut.smallest_hole_mm

    @cached_property
    def cut(self) -> Cut | None:
        """How the process cuts the stock; None where it can't, which is told elsewhere."""
        try:
            return cut_for(self.process, self.material, self.thickness)
        except Refused:
            return None

    def size_problems(self) -> Iterator[Problem]:
        """Yield what of its own lengths doesn't go together, then what has no room at the size asked for."""
        own = [*self.changed(overall_width=0.0, overall_height=0.0).own_problems()]
        yield from own
        if own:
            return
        name = "overall_width" if self.overall_width else "overall_height"
        try:
            made = self.sized
            _, y0, _, y1 = made.whole
        except (GeometryError, ZeroDivisionError) as error:
            yield self.tight(name, "for a figure that can be drawn", lacking(error))
            return
        if self.overall_width and self.overall_height and abs(y1 - y0 - self.overall_height) > SAME_MM:
            yield self.out_of_proportion(y1 - y0)
            return
        for problem in made.problems():
            if problem.parameter in self.kept:
                yield problem
            else:
                label = self.specs()[problem.parameter].label
                yield self.tight(name, f"for “{label}” beside what the process sets")

    def out_of_proportion(self, height: float) -> Problem:
        """Return the problem of a height that isn't what the width leaves."""
        message = f"doesn't go with the width: it keeps its proportions. Make it {self.say(height)}, or 0."
        return self.problem("overall_height", message, {"overall_height": "0"})

    def sized_profile(self, profile: Profile) -> Profile:
        """Return the profile of what is `sized` with the dimensions that show it: what is kept, and the size."""
        x0, y0, _, _ = profile.box
        shown = [each for each in profile.dimensions if not self.follows(each.parameter)]
        if self.overall_width:
            shown.append(Dimension("overall_width", (x0, y0), (x0 + self.overall_width, y0), "below"))
        if self.overall_height:
            shown.append(Dimension("overall_height", (x0, y0), (x0, y0 + self.overall_height), "left"))
        return replace(profile, dimensions=tuple(shown))


def lacking(error: Exception) -> float:
    """Return by how much a size over all is too small, about; infinite where an error doesn't tell."""
    return max(error.lacks, LIMIT_SLACK_MM) if isinstance(error, TooSmall) else math.inf


def solved(at_scale: Callable[[float], S], first: float, asked: float, side: int) -> S:
    """Return what is as wide (0) or high (1) over all as asked, of what there is at each scale; `first` is tried first.

    Raises:
        TooSmall: if what doesn't grow is larger.
        GeometryError: if none is so large for another reason, or it can't be drawn.
    """
    scale, made = first, at_scale(first)
    has = made.extent(side)
    grows = has / scale
    for _ in range(_ROUNDS):
        if abs(has - asked) <= EXACT_MM:
            return made
        before, had, scale = scale, has, scale + (asked - has) / grows
        if scale <= 0:
            raise TooSmall(had - before * grows - asked)
        made = at_scale(scale)
        has = made.extent(side)
        grows = (has - had) / (scale - before) or grows
    if abs(has - asked) > SAME_MM:
        raise GeometryError("It has no such size over all.")
    return made
