r"""Bumper wing: the end of a bumper, running back from the face; its tabs go through the slots in the face.

            reach
     ________________________
    |      ( )         o   o  \
   =|  tab     lamp    holes  |   height at the face, end_height at the rear
    |                         |   flat: how far the lower edge runs level
   =|  tab             ______/
    |___flat__________/

It stands square to the face. Left and right are mirror images, seen from outside the vehicle.
"""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, circle, distance, fillet, largest_fillet, polygon, row, translation
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, When, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.feature import MIRROR
from parts.templates.shared.tabs import TabbedEdge

_LAMP = "Side lamp"


class BumperWing(TabbedEdge, BoltHoles):
    """The lower end of the edge at the face is at the origin; the wing runs along x."""

    shared_when: ClassVar[Mapping[str, When]] = {"bolt": ("holes",)}

    hand: str = choice(
        "Side of the vehicle", default="left", choices=("left", "right", "pair"),
        help="Right is the mirror image of left; pair: both in one drawing.",
    )  # fmt: skip
    reach: float = length("Length", default=400, minimum=60, maximum=1500, help="Back from the face.")
    height: float = length("Height at the face", default=130, minimum=40, maximum=800)
    end_height: float = length(
        "Height at the rear", default=80, minimum=15, maximum=800, help="Tyre clearance.", moves="care"
    )
    flat: float = length(
        "Lower edge level for", default=140, minimum=5, maximum=1400, help="From the face; then it rises.", moves="care"
    )
    corner_radius: float = length("Corner radius", default=25, minimum=0, maximum=300, moves="free")
    holes: int = count("Holes for the stay", default=2, minimum=0, maximum=8, help="Along the upper edge.")
    hole_in: float = length(
        "Last hole from the rear", default=35, minimum=3, maximum=1400, group="Holes", when=("holes",), moves="care"
    )
    hole_down: float = length(
        "Holes from the upper edge", default=40, minimum=3, maximum=780, group="Holes", when=("holes",), moves="care"
    )
    pitch: float = length("Hole spacing", default=60, minimum=4, maximum=1000, group="Holes", when=("holes", "2"))
    lamp: float = length("Lamp opening", default=0, minimum=0, maximum=500, group=_LAMP, help="Diameter; 0 for none.")
    lamp_in: float = length(
        "Lamp centre from the face", default=100, minimum=5, maximum=1400, group=_LAMP, when=("lamp",), moves="care"
    )
    lamp_down: float = length(
        "Lamp centre from the upper edge", default=65, minimum=5, maximum=780, group=_LAMP, when=("lamp",), moves="care"
    )
    between: float = length("Holes for the stay, apart", default=25, minimum=1, maximum=500, when=("hand", "pair"))

    @property
    def rise(self) -> float:
        """How far the lower edge rises to the rear."""
        return self.height - self.end_height

    @cached_property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the lower end of the edge at the face, without the tabs."""
        r, end = self.corner_radius, self.reach
        knee = [fillet(self.flat, 0, r)] if self.rise else []
        return [(0.0, 0.0), *knee, fillet(end, self.rise, r), fillet(end, self.height, r), (0.0, self.height)]

    @cached_property
    def edge(self) -> Loop:
        """The outline without the tabs.

        Raises:
            GeometryError: if it can't be drawn.
        """
        return polygon(self.corners)

    @cached_property
    def most_round(self) -> float:
        """The largest radius that fits the corners."""
        return largest_fillet(self.corners)

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes, the one nearest the rear first."""
        x, y = self.reach - self.hole_in, self.height - self.hole_down
        return row((x, y), (x - (self.holes - 1) * self.pitch, y), self.holes) if self.holes else ()

    @property
    def lamp_at(self) -> Point:
        """Centre of the lamp opening."""
        return self.lamp_in, self.height - self.lamp_down

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the outline doesn't close, tabs have no room, or an opening leaves the wing."""
        clash = [*self.at_most("end_height", self.height, "the height at the face")]
        if self.rise > 0:
            clash += self.under("flat", self.reach, "to rise before the rear")
        clash = clash or [*self.over("flat", self.relief_radius, "beyond the reliefs of the tabs")]
        clash = clash or [*self.at_most("corner_radius", self.most_round, "to fit the corners")]
        yield from clash or self.tab_problems(0.0, self.height)
        if not clash:
            yield from self._opening_problems()

    def _opening_problems(self) -> Iterator[Problem]:
        half = self.hole_size / 2
        if self.holes:
            yield from self.over("hole_in", half, "inside the rear")
            yield from self.over("hole_down", half, "below the upper edge")
            yield from self.under("hole_down", self.height - half, "in the height of the wing")
            yield from self.under("hole_in", self.reach - half, "in the length of the wing")
        if self.holes > 1:
            yield from self.over("pitch", self.hole_size, "to keep metal between the holes")
            room = self.reach - self.hole_in - half - self.relief_radius
            yield from self.under("pitch", room / (self.holes - 1), "to stay clear of the edge at the face")
        if self.lamp:
            yield from self.over("lamp_in", self.lamp / 2 + self.relief_radius, "to clear the reliefs of the tabs")
            yield from self.over("lamp_down", self.lamp / 2, "below the upper edge")
            if any(distance(self.lamp_at, at) <= self.lamp / 2 + half for at in self.centres):
                yield self.tight("lamp_in", "beside the holes for the stay")
        over = [self._over(at, half) for at in self.centres]
        if any(over):
            yield self.tight("hole_down", "above the lower edge", max(over))
        if self.lamp and (by := self._over(self.lamp_at, self.lamp / 2)):
            yield self.tight("lamp_down", "above the lower edge", by)

    def _over(self, at: Point, radius: float) -> float:
        """How far a round opening reaches over the edge, 0 if it doesn't: over the box round it, or infinite."""
        (x, y), wide, high = at, self.reach - radius, self.height - radius
        beyond = max(radius - x, x - wide, radius - y, y - high)
        if beyond > 0:
            return beyond
        return 0.0 if self._holds(at, radius) else math.inf

    def _holds(self, at: Point, radius: float) -> bool:
        """Whether a round opening there, inside the box round the edge, stays inside the edge."""
        return self.edge.contains(at) and all(distance(at, each.nearest(at)) > radius for each in self.edge.segments)


