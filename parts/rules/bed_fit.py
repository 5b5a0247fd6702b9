"""Bed fit: the part lies within the machine's travel, as drawn or turned a quarter.

Rule    width and height <= travel in X and Y, one way or the other
Number  the travel of the bed; by default 52 in by 98 in, for 4 ft by 8 ft sheets (common practice)
"""

from collections.abc import Iterator

from parts.finding import Finding
from parts.job import Job
from parts.profile import Profile

RULE = "bed-fit"


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a note where the part only fits turned, a stop where it fits neither way."""
    x0, y0, x1, y1 = profile.box
    width, height, bed = x1 - x0, y1 - y0, job.bed
    if bed.holds(width, height):
        return
    over_x = width - bed.x_mm > height - bed.y_mm
    measured, limit = (width, bed.x_mm) if over_x else (height, bed.y_mm)
    travel = f"{job.say(bed.x_mm)} by {job.say(bed.y_mm)}"
    size = f"The part is {job.say(width)} by {job.say(height)}; the bed travels {travel}."
    at = ((x0 + x1) / 2, (y0 + y1) / 2)
    if bed.holds_turned(width, height):
        yield Finding(RULE, "note", at, measured, limit, size, "Turn it a quarter on the sheet: that way it fits.")
    else:
        yield Finding(
            RULE,
            "stop",
            at,
            measured,
            limit,
            size,
            "Make it smaller, or in pieces to weld; or enter your own bed.",
        )
