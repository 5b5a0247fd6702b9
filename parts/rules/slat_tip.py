"""Slat tip: no piece of a size that tips up between the slats, where the torch runs into it.

A piece whose greatest length is under two pitches of the slats can lie with its middle off every slat that would
hold it, and tips. A *drop-out* is what falls out of an opening: the opening less half a kerf all round. Its mean width
is its opening's area over its greatest length. It falls through between two slats and does no harm when it is under
half a pitch long, or under a pitch long and a quarter of a pitch wide in the mean (adjusting slots), or, whatever its
length, a sliver no wider in the mean than the thickness and a kerf. Any other may stand up while the torch is still at
work. A part as a whole is cut free last, so only one shorter than a pitch is told of: it surely lies on one slat or
none, and tips or falls through. Both always hold of openings and parts of such a size, as of a washer: routine, told
once beside the cautions, and no finding. Where other parts of the drawing are still to be cut, a part that doesn't fall
through stands in the torch's way (warn).

Rule    a drop-out falls through, or is two pitches long or more; a part is one pitch long or more
Number  the machine's `slat_pitch`, in `parts/data/processes.toml` or your own file; the shares of it common practice
"""

import math
from collections.abc import Iterator

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding, Severity
from parts.geometry import Loop, Point, centroid
from parts.geometry.narrow import islands
from parts.geometry.reach import Extent
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "slat-tip"
NUMBERS = ("machine.slat_pitch_mm", "kerf", "rules.slat-tip")

FALLS, SLIM = threshold("slat-tip", "falls_pitches"), threshold("slat-tip", "slim_pitches")
STAYS = threshold("slat-tip", "stays_pitches")
"""In pitches: what falls through is shorter, or slim, or else stays on two slats where it is longer."""


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for parts that can tip, and one for drop-outs that can; routine but where torch and part meet."""
    pitch = job.machine.slat_pitch
    loose = {piece for pieces in islands(profile.boundary).values() for piece in pieces}
    whole = [loop for i, loop in enumerate(profile.outside) if i not in loose]
    small = [(length, loop) for loop in whole if (length := _greatest(loop, 0.0, pitch)) < pitch - LIMIT_SLACK_MM]
    if small:
        stays = any(not _falls_through(length, loop.area / length, job) for length, loop in small)
        in_the_way = stays and len(whole) > 1
        yield _part(sorted((length, *centroid(loop)) for length, loop in small), "warn" if in_the_way else "note", job)
    if drop_outs := sorted(_tipping(profile, job)):
        yield _drop_outs(drop_outs, job)


def _tipping(profile: Profile, job: Job) -> Iterator[tuple[float, float, float]]:
    """Yield length and place of each drop-out that can tip."""
    kerf, pitch = job.cut.kerf_mm, job.machine.slat_pitch
    low, high = FALLS * pitch + kerf, STAYS * pitch + kerf
    for opening in profile.inside:
        length = _greatest(opening.loop, low, high)
        if not low - LIMIT_SLACK_MM <= length < high - LIMIT_SLACK_MM:
            continue
        if not _falls_through(length - kerf, opening.loop.area / length - kerf, job):
            yield length - kerf, *centroid(opening.loop)


def _falls_through(length: float, width: float, job: Job) -> bool:
    """Tell whether a piece under two pitches, so long and in the mean so wide, falls between two slats."""
    pitch, sliver = job.machine.slat_pitch, job.cut.thickness_mm + job.cut.kerf_mm
    short = length < FALLS * pitch - LIMIT_SLACK_MM
    slim = length < pitch - LIMIT_SLACK_MM and width < SLIM * pitch - LIMIT_SLACK_MM
    return short or slim or width <= sliver + LIMIT_SLACK_MM


def _greatest(loop: Loop, low: float, high: float) -> float:
    """The greatest length of a loop; for one surely below `low` or above `high`, some length that is so too."""
    if circle := loop.circle:
        return circle.diameter
    x0, y0, x1, y1 = loop.box
    side, diagonal = max(x1 - x0, y1 - y0), math.hypot(x1 - x0, y1 - y0)
    if diagonal < low or side > high:
        return diagonal if diagonal < low else side
    return Extent(loop).greatest()


def _part(pieces: list[tuple[float, float, float]], severity: Severity, job: Job) -> Finding:
    (length, *at), *others = pieces
    pitch = job.machine.slat_pitch
    it = f"{len(pieces)} parts are" if others else "The part is"
    return Finding(
        RULE, severity, _place(at), length, pitch,
        f"{it} no longer than {job.say(pieces[-1][0])} and the slats stand {job.say(pitch)} apart; cut free, "
        f"{'they tip or fall' if others else 'it tips or falls'} through.",
        "Leave a tab or two, or lay the plate on a sacrificial sheet.",
        also=tuple(_place(place) for _, *place in others), is_routine=severity == "note",
    )  # fmt: skip


def _drop_outs(found: list[tuple[float, float, float]], job: Job) -> Finding:
    (length, *at), *others = found
    pitch = job.machine.slat_pitch
    what = (
        f"{len(found)} drop-outs, {job.say(length)} long and more," if others else f"A drop-out {job.say(length)} long"
    )
    return Finding(
        RULE, "note", _place(at), length, STAYS * pitch,
        f"{what} can tip up on slats {job.say(pitch)} apart and stand in the torch's way.",
        "Clear them as they drop, leave a tab, or cut them where the torch doesn't pass again.",
        also=tuple(_place(place) for _, *place in others), is_routine=True,
    )  # fmt: skip


def _place(at: list[float]) -> Point:
    x, y = at
    return x, y
