"""Bend clearance: a hole near a bend is pulled oval, and an opening in it out of shape.

Measured from the bend line, the middle of the bend, to the edge of each opening and drilled hole; a bend whose angle
the drawing doesn't tell is taken as square. An opening that the bend line ends in is a
relief. So is one across the bend that reaches past the distance on both sides: its edges bend like the edge of the
part. The bend line is the bend as far as it is drawn.

Rule    distance >= half the bend allowance + inside radius + 2 thicknesses for a round hole, 2.5 for any other opening
Number  `hole_ratio` and `slot_ratio` of `[brake]` in `parts/data/bending.toml`; common practice. The
        radius is the bend's own, or what the shop's brake leaves: `parts/data/air_bending.toml` (common practice)
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Job
from parts.fasteners import Voids
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, Fold, bend_lines, folded, name
from parts.geometry import Line, Loop, Point, Segment, closest, cross, distance, meeting_points
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_END_MM, TIDY_DECIMALS

RULE = "bend-clearance"
NUMBERS = (*ALLOWANCE_NUMBERS, "brake.hole_ratio", "brake.slot_ratio")


class Pulled(NamedTuple):
    """A void too near a bend: where, how near, and whether the bend runs across it."""

    void: int
    at: Point
    measured: float
    across: bool
    limit: float = 0.0


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each bend with openings or drilled holes too near it; one at the limit passes."""
    bends = bend_lines(profile)
    if not bends:
        return
    voids, thickness = Voids(profile), job.cut.thickness_mm
    for number, bend in enumerate(bends):
        fold = folded(bend, thickness, job.brake)
        reach = max(_limit(fold, job, is_round=is_round) for is_round in (True, False))
        found = [
            p._replace(limit=limit)
            for p in _near(voids, bend.line, reach)
            if p.measured < (limit := _limit(fold, job, is_round=bool(voids.loops[p.void].circle))) - LIMIT_SLACK_MM
        ]
        if found:
            yield _finding(voids, bends, number, found, job)


def _limit(fold: Fold, job: Job, *, is_round: bool) -> float:
    return fold.allowance / 2 + job.brake.clearance(fold.thickness, fold.radius, is_round=is_round)


def _near(voids: Voids, line: Line, reach: float) -> Iterator[Pulled]:
    """Yield how near each void comes to a bend line, those that are no relief of it."""
    walls: dict[int, list[Segment]] = {}
    for near in voids.vicinity.near(line.box, reach):
        if near.loop >= voids.first:
            walls.setdefault(near.loop, []).append(near.segment)
    for index, segments in walls.items():
        loop = voids.loops[index]
        if any(_ends_in(loop, segments, end) for end in (line.start, line.end)):
            continue
        met = [point for segment in segments for point in meeting_points(line, segment)]
        if len(met) > 1 and (reached := min(_reaches(loop, line))) > SAME_END_MM:
            yield Pulled(index, _middle(met), reached, across=True)
        else:
            p, q = min((closest(line, segment) for segment in segments), key=lambda pair: distance(*pair))
            yield Pulled(index, q, distance(p, q), across=False)


def _ends_in(loop: Loop, walls: Sequence[Segment], end: Point) -> bool:
    return any(distance(wall.nearest(end), end) <= SAME_END_MM for wall in walls) or loop.contains(end)


def _reaches(loop: Loop, line: Line) -> tuple[float, float]:
    """How far a loop reaches to the left of a line, and to its right; negative where it doesn't."""
    (x, y), (ux, uy) = line.start, line.heading
    off = [cross(ux, uy, p[0] - x, p[1] - y) for segment in loop.segments for p in _far(segment, (-uy, ux))]
    return max(off), -min(off)


def _far(segment: Segment, across: Point) -> Iterator[Point]:
    """The points of a segment that may reach furthest along a direction: its start, and where an arc turns back."""
    yield segment.start
    if not isinstance(segment, Line):
        (cx, cy), r = segment.centre, segment.radius
        tops = ((cx + s * r * across[0], cy + s * r * across[1]) for s in (1, -1))
        yield from (top for top in tops if segment.covers(top))


def _middle(points: Sequence[Point]) -> Point:
    first = points[0]
    last = max(points, key=lambda p: distance(first, p))
    return (first[0] + last[0]) / 2, (first[1] + last[1]) / 2


def _finding(voids: Voids, bends: Sequence[Bend], number: int, found: list[Pulled], job: Job) -> Finding:
    worst = min(found, key=lambda p: round(p.measured - p.limit, TIDY_DECIMALS))
    thickness, limit = job.cut.thickness_mm, worst.limit
    radius = folded(bends[number], thickness, job.brake).radius
    void, bend = voids.name(worst.void), name(bends, number)
    measured, wanted = job.say_apart(worst.measured, limit)
    wants = (
        f"{job.say(thickness)} plate bent to {job.say(radius)} inside wants {wanted}."
        + (f" The same at {len(found) - 1} more." if len(found) > 1 else "")
    )  # fmt: skip
    if worst.across:
        message = f"{bend} runs across {void}, which reaches only {measured} to one side of it; {wants}"
        remedy = "Move it off the bend, or make it a relief that reaches that far on both sides."
    else:
        message = f"{void} comes within {measured} of {bend}; {wants}"
        remedy = f"Move it {job.say(limit - worst.measured)} further off, or cut or drill it after bending."
    return Finding(
        RULE, "warn", worst.at, worst.measured, limit, f"{message[0].upper()}{message[1:]}", remedy,
        also=tuple(p.at for p in found if p is not worst),
    )  # fmt: skip
