"""Rough: which cuts of a design have no room, told from how near they are at one size; for what is only a sketch.

Distances follow the figure's height; lines that are made wider than drawn come nearer by that. What a design stretched
to another shape has less or more is left out of account.
"""

from functools import lru_cache

from parts.errors import GeometryError
from parts.geometry import Loop, meetings
from parts.profile import Opening, Profile
from parts.templates.silhouette.shared.design import Cut, Design, Least, Slit, frame

HEIGHT = 100.0
"""The size at which it is looked at, mm."""
NEAR = 0.05
"""Share of the height up to which two are looked at: what wants more is too small for most of its cuts anyway."""
_AS_DRAWN = Least(0.0, 0.0, 0.0)


def crowded(design: Design, height: float, cuts: tuple[Cut, ...], least: Least, bridge: float) -> list[tuple[int, int]]:
    """Return which two of edge (0) and cuts (from 1) are about nearer than the bridge, at a height."""
    places = {id(each): place for place, each in enumerate(cuts, start=1)}
    grown = height * min(frame(design).scale)
    wider = {
        places[id(each)]: max(0.0, least.slot - grown * min(each.widths)) / 2 for each in cuts if isinstance(each, Slit)
    }
    found = []
    for first, other, share in _near(design):
        a, b = (places.get(id(each), 0) for each in (first, other))
        if (a or not first) and (b or not other):
            gap = share * height - wider.get(a, 0.0) - wider.get(b, 0.0)
            found += [(a, b)] if gap < bridge else []
    return found


@lru_cache(maxsize=64)
def _near(design: Design) -> tuple[tuple[Cut | None, Cut | None, float], ...]:
    """Which two are near each other, None being the edge, and how near as a share of the height, the nearest first."""
    one = frame(design)
    loops: list[Loop] = [one.outline(HEIGHT)]
    made: list[Cut | None] = [None]
    for each in design.cuts:
        try:
            loops.append(one.cut(each, HEIGHT, _AS_DRAWN))
        except GeometryError:
            continue
        made.append(each)
    profile = Profile((loops[0],), tuple(Opening(loop) for loop in loops[1:]))
    widths = {(neck.loop_a, neck.loop_b): neck.width for neck in reversed(profile.necks(NEAR * HEIGHT))}
    widths |= {(meeting.loop_a, meeting.loop_b): 0.0 for meeting in meetings(tuple(loops))}
    return tuple((made[a], made[b], width / HEIGHT) for (a, b), width in widths.items() if a or b)
