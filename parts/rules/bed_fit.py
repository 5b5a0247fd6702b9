"""Bed fit: the part lies within the machine's travel and on the sheet, as drawn or turned.

The sheet may lie on the bed either way. Where neither the part as drawn nor a quarter turn will do, any other turn
that fits is looked for: width and height of the part at a turn follow in closed form from its outermost points and
arcs, so the turns that just fit are solved for, and none is missed.

Rule    width and height <= the travel in X and Y, and <= the sheet, at some turn
Number  the travel of the bed, by default 52 in by 98 in, and the sheet, by default 4 ft by 8 ft (common practice)
"""

import math
from collections.abc import Iterator

from parts.cutting import Bed, Job
from parts.finding import Finding, Severity
from parts.geometry import Point
from parts.geometry.reach import roundest, turns_that_fit
from parts.profile import Profile
from parts.units import format_angle

RULE = "bed-fit"
NUMBERS = ("bed", "sheet")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a note where the part only fits turned, a stop where it fits no way."""
    x0, y0, x1, y1 = profile.box
    width, height, rooms = x1 - x0, y1 - y0, _rooms(job)
    if any(room.holds(width, height) for room in rooms):
        return
    severity: Severity = "note"
    if any(room.holds_turned(width, height) for room in rooms):
        remedy = "Turn it a quarter on the sheet: that way it fits."
    elif turn := _slanting(profile, rooms):
        remedy = f"Turn it {turn} on the sheet: it fits only slanting."
    else:
        severity = "stop"
        remedy = f"Make it smaller, or in pieces to weld; or enter your own {_wanting(job, width, height)}."
    yield Finding(RULE, severity, _place(profile), *_too_large(job, width, height), remedy)


def _place(profile: Profile) -> Point:
    """The middle of the part; where no metal is there to be pointed at, the outer edge nearest to it."""
    x0, y0, x1, y1 = profile.box
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    if sum(loop.contains(middle) for loop in profile.boundary) % 2:
        return middle
    near = (segment.nearest(middle) for loop in profile.outside for segment in loop.segments)
    return min(near, key=lambda point: math.dist(point, middle))


def _rooms(job: Job) -> tuple[Bed, Bed]:
    """What the torch reaches of the sheet, laid as entered and the other way."""
    bed, sheet = job.bed, job.sheet
    return (
        Bed(min(bed.x_mm, sheet.x_mm), min(bed.y_mm, sheet.y_mm)),
        Bed(min(bed.x_mm, sheet.y_mm), min(bed.y_mm, sheet.x_mm)),
    )


def _slanting(profile: Profile, rooms: tuple[Bed, Bed]) -> str:
    """The turn at which the part has the most play, in words; nothing where there is none."""
    spans = turns_that_fit(profile.outside, [(room.x_mm, room.y_mm) for room in rooms])
    if not spans:
        return ""
    turn = roundest(max(spans, key=lambda span: span[1] - span[0]))
    return f"{format_angle(abs(turn), 10)} to the {'left' if turn > 0 else 'right'}"


def _too_large(job: Job, width: float, height: float) -> tuple[float, float, str]:
    """The size that overshoots most, its limit, and the sentence that says so."""
    said, limits = [], []
    if not job.bed.holds(width, height):
        said.append(f"the bed travels {job.say(job.bed.x_mm)} by {job.say(job.bed.y_mm)}")
        limits.append(job.bed)
    sheet = Bed(job.sheet.x_mm, job.sheet.y_mm)
    if not (sheet.holds(width, height) or sheet.holds_turned(width, height)):
        said.append(f"the sheet is {job.say(sheet.x_mm)} by {job.say(sheet.y_mm)}")
        other = Bed(sheet.y_mm, sheet.x_mm)
        limits.append(min(sheet, other, key=lambda laid: max(width - laid.x_mm, height - laid.y_mm)))
    over = [(size - limit, size, limit) for of in limits for size, limit in ((width, of.x_mm), (height, of.y_mm))]
    _, measured, limit = max(over, key=lambda each: each[0])
    lengths = [length for of in limits for length in (of.x_mm, of.y_mm)]
    wide, high = (job.say(mm, min(lengths, key=lambda near: abs(near - mm))) for mm in (width, height))
    return measured, limit, f"The part is {wide} by {high}; {', and '.join(said)}."


def _wanting(job: Job, width: float, height: float) -> str:
    """What a part of this size fits neither upright nor turned a quarter: bed, sheet or both."""
    wanting = [
        word
        for word, of in (("bed", job.bed), ("sheet", Bed(job.sheet.x_mm, job.sheet.y_mm)))
        if not (of.holds(width, height) or of.holds_turned(width, height))
    ]
    return " and ".join(wanting) or "bed and sheet"
