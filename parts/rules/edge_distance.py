"""Edge distance: a bolt needs metal between its hole and the edge, or it tears out.

Measured from the centre of a round hole, and of the round ends of a slot, to the nearest edge of the part or of an
opening that isn't a bolt hole itself. Only holes that a template declares a bolt for are looked at; an opening of
another shape isn't, for where its bolt sits isn't known.

Edge distances are for structural steel connections, and the least there. What a connection carries, and whether it
holds, is for a qualified engineer under the local code.

Rule    centre to edge >= the table's edge distance for the bolt
Number  AISC 360-22 table J3.4 (inch bolts) and J3.4M (metric), in `parts/data/edge_distance.toml`; a size between two
        rows is interpolated, one below the first row keeps that row's ratio (1.5 d in inches, 1.375 d metric; the
        standard has none there), beyond the last it is 1.25 d
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from parts.cutting import Job
from parts.fasteners import BoltHole, Voids, edge_table, said_bolt
from parts.finding import Finding
from parts.geometry import Point, distance
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "edge-distance"


class Short(NamedTuple):
    """A bolt's centre too near to an edge: how near, and the loop that is that edge."""

    hole: BoltHole
    at: Point
    measured: float
    edge: int


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each pattern of bolt holes of which some are too near an edge; one at the limit passes."""
    voids = Voids(profile)
    holes = {hole.index: hole for hole in voids.bolt_holes}
    patterns: dict[tuple[str, float], list[Short]] = defaultdict(list)
    for hole in holes.values():
        limit = edge_table(hole.bolt).least_mm(hole.bolt)
        short = min(_edges(voids, hole, holes, limit), key=lambda s: round(s.measured, TIDY_DECIMALS), default=None)
        if short and short.measured < limit - LIMIT_SLACK_MM:
            patterns[voids.pattern(hole.index), hole.bolt].append(short)
    for (_, bolt), found in patterns.items():
        yield _finding(voids, bolt, found, job)


def _edges(voids: Voids, hole: BoltHole, holes: dict[int, BoltHole], reach: float) -> Iterator[Short]:
    """Yield how near each end of the hole's track comes to what isn't a bolt hole."""
    for end in hole.ends:
        for near, foot in voids.vicinity.nearest(end, reach, holes):
            yield Short(hole, end, distance(end, foot), near.loop)


def _finding(voids: Voids, bolt: float, found: list[Short], job: Job) -> Finding:
    worst = min(found, key=lambda s: round(s.measured, TIDY_DECIMALS))
    table = edge_table(bolt)
    limit = table.least_mm(bolt)
    name, edge = voids.name(worst.hole.index), voids.name(worst.edge)
    centre = "The centre of" if worst.hole.round else "The centre of an end of"
    more = f" The same at {len(found) - 1} more." if len(found) > 1 else ""
    way = "in" if worst.edge < voids.first else f"from {edge}"
    return Finding(
        RULE, "warn", worst.at, worst.measured, limit,
        f"{centre} {name} is {job.say(worst.measured)} from {edge}; in a structural steel connection the "
        f"{said_bolt(bolt, job.units)} wants {job.say(limit)} ({table.source}).{more}",
        f"Move it {job.say(limit - worst.measured)} further {way}, or take a smaller bolt. What a loaded connection "
        "needs is for an engineer to settle.",
        also=tuple(s.at for s in found if s is not worst),
    )  # fmt: skip
