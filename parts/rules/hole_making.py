"""Hole making: what is done to a hole after cutting needs metal too, below it and beside it.

A thread holds by its length, a countersink is a cone that ends within the plate, and a head let in stands in metal
all round: edges are judged by the head, not by the hole that is cut for its bolt. Where a hole can't be cut in this
thickness its centre is marked, and that is said; of a slot for a bolt the ends are, and its outline is scribed.

Rule    thread length >= its diameter; countersink no deeper than the plate; counterbore short of its far face;
        metal beside a head >= half of the hole under it
Number  one diameter of thread and half a hole of metal: common practice. Heads, threads and tap drills are in
        `parts/data/hole_making.toml`, each series with its source
"""

from collections.abc import Iterator
from typing import NamedTuple

from parts.cutting import Job
from parts.data import threshold
from parts.fasteners import Voids
from parts.finding import Finding, Severity
from parts.geometry import Point, distance
from parts.profile import HoleWork, Profile
from parts.tolerance import LIMIT_SLACK_MM

RULE = "hole-making"
NUMBERS = ("rules.hole-making", "hole_making", "smallest_hole")

_THREAD = threshold("hole-making", "thread_diameters")
_SHARE = threshold("hole-making", "metal_share")
_SMALL_HOLES = "Holes too small to cut"
"""What the choice is called by which they are drilled."""


class Worked(NamedTuple):
    """A hole to which something is done: its index among the voids, its middle, the diameter cut or drilled."""

    void: int
    at: Point
    size: float
    work: HoleWork


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield what each pattern of worked holes lacks, and a note where its holes are only marked; at a limit: none."""
    voids = Voids(profile)
    patterns: dict[tuple[str, HoleWork], list[Worked]] = {}
    for hole in _worked(voids):
        patterns.setdefault((voids.pattern(hole.void), hole.work), []).append(hole)
    for (_, work), found in patterns.items():
        yield from _depth(voids, found, work, job)
        yield from _beside(voids, found, work, job)
        if work.is_marked:
            yield _marked(voids, found, work, job)


def _worked(voids: Voids) -> Iterator[Worked]:
    for index in range(voids.first, len(voids.loops)):
        thing, ring = voids.things[index - voids.first], voids.loops[index].circle
        if ring and thing.work:
            yield Worked(index, ring.centre, ring.diameter, thing.work)


def _depth(voids: Voids, found: list[Worked], work: HoleWork, job: Job) -> Iterator[Finding]:
    """Yield what is wrong with how deep a thread or a head goes."""
    thick = job.cut.thickness_mm
    say = job.say
    if work.kind == "tapped" and thick < (wanted := _THREAD * work.made) - LIMIT_SLACK_MM:
        yield _finding(
            voids, found, "warn", (thick, wanted),
            f"has {say(thick)} of {work.thread} thread, which wants {say(wanted)} to hold",
            "Take a finer or smaller thread, weld a nut on, or take thicker plate.",
        )  # fmt: skip
    if work.kind == "countersunk" and work.depth > thick + LIMIT_SLACK_MM:
        yield _finding(
            voids, found, "warn", (work.depth, thick),
            f"is countersunk {say(work.depth)} deep in {say(thick)} plate, so its head goes through",
            "Take a smaller screw, dimple the sheet, or take thicker plate.",
        )  # fmt: skip
    if work.kind == "counterbored" and work.depth >= thick - LIMIT_SLACK_MM:
        yield _finding(
            voids, found, "stop", (work.depth, thick),
            f"is counterbored {say(work.depth)} deep in {say(thick)} plate: nothing is left under the head",
            "Take a smaller screw or thicker plate, or countersink it.",
        )  # fmt: skip


def _beside(voids: Voids, found: list[Worked], work: HoleWork, job: Job) -> Iterator[Finding]:
    """Yield the heads with too little metal beside them."""
    if work.kind not in ("countersunk", "counterbored"):
        return
    limit, short = _SHARE * found[0].size, []
    for hole in found:
        feet = voids.vicinity.nearest(hole.at, work.made / 2 + limit, {hole.void: hole})
        left = min((distance(hole.at, foot) - work.made / 2 for _, foot in feet), default=limit)
        if left < limit - LIMIT_SLACK_MM:
            short.append((left, hole))
    if not short:
        return
    least, worst = min(short, key=lambda pair: pair[0])
    left = max(least, 0.0)
    ordered = [worst, *(hole for _, hole in short if hole is not worst)]
    what = "breaks out" if not left else f"leaves {job.say(left, limit)} of metal beside it; {job.say(limit)} is wanted"
    yield _finding(
        voids, ordered, "warn", (left, limit), f"has a head of {job.say(work.made)} let in that {what}",
        f"Move it {job.say(limit - least)} further in, or take a smaller screw.",
    )  # fmt: skip


def _marked(voids: Voids, found: list[Worked], work: HoleWork, job: Job) -> Finding:
    """The note that holes are drilled, not cut."""
    size, thick = found[0].size, job.say(job.cut.thickness_mm)
    limit, what = job.cut.smallest_hole_mm, ", too small"
    marked, remedy = "its centre is marked", "Drill it after cutting"
    if work.kind == "slot":
        limit, what = job.cut.narrowest_slot_mm, " wide, too narrow"
        marked, remedy = "it is scribed, and where to drill is marked", "Drill there, and saw or file it out"
    if work.kind in ("slot", "through"):
        remedy += f"; to have it cut all the same, say cut for \u201c{_SMALL_HOLES}\u201d"
    return _finding(
        voids, found, "note", (size, limit), f"is {job.say(size)}{what} to cut in {thick} plate: {marked}", f"{remedy}."
    )


def _finding(
    voids: Voids, found: list[Worked], severity: Severity, sizes: tuple[float, float], what: str, remedy: str
) -> Finding:
    """A finding of a pattern's holes, the worst first; `sizes` are what is measured and its limit."""
    first, *others = found
    measured, limit = sizes
    name = voids.name(first.void)
    more = f" The same at {len(others)} more." if others else ""
    return Finding(
        RULE, severity, first.at, measured, limit, f"{name[0].upper()}{name[1:]} {what}.{more}", remedy,
        also=tuple(hole.at for hole in others),
    )  # fmt: skip
