"""Bend relief: where a bend ends at metal that stays flat, the corner tears unless a slot or hole parts the two.

Looked at is what lies just past each end of a bend line, from where the bend begins to where it ends and half as far
again. Where metal of the bend goes on unbroken past the end, but not all that is looked at, the bend ends at an inside
corner. A line that ends within the metal on all sides is as far as the drawing shows it, and passes.

Rule    past the end of a bend at an inside corner: nothing but a slot or a hole as far as the bend reaches
Number  half the bend allowance to each side of the line, standard formula; R + T is common practice for its depth
"""

from collections.abc import Iterator, Sequence

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, Fold, bend_lines, folded, name
from parts.geometry import Line, Point
from parts.geometry.search import Vicinity
from parts.profile import Bend, Profile
from parts.tolerance import LEAST_HEAL_MM

RULE = "bend-relief"
NUMBERS = (*ALLOWANCE_NUMBERS, "rules.bend-relief")
_ACROSS = tuple(threshold("bend-relief", "across_share") * thirds / 3 for thirds in (1, 2, 3))
"""Where between the line and where the bend begins it is looked past the end; at 1 a relief just as deep ends."""
_BEYOND = threshold("bend-relief", "beyond_share")
_STEPS = int(threshold("bend-relief", "steps"))


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each bend with an end that isn't parted from flat metal beside it."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if not bends:
        return
    edges = Vicinity(profile.boundary)
    for number, bend in enumerate(bends):
        fold = folded(bend, thickness, job.brake)
        torn = [end for end in (bend.line, bend.line.reversed()) if _torn(edges, len(profile.boundary), end, fold)]
        if torn:
            yield _finding(bends, number, fold, [line.end for line in torn], job)


def _torn(edges: Vicinity, count: int, line: Line, fold: Fold) -> bool:
    """Whether past the end of a line some metal of the bend goes on, and beside that there is none."""
    half, length = fold.allowance / 2, fold.allowance + fold.thickness

    def goes_on(share: float) -> list[bool]:
        return [_unbroken(edges, count, line, side * share * half, length) for side in (1.0, -1.0)]

    of_bend = [on for share in _ACROSS for on in goes_on(share)]
    return any(of_bend) and not all((*of_bend, *goes_on(_BEYOND)))


def _unbroken(edges: Vicinity, count: int, line: Line, off: float, length: float) -> bool:
    """Whether the metal goes on past the end of a line, `off` to its left, for so long."""
    (x, y), (ux, uy) = line.end, line.heading

    def at(along: float) -> Point:
        return x + along * ux - off * uy, y + along * uy + off * ux

    return all(edges.inside(at(LEAST_HEAL_MM + length * step / _STEPS), count) for step in range(_STEPS + 1))


def _finding(bends: Sequence[Bend], number: int, fold: Fold, ends: list[Point], job: Job) -> Finding:
    what = name(bends, number)
    more = " The same at its other end." if len(ends) > 1 else ""
    return Finding(
        RULE, "warn", ends[0], None, None,
        f"{what[0].upper()}{what[1:]} ends at an inside corner without a relief: the metal beside it stays flat, and "
        f"tears there.{more}",
        f"Cut a slot beside the bend, {job.say(fold.relief)} past its line and as wide as the plate is thick or as the "
        "process cuts, or a hole as large.",
        also=tuple(ends[1:]),
    )  # fmt: skip
