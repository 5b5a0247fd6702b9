"""Edge distance: a bolt needs metal between its hole and the edge, or it tears out.

Measured from the centre of a round hole, or from the middle of a slot, square to the nearest edge of the part or of an
opening that isn't a bolt hole itself. Only holes that a template declares a bolt for are looked at; an opening of
another shape isn't, for where its bolt sits isn't known. Of a slot along an arc it is measured from the centre of each
round end.

A hole larger than the standard's own for the bolt is *oversized*, a *slot* short or long; for these the standard adds
an increment, for a slot only where it points to the edge. One that slants adds its share of that, and never less than
the bolt can travel that way; that share, and what a hole larger than any of the standard adds, are derived.

Edge distances are for structural steel connections, and the least there. What a connection carries, and whether it
holds, is for a qualified engineer under the local code.

Rule    centre to edge >= the table's edge distance for the bolt, and the increment for an oversized hole or a slot
Number  AISC 360-22 table J3.4 (inch bolts) and J3.4M (metric), in `parts/data/edge_distance.toml`; derived from it
        are a size between two rows and one below the first, which keeps that row's ratio (1.5 d in inches, 1.375 d
        metric; the standard has none there); beyond the last it is 1.25 d. What is oversized, short and long is by
        tables J3.3 and J3.3M, the increments by J3.5 and J3.5M, from memory
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from parts.cutting import Job
from parts.fasteners import BoltHole, EdgeWanted, Voids, said_bolt
from parts.finding import Finding
from parts.geometry import Arc, Point, distance
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM, TIDY_DECIMALS

RULE = "edge-distance"
NUMBERS = ("edge_distance.metric", "edge_distance.inch", "bolts")


class Short(NamedTuple):
    """A bolt hole too near to an edge: seen from which centre, how near, what is wanted, the loop that is that edge."""

    hole: BoltHole
    at: Point
    measured: float
    wanted: EdgeWanted
    edge: int

    @property
    def lacks(self) -> float:
        """How much is missing, mm; less than none where it is far enough."""
        return round(self.wanted.whole - self.measured, TIDY_DECIMALS)


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each pattern of bolt holes of which some are too near an edge; one at the limit passes."""
    voids = Voids(profile)
    holes = {hole.index: hole for hole in voids.bolt_holes}
    patterns: dict[tuple[str, float], list[Short]] = defaultdict(list)
    for hole in holes.values():
        short = max(_edges(voids, hole, holes), key=lambda s: (s.lacks, -s.measured), default=None)
        if short and short.measured < short.wanted.whole - LIMIT_SLACK_MM:
            patterns[voids.pattern(hole.index), hole.bolt].append(short)
    for (_, bolt), found in patterns.items():
        yield _finding(voids, bolt, found, job)


def _edges(voids: Voids, hole: BoltHole, holes: dict[int, BoltHole]) -> Iterator[Short]:
    """Yield how near the hole's middle is to what isn't a bolt hole, seen from each end of its track."""
    for end in hole.ends:
        out = hole.outward(end)
        reach = EdgeWanted(hole.bolt, hole.width, hole.travel, 1.0).whole - hole.travel / 2
        for near, foot in voids.vicinity.nearest(end, reach, holes):
            yield _seen_from(end, out, foot, hole, near.loop)


def _seen_from(end: Point, out: Point, foot: Point, hole: BoltHole, edge: int) -> Short:
    """How far the middle is from an edge, whose nearest place to an end of the track is `foot`."""
    away = distance(end, foot)
    along = out[0] * (foot[0] - end[0]) + out[1] * (foot[1] - end[1])
    toward = max(along / away, 0.0) if away > SAME_POINT_MM else float(bool(hole.travel))
    toward = round(toward, TIDY_DECIMALS)
    curved = isinstance(hole.track, Arc)
    wanted = EdgeWanted(hole.bolt, hole.width, hole.travel, toward, curved)
    return Short(hole, end, away if curved else away + hole.travel / 2 * toward, wanted, edge)


def _finding(voids: Voids, bolt: float, found: list[Short], job: Job) -> Finding:
    worst = max(found, key=lambda s: (s.lacks, -s.measured))
    limit = worst.wanted.whole
    name, edge = voids.name(worst.hole.index), voids.name(worst.edge)
    middle = "The centre of" if worst.hole.round else "The middle of"
    middle = "The centre of an end of" if worst.wanted.from_end else middle
    more = f" The same at {len(found) - 1} more." if len(found) > 1 else ""
    way = "in" if worst.edge < voids.first else f"from {edge}"
    return Finding(
        RULE, "warn", worst.at, worst.measured, limit,
        f"{middle} {name} is {job.say(worst.measured, limit)} from {edge}; in a structural steel connection the "
        f"{said_bolt(bolt, job.units)} wants {_said(worst.wanted, job)}.{more}",
        f"Move it {job.say(limit - worst.measured)} further {way}, or take a smaller bolt. What a loaded connection "
        "needs is for an engineer to settle.",
        also=tuple(s.at for s in found if s is not worst),
    )  # fmt: skip


def _said(wanted: EdgeWanted, job: Job) -> str:
    """The distance and where it is from: `24 mm: 22 mm (table J3.4M) and 2 mm for an oversized hole (...)`."""
    added = []
    if wanted.oversized:
        what = "its width over a standard hole" if wanted.travel else "an oversized hole"
        added.append(f"{job.say(wanted.oversized)} for {what}")
    if wanted.slotted:
        added.append(f"{job.say(wanted.slotted)} for a {wanted.slot_name} towards the edge")
    if not added:
        return f"{job.say(wanted.whole)} ({wanted.source})"
    least = f"{job.say(wanted.least)} ({wanted.source})"
    return f"{job.say(wanted.whole)}: {least} and {' and '.join(added)} ({wanted.increment_source})"
