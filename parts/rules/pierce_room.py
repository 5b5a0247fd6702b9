"""Pierce room: there is room to pierce and lead in, inside each opening and outside each piece.

A cut starts in the waste, with a *pierce* that blows a crater, and goes from there to the outline by a *lead-in*.
In an opening the room is its largest circle, taken on the true lines and arcs. A pierce in the middle of it is
as far from the outline as can be, and a lead-in in an opening may be as short as half its radius (common
practice: 0.5 to 1.0 radii), so the way from the middle is always long enough, and it is the crater that counts:
it has to stay off the outline, by half a kerf if the place of the pierce is to be no matter of luck. A round
hole that `hole-to-thickness` passes needs no such margin, since the smallest hole already allows for a pierce in
its very centre. What that rule stops isn't named again. Nor is a slot that `slot-width` names, unless the crater is
wider than the slot.

Outside, where the waste has no end, the whole lead-in is wanted. One piece alone has room all round; of several
in one file each needs a place along its edge from which the lead-in starts clear of the others.

Rule    largest circle in an opening >= pierce crater, else a stop; >= pierce crater + kerf, else a warning;
        outside a piece somewhere a pierce crater clear of every outline, at a lead-in from its own, else a warning
Number  `pierce_diameter`, `lead_in` and `kerf` in `parts/data/processes.toml`, each with its source
"""

from collections.abc import Iterator, Sequence

from parts.cutting import Job
from parts.finding import Finding
from parts.geometry import EmptyCircle, Line, Loop, Point, Segment, beside, distance, meeting_points, room_in
from parts.geometry.narrow import Boundary, Runs, free_stretches, gaps, islands
from parts.geometry.search import Vicinity
from parts.profile import Profile
from parts.rules.hole_to_thickness import too_small
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM

RULE = "pierce-room"
NUMBERS = ("pierce_diameter", "lead_in", "kerf", "narrowest_slot", "smallest_hole", "rules.hole-to-thickness")


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each opening too small to start in, then for each piece with no room beside it."""
    yield from _openings(profile, job)
    if len(profile.outside) > 1:
        yield from _pieces(profile, job)


# ------------------------------------------------------------------------------------- inside


def _openings(profile: Profile, job: Job) -> Iterator[Finding]:
    cut, count = job.cut, len(profile.outside)
    small: list[tuple[int, EmptyCircle, float]] = []
    within = islands(profile.boundary)
    for index, loop in enumerate(profile.boundary[count:], start=count):
        wanted = cut.pierce_diameter_mm + (0.0 if loop.circle else cut.kerf_mm)
        room = room_in(loop, [profile.boundary[i] for i in within.get(index, ())], wanted / 2)
        if room is None or 2 * room.radius >= wanted - LIMIT_SLACK_MM:
            continue
        if not too_small(profile.boundary, index, within.get(index, ()), cut):
            small.append((index, room, wanted))
    narrow = _narrow(profile, job) if small else {}
    for index, room, wanted in small:
        across = 2 * room.radius
        shut = min(narrow.get(index, across), across) < cut.kerf_mm - LIMIT_SLACK_MM
        crater_fits = across >= cut.pierce_diameter_mm - LIMIT_SLACK_MM
        if index not in narrow or not (shut or crater_fits):
            yield _small(profile, job, index, room, wanted)


def _narrow(profile: Profile, job: Job) -> dict[int, float]:
    """The openings that `slot-width` names, each with its least width."""
    limit = max(job.cut.narrowest_slot_mm, job.cut.kerf_mm)
    return {gap.loop_a: gap.width for gap in reversed(gaps(profile.boundary, limit)) if gap.loop_a == gap.loop_b}


def _small(profile: Profile, job: Job, index: int, room: EmptyCircle, wanted: float) -> Finding:
    name, cut, across = profile.name(index), job.cut, 2 * room.radius
    crater = cut.pierce_diameter_mm
    said = job.say(across, wanted if across >= crater - LIMIT_SLACK_MM else crater)
    holds = f"{name[0].upper()}{name[1:]} has room for a circle of {said}"
    pierced = f"a pierce by {cut.title.lower()} in {job.say(cut.thickness_mm)} plate"
    if across < crater - LIMIT_SLACK_MM:
        return Finding(
            RULE, "stop", room.centre, across, crater,
            f"{holds}; {pierced} blows a crater of {job.say(crater, across)}.",
            f"Make it {job.say(wanted - across)} wider, or start it from a drilled hole.",
        )  # fmt: skip
    return Finding(
        RULE, "warn", room.centre, across, wanted,
        f"{holds}; {pierced} wants {job.say(wanted, across)}, to keep its crater off the edge.",
        f"Pierce right in the middle of it, or make it {job.say(wanted - across)} wider.",
    )  # fmt: skip


# ------------------------------------------------------------------------------------- outside


def _pieces(profile: Profile, job: Job) -> Iterator[Finding]:
    cut, boundary = job.cut, profile.boundary
    crater = cut.pierce_diameter_mm
    away = max(cut.lead_in_mm, crater / 2)
    hemmed = [i for i in range(len(profile.outside)) if not _is_outermost(profile, boundary[i])]
    if not hemmed:
        return
    starts = _starts(boundary, hemmed, away, crater)
    for i in hemmed:
        if i not in starts:
            name = profile.name(i)
            yield Finding(
                RULE, "warn", boundary[i].segments[0].start, None, away,
                f"There is no room to start beside {name}: a pierce wants to be {job.say(away)} from it, and its "
                f"crater of {job.say(crater)} clear of the others.",
                "Move the pieces further apart, or leave out what is around it.",
            )  # fmt: skip


def _is_outermost(profile: Profile, piece: Loop) -> bool:
    """Whether a piece reaches furthest to one side of all: there nothing is in the way."""
    return any(abs(a - b) <= LIMIT_SLACK_MM for a, b in zip(piece.box, profile.box, strict=True))


def _starts(boundary: Sequence[Loop], hemmed: Sequence[int], away: float, crater: float) -> set[int]:
    """The loops, of those asked, that a lead-in can start somewhere beside.

    The middles of the paths beside a piece are tried first: most pieces have room there, and then no arrays are made.
    """
    vicinity = Vicinity(boundary)
    found = {i for i in hemmed if any(_is_start(*place, i, crater, vicinity) for place in _middles(boundary[i], away))}
    paths = [((i, k), path) for i in hemmed if i not in found for k, path in beside(boundary[i], away)]
    if not paths:
        return found
    free = free_stretches(Runs.along((path for _, path in paths), crater), Boundary(boundary, crater))
    for index, middle in zip(free.pair.tolist(), free.middle.tolist(), strict=True):
        i, k = paths[index][0]
        if i not in found and _is_start((middle.real, middle.imag), boundary[i].segments[k], i, crater, vicinity):
            found.add(i)
    return found


def _middles(piece: Loop, away: float) -> Iterator[tuple[Point, Segment]]:
    for k, path in beside(piece, away):
        yield path.at(0.5), piece.segments[k]


def _is_start(start: Point, beside: Segment, own: int, crater: float, vicinity: Vicinity) -> bool:
    """Whether a crater has no outline inside and the lead-in from it to the segment beside meets no other loop."""
    if any(distance(start, foot) < crater / 2 - SAME_POINT_MM for _, foot in vicinity.nearest(start, crater / 2)):
        return False
    lead_in = Line(start, beside.nearest(start))
    near = vicinity.near(lead_in.box, SAME_POINT_MM)
    return not any(meeting_points(lead_in, other.segment) for other in near if other.loop != own)
