"""Leaders: radius and diameter dimensions, and call-outs of holes, each put where it covers least.

leader  a line from an arrowhead on the part to a shelf
shelf   the horizontal end of a leader that the lettering stands on
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeGuard

import numpy as np
from numpy.typing import NDArray

from parts.drawing.frame import Frame
from parts.drawing.ink import Boxes
from parts.drawing.kept import Way
from parts.drawing.primitives import ASCENT, DESCENT, Anchor, Arrow, Group, Path, Text, text_width
from parts.drawing.room import COST_PLACES, Occupancy
from parts.geometry import Arc, Line, Point, Segment, distance
from parts.geometry.search import Floats, Indices
from parts.profile import Dimension, Profile
from parts.tolerance import TANGENT_MM as SAME_ARC_MM

REACHES = (1.5, 2.2, 3.0, 4.0, 5.5, 7.5, 10.0, 14.0, 20.0, 30.0)
"""Lengths of leaders to try, in sizes of lettering."""

ALONG = (0.5, 0.25, 0.75, 0.1, 0.9)
"""Where along an arc its leader may point, as shares of its length."""

ACROSS, UNDER_LETTERING, GROWTH = 0.8, 2.5, 2.0
"""What a leader costs by the ink it runs over and by the ink under its lettering, in sizes of lettering; and by each mm
that it makes the drawing grow, which leaves the part smaller."""

STEEP = 0.45
"""Horizontal part of a unit vector below which a leader that comes from below touches its own lettering."""

ACROSS_LEADER = 60.0
"""What a leader costs by each other one that it crosses, in sizes of lettering: more than to go round."""

AT_ONCE = 32
"""Leaders that are looked at together, those first that may cost least."""

_AIMS = tuple(math.radians(a) for a in (45, 135, 315, 225, 30, 60, 120, 150, 210, 240, 300, 330))


@dataclass(frozen=True, slots=True)
class SightLine:
    """Where a leader may run: from `tip` along the unit vector `away`, at least `least` long."""

    tip: Point
    away: Point
    least: float = 0.0


@dataclass(frozen=True, slots=True)
class Leader:
    """One way to draw a leader."""

    sight: SightLine
    elbow: Point
    text: Text
    way: Way

    @property
    def lines(self) -> tuple[Line, Line]:
        """The slanting line and the shelf."""
        way = 1 if self.text.anchor == "start" else -1
        end = self.text.at[0] + way * self.text.width, self.elbow[1]
        return Line(self.sight.tip, self.elbow), Line(self.elbow, end)

    def group(self, parameter: str, frame: Frame) -> Group:
        """Return it as a dimension."""
        ux, uy = self.sight.away
        arrow = Arrow(self.sight.tip, (-ux, -uy), frame.sizes.arrow)
        return Group("dimension", (Path("dimension", self.lines), arrow, self.text), parameter, way=self.way)


def radius(frame: Frame, centre: Point, on_arc: Point, arcs: Sequence[Arc]) -> tuple[SightLine, ...]:
    """Return the sights of a radius: from outside towards the centre, or through the centre.

    Where the part has `arcs` of it, it may be pointed at anywhere along these, and nowhere else.
    """
    c, r = frame.point(centre), distance(centre, on_arc) * frame.scale
    through = [arc for arc in arcs if arc.covers(on_arc)]
    tips = [on_arc] if through or not arcs else []
    tips += [arc.at(part) for arc in through or arcs for part in ALONG]
    sights = []
    for p in map(frame.point, tips):
        ux, uy = (p[0] - c[0]) / r, (p[1] - c[1]) / r
        sights += [SightLine(p, (ux, uy)), SightLine(p, (-ux, -uy), r)]
    return tuple(sights)


def arcs_about(profile: Profile, dimension: Dimension) -> Iterator[Arc]:
    """Yield the arcs of the part's boundary that have a radius or a diameter."""
    centre, half = dimension.start, dimension.measured / (2 if dimension.style == "diameter" else 1)
    for segment in (s for loop in profile.boundary for s in loop.segments):
        if is_about(segment, centre, half):
            yield segment


