"""Two numbers that must move together, as the bend line of a strip and its length: two linear equations, by rates.

The findings are of two kinds, alike in how fast either number moves them; the most that a kind wants is an equation.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

from parts.finding import Finding
from parts.remedy.judge import shortfall
from parts.remedy.probe import Probe
from parts.tolerance import TIDY_DECIMALS


def coupled(probes: Sequence[Probe], found: Sequence[Finding]) -> Iterator[tuple[Probe, float, Probe, float]]:
    """Yield two numbers with the changes that bring all findings to their limits together.

    Either order is yielded: the first may be rounded, and the second looked for again beside it.
    """
    shares = {probe.spec.name: _shares(probe, found) for probe in probes}
    for one, other in combinations(probes, 2):
        both = zip(shares[one.spec.name], shares[other.spec.name], strict=True)
        wanted: dict[tuple[float, float], float] = {}
        for pair, finding in zip(both, found, strict=True):
            wanted[pair] = max(wanted.get(pair, 0.0), shortfall(finding))
        if len(wanted) == 2 and (solution := _solved(wanted)):
            x, y = solution
            yield one, x, other, y
            yield other, y, one, x


def _shares(probe: Probe, found: Sequence[Finding]) -> list[float]:
    """By how much a unit of a number lessens what each finding is off, 0 where it moves nothing."""
    wants = zip(found, probe.wants(found), strict=True)
    return [round(shortfall(finding) / want, TIDY_DECIMALS - 3) if want else 0.0 for finding, want in wants]


def _solved(wanted: dict[tuple[float, float], float]) -> tuple[float, float] | None:
    """How far each of two numbers is to go by Cramer's rule; None where one of them does it, or none."""
    ((a, b), e), ((c, d), f) = wanted.items()
    if not (determinant := a * d - b * c):
        return None
    x, y = (e * d - b * f) / determinant, (a * f - e * c) / determinant
    return (x, y) if x and y else None
