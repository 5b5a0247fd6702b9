"""A figure made of an outline that isn't ours: as a piece of its own, cut through a plate, or framed.

figure   the outline as large as asked for, what is narrower than the smallest detail opened or closed
piece    the figure is the metal: what of it lies apart is tied to the rest
plate    the figure is cut away: what of the plate would drop out of it is tied to the plate
framed   the figure is the metal within a frame, which has the shape of a plate, and is tied to it
"""

import math
from collections.abc import Iterator

import shapely
from shapely import affinity

from parts.artwork import Metal, disc, metal_from, metal_of
from parts.artwork.pipeline import Fit, Made, Steps, Sturdy, Ties, made
from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import GeometryError, Problem, Refused
from parts.geometry import Arc, Box, Loop, Point
from parts.profile import Tie
from parts.spec import STOCK, choice, length, thickness
from parts.spec import text as words_typed
from parts.templates.outline.shared.rounding import eye_at, rounded
from parts.templates.outline.shared.surround import FIGURE, Surround
from parts.templates.shared.lettered_words import moved_problem, moves_of
from parts.templates.shared.plates import ring

BRIDGES, HANGING = "Bridges", "Hanging hole"

CAUTIONS = (
    "Deburr edges and points: what hangs at the height of hands, eyes or children can injure.",
    "Hang it from fastenings that hold a multiple of its weight and of the wind on it; near a road or over a way local "
    "rules say what may hang there and how.",
)
OF_SIZE, OF_THICKNESS, THINNEST, NARROWEST = 0.02, 1.05, 1.0, 6.0
"""A bridge's width where it is left open: of the size over all and of the thickness the greater (by eye, and common
practice: a strip narrower than so many thicknesses burns), some mm; a figure is at least so many times as wide."""
DETAIL, DETAIL_AT, LARGEST_DETAIL = 4.0, 300.0, 8
"""The smallest detail in mm where it is left open, of a figure so large in mm over all, and with the root of its size
(by eye); a figure is at least so many times as wide."""
OWN_TIES = "figure."
"""What the names of a figure's bridges begin with, beside those of letters cut through it."""
_ROUNDS, _CLOSE = 4, 1e-3
_NECK, _GAP = 0.9, 0.6
# In smallest details: what rounding off leaves as a neck, and a bridge beside it as a gap, is no narrower.
_EASE = 0.5
# In smallest details: corners beside bridges are no rounder than those of the figure.
_OF_CORNER = 0.13
# In radii of a corner, how far lines and arcs are off at most: one that turns by 60 degrees is 0.15 from its point.