def is_about(segment: Segment, centre: Point, radius: float) -> TypeGuard[Arc]:
    """Tell whether a segment is an arc about a centre with a radius, as drawn by a template."""
    return (
        isinstance(segment, Arc)
        and abs(segment.radius - radius) <= SAME_ARC_MM
        and distance(segment.centre, centre) <= SAME_ARC_MM
    )


def diameter(frame: Frame, centre: Point, diameter: float) -> tuple[SightLine, ...]:
    """Return the sights of a circle's diameter: from all round towards the centre."""
    return _sights(frame, centre, diameter, _AIMS)


def diameter_of_arcs(frame: Frame, centre: Point, diameter: float, arcs: Sequence[Arc]) -> tuple[SightLine, ...]:
    """Return the sights of the diameter of a circle that the part has only arcs of: at those, from all round."""
    (x, y), r = centre, diameter / 2
    aims = [aim for aim in _AIMS if any(a.covers((x + r * math.cos(aim), y + r * math.sin(aim))) for a in arcs)]
    if not aims:
        middles = [arc.at(0.5) for arc in arcs]
        aims = [math.atan2(p[1] - y, p[0] - x) for p in middles]
    return _sights(frame, centre, diameter, aims or _AIMS)


def _sights(frame: Frame, centre: Point, diameter: float, aims: Iterable[float]) -> tuple[SightLine, ...]:
    (x, y), r = frame.point(centre), diameter / 2 * frame.scale
    units = [(math.cos(aim), math.sin(aim)) for aim in aims]
    return tuple(SightLine((x + r * ux, y + r * uy), (ux, uy)) for ux, uy in units)


def place(frame: Frame, room: Occupancy, sights: Sequence[SightLine], text: str, before: Way | None = None) -> Leader:
    """Return the leader that costs least, having taken its room; the first of those that cost the same.

    Where it costs hardly more than `before`, it is the one that was taken then.
    """
    chosen = (before and _as_before(frame, room, sights, text, before)) or _cheapest(frame, room, sights, text)
    room.claim(chosen.text.outline)
    room.draw(chosen.lines, 1.0)
    room.lead(chosen.lines)
    return chosen


def _as_before(frame: Frame, room: Occupancy, sights: Sequence[SightLine], text: str, before: Way) -> Leader | None:
    """The leader of a former drawing, None where it would cost more than it may."""
    reach, sight = divmod(before.which, len(sights))
    ways = Ways.of(frame, sights[sight : sight + 1], text, REACHES[reach : reach + 1])
    if not len(ways.lengths):
        return None
    costs = ways.least_costs(room)
    only = np.zeros(1, dtype=np.int64)
    if costs[0] <= before.most and ways.crossing_costs(room, only, costs)[0] <= before.most:
        return ways.leader(0, before)
    return None


def _cheapest(frame: Frame, room: Occupancy, sights: Sequence[SightLine], text: str) -> Leader:
    ways = Ways.of(frame, sights, text)
    costs = ways.least_costs(room)
    best, least = 0, math.inf
    order = np.argsort(costs, kind="stable")
    for start in range(0, len(order), AT_ONCE):
        some = order[start : start + AT_ONCE]
        some = some[(costs[some] <= least) & (costs[some] < math.inf)]
        if not len(some):
            break
        whole_costs = ways.crossing_costs(room, some, costs[some]) + 3 * frame.sizes.text * ways.on_material(some)
        for whole, k in zip(whole_costs.tolist(), some.tolist(), strict=True):
            if whole < least or (whole == least and k < best):
                best, least = k, whole
    return ways.leader(best, Way(best, least if least < math.inf else 0.0))


