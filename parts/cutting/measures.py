"""What is counted and weighed of a part: size, area, mass, cut length, pierces, and the time at the table."""

import math
from dataclasses import dataclass

from parts.cutting.job import Job
from parts.cutting.process import Cut
from parts.cutting.slowing import SLOW, laps, share_below
from parts.cutting.stock import mass_kg, materials
from parts.cutting.travel import lead_in_time, travel_time, ways
from parts.geometry import Loop
from parts.profile import Drill, Profile, Scribe


@dataclass(frozen=True, slots=True)
class Measures:
    """Sizes and sums of one part.

    `cut_time_s` is all that happens at the table from the first pierce to the last cut, the sum of what stands apart:
    cutting at the pace that the machine keeps round every loop, the lead-ins, the pierces, feeling for the plate's
    height before each, and `travel_mm` from cut to cut. Loading, marks, drilling, lead-outs and the way there and back
    are left out. `slow_share` is the share of the cut length, 0 to 1, that goes slower than SLOW of the feed. The
    area is 0 where openings take more than there is: so may a drawing of someone's own, with a `stop` of its loops.
    """

    area_mm2: float
    cut_length_mm: float
    pierces: int
    width_mm: float
    height_mm: float
    mass_kg: float
    loops: int
    drill_centres: int
    scribe_length_mm: float
    cut_time_s: float
    cutting_time_s: float
    lead_in_time_s: float
    pierce_time_s: float
    probe_time_s: float
    travel_time_s: float
    travel_mm: float
    slow_share: float


_NAN = math.nan
UNMEASURED = Measures(
    _NAN, _NAN, 0, _NAN, _NAN, _NAN, 0, 0, _NAN, _NAN, _NAN, _NAN, _NAN, _NAN, _NAN, _NAN, _NAN,
)  # fmt: skip
"""Of what nothing is known: no number that could be taken for one."""


def measure(profile: Profile, job: Job) -> Measures:
    """Return the measures of a profile cut by a job; each loop is pierced once."""
    loops = profile.boundary
    area = max(math.fsum(loop.signed_area for loop in loops), 0.0)
    length = math.fsum(loop.perimeter for loop in loops)
    x0, y0, x1, y1 = profile.box
    cut = job.cut
    paces = laps(loops, job)
    between = ways(loops, len(profile.outside))
    apart = {
        "cutting_time_s": math.fsum(pace.time for pace in paces),
        "lead_in_time_s": math.fsum(
            lead_in_time(lead_in_length(loop, cut), cut.feed_mm_s, job.machine) for loop in loops
        ),
        "pierce_time_s": len(loops) * cut.pierce_time_s,
        "probe_time_s": len(loops) * cut.probe_time_s,
        "travel_time_s": math.fsum(travel_time(way, job.machine) for way in between),
    }
    return Measures(
        area_mm2=area,
        cut_length_mm=length,
        pierces=len(loops),
        width_mm=x1 - x0,
        height_mm=y1 - y0,
        mass_kg=mass_kg(area, cut.thickness_mm, materials()[cut.material]),
        loops=len(loops),
        drill_centres=sum(isinstance(mark, Drill) for mark in profile.marks),
        scribe_length_mm=math.fsum(
            segment.length for mark in profile.marks if isinstance(mark, Scribe) for segment in mark.path
        ),
        cut_time_s=math.fsum(apart.values()),
        **apart,
        travel_mm=math.fsum(between),
        slow_share=share_below(paces, SLOW),
    )


def lead_in_length(loop: Loop, cut: Cut) -> float:
    """Return how long a lead-in is, mm: no more than half of the loop's narrower side, all the room a hole has."""
    x0, y0, x1, y1 = loop.box
    return min(cut.lead_in_mm, (x1 - x0) / 2, (y1 - y0) / 2)
