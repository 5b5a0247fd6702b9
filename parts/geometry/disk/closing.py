"""The morphological closing of a region by a disk: the region and all that a disk kept outside it can't reach.

The boundary of what the disk can reach is where it touches the region while it rolls along (tracks), and a
piece of its own rim, a *fillet*, wherever it rests on two places at once: in an inside corner, or on the lips
of a slot that it doesn't go into. All of these are lines and arcs, so the closing is exact.
(Mathematical morphology: the closing of the material, or the opening of the void, by a disk.)
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from operator import is_
from typing import NamedTuple

from parts.geometry.disk.chain import cycles
from parts.geometry.disk.offset import Track, fraction, piece, tracks
from parts.geometry.intersect import meeting_points, only_touch_there
from parts.geometry.loop import Loop
from parts.geometry.search.boxes import near_pairs, pairs_between
from parts.geometry.segment import Arc, Line, Point, Segment, cross, distance
from parts.tolerance import JET_SLACK_MM, SAME_NECK_MM, SAME_POINT_MM, TANGENT_MM


class _Edge(NamedTuple):
    """A piece of the closing's boundary; `rim` is whether it is a fillet."""

    segment: Segment
    rim: bool


def closed_by(loops: Sequence[Loop], radius: float) -> tuple[Loop, ...]:
    """Return the boundary of the morphological closing of a region by a disk, the region on the left of every loop.

    The loops mustn't meet. What is wider than the disk by no more than rounding counts as reached. A loop that
    lies nowhere but where the disk can't go is gone.

    Raises:
        GeometryError: the pieces don't close, as where loops meet.
    """
    reach = radius - JET_SLACK_MM
    rolled = _clear(loops, reach)
    if not rolled:
        return ()
    edges, follows = _edges(rolled)
    kept, follows = _uncovered(edges, follows, [track.path for cycle in rolled for track in cycle], reach)
    starts, ends = [edge.segment.start for edge in kept], [edge.segment.end for edge in kept]
    drawn = {id(loop.segments[0]): loop for loop in loops}
    return tuple(_loop([kept[i].segment for i in cycle], drawn) for cycle in cycles(starts, ends, follows))


def _loop(segments: Sequence[Segment], drawn: Mapping[int, Loop]) -> Loop:
    """The loop of some segments; where they are all of one that was drawn, that one, found by the id of its first."""
    same = drawn.get(id(segments[0]))
    if same and len(same.segments) == len(segments) and all(map(is_, same.segments, segments)):
        return same
    vertices = ((*s.start, s.bulge if isinstance(s, Arc) else 0.0) for s in segments)
    return Loop.through(vertices)


# ---------------------------------------------------------------------- where the disk rolls


def _clear(loops: Sequence[Loop], reach: float) -> list[list[Track]]:
    """The closed ways of the disk's centre along which it touches the region and never lies on it.

    Between two crossings of tracks all of it is clear, or none: one place of each run is tried.
    """
    pieces, joined = _cut([tracks(loop, reach) for loop in loops])
    runs = _runs(pieces, joined)
    tried = [max(run, key=lambda i: pieces[i].path.length) if len(run) > 1 else run[0] for run in runs]
    middles = [pieces[i].path.at(0.5) for i in tried]
    boundary = [segment for loop in loops for segment in loop.segments]
    near = _near(middles, boundary, reach)
    clear: set[int] = set()
    for k, run in enumerate(runs):
        if all(distance(middles[k], boundary[b].nearest(middles[k])) >= reach - SAME_POINT_MM for b in near[k]):
            clear.update(run)
    order = sorted(clear)
    starts, ends = [pieces[i].path.start for i in order], [pieces[i].path.end for i in order]
    return [[pieces[order[k]] for k in cycle] for cycle in cycles(starts, ends, _kept(order, joined))]


def _kept(order: Sequence[int], joined: Sequence[int | None]) -> list[int | None]:
    """Which of the pieces kept each goes on in, by its place among them, from what all of them go on in."""
    place: dict[int | None, int] = {index: k for k, index in enumerate(order)}
    return [place.get(joined[i]) for i in order]


def _cut(chains: Sequence[Sequence[Track]]) -> tuple[list[Track], list[int | None]]:
    """All tracks cut at their intersections, and for each piece the one it goes on in."""
    every = [track for chain in chains for track in chain]
    after: list[int | None] = []
    for chain in chains:
        first = len(after)
        after += [first + (k + 1) % len(chain) if chain[k].linked else None for k in range(len(chain))]
    cuts = _cuts([track.path for track in every], after)
    firsts: list[int] = []
    pieces: list[Track] = []
    for track, at in zip(every, cuts, strict=True):
        firsts.append(len(pieces))
        pieces += [track.piece(low, high) for low, high in pairwise((0.0, *at, 1.0))] if at else [track]
    joined: list[int | None] = []
    for (i, at), following in zip(enumerate(cuts), after, strict=True):
        joined += [firsts[i] + k + 1 for k in range(len(at))]
        joined.append(None if following is None else firsts[following])
    return pieces, joined


def _cuts(paths: Sequence[Segment], after: Sequence[int | None]) -> list[list[float]]:
    """The intersections of paths, as fractions of each; where neighbours join is none."""
    found: dict[int, set[float]] = defaultdict(set)
    boxes = [path.box for path in paths]
    for i, j in near_pairs(boxes, SAME_POINT_MM):
        joints = [paths[a].end for a, b in ((i, j), (j, i)) if after[a] == b]
        if len(joints) == 1 and only_touch_there(paths[i], paths[j], joints[0]):
            continue
        if len(joints) == 2 and _are_one_circle(paths[i], paths[j]):
            continue
        for p in meeting_points(paths[i], paths[j]):
            if all(distance(p, joint) > TANGENT_MM for joint in joints):
                found[i].add(fraction(paths[i], p))
                found[j].add(fraction(paths[j], p))
    return [_apart(found[i], paths[i].length) if i in found else [] for i in range(len(paths))]


