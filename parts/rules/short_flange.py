"""Short flange: what is bent up must reach over the die, or it slips into the groove.

A *flange* is the metal between a bend line and an outside edge that runs parallel to it. A short stretch that is no
longer than the V opening, nor than half the bend, as at a notch, is carried by the flange beside it and passes. A bend
turned through more than 150 degrees is formed round a bar or a pipe: no die is as narrow as that.

Rule    flange, on the flat, from bend line to edge >= what an outside flange of 0.7 V leaves of it: 0.7 V - (R + T) +
        pi/4 (R + K T) for a bend of 90 degrees, 4.65 thicknesses in thin mild steel
Number  `[brake]` in `parts/data/bending.toml`: flange of 0.7 V; `parts/data/air_bending.toml`: V opening of 8 to 12
        thicknesses by thickness, or wider where the bend's own radius wants it, inside radius by material (common
        practice)
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Job
from parts.finding import Finding
from parts.forming import FLANGE_NUMBERS, bend_lines, name, sharpest
from parts.geometry import Line, Point, cross, meeting_points
from parts.geometry.search import Vicinity
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM, TIDY_DECIMALS

RULE = "short-flange"
NUMBERS = FLANGE_NUMBERS


class EdgeStretch(NamedTuple):
    """A stretch of edge along a bend: where it begins and ends along it, and how far to its left it is."""

    low: float
    high: float
    off: float


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each flange, either side of a bend, too short for the brake; one at the limit passes."""
    bends = bend_lines(profile)
    if not bends:
        return
    edges, thickness = Vicinity(profile.boundary[: len(profile.outside)]), job.cut.thickness_mm
    for number, bend in enumerate(bends):
        if bend.angle > sharpest() + PARALLEL_RAD:
            continue
        radius = bend.radius or job.brake.inside_radius(thickness)
        limit = job.brake.least_flange(thickness, radius)
        stretches = [
            s
            for s in _joined(_stretches(edges, bend.line, limit))
            if abs(s.off) < limit - LIMIT_SLACK_MM and _clear(edges, bend.line, s)
        ]
        carried = min(job.brake.v_opening(thickness, radius), bend.line.length / 2)
        sides = [[s for s in stretches if s.off * side > 0] for side in (1, -1)]
        yield from (_finding(bends, number, side, limit, job) for side in sides if _length(side) > carried)


def _stretches(edges: Vicinity, line: Line, reach: float) -> Iterator[EdgeStretch]:
    """Yield the stretches of edge parallel to a bend line that have their metal on its side."""
    (x, y), (ux, uy) = line.start, line.heading
    for _, edge in edges.near(line.box, reach):
        if not isinstance(edge, Line) or abs(cross(ux, uy, *edge.heading)) > PARALLEL_RAD:
            continue
        off = cross(ux, uy, edge.start[0] - x, edge.start[1] - y)
        along = sorted(ux * (p[0] - x) + uy * (p[1] - y) for p in (edge.start, edge.end))
        low, high = max(along[0], 0.0), min(along[1], line.length)
        metal_between = off * (ux * edge.heading[0] + uy * edge.heading[1]) < 0  # it is on the edge's left
        if high - low > SAME_POINT_MM < abs(off) and metal_between:
            yield EdgeStretch(low, high, off)


def _joined(stretches: Iterable[EdgeStretch]) -> list[EdgeStretch]:
    """The stretches, those of one line that meet end to end as one."""
    made: list[EdgeStretch] = []
    for stretch in sorted(stretches, key=lambda s: (round(s.off, TIDY_DECIMALS - 3), s.low)):
        last = made[-1] if made else None
        if last and abs(stretch.off - last.off) <= SAME_POINT_MM and stretch.low - last.high <= SAME_POINT_MM:
            made[-1] = last._replace(high=max(last.high, stretch.high))
        else:
            made.append(stretch)
    return made


def _clear(edges: Vicinity, line: Line, stretch: EdgeStretch) -> bool:
    """Whether, from the middle of a stretch, no other edge lies before the bend line."""
    foot, off = _foot(line, stretch), stretch.off
    just_before = off - SAME_NECK_MM * (1 if off > 0 else -1)
    probe = Line(foot, _beside(line, foot, just_before))
    return not any(meeting_points(probe, edge) for _, edge in edges.near(probe.box, SAME_POINT_MM))


def _length(stretches: Sequence[EdgeStretch]) -> float:
    """How much of the bend some stretches take up together, where they overlap once."""
    total, reached = 0.0, float("-inf")
    for low, high, _ in sorted(stretches):
        total += max(high - max(low, reached), 0.0)
        reached = max(reached, high)
    return total


def _foot(line: Line, stretch: EdgeStretch) -> Point:
    return line.at((stretch.low + stretch.high) / 2 / line.length)


def _beside(line: Line, foot: Point, off: float) -> Point:
    ux, uy = line.heading
    return foot[0] - off * uy, foot[1] + off * ux


def _finding(bends: Sequence[Bend], number: int, short: list[EdgeStretch], limit: float, job: Job) -> Finding:
    line, thickness = bends[number].line, job.cut.thickness_mm
    worst = min(short, key=lambda s: round(abs(s.off), TIDY_DECIMALS))
    places = {s: _beside(line, _foot(line, s), s.off / 2) for s in short}
    measured, opening = abs(worst.off), job.brake.v_opening(thickness, bends[number].radius)
    return Finding(
        RULE, "warn", places[worst], measured, limit,
        f"The flange at {name(bends, number)} is {job.say(measured, limit)} on the flat; over a V opening of "
        f"{job.say(opening)} the brake wants {job.say(limit, measured)} in {job.say(thickness)} plate.",
        f"Make it {job.say(limit - measured)} longer, and trim it after bending where it has to be short; or bend it "
        "over a narrower die.",
        also=tuple(place for s, place in places.items() if s is not worst),
    )  # fmt: skip
