"""Bends apart: two bends so near each other that the second finds no flat metal to lie on the die.

Two bend lines that run along each other with nothing but metal between. Either may be bent first; the second wants
the flange of its die, flat up to where the first begins. A bend turned through more than 150 degrees is formed round a
bar, and asks nothing. A bend whose angle the drawing doesn't tell is taken as square.

Rule    distance between the lines >= least flange of the second bend, as in `short-flange`, + half the allowance of the
        first, in the better order
Number  `[brake]` in `parts/data/bending.toml`: flange of 0.7 V; V opening by `parts/data/air_bending.toml` (common
        practice)
"""

from collections.abc import Iterator

from parts.cutting import Job
from parts.finding import Finding
from parts.forming import FLANGE_NUMBERS, bend_lines, folded, sharpest, sides
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD

RULE = "bends-apart"
NUMBERS = FLANGE_NUMBERS


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each two bends too near each other; two at the limit pass."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if len(bends) < 2:
        return
    folds = [folded(bend, thickness, job.brake) for bend in bends]
    seen: set[tuple[int, int]] = set()
    for i, beside in enumerate(sides(profile, bends)):
        for side in beside:
            if side is None or side.bend is None:
                continue
            pair = min(i, side.bend), max(i, side.bend)
            one, other = (folds[j] for j in pair)
            limit = job.brake.least_between(one, other)
            if pair in seen or side.off >= limit - LIMIT_SLACK_MM:
                continue
            seen.add(pair)
            if max(one.angle, other.angle) > sharpest() + PARALLEL_RAD:
                continue
            opening = job.brake.v_opening(thickness, min(one.radius, other.radius))
            a, b = (bends[j].line.at(0.5) for j in pair)
            apart, wanted = job.say_apart(side.off, limit)
            yield Finding(
                RULE, "warn", ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), side.off, limit,
                f"Bend lines {pair[0] + 1} and {pair[1] + 1} are {apart} apart; over a V opening of "
                f"{job.say(opening)} the second of them wants {wanted} in {job.say(thickness)} plate.",
                f"Make what is between them {job.say(limit - side.off)} longer, or bend it over a narrower die or "
                "with offset tools.",
            )  # fmt: skip
