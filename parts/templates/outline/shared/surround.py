"""What is around a figure: nothing, the plate that it is cut through, or the frame that it stands in; and how large.

The size over all is that of plate or frame where there is one. From it follows how large the figure is.
"""

from collections.abc import Iterator
from dataclasses import replace

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from parts.artwork import Metal, disc, metal_of
from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Point
from parts.spec import choice, length
from parts.templates.shared.lettered import Lettered
from parts.templates.shared.plates import HOLES as PLACES
from parts.templates.shared.plates import SHAPES, Holes, Plate, Shape, has_room, least_size, middle

FIGURE, SIZE, PLATE, BORDER, HOLES = "Figure", "Size over all", "Plate", "Border", "Holes"
LEAST = 20.0
"""A figure is at least so wide or high, mm."""
OF_FRAME, WIDEST_FRAME, BORDER_IN = 0.04, 0.06, 0.015
"""A frame's width where it is left open, up to which it is so wide as to stay straight, and what is between border and
edge beside a bridge, all of the size over all (by eye)."""
_HALVINGS, _SLACK_MM = 50, 1e-2
_AROUND = ("made_as", "plate", "framed")
_PLATE = ("made_as", "plate")


class Surround(Lettered):
    """Plate and frame, of which a figure of its own proportions takes the middle."""

    made_as: str = choice("Made as", default="piece", choices=("piece", "plate", "framed"), group=FIGURE,
        help="piece: the figure itself. plate: cut through a plate. framed: within a frame, tied to it.")  # fmt: skip
    overall_width: float = length(
        "Width over all", default=300, minimum=0, maximum=6000, group=SIZE,
        help="0: as the height says. With plate or frame where there is one.", auto="whole_width",
    )  # fmt: skip
    overall_height: float = length(
        "Height over all", default=0, minimum=0, maximum=6000, group=SIZE, help="0: as the width says.",
        auto="whole_height",
    )  # fmt: skip
    shape: Shape = choice(
        "Shape", default="rounded", choices=SHAPES, group=PLATE, help="scalloped: hollow corners.", moves="never",
        when=_AROUND,
    )  # fmt: skip
    margin: float = length(
        "Between figure and edge", default=30, minimum=1, maximum=500, group=PLATE, when=_AROUND, moves="free",
        help="At least; a round plate is around the figure's own circle.",
    )  # fmt: skip
    below: float = length(
        "Room below the figure", default=0, minimum=0, maximum=2000, group=PLATE, when=_PLATE,
        help="For letters, which go where there is most room.",
    )  # fmt: skip
    corner_radius: float = length(
        "Corner radius", default=12, minimum=0, maximum=300, group=PLATE, moves="free",
        when=("shape", "rounded", "scalloped", "shield"),
    )  # fmt: skip
    frame: float = length(
        "Width of the frame", default=0, minimum=0, maximum=300, group=BORDER, when=("made_as", "framed"), moves="free",
        help="0: as suits size and holes.", auto="frame_wide",
    )  # fmt: skip
    border: float = length(
        "Width of the border", default=0, minimum=0, maximum=100, group=BORDER, when=_PLATE, moves="free",
        help="A line cut out along the edge; none at 0.",
    )  # fmt: skip
    border_in: float = length(
        "Border in from the edge", default=0, minimum=0, maximum=500, group=BORDER, when=("border",), moves="free",
        help="0: as looks well.",
    )  # fmt: skip
    holes: Holes = choice(
        "Holes", default="none", choices=PLACES, group=HOLES, when=_AROUND,
        help="top: one in the middle above. sides: two. corners: four, on a shield two.",
    )  # fmt: skip
    hole: float = length("Hole diameter", default=7, minimum=1, maximum=60, group=HOLES, when=(("hang",), ("holes",)))
    hole_in: float = length(
        "Hole centres in from the edge", default=0, minimum=0, maximum=500, group=HOLES, when=("holes",), moves="free",
        help="0: in the middle of a frame, or as the border and the bridges let them.",
    )  # fmt: skip

    @cached_property
    def original(self) -> Metal:
        """The figure, one wide, its lower left at the origin.

        Raises:
            GeometryError: there is none of this name.
        """
        raise NotImplementedError

    @property
    def figure(self) -> Metal:
        """The figure as large as the size over all says, its lower left at the origin."""
        raise NotImplementedError

    @property
    def bridge(self) -> float:
        """How wide bridges are, mm."""
        raise NotImplementedError

    @property
    def slot(self) -> float:
        """The narrowest slot of the process, mm."""
        raise NotImplementedError

    @property
    def straight(self) -> float:
        """How wide a long strip stays straight, mm."""
        raise NotImplementedError

    @property
    def frame_wide(self) -> float:
        """How wide the frame is, mm: as asked for, or as suits the size over all and the holes in it."""
        size = self._asked_most
        suits = max(OF_FRAME * size, min(self.straight, WIDEST_FRAME * size), self.bridge)
        return self.frame or max(suits, self.hole + 2 * self.bridge if self.holes != "none" else 0.0)

    @property
    def _asked_most(self) -> float:
        return max(self.overall_width, self.overall_height)

    @cached_property
    def plate(self) -> Plate:
        """What is around the figure, a frame as a border at the edge itself."""
        web, hole_in = max(self.bridge, 1.0), self.hole_in
        border, border_in = self.border, self.border_in or web + BORDER_IN * self._asked_most
        if self.made_as == "framed":
            border, border_in = self.frame_wide, 0.0
        bare = Plate(self.shape, web, self.corner_radius, border, border_in, self.holes, self.hole, hole_in)
        if self.made_as == "framed" and not hole_in:
            return replace(bare, hole_in_asked=bare.hole_far_in(border / 2))
        return bare

    @cached_property
    def _hull(self) -> BaseGeometry:
        """What decides how much room the figure takes, one wide."""
        return shapely.convex_hull(self.original)

    def _circle(self, figure: BaseGeometry) -> tuple[Point, float]:
        """The circle around a figure in mm and the room below it: its middle and radius."""
        x0, y0, x1, _ = figure.bounds
        whole = shapely.union(figure, shapely.box(x0, y0 - self.below, x1, y0)) if self.below else figure
        circle = shapely.minimum_bounding_circle(whole)
        return (circle.centroid.x, circle.centroid.y), float(shapely.minimum_bounding_radius(whole))

    def _frame_of(self, figure: BaseGeometry) -> Point:
        """Width and height of a figure in mm with its margin."""
        x0, y0, x1, y1 = figure.bounds
        beside = self.margin + self.plate.beside(self.margin)
        return x1 - x0 + 2 * beside, y1 - y0 + 2 * self.margin + self.below

    def least_size(self, figure: BaseGeometry) -> Point:
        """Return width and height over all that a figure in mm needs."""
        if self.made_as == "piece":
            x0, y0, x1, y1 = figure.bounds
            return x1 - x0, y1 - y0
        if self.shape == "round":
            across = 2 * (self._circle(figure)[1] + self.margin)
            return across, across
        return least_size(self.shape, self._frame_of(figure))

    def _fits(self, figure: BaseGeometry) -> bool:
        """Whether a figure in mm has room in the size over all."""
        size = self.overall_width, self.overall_height
        if self.shape == "round":
            return self.least_size(figure)[0] <= (size[0] or size[1])
        return has_room(self.shape, size, self._frame_of(figure))

    @cached_property
    def width(self) -> float:
        """How wide the figure alone is, before it is rounded."""
        _, _, x1, y1 = self.original.bounds
        if self.made_as == "piece":
            return self.overall_width or self.overall_height * x1 / y1
        low, high = 0.0, max(self.overall_width, self.overall_height * x1 / y1)
        for _ in range(_HALVINGS):
            middle_ = (low + high) / 2
            low, high = (middle_, high) if self._fits(_scaled(self._hull, middle_)) else (low, middle_)
        return low

    @cached_property
    def size(self) -> Point:
        """Width and height of plate or frame: as asked for, else as the figure needs."""
        return self.size_for(self.figure)

    def size_for(self, figure: Metal) -> Point:
        """Return width and height of plate or frame around a figure in mm."""
        if self.shape == "round":
            across = self.overall_width or self.overall_height
            return across, across
        width, height = self.least_size(figure)
        return self.overall_width or width, self.overall_height or height

    @cached_property
    def placed(self) -> Metal:
        """The figure in its place in plate or frame."""
        return self.at_place(self.figure, self.size)

    def at_place(self, figure: Metal, size: Point) -> Metal:
        """Return a figure moved to its place in plate or frame of a size."""
        x, y = middle(self.shape, size)
        if self.shape == "round":
            at = self._circle(figure)[0]
        else:
            x0, y0, x1, y1 = figure.bounds
            at = (x0 + x1) / 2, (y0 + y1 - self.below) / 2
        return affinity.translate(figure, x - at[0], y - at[1])

    def size_problems(self) -> Iterator[Problem]:
        """Yield what of the size over all can't be."""
        if not (self.overall_width or self.overall_height):
            message = "must be more than 0 where no height is given."
            yield self.problem("overall_width", message, {"overall_width": "300"})
            return
        _, _, x1, y1 = self.original.bounds
        names = [name for name in ("overall_width", "overall_height") if getattr(self, name)]
        least = self.least_size(_scaled(self._hull, LEAST if self.overall_width else LEAST * x1 / y1))
        for name in names:
            yield from self.at_least(name, least[name == "overall_height"], "for a figure that can be seen")
        round_ = self.made_as != "piece" and self.shape == "round"
        if round_ and len(names) == 2 and self.overall_height != self.overall_width:
            said = self.said("overall_width")
            message = f"must be {said} too: a round plate is as high as wide."
            yield self.problem("overall_height", message, {"overall_height": said})

    def plate_problems(self) -> Iterator[Problem]:
        """Yield what has no room in plate or frame: corners, border and holes, then the figure beside them."""
        if self.made_as == "piece":
            return
        if self.shape in ("oval", "round") and self.holes == "corners":
            message = "can't be in the corners: this shape has none. Choose sides or top."
            yield self.problem("holes", message, {"holes": "sides"})
            return
        if self.plate.corner_used:
            yield from (large := [*self.at_most("corner_radius", self.plate.most_corner(self.size), "on this plate")])
            if large:
                return
        if self.border and self.border_in:
            yield from self.at_least("border_in", self.plate.web, "to leave as much metal as a bridge has")
        yield from self._hole_problems()
        yield from self._room_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        """Yield a hole that leaves too little metal between itself and what is beside it."""
        if self.holes == "none":
            return
        if self.made_as == "plate":
            if self.hole_in:
                least = self.plate.least_hole_in
                yield from self.at_least("hole_in", least, "to keep metal around the holes")
            return
        wide = self.hole + 2 * self.bridge
        if self.frame:
            yield from self.at_least("frame", wide, "to keep metal around the holes")
        if self.hole_in:
            least, most = (self.plate.hole_far_in(far) for far in (wide / 2, self.frame_wide - wide / 2))
            yield from self.at_least("hole_in", least, "to keep metal around the holes")
            yield from self.at_most("hole_in", most, "in this frame")

    def _room_problems(self) -> Iterator[Problem]:
        """Yield that the figure comes too near to border, holes or frame."""
        plate = self.plate
        if self.made_as == "plate" and plate.holes == "none" and not plate.band and self.shape in _AS_EVER:
            return
        keep = plate.band + (self.slot if self.made_as == "framed" else plate.web)
        free: BaseGeometry = shapely.buffer(metal_of([plate.edge(self.size)]), _SLACK_MM - keep, join_style="mitre")
        if self.made_as == "plate":
            around = plate.hole / 2 + plate.web - _SLACK_MM
            free = shapely.difference(free, shapely.union_all([disc(at, around) for at in plate.holes_at(self.size)]))
        if shapely.contains(free, self.placed):
            return
        least = max(plate.least_margin, keep)
        if self.margin < least:
            yield from self.at_least("margin", least, "to keep the figure off what is at the edge")
        else:
            yield self.problem("margin", "leaves the figure too near to what is at the edge; make it larger.")


def _scaled(figure: BaseGeometry, by: float) -> BaseGeometry:
    return affinity.scale(figure, by, by, origin=(0, 0))


_AS_EVER = ("rounded", "rectangle")
# What is near to the edge alone is told as a finding.
