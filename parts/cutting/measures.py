"""What is counted and weighed of a part: size, area, mass, cut length, pierces, time."""

import math
from dataclasses import dataclass

from parts.cutting.job import Job
from parts.cutting.slowing import SLOW, laps, share_below
from parts.cutting.stock import mass_kg, materials
from parts.profile import Drill, Profile, Scribe


@dataclass(frozen=True, slots=True)
class Measures:
    """Sizes and sums of one part.

    `cut_time_s` is at the pace that the machine keeps round every loop, with the pierces, without lead-ins or
    travel between; `slow_share` is the share of the cut length, 0 to 1, that goes slower than SLOW of the feed. The
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
    slow_share: float


def measure(profile: Profile, job: Job) -> Measures:
    """Return the measures of a profile cut by a job; each loop is pierced once."""
    loops = profile.boundary
    area = max(math.fsum(loop.signed_area for loop in loops), 0.0)
    length = math.fsum(loop.perimeter for loop in loops)
    x0, y0, x1, y1 = profile.box
    cut = job.cut
    paces = laps(loops, job)
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
        cut_time_s=math.fsum(pace.time for pace in paces) + len(loops) * cut.pierce_time_s,
        slow_share=share_below(paces, SLOW),
    )