def outline(p: BumperWing) -> Profile:
    """Draw the wing of the left side, and its mirror image where it is the right one."""
    inside = p.holes_at(p.centres, "hole for the stay", "hole_in")
    if p.lamp:
        inside += (Opening(circle(p.lamp_at, p.lamp), "lamp opening", "lamp"),)
    left = Profile((polygon([*p.corners, *p.tab_corners]),), inside, dimensions=tuple(dimensions(p)))
    right = left.moved(MIRROR)
    return {"left": left, "right": right, "pair": _both(p, left, right)}[p.hand]


def _both(p: BumperWing, left: Profile, right: Profile) -> Profile:
    """The right wing above the left one, each dimension on the side where nothing lies in its way."""
    over = right.moved(translation(p.reach - p.depth, p.height + p.between))
    shown = [d for d in left.dimensions if d.style != "above"] + [d for d in over.dimensions if d.style == "above"]
    shown.append(Dimension("between", (p.reach / 2, p.height), (p.reach / 2, p.height + p.between), "right"))
    names = "left wing", "right wing"
    return Profile((*left.outside, *over.outside), (*left.inside, *over.inside), (), tuple(shown), names)


def dimensions(p: BumperWing) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    end, high, r = p.reach, p.height, p.corner_radius
    yield Dimension("reach", (0, 0), (end, p.rise), "below")
    yield Dimension("height", (0, 0), (0, high), "left")
    yield Dimension("end_height", (end, p.rise), (end, high), "right")
    if p.rise:
        yield Dimension("flat", (0, 0), (p.flat, 0), "below")
    if r:
        yield Dimension("corner_radius", (end - r, high - r), (end, high - r), "radius")
    yield from p.tabs_measured()
    if p.holes:
        last = p.centres[0]
        yield Dimension("hole_in", last, (end, last[1]), "above")
        yield Dimension("hole_down", last, (end, high), "right")
        if p.holes > 1:
            yield Dimension("pitch", p.centres[1], last, "above")
        yield from p.hole_measured(last)
    if p.lamp:
        x, y = p.lamp_at
        yield Dimension("lamp_in", (0, high), (x, y), "above")
        yield Dimension("lamp_down", (x, y), (x, high), "right")
        yield Dimension("lamp", (x, y), (x + p.lamp / 2, y), "diameter")


TEMPLATE = Template(
    "bumper-wing",
    "Bumper wing",
    BumperWing,
    outline,
    summary="The end of a bumper, left, right or both: its tabs go through the wing slots of a face plate of like "
    "values (small, medium and large set).",
    cautions=(
        "A bumper changes how a vehicle crashes, and wings reach what turns and what walks beside it: tyre clearance "
        "at full lock and travel, sensors, lamps and people on foot. Local vehicle rules and type approval come first.",
        "Ends and corners stay rounded and inside the vehicle's width: local rules say how far and to what radius.",
    ),
    words=("vehicle", "truck", "end", "return", "side", "corner", "wrap", "tab", "slot", "weld", "left", "right"),
    set_of="bumper",
    presets=(
        Preset(
            "Small set: 1500 by 200 face",
            "reach=300 height=110 end_height=70 flat=110 tab_pitch=46",
            inch_name="Small set: 60 by 8 in face",
            inches="tab_pitch=1-7/8",
        ),
        Preset("Medium set: 1800 by 250 face", inch_name="Medium set: 72 by 10 in face"),
        Preset("Medium set, left and right in one drawing", "hand=pair"),
        Preset(
            "Large set: 2000 by 300 face",
            "reach=520 height=170 end_height=100 tab_pitch=100 flat=200",
            inch_name="Large set: 78 by 12 in face",
        ),
        Preset("Farm pick-up, right, side lamp", "hand=right lamp=60 lamp_down=60"),
        Preset("Trailer rear, level", "reach=250 end_height=130 holes=0 corner_radius=15"),
    ),
)
