"""A silhouette drawn by hand: as large as asked for, with what is cut out of it where there is room.

The metal between two cuts, and beside one, is never narrower than the bridge; what would leave less is left out, the
finest first, unless all is asked for.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any, ClassVar, Self

from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, distance, meetings
from parts.profile import Dimension, Opening, Profile
from parts.spec import choice, length
from parts.templates.silhouette.shared import rough
from parts.templates.silhouette.shared.design import Cut, Design, Frame, Least, Slit, frame
from parts.templates.silhouette.shared.hanging import Hung, hang_x, hung
from parts.templates.silhouette.shared.sized import EXACT_MM, SAME_MM, lacking, solved
from parts.tolerance import LIMIT_SLACK_MM

CUT_OUT = "Cut out"
ROOM = 1.2
"""How much wider than what it is pierced in a line is at its widest, since it narrows to both sides."""
STANDARD: Mapping[str, float] = {"mm": 300.0, "in": 304.8}
"""How high a figure is that is asked for by no size, mm, by working units: as a shop says it there."""
LEAST = 20.0
"""The least size over all, mm."""
SPARE = 1.02
"""How much more than the bridge is kept, so that no rounding takes from it."""


class Sketched(Hung):
    """What is drawn of a `design`, whose `figure_width` and `figure_height` say how large."""

    design: ClassVar[Design]
    retired: ClassVar[frozenset[str]] = frozenset()
    """Lengths of an earlier figure of this name: addresses with them are drawn without, and say so."""
    passed_over: ClassVar[tuple[str, ...]] = ()
    is_rough: ClassVar[bool] = False
    """Whether it is only sketched: which cuts have no room is told roughly."""

    details: str = choice(
        "What is cut out", default="fitting", choices=("fitting", "all", "none"), group=CUT_OUT, moves="care",
        help="fitting: those that keep the bridge at this size and thickness, the finest left out first.",
    )  # fmt: skip
    line_width: float = length(
        "Lines at least so wide", default=0, minimum=0, maximum=100, group=CUT_OUT, auto="least_line", moves="free",
        when=[("details", "fitting"), ("details", "all")], help="0: as drawn, but no narrower than the process cuts.",
    )  # fmt: skip
    bridge: float = length(
        "Metal beside the cut-outs at least", default=0, minimum=0, maximum=200, group=CUT_OUT, auto="least_bridge",
        moves="free", when=[("details", "fitting"), ("details", "all")], help="0: the narrowest of the process.",
    )  # fmt: skip

    @classmethod
    def read_singly(cls, values: Mapping[str, Any]) -> Self:
        """Return the parameters as they are read of any template, without what is retired.

        Raises:
            Refused: as there.
        """
        made = super().read_singly({name: value for name, value in values.items() if name not in cls.retired})
        if gone := tuple(sorted(cls.retired.intersection(values))):
            made.keep({"passed_over": gone})
        return made

    @property
    def own_cautions(self) -> tuple[str, ...]:
        """What was asked for of an earlier figure and sets nothing now, with what holds anyway."""
        gone = ", ".join(self.passed_over)
        said = (f"Drawn anew since this address was made: {gone} no longer set anything in it.",) if gone else ()
        return (*said, *super().own_cautions)

    @property
    def figure_width(self) -> float:
        """How wide the figure is."""
        raise NotImplementedError

    @property
    def figure_height(self) -> float:
        """How high the figure is."""
        raise NotImplementedError

    @cached_property
    def drawn_in(self) -> Frame:
        """The design stretched to the size.

        Raises:
            GeometryError: if it can't be drawn so.
        """
        return frame(self.design, self.figure_width / self.figure_height)

    @cached_property
    def figure(self) -> Loop:
        """The outline, its lower left at the origin."""
        return self.drawn_in.outline(self.figure_height)

    @property
    def foot_x(self) -> float:
        """Where the design has it."""
        return self.drawn_in.at((self.design.foot, 0.0), self.figure_height)[0]

    @property
    def least_line(self) -> float:
        """How wide a line is at the least."""
        return self.line_width or (self.cut.narrowest_slot_mm if self.cut else 0.0)

    @property
    def least_bridge(self) -> float:
        """How much metal is kept."""
        return self.bridge or (SPARE * self.cut.narrowest_bridge_mm if self.cut else 0.0)

    @property
    def least_cut(self) -> Least:
        """What the process cuts at the least, and the lines as asked for."""
        if not self.cut:
            return Least(self.line_width, self.line_width, 0.0)
        return Least(
            self.least_line,
            max(self.least_line, ROOM * (self.cut.pierce_diameter_mm + self.cut.kerf_mm)),
            self.cut.smallest_hole_mm,
        )

    @cached_property
    def cuts(self) -> tuple[tuple[Cut, Loop], ...]:
        """All that may be cut out, each with its loop; what can't be drawn so wide is left out.

        Raises:
            GeometryError: if all is asked for and one can't.
        """
        if self.details == "all" and len(self._that_can_be_drawn) < len(self.design.cuts):
            raise GeometryError("What is cut out can't all be drawn at this size.")
        return self._that_can_be_drawn

    @cached_property
    def _that_can_be_drawn(self) -> tuple[tuple[Cut, Loop], ...]:
        """Those of all that may be cut out that can be drawn so wide, each with its loop."""
        made = []
        for each in () if self.details == "none" else self.design.cuts:
            with suppress(GeometryError):
                made.append((each, self.drawn_in.cut(each, self.figure_height, self.least_cut)))
        return tuple(made)

    @cached_property
    def crowded(self) -> tuple[tuple[int, int, float], ...]:
        """Which two loops are nearer each other than the bridge, 0 being the edge, then the cuts; and how near."""
        loops = (self.figure, *(loop for _, loop in self.cuts))
        crossing = {(meeting.loop_a, meeting.loop_b): 0.0 for meeting in meetings(loops)}
        profile = Profile(loops[:1], tuple(Opening(loop) for loop in loops[1:]))
        necks = profile.necks(self.least_bridge - LIMIT_SLACK_MM)
        near = {(neck.loop_a, neck.loop_b): neck.width for neck in reversed(necks)}
        return tuple((a, b, width) for (a, b), width in (near | crossing).items() if a or b)

    @property
    def _roughly_crowded(self) -> list[tuple[int, int]]:
        cuts = tuple(each for each, _ in self.cuts)
        return rough.crowded(self.design, self.figure_height, cuts, self.least_cut, self.least_bridge)

    @cached_property
    def left_out(self) -> frozenset[int]:
        """Which of the cuts have no room, from 0: of two too near, all that are called as the one of higher rank.

        So both sides of a symmetric figure stay alike, and rows whole.
        """
        kinds = [(each.rank, each.name) for each, _ in self.cuts]
        out: set[tuple[int, str]] = set()
        for a, b in self._roughly_crowded if self.is_rough else ((a, b) for a, b, _ in self.crowded):
            near = [kinds[i - 1] for i in (a, b) if i]
            if not out.intersection(near):
                out.add(max(near))
        return frozenset(i for i, kind in enumerate(kinds) if kind in out)

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """What is cut out of the figure."""
        out = frozenset() if self.details == "all" else self.left_out
        return tuple(Opening(loop, each.name, "details") for i, (each, loop) in enumerate(self.cuts) if i not in out)

    def figure_problems(self) -> Iterator[Problem]:
        """Yield where all lines are asked for and two are too near."""
        if self.details != "all":
            return
        drawn = {each for each, _ in self._that_can_be_drawn}
        if small := [each.name for each in self.design.cuts if each not in drawn]:
            yield self.problem(
                "details", f"can't be all: the {small[0]} would be too small to be cut. Make it larger, or have those "
                "that fit.", {"details": "fitting"},
            )  # fmt: skip
            return
        names = ["the edge", *(f"the {each.name}" for each, _ in self.cuts)]
        for a, b, width in self.crowded[:1]:
            yield self.problem(
                "details", f"can't be all: {names[a]} and {names[b]} would be {self.say(width)} apart, less than "
                f"{self.say(self.least_bridge)}. Make it larger, or have those that fit.", {"details": "fitting"},
            )  # fmt: skip

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield a line that is as wide as lines are at the least."""
        for i, (each, _) in enumerate(self.cuts):
            if not isinstance(each, Slit) or (self.details != "all" and i in self.left_out) or not self.line_width:
                continue
            grown = self.figure_height * min(self.drawn_in.scale)
            for end, width in ((0, each.widths[0]), (-1, each.widths[-1])):
                if grown * width <= self.line_width:
                    yield self._across(each, end)
                    return

    def _across(self, each: Slit, end: int) -> Dimension:
        x, y = self.drawn_in.at(each.points[end], self.figure_height)
        px, py = self.drawn_in.at(each.points[1 if end == 0 else -2], self.figure_height)
        apart = distance((x, y), (px, py))
        ux, uy, half = (py - y) / apart, (x - px) / apart, self.line_width / 2
        return Dimension("line_width", (x - half * ux, y - half * uy), (x + half * ux, y + half * uy), "along")


