"""Loops: every loop simple, none touching or crossing another, openings inside the part and apart.

That each loop is closed needs no rule: a `Loop` can't be made from an open chain.

Rule    no two segments meet except neighbours at their common end; each opening lies in an outside loop
        and in no other opening of it; no outside loop lies in another, unless in an opening of that
Number  none; segments closer than SAME_POINT_MM meet
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.finding import Finding
from parts.geometry.meet import meetings
from parts.geometry.segment import Point
from parts.job import Job
from parts.profile import Profile

RULE = "loops"


@dataclass(frozen=True, slots=True)
class Fault:
    """Where loops can't be cut as drawn, and the parameter that set the loop at fault, when there is one."""

    at: Point
    message: str
    parameter: str = ""


def check(profile: Profile, _: Job) -> Iterator[Finding]:
    """Yield a finding for each place where loops meet, cross, or lie in one another wrongly."""
    for fault in faults(profile):
        yield Finding(
            RULE, "stop", fault.at, None, None, f"{fault.message[0].upper()}{fault.message[1:]}",
            "Move or shrink one of them until metal stays between them.",
        )  # fmt: skip


def faults(profile: Profile) -> Iterator[Fault]:
    """Yield each fault once: first loops that meet, then, where none do, loops wrongly nested."""
    met = False
    seen: set[tuple[int, int]] = set()
    for meeting in meetings(profile.boundary):
        met = True
        pair = (meeting.loop_a, meeting.loop_b)
        if pair not in seen:
            seen.add(pair)
            yield _meeting_fault(profile, *pair, meeting.at)
    if not met:
        yield from _wrongly_nested(profile)


def _meeting_fault(profile: Profile, a: int, b: int, at: Point) -> Fault:
    name_a, name_b = profile.name(a), profile.name(b)
    if a == b:
        return Fault(at, f"{name_a} crosses or touches itself.", _parameter(profile, a))
    return Fault(at, f"{name_b} meets {name_a}.", _parameter(profile, b) or _parameter(profile, a))


def _wrongly_nested(profile: Profile) -> Iterator[Fault]:
    boundary, count = profile.boundary, len(profile.outside)
    for i, loop in enumerate(boundary):
        at = loop.segments[0].start
        outer = [j for j in range(count) if j != i and boundary[j].contains(at)]
        inner = [j for j in range(count, len(boundary)) if j != i and boundary[j].contains(at)]
        if i < count and len(outer) > len(inner):
            yield Fault(at, f"{profile.name(i)} lies inside {profile.name(outer[0])}.")
        elif i >= count and not outer:
            yield Fault(at, f"{profile.name(i)} lies outside the part.", _parameter(profile, i))
        elif i >= count and len(inner) >= len(outer):
            yield Fault(at, f"{profile.name(i)} lies inside {profile.name(inner[0])}.", _parameter(profile, i))


def _parameter(profile: Profile, index: int) -> str:
    opening = index - len(profile.outside)
    return profile.inside[opening].parameter if opening >= 0 else ""
