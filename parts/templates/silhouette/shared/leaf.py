"""The blade of a leaf: its outline from base to tip in tangent arcs, in closed form, symmetric about the y axis.

side      the arcs of the right side, walked from the base up to where the tip's round begins
belly     the height at which the blade is widest
flare     the hollow arc by which the blade runs out into its stem
clearance how far a point within the blade is from its edge
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.cached import cached_property
from parts.errors import GeometryError
from parts.geometry import Arc, Point, Vertex, distance
from parts.templates.silhouette.shared.tapered import apart_from_both
from parts.tolerance import SAME_POINT_MM
from parts.units import format_figures

FLARE = 0.32
"""The flare's radius as a share of flare and lower arc together: a soft run-out without a waist (by eye)."""

STEEPEST, DRAWN = 1.5, 0.78
"""Lean of a drawn-out tip's flank where it turns hollow, and at the tip's round, over the straight way's lean.

The full arc's chord leans by half of STEEPEST, the hollow one's by the mean of both; the straight way's
lean must lie between, so that both radii are positive. Within that, drawn by eye.
"""


@dataclass(frozen=True)
class Blade:
    """The base is at the origin, the tip at (0, length). Lengths are mm.

    `stem` is the width of the stem that the base runs out into, or 0 for a base rounded as the tip is.
    Length less belly is more than half the width, and so is belly where there is no stem: then no arc
    turns by a quarter turn or more. With a drawn-out tip, the radius is at most a sixth of the width.
    """

    length: float
    width: float
    belly: float
    tip_radius: float
    drawn_out: bool
    stem: float

    @cached_property
    def upper(self) -> tuple[Arc, ...]:
        """The right side from the belly up to the tip's round."""
        half, rise, t = self.width / 2, self.length - self.tip_radius - self.belly, self.tip_radius
        if not self.drawn_out:
            arc = self._plain(rise)
            return (_raised(arc, self.belly),)
        lean = math.atan2(half - t, rise)
        steepest, drawn = STEEPEST * lean, DRAWN * lean
        # Across and up from the belly to the tip's round is the sum over both arcs of radius times what it spans.
        across, up = half - t * math.cos(drawn), rise + t * math.sin(drawn)
        full = 1 - math.cos(steepest), math.sin(steepest)
        hollow = math.cos(drawn) - math.cos(steepest), math.sin(steepest) - math.sin(drawn)
        radius = (across * hollow[1] - up * hollow[0]) / (full[0] * hollow[1] - full[1] * hollow[0])
        turning = half - radius * full[0], self.belly + radius * full[1]
        end = t * math.cos(drawn), self.length - t + t * math.sin(drawn)
        return (
            Arc((half, self.belly), turning, math.tan(steepest / 4)),
            Arc(turning, end, -math.tan((steepest - drawn) / 4)),
        )

    @cached_property
    def lower(self) -> tuple[Arc, ...]:
        """The right side from the base up to the belly."""
        half = self.width / 2
        if not self.stem:
            arc = self._plain(self.belly - self.tip_radius)
            start, end = ((x, self.belly - y) for x, y in (arc.end, arc.start))
            return (Arc(start, end, arc.bulge),)
        # A reversed curve between two uprights: both arcs turn by twice the lean of the straight way.
        turn = 2 * math.atan2(half - self.stem / 2, self.belly)
        flare = FLARE * self.belly / math.sin(turn)
        turning = self.stem / 2 + flare * (1 - math.cos(turn)), flare * math.sin(turn)
        bulge = math.tan(turn / 4)
        return Arc((self.stem / 2, 0.0), turning, -bulge), Arc(turning, (half, self.belly), bulge)

    def _plain(self, rise: float) -> Arc:
        """The arc from (width / 2, 0) to the tip's round, whose centre is `rise` up the axis.

        A circle of radius R about (w/2 - R, 0) holds the round, touching it, where its centre is R - t
        from the round's: R = (w²/4 + rise² - t²) / (w - 2t).
        """
        half, t = self.width / 2, self.tip_radius
        radius = (half**2 + rise**2 - t**2) / (2 * (half - t))
        turn = math.atan2(rise, radius - half)
        return Arc((half, 0.0), (t * math.cos(turn), rise + t * math.sin(turn)), math.tan(turn / 4))

    @property
    def side(self) -> tuple[Arc, ...]:
        """All arcs of the right side, from the base up."""
        return self.lower + self.upper

    @cached_property
    def vertices(self) -> list[Vertex]:
        """The outline counter-clockwise from the right of the base; with a stem it ends above the base's left."""
        right = [(*arc.start, arc.bulge) for arc in self.side]
        left = [(-arc.end[0], arc.end[1], arc.bulge) for arc in reversed(self.side)]
        top, foot = self.side[-1].end, self.side[0].start
        around_tip = math.pi - 2 * math.atan2(top[1] - self.length + self.tip_radius, top[0])
        outline = [*right, (*top, math.tan(around_tip / 4)), *left]
        if self.stem:
            return outline
        around_base = math.pi - 2 * math.atan2(self.tip_radius - foot[1], foot[0])
        return [*outline, (-foot[0], foot[1], math.tan(around_base / 4))]

    def edge_by(self, p: Point) -> Point:
        """Return the point of the edge nearest to a point on the axis, on the right where there are two."""
        ends = [(0.0, self.length)] if self.stem else [(0.0, self.length), (0.0, 0.0)]
        return min([*ends, *(arc.nearest(p) for arc in self.side)], key=lambda q: distance(p, q))

    def highest(self, clearance: float) -> float:
        """Return the height of the highest point on the axis with this clearance.

        Raises:
            GeometryError: if no point above the belly has it.
        """
        if clearance <= self.tip_radius:
            return self.length - clearance
        return max(_at_least_one(self._on_axis(self.upper, clearance), clearance))

    def lowest(self, clearance: float) -> float:
        """Return the height of the lowest point on the axis with this clearance, not below the base.

        Raises:
            GeometryError: if no point below the belly has it.
        """
        if clearance <= self.stem / 2:
            return 0.0
        if not self.stem and clearance <= self.tip_radius:
            return clearance
        return min(_at_least_one(self._on_axis(self.lower, clearance), clearance))

    def _on_axis(self, arcs: tuple[Arc, ...], clearance: float) -> list[float]:
        """Heights at which the axis crosses what is left of the arcs when each is moved in by the clearance."""
        heights = []
        for arc in arcs:
            (x, y), inner = arc.centre, _moved_in(arc, clearance)
            if inner > abs(x):
                rise = math.sqrt(inner**2 - x**2)
                heights += [at for at in (y - rise, y + rise) if arc.covers(foot_on(arc, (0.0, at)))]
        return heights

    def run_out(self, start: Point, centre: Point, clearance: float) -> Point | None:
        """Return where an arc about `centre` that turns left from `start` is down to a clearance first, or None.

        Only the right side's edge counts, and the first half turn.
        """
        radius, ends = distance(start, centre), []
        for arc in self.side:
            inner = _moved_in(arc, clearance)
            ends += [
                (turned, q)
                for q in _crossings(centre, radius, arc.centre, inner)
                if arc.covers(foot_on(arc, q)) and 0 < (turned := _turned(start, q, centre)) < math.pi
            ]
        return min(ends)[1] if ends else None