def _are_one_circle(a: Segment, b: Segment) -> bool:
    """Tell whether two arcs that go on in each other at both ends make a whole circle."""
    if isinstance(a, Line) or isinstance(b, Line):
        return False
    return a.bulge * b.bulge > 0 and distance(a.centre, b.centre) <= SAME_POINT_MM


def _apart(fractions: Iterable[float], length: float) -> list[float]:
    """Fractions in order, none at an end and none so near another that nothing lies between."""
    kept = [0.0]
    for at in sorted(fractions):
        if (at - kept[-1]) * length > SAME_POINT_MM and (1 - at) * length > SAME_POINT_MM:
            kept.append(at)
    return kept[1:]


def _runs(pieces: Sequence[Track], joined: Sequence[int | None]) -> list[list[int]]:
    """Pieces in a row with no crossing between them, nor at the joint of two tracks."""
    runs: list[list[int]] = []
    for i in range(len(pieces)):
        goes_on = i > 0 and joined[i - 1] == i and pieces[i - 1].linked
        if goes_on:
            runs[-1].append(i)
        else:
            runs.append([i])
    return runs


def _near(points: Sequence[Point], segments: Sequence[Segment], reach: float) -> dict[int, list[int]]:
    near: dict[int, list[int]] = defaultdict(list)
    boxes = [segment.box for segment in segments]
    for i, j in pairs_between([(*p, *p) for p in points], boxes, reach):
        near[i].append(j)
    return near


# ---------------------------------------------------------------------- what it leaves


def _edges(rolled: Sequence[Sequence[Track]]) -> tuple[list[_Edge], list[int | None]]:
    """The feet of the tracks with a fillet wherever the foot leaps, and the edge that each goes on in."""
    edges: list[_Edge] = []
    follows: list[int | None] = []
    for cycle in rolled:
        first = len(edges)
        for track, after in zip(cycle, (*cycle[1:], cycle[0]), strict=True):
            if not isinstance(track.foot, tuple):
                edges.append(_Edge(track.foot, rim=False))
            if distance(track.foot_end, after.foot_start) > SAME_NECK_MM:
                edges.append(_Edge(_fillet(track.path.end, track.foot_end, after.foot_start), rim=True))
        count = len(edges) - first
        follows += [first + (k + 1) % count for k in range(count)]
    return edges, follows


def _fillet(centre: Point, start: Point, end: Point) -> Arc:
    """The piece of the rim between two places that the disk rests on: clockwise, and less than half a turn."""
    ux, uy = start[0] - centre[0], start[1] - centre[1]
    vx, vy = end[0] - centre[0], end[1] - centre[1]
    sweep = abs(math.atan2(cross(ux, uy, vx, vy), ux * vx + uy * vy))
    return Arc(start, end, -math.tan(sweep / 4))


def _uncovered(
    edges: list[_Edge], follows: list[int | None], ways: Sequence[Segment], reach: float
) -> tuple[list[_Edge], list[int | None]]:
    """The edges without what another place of the disk reaches over: of fillets that meet, the inner pieces.

    That is so in a passage a little narrower than the disk, which it reaches into from both sides.
    """
    cuts = _rim_cuts(edges)
    if not cuts:
        return edges, follows
    pieces: list[_Edge] = []
    firsts: list[int] = []
    joined: list[int | None] = []
    tried: list[int] = []
    for i, edge in enumerate(edges):
        at = _apart(cuts.get(i, ()), edge.segment.length)
        firsts.append(len(pieces))
        tried += range(len(pieces), len(pieces) + len(at) + 1) if i in cuts else ()
        pieces += [_Edge(piece(edge.segment, low, high), edge.rim) for low, high in pairwise((0.0, *at, 1.0))]
    for i in range(len(edges)):
        following = follows[i]
        last = firsts[i + 1] if i + 1 < len(edges) else len(pieces)
        joined += range(firsts[i] + 1, last)
        joined.append(None if following is None else firsts[following])
    covered = set(_covered({i: pieces[i].segment for i in tried}, ways, reach))
    order = [i for i in range(len(pieces)) if i not in covered]
    return [pieces[i] for i in order], _kept(order, joined)


def _rim_cuts(edges: Sequence[_Edge]) -> dict[int, set[float]]:
    """The intersections of fillets with each other, as fractions of each that another may meet."""
    rims = [i for i, edge in enumerate(edges) if edge.rim]
    boxes = [edges[i].segment.box for i in rims]
    cuts: dict[int, set[float]] = {}
    for a, b in near_pairs(boxes, SAME_POINT_MM):
        i, j = rims[a], rims[b]
        one, other = edges[i].segment, edges[j].segment
        points = meeting_points(one, other)
        cuts.setdefault(i, set()).update(fraction(one, p) for p in points)
        cuts.setdefault(j, set()).update(fraction(other, p) for p in points)
    return cuts


def _covered(rims: Mapping[int, Segment], ways: Sequence[Segment], reach: float) -> Iterator[int]:
    """Yield which pieces of rim the disk reaches over from elsewhere on its way."""
    indices = list(rims)
    middles = [rims[i].at(0.5) for i in indices]
    near = _near(middles, ways, reach)
    for k, index in enumerate(indices):
        if any(distance(middles[k], ways[j].nearest(middles[k])) < reach - SAME_NECK_MM for j in near[k]):
            yield index