class Figure(Surround):
    """What is made of `shape`, a figure one wide, and how large it is."""

    effort = 30

    detail: float = length(
        "Smallest detail", default=0, drawn=False, minimum=0, maximum=100, group=FIGURE, moves="free",
        help="Narrower points and gaps are rounded off or closed. 0: by the size and the process.", auto="smallest",
    )  # fmt: skip
    tie: float = length(
        "Width of the bridges", default=0, minimum=0, maximum=100, group=BRIDGES, moves="free",
        help="Metal that holds what would lie apart or drop out. 0: as suits the size and the thickness.",
        auto="bridge",
    )  # fmt: skip
    bridges: str = words_typed(
        "Bridges moved", default="", characters="abcdefghijklmnopqrstuvwxyz0123456789.:- ", longest=400, group=BRIDGES,
        help="By their names: figure.1.1.top:0.2; those of letters without the first word.",
    )  # fmt: skip
    hang: str = choice("Hanging hole", default="none", choices=("none", "eye"), group=HANGING,
        help="eye: on a ring over the middle of the weight, so that it hangs straight.",
        when=("made_as", "piece"))  # fmt: skip
    eye: float = length(
        "Metal around the hanging hole", default=6, minimum=1, maximum=100, group=HANGING, when=("hang",), moves="free"
    )
    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)

    @property
    def bridge(self) -> float:
        """How wide bridges are, mm: as asked for, or in proportion to the size over all, but no narrower than burns."""
        if self.tie:
            return self.tie
        _, _, x1, y1 = self.original.bounds
        suits = OF_SIZE * (self.overall_width or self.overall_height * x1 / y1)
        return max(min(max(suits, OF_THICKNESS * self.thickness, THINNEST), suits / OF_SIZE / NARROWEST), 0.01)

    @property
    def smallest(self) -> float:
        """The smallest detail, mm: as asked for, or by the size over all, but none that the process burns away."""
        if self.detail:
            return self.detail
        suits = DETAIL * math.sqrt((self.overall_width or self.overall_height) / DETAIL_AT)
        return min(max(round(suits, 1), self._standing), self.width / LARGEST_DETAIL)

    @cached_property
    def cut(self) -> Cut | None:
        """How the process cuts the plate; None where it can't, which is told elsewhere."""
        try:
            return cut_for(self.process, self.material, self.thickness)
        except Refused:
            return None

    @property
    def slot(self) -> float:
        """The narrowest slot of the process, mm; 0 where it can't cut the plate."""
        return self.cut.narrowest_slot_mm if self.cut else 0.0

    @property
    def straight(self) -> float:
        """How wide a long strip stays straight, mm; 0 where the process can't cut the plate."""
        return self.cut.straight_strip_mm if self.cut else 0.0

    @property
    def _standing(self) -> float:
        """The detail of which the process leaves necks and gaps, mm; 0 where it can't cut the plate."""
        return max(self.cut.narrowest_bridge_mm / _NECK, self.slot / _GAP) if self.cut else 0.0

    @property
    def steps(self) -> Steps:
        """What is done from metal to loops; corners that bridges make are as round as the process wants them."""
        tolerance = max(self.smallest / 12, 0.05)  # nobody sees it
        if self.cut:
            tolerance = min(tolerance, max(_OF_CORNER * self.cut.inside_radius_mm, 0.05))
        ties = Ties(self.bridge * (1 + 2 * _CLOSE), frame="one" if self.made_as == "piece" else "outer")
        ease = min(self.cut.inside_radius_mm + tolerance, _EASE * self.smallest) if self.cut else 0.0
        return Steps(
            ties,
            self.figure_moves,
            Sturdy(_NECK * self.smallest, _GAP * self.smallest),
            Fit(tolerance, corner_deg=30.0, flat_mm=tolerance / 2),
            ease_mm=ease,
            neck_mm=self.bridge,
            gap_mm=self.slot,
        )

    @cached_property
    def made(self) -> Made:
        """The loops that are cut, but for holes, as large as asked for.

        Raises:
            GeometryError: nothing is left.
        """
        return made(self.metal, self.steps)

    @property
    def figure_moves(self) -> tuple[tuple[str, float], ...]:
        """The figure's own bridges that were moved."""
        moves = moves_of(self.bridges)
        return tuple((key.removeprefix(OWN_TIES), by) for key, by in moves if key.startswith(OWN_TIES))

    @property
    def text_near(self) -> Point | None:
        """Where the text stands rather: in the middle of the room below the figure, where there is some."""
        if self.made_as != "plate" or not self.below:
            return None
        x0, y0, x1, _ = self.placed.bounds
        return (x0 + x1) / 2, y0 - (self.below + self.margin - self.plate.band - self.plate.web) / 2

    @property
    def letter_moves(self) -> tuple[tuple[str, float], ...]:
        """The other bridges that were moved."""
        return tuple((key, by) for key, by in moves_of(self.bridges) if not key.startswith(OWN_TIES))

    @cached_property
    def loops(self) -> tuple[tuple[Loop, ...], tuple[Loop, ...], float]:
        """The loops outside and inside, and how much larger than `made` has them: to the size asked for, exactly.

        Lines and arcs may be off the figure by what they are fitted within.
        """
        made_ = self.made
        if self.made_as != "piece":
            if len(made_.outside) != 1:
                raise GeometryError("What is cut out leaves the plate in pieces.")
            return (self.plate.edge(self.size),), made_.inside, 1.0
        boxes = [loop.box for loop in made_.outside]
        x0, y0 = (min(box[side] for box in boxes) for side in (0, 1))
        x1, y1 = (max(box[side] for box in boxes) for side in (2, 3))
        larger = self.overall_width / (x1 - x0) if self.overall_width else self.overall_height / (y1 - y0)
        outside, inside = (tuple(_larger(loop, larger) for loop in of) for of in (made_.outside, made_.inside))
        return outside, inside, larger

    @property
    def ties(self) -> Iterator[Tie]:
        """The bridges that can be moved."""
        larger = self.loops[2]
        for tie in self.made.ties:
            (ax, ay), (bx, by), (x, y) = tie.start, tie.end, tie.share
            ends = (ax * larger, ay * larger), (bx * larger, by * larger)
            yield Tie(f"{OWN_TIES}{tie.key}", *ends, tie.offset, (x * larger, y * larger))

    @cached_property
    def figure(self) -> Metal:
        """The figure as large as asked for, with no detail smaller than asked for; its lower left at the origin.

        Rounding takes from its size, so that it is made larger in rounds. The size that is asked for is that over all.
        Where an island is too small in one size and reaches out in the next, it is left out.
        """
        by_height, scale = not self.overall_width, self.width
        asked = scale * self.original.bounds[3] if by_height else scale
        found, has, without = self.original, asked, None
        for _ in range(_ROUNDS):
            found = rounded(shapely.to_wkb(affinity.scale(self.original, scale, scale, origin=(0, 0))), self.smallest)
            if not found.geoms:
                raise GeometryError("No detail of the figure is as large as the smallest asked for.")
            box = self._with_eye(found) if by_height else found.bounds
            has = box[3] - box[1] if by_height else box[2] - box[0]
            if abs(has - asked) <= _CLOSE:
                break
            if has < asked:
                without = found, asked / has
            scale *= asked / has
        else:
            found, larger = without or (found, asked / has)
            found = affinity.scale(found, larger, larger, origin=(0, 0))
        x0, y0, _, _ = found.bounds
        return metal_from(affinity.translate(found, -x0, -y0))

    def _with_eye(self, figure: Metal) -> Box:
        """The box of a figure and of its eye."""
        if self.made_as != "piece" or self.hang == "none":
            box: Box = figure.bounds
            return box
        (x, y), far = eye_at(figure, self.hole, self.eye), self.hole / 2 + self.eye
        with_eye: Box = metal_from(shapely.union(figure, shapely.Point(x, y).buffer(far))).bounds
        return with_eye

    @cached_property
    def eye_at(self) -> Point | None:
        """The middle of the hanging hole before its size is settled, over the middle of the weight."""
        hangs = self.made_as == "piece" and self.hang != "none"
        return eye_at(self.figure, self.hole, self.eye) if hangs else None

    @cached_property
    def metal(self) -> Metal:
        """What is left as metal before anything is tied."""
        if self.made_as == "framed":
            frame = ring(metal_of([self.plate.edge(self.size)]), 0.0, self.frame_wide)
            return metal_from(shapely.union(frame, self.placed))
        if self.made_as == "plate":
            cut = shapely.union(self.placed, self.plate.border_cut(self.size, 2 * self.bridge))
            return metal_from(shapely.difference(metal_of([self.plate.edge(self.size)]), cut))
        if self.eye_at is None:
            return self.figure
        far = self.hole / 2 + self.eye
        neck = shapely.box(self.eye_at[0] - far / 2, self.eye_at[1] - far, self.eye_at[0] + far / 2, self.eye_at[1])
        return metal_from(shapely.union_all([self.figure, disc(self.eye_at, far), neck]))

    @cached_property
    def box(self) -> Box:
        """The box of all there is."""
        x0, y0, x1, y1 = zip(*(loop.box for loop in self.loops[0]), strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @property
    def whole_width(self) -> float:
        """How wide all there is is."""
        return self.box[2] - self.box[0]

    @property
    def whole_height(self) -> float:
        """How high all there is is."""
        return self.box[3] - self.box[1]

    def problems(self) -> Iterator[Problem]:
        """Yield why there is no figure, then what has no room."""
        for found in (self.name_problems, self.asked_problems, self.plate_problems, self._made_problems):
            told = list(found())
            yield from told
            if told:
                return

    def name_problems(self) -> Iterator[Problem]:
        """Yield why there is no figure of the name that is asked for."""
        raise NotImplementedError

    def asked_problems(self) -> Iterator[Problem]:
        """Yield what of the sizes asked for can't be, as far as that is known before the figure is made."""
        yield from (found := list(self.size_problems()))
        if not found:
            yield from self.at_most("detail", self.width / LARGEST_DETAIL, "to leave something of a figure so small")
            yield from self.at_most("tie", self.width / NARROWEST, "beside a figure so small")

    def _made_problems(self) -> Iterator[Problem]:
        """Yield what only making the figure tells: its proportions, bridges that there aren't, what nothing holds."""
        if self.made_as == "piece" and self.overall_width and self.overall_height:
            high = self.whole_height
            if abs(high - self.overall_height) > 0.05:
                message = f"doesn't go with the width: a figure keeps its proportions. Make it {self.say(high)}, or 0."
                yield self.problem("overall_height", message, {"overall_height": "0"})
        yield from moved_problem(self)
        if self.made.loose:
            yield self.problem("tie", "is too wide to hold all that lies apart in so small a figure; make it narrower.")
        elif (unmoved := self.made.unmoved) or (self.letter_moves and not self.text.strip()):
            name = f"{OWN_TIES}{unmoved[0]}" if unmoved else self.letter_moves[0][0]
            known = ", ".join(f"{OWN_TIES}{bridge.key}" for bridge in self.made.bridges[:12]) or "none"
            yield self.problem("bridges", f"moves {name}, which isn't there or has no room there; there are: {known}.")


def _larger(loop: Loop, times: float) -> Loop:
    """The loop so many times as large, about the origin."""
    return Loop.through(
        [(times * s.start[0], times * s.start[1], s.bulge if isinstance(s, Arc) else 0.0) for s in loop.segments]
    )
