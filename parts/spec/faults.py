"""Why loops can't be cut as they are drawn: they intersect, are tangent, coincide, or are wrongly nested."""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.geometry import Point, contact, holders, meetings, self_contact
from parts.profile import Profile

_ONCE_AROUND = "Draw it once around, with metal or a gap between any two places of it."
_DROPS_OUT = "Leave one of them out: the inner one drops out with the other."
_ON_THE_PART = "Move it in, or make it smaller, until metal stays all around it."


@dataclass(frozen=True, slots=True)
class LoopFault:
    """Where loops can't be cut as drawn, and the parameter that set the loop at fault, when there is one."""

    at: Point
    message: str
    parameter: str = ""
    remedy: str = "Move or shrink one of them until metal stays between them."


def loop_faults(profile: Profile) -> Iterator[LoopFault]:
    """Yield each fault once: first loops that meet, then, where none do, loops wrongly nested."""
    met: dict[tuple[int, int], Point] = {}
    for meeting in meetings(profile.boundary):
        met.setdefault((meeting.loop_a, meeting.loop_b), meeting.at)
    for (a, b), at in met.items():
        yield _meeting_fault(profile, a, b, at)
    if not met:
        yield from _wrongly_nested(profile)


def _meeting_fault(profile: Profile, a: int, b: int, at: Point) -> LoopFault:
    name_a, name_b = profile.name(a), profile.name(b)
    if a == b:
        how = self_contact(profile.boundary[a].segments, at)
        return LoopFault(at, f"{name_a} {how} itself.", _parameter(profile, a), _ONCE_AROUND)
    parameter = _parameter(profile, b) or _parameter(profile, a)
    meets, along = contact(profile.boundary[a], profile.boundary[b])
    if meets == "same":
        return LoopFault(
            along or at, f"{name_b} is drawn twice: it lies on {name_a}.", parameter, "Delete one of them."
        )
    if meets == "along":
        return LoopFault(
            along or at,
            f"{name_b} shares a line with {name_a}: that line is drawn twice.",
            parameter,
            "Move one of them until metal stays between them, or make them one loop.",
        )
    if meets == "touching":
        return LoopFault(at, f"{name_b} touches {name_a}.", parameter)
    if a < len(profile.outside) <= b:
        return LoopFault(at, f"{name_b} runs over {name_a}.", parameter, _ON_THE_PART)
    return LoopFault(at, f"{name_b} runs into {name_a}.", parameter)


def _wrongly_nested(profile: Profile) -> Iterator[LoopFault]:
    """Yield what isn't directly inside its opposite; what lies in a fault follows from it and isn't told."""
    boundary, count = profile.boundary, len(profile.outside)
    for i, around in enumerate(holders(boundary)):
        at = boundary[i].segments[0].start
        direct = around[0] if around else None
        if i < count and direct is not None and direct < count:
            message = f"{profile.name(i)} lies inside {profile.name(direct)}."
            yield LoopFault(at, message, remedy="Make it an opening, or move it off the other piece.")
        elif i >= count and direct is None:
            message = f"{profile.name(i)} lies outside the part."
            yield LoopFault(at, message, _parameter(profile, i), "Move it onto the part, or leave it out.")
        elif i >= count and direct is not None and direct >= count:
            message = f"{profile.name(i)} lies inside {profile.name(direct)}."
            yield LoopFault(at, message, _parameter(profile, i), _DROPS_OUT)


def _parameter(profile: Profile, index: int) -> str:
    opening = index - len(profile.outside)
    return profile.inside[opening].parameter if opening >= 0 else ""
