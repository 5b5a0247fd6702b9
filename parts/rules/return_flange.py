"""Return flange: legs of a U or a box that stand so high over their base that they meet the punch.

Two bends that turn the same way with a base between. Whichever is made second, the leg beyond the first leans in over
the base, and further the higher it is. The shorter leg is bent first. The tools are taken as common practice has them:
a straight punch as wide all the way up, in the middle between base and flange; the inside faces are looked at. Bends
whose angle or way the drawing doesn't tell are taken as square and turned the same way, and that is a note alone.

Rule    the leg, at the end of the bend, stays half the punch's thickness off its middle: for two square bends, leg
        inside <= base inside - 0.71 x punch
Number  `punch_width_mm` of `[brake]` in `parts/data/bending.toml`: 20 mm (common practice, from memory)
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from parts.cutting import Job
from parts.finding import Finding, Severity
from parts.forming import ALLOWANCE_NUMBERS, Fold, Side, bend_lines, folded, sharpest, sides
from parts.profile import Bend, Profile
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD

RULE = "return-flange"
NUMBERS = (*ALLOWANCE_NUMBERS, "brake.punch_width_mm", "rules.short-flange")
_Beside = tuple[Side | None, Side | None]


class Strike(NamedTuple):
    """How far a leg reaches beyond the punch's face, along itself, and how high it stands inside."""

    too_far: float
    height: float


class Flat:
    """The bends of a flat with what lies beside each."""

    def __init__(self, profile: Profile, bends: Sequence[Bend], folds: Sequence[Fold]) -> None:
        self.bends, self.folds, self.beside = bends, folds, sides(profile, bends)

    def bases(self) -> Iterator[tuple[int, int, float]]:
        """Yield each two bends side by side that turn the same way, and how far apart their lines are."""
        for i, beside in enumerate(self.beside):
            for side in beside:
                if side is None or side.bend is None or side.bend < i:
                    continue
                j = side.bend
                both = self.bends[i].angle and self.bends[j].angle
                bar = max(self.folds[i].angle, self.folds[j].angle) > sharpest() + PARALLEL_RAD
                if not bar and (not both or self.folds[i].up == self.folds[j].up):
                    yield i, j, side.off

    def strike(self, last: int, first: int, off: float, half: float) -> Strike:
        """How the leg beyond `first` meets a punch at `last`, which is `off` from it and as wide as twice `half`."""
        fold, leg = self.folds[last], self.folds[first]
        beyond = self._beyond(first, last)
        if beyond is None:
            return Strike(-math.inf, 0.0)
        base = off + _inside(fold) + _inside(leg)
        height = beyond.off + _inside(leg)
        if beyond.bend is not None:
            end = self.folds[beyond.bend]
            height += _reach(end, inward=end.up == leg.up)
        rise, lean = fold.angle / 2, fold.angle / 2 + leg.angle
        if math.cos(lean) >= -PARALLEL_RAD:
            return Strike(-math.inf, height)
        clear = (base * math.cos(rise) - half) / -math.cos(lean)
        return Strike(height - max(clear, 0.0), height)

    def _beyond(self, bend: int, away_from: int) -> Side | None:
        """What lies beside a bend on the side where another bend doesn't."""
        left, right = self.beside[bend]
        return right if left is not None and left.bend == away_from else left


def _inside(fold: Fold) -> float:
    """From a bend line to where the inside faces would meet, as if bent; negative where that lies before it."""
    return math.tan(fold.angle / 2) * fold.radius - fold.allowance / 2


def _reach(fold: Fold, *, inward: bool) -> float:
    """From a bend line to how far a leg goes that ends in it; a hem's faces meet nowhere, and it ends in its round."""
    if fold.angle > sharpest() + PARALLEL_RAD:
        return fold.radius + fold.thickness - fold.allowance / 2
    return _inside(fold) if inward else fold.deduction / 2


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each base whose legs meet the punch in either order; one at the limit passes."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if len(bends) < 2:
        return
    flat = Flat(profile, bends, [folded(bend, thickness, job.brake) for bend in bends])
    for i, j, off in flat.bases():
        orders = [(flat.strike(a, b, off, job.brake.punch_width / 2), a, b) for a, b in ((i, j), (j, i))]
        worst, last, first = min(orders, key=lambda order: order[0].too_far)
        if worst.too_far <= LIMIT_SLACK_MM:
            continue
        told = bool(bends[i].angle and bends[j].angle)
        severity: Severity = "warn" if told else "note"
        clears = worst.height - worst.too_far
        up_to = f"it clears up to {job.say(clears)}" if clears > LIMIT_SLACK_MM else "over so narrow a base none clears"
        supposed = "" if told else "Bent square and the same way, "
        yield Finding(
            RULE, severity, bends[first].line.at(0.5), worst.height, clears,
            f"{supposed}{'the' if supposed else 'The'} leg beyond bend line {first + 1} stands "
            f"{job.say(worst.height)} inside and meets a straight punch {job.say(job.brake.punch_width)} thick as bend "
            f"line {last + 1} is made; {up_to}.",
            f"Make the leg {job.say(worst.too_far)} lower or the base wider, bend it with a gooseneck punch, or make "
            "it of two parts.",
        )  # fmt: skip