def foot_on(arc: Arc, p: Point) -> Point:
    """Return the point of an arc's whole circle on the same side of its centre as `p`."""
    (x, y), away = arc.centre, distance(arc.centre, p)
    share = arc.radius / max(away, SAME_POINT_MM)
    return x + share * (p[0] - x), y + share * (p[1] - y)


def _raised(arc: Arc, by: float) -> Arc:
    return Arc((arc.start[0], arc.start[1] + by), (arc.end[0], arc.end[1] + by), arc.bulge)


def _moved_in(arc: Arc, clearance: float) -> float:
    """Radius of an arc of the side moved into the blade: less where it is full, more where it is hollow."""
    return arc.radius - math.copysign(clearance, arc.bulge)


def _at_least_one(heights: list[float], clearance: float) -> list[float]:
    if not heights:
        raise GeometryError(f"No point on the axis is {format_figures(clearance)} from the edge of the blade.")
    return heights


def _crossings(a: Point, radius_a: float, b: Point, radius_b: float) -> Iterator[Point]:
    """Yield where two circles cross, at most two points."""
    if abs(radius_a - radius_b) < distance(a, b) < radius_a + radius_b and min(radius_a, radius_b) > 0:
        yield apart_from_both(a, b, radius_a, radius_b)
        yield apart_from_both(b, a, radius_b, radius_a)


def _turned(start: Point, end: Point, centre: Point) -> float:
    """The angle from start to end about a centre, to the left, from 0 to a full turn."""
    angles = [math.atan2(p[1] - centre[1], p[0] - centre[0]) for p in (start, end)]
    return (angles[1] - angles[0]) % (2 * math.pi)
