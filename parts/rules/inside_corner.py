"""Inside corner: a corner that points into the metal has a radius that the jet can leave.

The jet is a disc: it leaves half the kerf as a radius in every inside corner drawn sharper, and a square mating
edge doesn't seat there. A *corner* turns by 60 degrees or more between the places where a disc of the radius
asked for would touch its flanks, however it is drawn in between: sharp, an arc, a small chamfer, a chain of
short segments. A kink that turns less loses next to nothing. A relief hole at the corner clears it, when the
jet has room in it. The round end of a tapering slot is no corner, and a tip so sharp that it is lost is left to
`lost-detail`.

Half a millimetre is as much as the edges of a mating part are broken anyway (common practice), so a process that
leaves no more gives a note, not a warning.

Rule    radius >= half the kerf, else a warning (a note where that is 0.5 mm or less);
        radius >= inside radius of the process at this thickness, else a note
Number  `kerf` and `inside_radius` in `parts/data/processes.toml`, each with its source
"""

import math
from collections.abc import Iterable, Iterator, Set

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding, Severity
from parts.geometry.disk import Pocket, pockets
from parts.profile import Profile
from parts.rules.lost_detail import depth_allowed
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_NECK_MM, SAME_POINT_MM, TIDY_DECIMALS

RULE = "inside-corner"
NUMBERS = ("kerf", "inside_radius", "rules.inside-corner", "rules.lost-detail.more_kerfs")

LEAST_TURN = math.radians(threshold("inside-corner", "least_turn_deg"))
"""A corner that turns less is no seat for a square edge, and the jet rounds it off by less than r/6."""

BROKEN_EDGE_MM = threshold("inside-corner", "broken_edge_mm")
"""How far the edges of a mating part are broken in any case (common practice: 0.3 to 0.5 mm)."""

_MOST_TURN = math.radians(threshold("inside-corner", "most_turn_deg"))
"""A stretch that turns by more is the end of a tapering slot, as round as it can be."""

_RELIEVED = math.radians(threshold("inside-corner", "relieved_deg"))
"""A stretch that turns back by more on its way is a relief or a notch, not a corner."""


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield one finding for each loop with corners sharper than the jet or the trade wants them."""
    jet, wanted, allowed = job.cut.kerf_mm / 2, job.cut.inside_radius_mm, depth_allowed(job.cut)
    unreached = list(pockets(profile.boundary, jet, LEAST_TURN))
    sharp = _by_loop(
        p for p in unreached if p.turn >= LEAST_TURN - PARALLEL_RAD and p.depth <= allowed + LIMIT_SLACK_MM
    )
    tight: dict[int, list[Pocket]] = {}
    if wanted > jet + LIMIT_SLACK_MM:
        known = {(p.loop, k) for p in unreached for k in p.corners}
        tight = _by_loop(p for p in pockets(profile.boundary, wanted, LEAST_TURN, sharp) if _is_tight(p, known))
    for loop in sorted(sharp.keys() | tight.keys()):
        if loop in sharp:
            severity: Severity = "warn" if jet > BROKEN_EDGE_MM + LIMIT_SLACK_MM else "note"
            yield _finding(profile, job, severity, sharp[loop], jet)
        else:
            yield _finding(profile, job, "note", tight[loop], wanted)


def _turns(pocket: Pocket) -> bool:
    return pocket.turn >= LEAST_TURN - PARALLEL_RAD


def _is_tight(pocket: Pocket, known: Set[tuple[int, int]]) -> bool:
    """Whether a pocket for the radius wanted is a plain corner, and none that the jet doesn't reach into."""
    plain = LEAST_TURN - PARALLEL_RAD <= pocket.turn <= _MOST_TURN and pocket.back <= _RELIEVED
    return plain and known.isdisjoint((pocket.loop, k) for k in pocket.corners)


def _by_loop(found: Iterable[Pocket]) -> dict[int, list[Pocket]]:
    """The pockets by their loop, the sharpest first."""
    loops: dict[int, list[Pocket]] = {}
    for pocket in found:
        loops.setdefault(pocket.loop, []).append(pocket)
    return {loop: sorted(of, key=lambda p: round(p.drawn_radius, TIDY_DECIMALS)) for loop, of in loops.items()}


def _finding(profile: Profile, job: Job, severity: Severity, corners: list[Pocket], limit: float) -> Finding:
    cut, radius, many = job.cut, corners[0].drawn_radius, len(corners) > 1
    what = f"{len(corners)} inside corners" if many else "An inside corner"
    if radius <= SAME_POINT_MM:
        drawn = f"{'are' if many else 'is'} sharp"
    else:
        more = " or more" if corners[-1].drawn_radius > radius + SAME_NECK_MM else ""
        drawn = f"{'have' if many else 'has'} a radius of {job.say(radius, limit)}{more}"
    leaves = "wants" if limit > cut.kerf_mm / 2 + LIMIT_SLACK_MM else "leaves"
    return Finding(
        RULE, severity, corners[0].tip, radius, limit,
        f"{what} of {profile.name(corners[0].loop)} {drawn}; {cut.title.lower()} in {job.say(cut.thickness_mm)} plate "
        f"{leaves} {job.say(limit, radius)}.",
        f"Round {'them' if many else 'it'} to {job.say(max(cut.inside_radius_mm, limit))} or more; where a square edge "
        f"has to seat, a relief hole {job.say(cut.kerf_mm)} across or more clears it.",
        (), tuple(pocket.tip for pocket in corners[1:]),
    )  # fmt: skip