@dataclass(frozen=True, slots=True)
class Ways:
    """Every way to draw a leader, as arrays: each length of `REACHES` from each sight, the shorter lengths first."""

    frame: Frame
    sights: Sequence[SightLine]
    text: str
    tips: Floats
    elbows: Floats
    away: Floats
    lengths: Floats

    @classmethod
    def of(cls, frame: Frame, sights: Sequence[SightLine], text: str, reaches: Sequence[float] = REACHES) -> "Ways":
        """Return the ways from some sights, of some lengths."""
        rows = np.array([(*sight.tip, *sight.away, sight.least) for sight in sights])
        x, y, ux, uy, least = np.tile(rows.T, len(reaches))
        length = least + np.repeat(np.array(reaches) * frame.sizes.text, len(sights))
        tips, elbows = np.array((x, y)), np.array((x + ux * length, y + uy * length))
        dx, dy = elbows - tips
        lengths = np.array([*map(math.hypot, dx.tolist(), dy.tolist())])  # as `Line.length` is, to the last bit
        return cls(frame, sights, text, tips, elbows, np.array((ux, uy)), lengths)

    def leader(self, k: int, way: Way) -> Leader:
        """Return one of them, which is that way."""
        sight, (x, y), sizes = self.sights[k % len(self.sights)], self.elbows[:, k].tolist(), self.frame.sizes
        anchor: Anchor = "start" if sight.away[0] >= 0 else "end"
        beside = x + float(self._beside[k])
        return Leader(sight, (x, y), Text((beside, y + sizes.gap), self.text, sizes.text, anchor), way)

    @property
    def _beside(self) -> Floats:
        """How far from its elbow the lettering of each begins: off it where the leader comes steeply from above."""
        ux, uy = self.away
        steep = (uy < 0) & (abs(ux) < STEEP)
        return np.where(steep, np.where(ux >= 0, self.frame.sizes.gap, -self.frame.sizes.gap), 0.0)

    def least_costs(self, room: Occupancy) -> Floats:
        """Return what each costs at least, in mm of paper: its length, its lettering, how the drawing grows.

        Infinite where its lettering isn't free.
        """
        size = self.frame.sizes.text
        ux, uy = self.away
        costs: Floats = self.lengths + np.where((uy < 0) & (abs(ux) < STEEP), 4 * size, 0.0)  # up along its lettering
        boxes = self._lettered()
        under = UNDER_LETTERING * (2 if room.apart else 1)
        costs += under * size * room.cover_boxes(boxes) + GROWTH * room.growth_boxes(boxes)
        costs[~room.free_boxes(boxes)] = math.inf
        return costs.round(COST_PLACES)

    def crossing_costs(self, room: Occupancy, some: Indices, costs: Floats) -> Floats:
        """Return the costs of some of them, given what they cost at least, with the ink and lettering they run over."""
        size, tips, elbows = self.frame.sizes.text, self.tips[:, some], self.elbows[:, some]
        beyond = tips + np.minimum(1.0, size / self.lengths[some]) * (elbows - tips)  # of its arrowhead
        costs = costs + ACROSS * size * room.along_lines(np.concatenate((beyond, elbows)))
        costs += 8 * size * room.crossed_lines(np.concatenate((tips, elbows)))
        if room.apart:
            width = np.where(self.away[0, some] >= 0, 1.0, -1.0) * text_width(self.text, size)
            ends = np.array((elbows[0] + self._beside[some] + width, elbows[1]))
            for lines in ((tips, elbows), (elbows, ends)):
                costs += ACROSS_LEADER * size * room.crossed_leaders(np.concatenate(lines))
        return costs.round(COST_PLACES)

    def on_material(self, some: Indices) -> NDArray[np.bool_]:
        """Tell whether the middle of the base line of the lettering of some of them is on the part."""
        half = text_width(self.text, self.frame.sizes.text) / 2
        x, y = self.elbows[:, some]
        return self.frame.solid_about(x + np.where(self.away[0, some] >= 0, half, -half), y + self.frame.sizes.gap)

    def _lettered(self) -> Boxes:
        """The room that the lettering of each takes with a margin all round, as `Text.outline_with` says."""
        sizes, width = self.frame.sizes, text_width(self.text, self.frame.sizes.text)
        margin = sizes.gap / 2
        start = np.where(self.away[0] >= 0, -0.0, -width) + self._beside
        low, high = -DESCENT * sizes.text - margin, ASCENT * sizes.text + margin
        x, y = self.elbows[0], self.elbows[1] + sizes.gap
        return x + (start - margin), y + low, x + (start + width + margin), y + high
