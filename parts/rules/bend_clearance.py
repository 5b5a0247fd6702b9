"""Bend clearance: a hole near a bend is pulled oval, and an opening in it out of shape.

Measured from the bend line to the edge of each opening and drilled hole. An opening that the bend line ends in is a
relief. So is one across the bend that reaches past the distance on both sides: its edges bend like the edge of the
part. The bend line is the bend as far as it is drawn.

Rule    distance >= 2.5 thicknesses + inside radius
Number  `hole_ratio` of `[brake]` in `parts/data/bending.toml`; common practice. The radius is the bend's own, or what
        the shop's brake leaves: 0.16 of a V opening of 8 thicknesses (common practice)
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Job
from parts.fasteners import Voids
from parts.finding import Finding
from parts.forming import bend_lines, name
from parts.geometry import Line, Loop, Point, Segment, closest, cross, distance, meeting_points
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_END_MM, TIDY_DECIMALS

RULE = "bend-clearance"
NUMBERS = ("brake.hole_ratio", "brake.inside_radius_per_v", "brake.v_opening_ratio")


class Pulled(NamedTuple):
    """A void too near a bend: where, how near, and whether the bend runs across it."""

    void: int
    at: Point
    measured: float
    across: bool


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each bend with openings or drilled holes too near it; one at the limit passes."""
    bends = bend_lines(profile)
    if not bends:
        return
    voids, thickness = Voids(profile), job.cut.thickness_mm
    for number, bend in enumerate(bends):
        limit = job.brake.hole_clearance(thickness, _radius(bend, job))
        found = [p for p in _near(voids, bend.line, limit) if p.measured < limit - LIMIT_SLACK_MM]
        if found:
            yield _finding(voids, bends, number, found, job)


def _radius(bend: Bend, job: Job) -> float:
    return bend.radius or job.brake.inside_radius(job.cut.thickness_mm)


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
    worst = min(found, key=lambda p: round(p.measured, TIDY_DECIMALS))
    radius, thickness = _radius(bends[number], job), job.cut.thickness_mm
    limit = job.brake.hole_clearance(thickness, radius)
    void, bend = voids.name(worst.void), name(bends, number)
    wants = (
        f"{job.say(thickness)} plate bent to {job.say(radius)} inside wants {job.say(limit)}."
        + (f" The same at {len(found) - 1} more." if len(found) > 1 else "")
    )  # fmt: skip
    if worst.across:
        message = f"{bend} runs across {void}, which reaches only {job.say(worst.measured)} to one side of it; {wants}"
        remedy = "Move it off the bend, or make it a relief that reaches that far on both sides."
    else:
        message = f"{void} comes within {job.say(worst.measured)} of {bend}; {wants}"
        remedy = f"Move it {job.say(limit - worst.measured)} further off, or cut or drill it after bending."
    return Finding(
        RULE, "warn", worst.at, worst.measured, limit, f"{message[0].upper()}{message[1:]}", remedy,
        also=tuple(p.at for p in found if p is not worst),
    )  # fmt: skip
