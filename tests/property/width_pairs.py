"""Narrow places by brute force over every pair of pieces of boundary, with closed forms of its own.

Pieces are the joints and what lies between two joints, a line or an arc. Every pair of pieces has its critical
chords: joint and joint; the foot of a joint on a line or circle; the foot of a circle's centre on a line; the line
through two centres. At each end the boundary goes two ways, so that the chord's length is a smooth function
of two lengths walked on each of four quadrants. With r the vector of the chord, u its direction,
D = |r|, and x, y the lengths walked at either end:

    D_x = u . r_x      D_xx = (r_x . r_x - (u . r_x)^2) / D + u . r_xx      D_xy = (r_x . r_y - (u . r_x)(u . r_y)) / D

A chord is a place where on every quadrant the first derivatives aren't negative, nor is the second one along a
way on which the first is nought, nor, where both are, the Hessian on the quadrant (it is copositive), and
where no piece of boundary comes into the circle on the chord.

Parallel lines and concentric arcs face each other in a *run*: its free stretches are found by halving, the
clearance of the circle being a function that changes no faster than its centre moves. Nothing here is taken from
parts/geometry but the ends and bulges of the segments.

What is decided by less than `HAIR` and more than rounding explains (`ROUNDING`) is *doubtful*: it may be told
of or not. So is the *fan* between a corner and an arc about it, whose chords are all of one length.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc

Floats = NDArray[np.float64]

ROUNDING = 1e-10
"""What rounding may make of a nought: of slopes (rad), ratios, and clearances (mm)."""
HAIR = 1e-7
"""What is further from nought than this is surely not nought."""
SAME_MM = 2e-5
"""Chords whose ends lie closer than this may be told of as one."""
TOUCH_MM = 2e-9
"""A circle this little into a piece only touches it."""
RESOLVED_MM = 5e-6
"""How closely the ends of free stretches are found."""
SHORT_RUN_MM = 1e-4
"""A run no longer than this may be told of or not."""


@dataclass
class Place:
    """A narrow place: the chords found on it (n x 2 x 2), its width, the runs through it, whether it is sure."""

    width: float
    chords: Floats
    sure: bool
    runs: list["Stretch"] = field(default_factory=list)


@dataclass(frozen=True)
class Stretch:
    """The centres of the circles across two pieces at one distance, on a line or an arc: start, end, bend.

    For a line `bend` is None, for an arc its centre, radius, first angle and sweep to the left.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    bend: tuple[float, float, float, float, float] | None
    width: float

    @property
    def length(self) -> float:
        """Length in mm."""
        return self.bend[2] * self.bend[4] if self.bend else math.dist(self.start, self.end)

    def at(self, f: Floats) -> Floats:
        """Points at shares of the length."""
        f = np.asarray(f, dtype=float)
        if self.bend:
            cx, cy, r, a, sweep = self.bend
            return np.stack([cx + r * np.cos(a + f * sweep), cy + r * np.sin(a + f * sweep)], axis=-1)
        p, q = np.array(self.start), np.array(self.end)
        return p + f[..., None] * (q - p)

    def part(self, low: float, high: float) -> "Stretch":
        """The stretch between two shares."""
        (p, q), bend = self.at(np.array([low, high])), self.bend
        if bend:
            bend = (*bend[:3], bend[3] + low * bend[4], (high - low) * bend[4])
        return Stretch(tuple(p), tuple(q), bend, self.width)

    def off(self, p: Sequence[float]) -> float:
        """How far a point is from the stretch."""
        ends = min(math.dist(p, self.start), math.dist(p, self.end))
        if self.bend:
            cx, cy, r, a, sweep = self.bend
            turned = (math.atan2(p[1] - cy, p[0] - cx) - a) % (2 * math.pi)
            return abs(math.dist(p, (cx, cy)) - r) if turned <= sweep else ends
        (ax, ay), (bx, by), length = self.start, self.end, self.length
        along = ((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / length
        across = abs((p[0] - ax) * (by - ay) - (p[1] - ay) * (bx - ax)) / length
        return across if 0 <= along <= length else ends


class Pieces:
    """The boundary as arrays, one row a segment; the joint `i` is where segment i starts."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        segments = [segment for loop in loops for segment in loop.segments]
        self.a = np.array([segment.start for segment in segments])
        self.b = np.array([segment.end for segment in segments])
        bulge = np.array([segment.bulge if isinstance(segment, Arc) else 0.0 for segment in segments])
        self.arc = bulge != 0
        chord = self.b - self.a
        c = np.hypot(*chord.T)
        self.sweep = 4 * np.arctan(bulge)
        with np.errstate(divide="ignore", invalid="ignore"):
            self.radius = np.where(self.arc, c / (2 * np.abs(np.sin(self.sweep / 2))), np.inf)
            up = np.where(self.arc, c / 2 / np.tan(self.sweep / 2), 0.0)  # centre above the chord's middle
        left = np.stack([-chord[:, 1], chord[:, 0]], axis=1) / c[:, None]
        self.centre = (self.a + self.b) / 2 + up[:, None] * left
        self.curvature = np.where(self.arc, np.sign(bulge) / self.radius, 0.0)
        self.length = np.where(self.arc, np.where(self.arc, self.radius, 0.0) * np.abs(self.sweep), c)
        self.along = chord / c[:, None]
        self.heading_a = _turned(self.along, -self.sweep / 2)
        self.heading_b = _turned(self.along, self.sweep / 2)
        first = np.cumsum([0, *(len(loop.segments) for loop in loops)])
        self.before = np.concatenate([np.roll(np.arange(i, j), 1) for i, j in itertools.pairwise(first)])
        self.count = len(segments)

    def between(self, p: Floats, j: NDArray) -> NDArray[np.bool_]:
        """Whether points of the lines or circles of the segments j lie between their ends."""
        w = p - self.a[j]
        share = np.sum(w * self.along[j], axis=-1) / np.hypot(*(self.b[j] - self.a[j]).T).T
        start, q = self.a[j] - self.centre[j], p - self.centre[j]
        turned = np.arctan2(_cross(start, q), np.sum(start * q, axis=-1)) * np.sign(self.curvature[j])
        within = (turned % (2 * np.pi)) / np.where(self.arc[j], np.abs(self.sweep[j]), 1.0)
        share = np.where(self.arc[j], within, share)
        return (share > 0) & (share < 1)

    def on_joint(self, p: Floats, j: NDArray) -> NDArray[np.bool_]:
        """Whether points of the segments j are so near an end that rounding may tell on which side of it."""
        ends = np.stack([self.a[j] - p, self.b[j] - p])
        return np.hypot(ends[..., 0], ends[..., 1]).min(axis=0) <= TOUCH_MM

    def distances(self, p: Floats) -> Floats:
        """From each point (m x 2) to each segment: m x n."""
        return self.distances_to(p, np.arange(self.count))

    def distances_to(self, p: Floats, j: NDArray) -> Floats:
        """From each point (m x 2) to each of the segments j."""
        a, b, along, centre, arc = self.a[j], self.b[j], self.along[j], self.centre[j], self.arc[j]
        wx, wy = p[:, :1] - a[:, 0], p[:, 1:] - a[:, 1]
        ends = np.minimum(np.hypot(wx, wy), np.hypot(p[:, :1] - b[:, 0], p[:, 1:] - b[:, 1]))
        share = wx * along[:, 0] + wy * along[:, 1]
        inside = (share > 0) & (share < np.hypot(*(b - a).T))
        nearest = np.where(inside, np.abs(along[:, 0] * wy - along[:, 1] * wx), ends)
        if arc.any():
            (sx, sy), qx, qy = (a - centre)[arc].T, p[:, :1] - centre[arc, 0], p[:, 1:] - centre[arc, 1]
            turned = np.arctan2(sx * qy - sy * qx, sx * qx + sy * qy) * np.sign(self.curvature[j][arc])
            onto = (turned % (2 * np.pi)) < np.abs(self.sweep[j][arc])
            nearest[:, arc] = np.where(onto, np.abs(np.hypot(qx, qy) - self.radius[j][arc]), ends[:, arc])
        return nearest

    def ways(self, at: Floats, seg: NDArray, joint: NDArray) -> tuple[Floats, Floats, Floats]:
        """The two ways to go from points of the boundary, forward first: unit directions and second derivatives.

        `joint` says that the point is where the segment starts.
        """
        prior = np.where(joint, self.before[seg], seg)
        q = at - self.centre[seg]
        side = np.sign(self.curvature[seg])[:, None] / np.where(self.arc[seg], self.radius[seg], 1.0)[:, None]
        inner = np.where(self.arc[seg][:, None], np.stack([-q[:, 1], q[:, 0]], axis=1) * side, self.along[seg])
        on = np.where(joint[:, None], self.heading_a[seg], inner)
        back = -np.where(joint[:, None], self.heading_b[prior], inner)
        # walked either way, the boundary bends toward its centre
        bend_on = self.curvature[seg][:, None] * _left(on)
        bend_back = -self.curvature[prior][:, None] * _left(back)
        return np.stack([on, back], axis=1), np.stack([bend_on, bend_back], axis=1), self.curvature[[prior, seg]]


def places(loops: Sequence[Loop], limit: float) -> list[Place]:
    """The narrow places under `limit` mm of the region on the left of the loops."""
    pieces = Pieces(loops)
    runs = list(_runs(pieces, limit))
    found = _chains(runs, limit)
    p, q, sure = _chords(pieces, limit)
    for start, end, certain in zip(p, q, sure, strict=True):
        _put(found, np.array([start, end]), bool(certain) and math.dist(start, end) < limit - 1e-6)
    return found


def fans(loops: Sequence[Loop]) -> list[tuple[tuple[float, float], float]]:
    """The corners that are the centre of an arc, with its radius."""
    pieces = Pieces(loops)
    i, j = np.nonzero(np.hypot(*np.moveaxis(pieces.a[:, None] - pieces.centre, -1, 0)) <= HAIR)
    return [(tuple(pieces.a[k]), float(pieces.radius[m])) for k, m in zip(i, j, strict=True) if pieces.arc[m]]


def _put(found: list[Place], chord: Floats, sure: bool) -> None:
    width = float(np.hypot(*(chord[1] - chord[0])))
    middle = tuple(chord.mean(axis=0))
    for place in found:
        if abs(place.width - width) > SAME_MM:
            continue
        on_run = any(run.off(middle) <= SAME_MM for run in place.runs)
        if on_run or (len(place.chords) and same_ends(place.chords, chord)):
            place.sure |= sure and not on_run
            place.chords = np.concatenate([place.chords, chord[None]])
            return
    found.append(Place(width, chord[None], sure))


def same_ends(chords: Floats, chord: Floats) -> bool:
    """Whether the ends of a chord are those of one of some, in either order."""
    apart = [np.hypot(*np.moveaxis(chords - ends, -1, 0)).max(axis=1) for ends in (chord, chord[::-1])]
    return bool(np.min(apart) <= SAME_MM)


# ------------------------------------------------------------------------------------- chords


def _chords(pieces: Pieces, limit: float) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """The ends of the chords that are places for certain or perhaps, and which is which."""
    rows = [_kept(pieces, limit, *row) for row in _critical(pieces)]
    p, q, sure = (np.concatenate(column) for column in zip(*rows, strict=True))
    clear = pieces.distances((p + q) / 2).min(axis=1) - np.hypot(*(q - p).T) / 2 if len(p) else np.empty(0)
    perhaps = clear > -HAIR
    return p[perhaps], q[perhaps], (sure & (clear > -ROUNDING))[perhaps]


def _critical(pieces: Pieces) -> Iterator[tuple[Floats, NDArray, bool, Floats, NDArray, bool]]:
    """Critical chords by kind: end, segment, whether the end is the joint at that segment's start; twice."""
    n, a = pieces.count, pieces.a
    i, j = np.triu_indices(n, 1)
    yield a[i], i, True, a[j], j, True
    # joint and what lies between joints
    i, j = (k.ravel() for k in np.meshgrid(np.arange(n), np.arange(n), indexing="ij"))
    along = np.sum((a[i] - pieces.a[j]) * pieces.along[j], axis=1)
    foot = pieces.a[j] + along[:, None] * pieces.along[j]
    way = _unit(a[i] - pieces.centre[j])
    for side in (-1, 1):
        radius = np.where(pieces.arc[j], pieces.radius[j], 0.0)[:, None]
        q = np.where(pieces.arc[j][:, None], pieces.centre[j] + side * radius * way, foot)
        on = pieces.between(q, j) & (pieces.arc[j] | (side > 0))
        yield a[i[on]], i[on], True, q[on], j[on], False
    # line and arc
    of_line, of_arc = np.flatnonzero(~pieces.arc), np.flatnonzero(pieces.arc)
    i, j = (k.ravel() for k in np.meshgrid(of_line, of_arc, indexing="ij"))
    along = np.sum((pieces.centre[j] - a[i]) * pieces.along[i], axis=1)
    foot = a[i] + along[:, None] * pieces.along[i]
    for side in (-1, 1):
        q = pieces.centre[j] + side * pieces.radius[j][:, None] * _left(pieces.along[i])
        on = pieces.between(foot, i) & pieces.between(q, j)
        yield foot[on], i[on], False, q[on], j[on], False
    # arc and arc
    i, j = (of_arc[k] for k in np.triu_indices(len(of_arc), 1))
    apart = pieces.centre[j] - pieces.centre[i]
    two = np.hypot(*apart.T) > ROUNDING
    i, j, way = i[two], j[two], _unit(apart[two])
    for side_i in (-1, 1):
        for side_j in (-1, 1):
            p = pieces.centre[i] + side_i * pieces.radius[i][:, None] * way
            q = pieces.centre[j] + side_j * pieces.radius[j][:, None] * way
            on = pieces.between(p, i) & pieces.between(q, j)
            yield p[on], i[on], False, q[on], j[on], False


def _kept(
    pieces: Pieces, limit: float, p: Floats, i: NDArray, joint_p: bool, q: Floats, j: NDArray, joint_q: bool
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Of some critical chords those that are minimal, perhaps or for certain."""
    r = q - p
    d = np.hypot(*r.T)
    near = (d < limit + 1e-6) & (d > 1e-8)
    p, q, i, j, r, d = p[near], q[near], i[near], j[near], r[near], d[near]
    u = r / d[:, None]
    at_p, bend_p, curved_p = pieces.ways(p, i, np.full(len(i), joint_p))
    at_q, bend_q, curved_q = pieces.ways(q, j, np.full(len(j), joint_q))
    # walking from p takes from r, walking from q adds to it
    slope_p, slope_q = -_dot(at_p, u[:, None]), _dot(at_q, u[:, None])
    second_p = (1 - slope_p**2) / d[:, None] - _dot(bend_p, u[:, None])
    second_q = (1 - slope_q**2) / d[:, None] + _dot(bend_q, u[:, None])
    perhaps, sure = np.ones(len(d), bool), np.ones(len(d), bool)
    rounding = ROUNDING + 1e-13 / d  # of the direction of a short chord
    exact = [] if joint_p else [(slope_p, second_p)]
    exact += [] if joint_q else [(slope_q, second_q)]
    for slope, second in ((slope_p, second_p), (slope_q, second_q)):
        foot = any(slope is s for s, _ in exact)
        for w in (0, 1):
            level = foot | (np.abs(slope[:, w]) <= rounding)
            rises = ~level & (slope[:, w] > HAIR + 10 * rounding)
            bowl = d * second[:, w]
            sure &= rises | (level & (bowl > HAIR))
            perhaps &= level & (bowl > -HAIR) | ~level & (slope[:, w] > -HAIR)
    for w in (0, 1):
        for v in (0, 1):
            mixed = (-_dot(at_p[:, w], at_q[:, v]) - slope_p[:, w] * slope_q[:, v]) / d
            level_p = (not joint_p) | (np.abs(slope_p[:, w]) <= rounding)
            level_q = (not joint_q) | (np.abs(slope_q[:, v]) <= rounding)
            both = level_p & level_q & (mixed < 0)
            size = d * (np.abs(_dot(bend_p[:, w], u)) + np.abs(_dot(bend_q[:, v], u)))
            flat = d**2 * (second_p[:, w] * second_q[:, v] - mixed**2)
            sure &= ~both | (flat > HAIR * size) & (size > HAIR)
            perhaps &= ~both | (flat >= -HAIR * (size + HAIR))
    sure &= (joint_p | ~pieces.on_joint(p, i)) & (joint_q | ~pieces.on_joint(q, j))
    for ways, way, curved, joint in ((at_p, u, curved_p, joint_p), (at_q, -u, curved_q, joint_q)):
        inside, surely = _into_region(ways, way, curved, joint)
        perhaps &= inside
        sure &= surely
    return p[perhaps], q[perhaps], sure[perhaps]


def _into_region(ways: Floats, u: Floats, curved: Floats, joint: bool) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Whether a direction lies between the way on and, counter-clockwise, the way back; perhaps, surely."""
    to_u = _angle(ways[:, 0], u) % (2 * np.pi)
    opening = _angle(ways[:, 0], ways[:, 1]) % (2 * np.pi) if joint else np.full(len(u), np.pi)
    cusp = (opening < HAIR) | (opening > 2 * np.pi - HAIR)
    # of two branches that leave along one tangent, the one that bends more to its left is on the left
    on, back = curved[1], -curved[0]
    opening = np.where(cusp, np.where(on > back, 2 * np.pi, 0.0), opening)
    margin = np.minimum(to_u, opening - to_u)
    return margin > -HAIR, (margin > HAIR) & (~cusp | (np.abs(on - back) > HAIR))


# ------------------------------------------------------------------------------------- runs


def _runs(pieces: Pieces, limit: float) -> Iterator[Stretch]:
    """The free stretches of all runs."""
    for run in (*_straight_runs(pieces), *_bent_runs(pieces)):
        if 1e-8 < run.width < limit + 1e-6 and run.length > ROUNDING:
            yield from (run.part(*share) for share in _free(pieces, run))


def _straight_runs(pieces: Pieces) -> Iterator[Stretch]:
    lines = np.flatnonzero(~pieces.arc)
    u = pieces.along[lines]
    facing = (np.abs(_cross(u[:, None], u[None])) <= 1e-9) & (u @ u.T < 0)
    for i, j in zip(*np.nonzero(np.triu(facing)), strict=True):
        m, k = lines[i], lines[j]
        way, left = u[i], _left(u[i][None])[0]
        width = float(left @ (pieces.a[k] - pieces.a[m]))
        low = max(0.0, float(way @ (pieces.b[k] - pieces.a[m])))
        high = min(float(pieces.length[m]), float(way @ (pieces.a[k] - pieces.a[m])))
        if width > 0 and high > low:
            middle = pieces.a[m] + left * width / 2
            yield Stretch(tuple(middle + low * way), tuple(middle + high * way), None, width)


def _bent_runs(pieces: Pieces) -> Iterator[Stretch]:
    """Between an arc that turns left and a smaller one about the same centre that turns right."""
    left, right = np.flatnonzero(pieces.curvature > 0), np.flatnonzero(pieces.curvature < 0)
    apart = np.hypot(*np.moveaxis(pieces.centre[left][:, None] - pieces.centre[right], -1, 0))
    for i, j in zip(*np.nonzero(apart <= 1e-9), strict=True):
        outer, inner = left[i], right[j]
        width = float(pieces.radius[outer] - pieces.radius[inner])
        if width <= 0:
            continue
        c = pieces.centre[outer]
        start, first = pieces.a[outer] - c, pieces.b[inner] - c
        from_start = float(np.arctan2(_cross(start, first), start @ first)) % (2 * np.pi)
        whole, other = float(pieces.sweep[outer]), float(-pieces.sweep[inner])
        at = math.atan2(start[1], start[0])
        radius = float(pieces.radius[outer] + pieces.radius[inner]) / 2
        for begun in (from_start - 2 * math.pi, from_start):
            low, high = max(0.0, begun), min(whole, begun + other)
            if high > low:
                run = Stretch((0, 0), (0, 0), (float(c[0]), float(c[1]), radius, at, whole), width)
                yield run.part(low / whole, high / whole)


def _free(pieces: Pieces, run: Stretch) -> Iterator[tuple[float, float]]:
    """The shares of a run along which its circle is empty, by halving: what is surely full or empty is settled."""
    low, high = np.linspace(0, 1, 9)[:-1], np.linspace(0, 1, 9)[1:]
    empty: list[tuple[float, float]] = []
    near = np.arange(pieces.count)
    while len(low):
        half = (high - low) / 2 * run.length
        thirds = run.at(np.stack([low, (low + high) / 2, high]))
        clear = pieces.distances_to(thirds.reshape(-1, 2), near).reshape(3, len(low), -1) - run.width / 2
        # what the circle touches all along, as the run's own sides, stays out of the question
        touched = np.abs(clear).max(axis=0) <= TOUCH_MM
        least = clear[1].min(axis=1)
        free = np.where(touched, np.inf, clear[1]).min(axis=1) >= half
        full = least < -half
        small = half <= RESOLVED_MM
        empty += zip(low[free | small & (least >= -TOUCH_MM)], high[free | small & (least >= -TOUCH_MM)], strict=True)
        on = ~free & ~full & ~small
        near = near[(clear[1][on] < half[on, None]).any(axis=0)]  # the others are clear all along
        middle = (low[on] + high[on]) / 2
        low, high = np.concatenate([low[on], middle]), np.concatenate([middle, high[on]])
    joined: list[list[float]] = []
    for a, b in sorted(empty):
        if joined and a - joined[-1][1] <= 4 * RESOLVED_MM / run.length:
            joined[-1][1] = b
        else:
            joined.append([a, b])
    yield from ((a, b) for a, b in joined if (b - a) * run.length > RESOLVED_MM)


def _chains(runs: list[Stretch], limit: float) -> list[Place]:
    """Places of the runs, those end to end of one width being one."""
    group = list(range(len(runs)))
    for i, a in enumerate(runs):
        for j in range(i):
            b = runs[j]
            ends = min(math.dist(p, q) for p in (a.start, a.end) for q in (b.start, b.end))
            if ends <= SAME_MM and abs(a.width - b.width) <= SAME_MM:
                group = [group[j] if g == group[i] else g for g in group]
    found = []
    for root in sorted(set(group)):
        chain = [run for run, g in zip(runs, group, strict=True) if g == root]
        sure = max(run.length for run in chain) > SHORT_RUN_MM and chain[0].width < limit - 1e-6
        found.append(Place(chain[0].width, np.empty((0, 2, 2)), sure, chain))
    return found


def _turned(v: Floats, angle: Floats) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    return np.stack([c * v[:, 0] - s * v[:, 1], s * v[:, 0] + c * v[:, 1]], axis=1)


def _left(v: Floats) -> Floats:
    return np.stack([-v[..., 1], v[..., 0]], axis=-1)


def _cross(a: Floats, b: Floats) -> Floats:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def _dot(a: Floats, b: Floats) -> Floats:
    return np.sum(a * b, axis=-1)


def _angle(a: Floats, b: Floats) -> Floats:
    return np.arctan2(_cross(a, b), _dot(a, b))


def _unit(v: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        return v / np.hypot(*v.T)[:, None]
