"""Bolt spacing: bolts need metal between them, and room for nut and spanner.

Measured from centre to centre of holes that a template declares bolts for; of slots, from the middle lines, where
the bolts may come nearest. The clear distance between the holes is the rule `bridge-width`.

The spacing is for structural steel connections; the connection itself is for a qualified engineer under the local
code.

Rule    centre to centre >= 2-2/3 diameters of the larger bolt; 3 are preferred
Number  AISC 360-22 section J3.3, in `parts/data/edge_distance.toml`
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Job
from parts.fasteners import BoltHole, Voids, bolting, least_spacing_mm, preferred_spacing_mm, said_bolt
from parts.finding import Finding
from parts.geometry import Box, Point, distance
from parts.geometry.search import near_pairs
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, TIDY_DECIMALS

RULE = "bolt-spacing"
NUMBERS = ("edge_distance.spacing", "bolts")


class Close(NamedTuple):
    """Two bolt holes too near each other, the earlier first, and the point midway."""

    a: BoltHole
    b: BoltHole
    at: Point
    measured: float


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each pattern, or two patterns, with bolts too near each other; at the limit they pass."""
    voids = Voids(profile)
    patterns: dict[tuple[str, str, float], list[Close]] = defaultdict(list)
    for close in _pairs(voids.bolt_holes):
        bolt = max(close.a.bolt, close.b.bolt)
        if close.measured < least_spacing_mm(bolt) - LIMIT_SLACK_MM:
            patterns[voids.pattern(close.a.index), voids.pattern(close.b.index), bolt].append(close)
    for (_, __, bolt), found in patterns.items():
        yield _finding(voids, bolt, found, job)


def _pairs(holes: Sequence[BoltHole]) -> Iterator[Close]:
    """Yield the pairs of holes that may be too near, in order, with how near they are."""
    reach = least_spacing_mm(max((hole.bolt for hole in holes), default=0.0))
    for i, j in sorted(near_pairs([_box(hole) for hole in holes], reach)):
        p, q = holes[i].nearest(holes[j])
        yield Close(holes[i], holes[j], ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), distance(p, q))


def _box(hole: BoltHole) -> Box:
    return hole.track.box if hole.track else (*hole.ends[0], *hole.ends[0])


def _finding(voids: Voids, bolt: float, found: list[Close], job: Job) -> Finding:
    worst = min(found, key=lambda c: round(c.measured, TIDY_DECIMALS))
    limit, name = least_spacing_mm(bolt), voids.name(worst.a.index)
    more = f" The same between {len(found) - 1} more." if len(found) > 1 else ""
    apart, wanted = job.say_apart(worst.measured, limit)
    return Finding(
        RULE, "warn", worst.at, worst.measured, limit,
        f"{name[0].upper()}{name[1:]} and {voids.name(worst.b.index)} are {apart} apart, centre to "
        f"centre; in a structural steel connection the {said_bolt(bolt, job.units)} wants {wanted} "
        f"({bolting().spacing.source}).{more}",
        f"Move them {job.say(limit - worst.measured)} further apart, better to {job.say(preferred_spacing_mm(bolt))}, "
        "or take smaller bolts.",
        also=tuple(c.at for c in found if c is not worst),
    )  # fmt: skip
