"""The veins of a leaf, slots that taper along arcs, and where beside the midrib they have room."""

import math
from dataclasses import dataclass

from parts.errors import GeometryError
from parts.geometry import Circle, Loop, Point, distance, meetings
from parts.geometry.narrow import necks
from parts.templates.silhouette.shared.leaf import Blade
from parts.templates.silhouette.shared.tapered import curved

FIRST_VEIN, LAST_VEIN = 0.05, 0.7
"""The lowest and the highest place where veins leave the midrib, as shares of its flank (by eye)."""

SHORTEST_VEIN = 2.0
"""A vein's arc is at least this many times as long as the vein is wide; shorter it looks like a hole."""


@dataclass(frozen=True)
class Vein:
    """A right-hand vein: an arc from `start` at the midrib to `end` by the edge, turning left about `centre`."""

    start: Point
    end: Point
    centre: Point

    @property
    def radius(self) -> float:
        """Radius of the arc."""
        return distance(self.start, self.centre)

    @property
    def lean(self) -> float:
        """Angle from the axis at the end, where it is least; the heading is square to the way from the centre."""
        return math.atan2(self.centre[1] - self.end[1], self.end[0] - self.centre[0])

    @property
    def length(self) -> float:
        """Length of the arc."""
        return 2 * self.radius * math.asin(min(distance(self.start, self.end) / (2 * self.radius), 1.0))

    def loop(self, width: float, end: float) -> Loop:
        """Return the slot along the arc, `width` wide at the midrib and `end` at its end."""
        return curved(Circle(self.start, width), Circle(self.end, end), self.radius)


@dataclass(frozen=True)
class Veining:
    """Pairs of veins beside a midrib, evenly along it, a bridge from it, from each other and from the blade's edge.

    Args:
        blade: the leaf's outline.
        midrib: both ends of the midrib, the foot first.
        widths: of a vein at the midrib and at its end, mm.
        lean: angle of the veins to the axis at the midrib, rad.
        curve: radius of the veins' arcs, mm.
        bridge: the least metal between, mm.
    """

    blade: Blade
    midrib: tuple[Circle, Circle]
    widths: tuple[float, float]
    lean: float
    curve: float
    bridge: float

    @property
    def flank(self) -> tuple[float, float]:
        """Length of the midrib's straight flank, and the sine of its lean toward the axis."""
        foot, top = self.midrib
        apart, taper = top.centre[1] - foot.centre[1], (foot.diameter - top.diameter) / 2
        return math.sqrt(max(apart**2 - taper**2, 0.0)), taper / apart

    def vein(self, share: float) -> Vein | None:
        """Return the right-hand vein that leaves the midrib at a share of its flank, or None if it has no room."""
        (flank, sine), (_, foot), (width, end) = self.flank, self.midrib[0].centre, self.widths
        cosine, away = math.sqrt(1 - sine**2), (self.midrib[0].diameter + width) / 2 + self.bridge
        start = cosine * away - sine * share * flank, foot + sine * away + cosine * share * flank
        centre = start[0] - self.curve * math.cos(self.lean), start[1] + self.curve * math.sin(self.lean)
        last = self.blade.run_out(start, centre, self.bridge + end / 2)
        return Vein(start, last, centre) if last else None

    @property
    def zone(self) -> tuple[float, float]:
        """Where the lowest and the highest vein leave the midrib, as shares of its flank.

        A circle on the axis that holds the round end of a vein and a bridge beyond fits the blade at the
        lowest; at the highest one that holds a shortest vein besides.

        Raises:
            GeometryError: if the blade is nowhere so wide.
        """
        foot, (flank, _), (width, _) = self.midrib[0], self.flank, self.widths
        clear = max(foot.diameter, 0.0) / 2 + 2 * self.bridge + width
        low = self.blade.lowest(clear) - foot.centre[1]
        high = self.blade.highest(clear + SHORTEST_VEIN * width) - foot.centre[1]
        return max(FIRST_VEIN, low / flank), min(LAST_VEIN, high / flank)

    def veins(self, pairs: int) -> list[Vein | None]:
        """Return the right-hand veins of so many pairs, from the lowest up.

        Raises:
            GeometryError: if the blade is nowhere wide enough.
        """
        if not pairs:
            return []
        low, high = self.zone
        if pairs == 1:
            return [self.vein((low + high) / 2)]
        return [self.vein(low + (high - low) * i / (pairs - 1)) for i in range(pairs)]

    def room_for(self, pairs: int) -> bool:
        """Tell whether so many pairs are all long enough, lean outward, and keep a bridge from each other."""
        if not pairs:
            return True
        try:
            drawn = [vein for vein in self.veins(pairs) if vein]
            loops = [vein.loop(*self.widths).running(counter_clockwise=False) for vein in drawn]
        except GeometryError:
            return False
        if len(drawn) < pairs or any(vein.lean <= 0 for vein in drawn):
            return False
        if any(vein.length < SHORTEST_VEIN * self.widths[0] for vein in drawn):
            return False
        return not any(meetings(loops)) and not necks(loops, self.bridge)