_OF_SCALE = ("cuts", "crowded", "left_out", "cut_outs", "figure", "footed", "hang_x", "lug_seam", "lug_height", "edge")
"""What is reckoned of a figure once its size is found, and needn't be again."""


class Drawn(Sketched):
    """What keeps its proportions, and is asked for by its width or height over all."""

    @property
    def is_sized(self) -> bool:
        """No: no length follows the size over all but the figure, whose only size that is."""
        return False

    @property
    def figure_height(self) -> float:
        """As the size over all leaves it."""
        return self.scale

    @property
    def figure_width(self) -> float:
        """By its proportions."""
        return self.scale * self.design.aspect

    @cached_property
    def drawn_in(self) -> Frame:
        """The design as it is drawn."""
        return frame(self.design)

    @cached_property
    def scale(self) -> float:
        """The figure's height in mm, that all there is be as large as asked for.

        Raises:
            GeometryError: if foot and lug are larger than that.
        """
        asked, side = (self.overall_width, 0) if self.overall_width else (self._high, 1)
        first = asked if side else asked / self.design.aspect
        if self.foot == "none" and self.hang != "lug":
            return first
        share = self.at_scale(first).hang_x / first
        found = solved(lambda scale: self.at_scale(scale, hang_x=share * scale, cut_outs=()), first, asked, side).scale
        made = self.at_scale(found)
        if abs(made.extent(side) - asked) > EXACT_MM:
            made = self._solved_near(made, asked, side)
        self.keep({name: made.__dict__[name] for name in _OF_SCALE if name in made.__dict__})
        return made.scale

    def _solved_near(self, near: Self, asked: float, side: int) -> Self:
        """The same as large as asked: with those cuts that have no room near that size, if so it is there too."""
        out = near.left_out
        found = solved(lambda scale: self.at_scale(scale, left_out=out), near.scale, asked, side).scale
        made = self.at_scale(found)
        return made if made.left_out == out else solved(self.at_scale, found, asked, side)

    @cached_property
    def hang_x(self) -> float:
        """Straight above the centre of mass, which a symmetric figure has in its middle.

        Raises:
            GeometryError: as for any figure.
        """
        return self.figure_width / 2 if self.is_symmetric else hang_x(self)

    @property
    def is_symmetric(self) -> bool:
        """Whether all of it is alike on both sides."""
        is_aside = self.foot != "none" and abs(self.foot_x - self.figure_width / 2) > LIMIT_SLACK_MM
        return self.design.is_symmetric and not is_aside

    @property
    def _high(self) -> float:
        return self.overall_height or STANDARD[self.units]

    def at_scale(self, scale: float, **known: Any) -> Self:  # noqa: ANN401 - of any cached property
        """Return the same with a figure of a height, its foot and its holes as they are; and what is known of it."""
        made = self.changed()
        made.keep({"scale": scale, "is_rough": self.is_rough, **known})
        return made

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the size over all, then what the figure has."""
        x0, y0, x1, y1 = self.whole
        yield Dimension("overall_width", (x0, y0), (x0 + (self.overall_width or x1 - x0), y0), "below")
        yield Dimension("overall_height", (x0, y0), (x0, y0 + (self.overall_height or y1 - y0)), "left")
        yield from super().figure_dimensions()

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room, the size over all first."""
        name = "overall_width" if self.overall_width else "overall_height"
        small = [*self.at_least(name, LEAST, "for a figure that can be seen")] if getattr(self, name) else []
        yield from small or self._size_problems(name)

    def _size_problems(self, name: str) -> Iterator[Problem]:
        try:
            _ = self.scale
        except (GeometryError, ZeroDivisionError) as error:
            yield self.tight(name, "for the figure with its foot and its lug", lacking(error))
            return
        yield from (found := [*super().problems()])
        if not found and self.overall_width and self.overall_height:
            high = self.extent(1)
            if abs(high - self.overall_height) > SAME_MM:
                yield self.out_of_proportion(high)


def sketch(p: Sketched) -> Profile | None:
    """Sketch the figure: all as it is drawn, but which of its cuts have no room."""
    sizes = [size for size in (p.overall_width, p.overall_height) if size]
    if p.details != "fitting" or p.text.strip() or len(sizes) > 1 or min(sizes, default=LEAST) < LEAST:
        return None
    p.keep({"is_rough": True})
    try:
        return hung(p)
    except (ArithmeticError, ValueError):
        return None  # sizes at odds, which the problems tell
