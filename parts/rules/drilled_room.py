"""Drilled room: a drill wanders off and breaks out where the metal beside it is thin.

Holes exchanged for drill centres leave the cut, and with it what is checked of cuts; the metal beside them is needed
all the same. Measured from the rim of the drilled hole to the edge, to an opening, or to the rim of another drilled
hole. Holes drilled about one centre, a pilot and its hole, are one place. A centre whose diameter the drawing doesn't
say isn't measured.

Rule    metal beside a drilled hole >= half its diameter (of two, the larger); none of it through an edge
Number  half a diameter: common practice
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from parts.cutting import Job
from parts.data import threshold
from parts.fasteners import Voids
from parts.finding import Finding, Severity
from parts.geometry import Point, distance
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM, TIDY_DECIMALS

RULE = "drilled-room"
NUMBERS = ("rules.drilled-room",)

_SHARE = threshold("drilled-room", "metal_share")


class Thin(NamedTuple):
    """A drilled hole with little metal beside it, or none: the loop beside it, the metal left, what it should be.

    `beside` is its own index where it isn't in metal at all.
    """

    void: int
    at: Point
    beside: int
    left: float
    limit: float


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each pattern of drilled holes that break out, and of those near to it; at the limit: none."""
    voids = Voids(profile)
    patterns: dict[tuple[str, Severity], list[Thin]] = defaultdict(list)
    for index in range(voids.drilled_from, len(voids.loops)):
        thin = min(_thin(voids, index), key=lambda t: round(t.left - t.limit, TIDY_DECIMALS), default=None)
        if thin:
            broken: Severity = "stop" if thin.left <= SAME_POINT_MM else "warn"
            patterns[voids.pattern(index), broken].append(thin)
    for (_, severity), found in patterns.items():
        yield _finding(voids, severity, found, job)


def _thin(voids: Voids, index: int) -> Iterator[Thin]:
    """Yield each loop that leaves too little metal beside a drilled hole."""
    drill = voids.drills[index - voids.drilled_from]
    limit, radius = _SHARE * drill.diameter, drill.diameter / 2
    if not voids.vicinity.inside(drill.at, voids.drilled_from):
        yield Thin(index, drill.at, index, -radius, limit)
        return
    for near, foot in voids.vicinity.nearest(drill.at, radius + limit):
        left = distance(drill.at, foot) - radius
        if near.loop >= voids.drilled_from:
            other = voids.drills[near.loop - voids.drilled_from]
            apart = distance(drill.at, other.at)
            left = apart - radius - other.diameter / 2
            if near.loop == index or apart <= SAME_POINT_MM or other.diameter > drill.diameter:
                continue  # it is looked at from the larger one
        if left < limit - LIMIT_SLACK_MM:
            yield Thin(index, drill.at, near.loop, left, limit)


def _off_metal(voids: Voids, at: Point) -> str:
    """Where a centre is that isn't in metal."""
    around = [i for i in range(voids.first, voids.drilled_from) if voids.loops[i].contains(at)]
    return f"has its centre in {voids.name(around[-1])}" if around else "has its centre outside the part"


def _finding(voids: Voids, severity: Severity, found: list[Thin], job: Job) -> Finding:
    worst = min(found, key=lambda t: round(t.left - t.limit, TIDY_DECIMALS))
    name, beside = voids.name(worst.void), voids.name(worst.beside)
    more = f" The same at {len(found) - 1} more." if len(found) > 1 else ""
    said = job.say(voids.drills[worst.void - voids.drilled_from].diameter)
    left, missing = max(worst.left, 0.0), job.say(worst.limit - worst.left)
    if worst.beside == worst.void:
        message = f"{name}, {said}, {_off_metal(voids, worst.at)}, where there is no metal."
        remedy = "Move it onto the part, or leave it out."
    elif severity == "stop":
        message = f"{name}, {said}, breaks into {beside}."
        remedy = f"Move it {missing} further from {beside}, or drill it smaller."
    else:
        leaves, wants = job.say_apart(left, worst.limit)
        message = f"{name}, {said}, leaves {leaves} to {beside}; a drill wants {wants} beside it."
        remedy = f"Move it {missing} further from {beside}, or drill it smaller."
    return Finding(
        RULE, severity, worst.at, left, worst.limit, f"{message[0].upper()}{message[1:]}{more}", remedy,
        also=tuple(t.at for t in found if t is not worst),
    )  # fmt: skip
