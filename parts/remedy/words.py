"""Other counts, bolt sizes, choices and flags: those near the present one, and the nearest further off that does.

scale   the values of a count or of a bolt in their order; a bolt's are the sizes of its own system, metric or inch
"""

from collections.abc import Callable, Iterator, Sequence

from parts.remedy.probe import within
from parts.spec import BY_DIAMETER, Spec, Value

NEIGHBOURS = 3
"""How far from its present place in the list a count or a bolt size is tried without further ado."""
GROWTH = 1.5
"""How many times as far each try lies beyond the neighbours as the one before."""


def near(spec: Spec, value: Value) -> Iterator[tuple[int, Value]]:
    """Yield the other values of a count, a bolt, a choice or a flag near this one, with how far off each is."""
    if spec.kind == "count":
        now = int(value)
        numbers = (n for n in range(now - NEIGHBOURS, now + NEIGHBOURS + 1) if n != now and within(spec, n))
        yield from ((abs(n - now), n) for n in numbers)
    elif spec.kind == "flag":
        yield 1, not value
    elif spec.kind == "choice":
        choices = [choice for choice in spec.choices if choice != BY_DIAMETER]
        at = choices.index(str(value)) if value in choices else None
        for i, choice in enumerate(choices):
            far = abs(i - at) if at is not None else len(choices)
            if choice != value and far <= NEIGHBOURS:
                yield far, choice


def further(spec: Spec, value: Value, does: Callable[[Value, int], bool]) -> Iterator[tuple[int, Value]]:
    """Yield the value of a count or a bolt beyond its neighbours that `does`, one each way at most, and how far off."""
    scale = _scale(spec, value)
    if value not in scale:
        return
    at = scale.index(value)
    for onward in (scale[at + 1 :], scale[:at][::-1]):
        if far := nearest(onward, does, NEIGHBOURS):
            yield far, onward[far - 1]


def nearest(onward: Sequence[Value], does: Callable[[Value, int], bool], known: int = 0) -> int:
    """Return how far along its values the nearest lies that `does`, 1 the first, 0 for none; the `known` don't.

    It is looked for in ever longer strides, then halved back to: as near as any where all beyond one that does, do.
    """
    bad, good = known, known + 1
    while good <= len(onward) and not does(onward[good - 1], good):
        bad, good = good, max(good + 1, int(good * GROWTH))
    if good > len(onward):
        return 0
    while good - bad > 1:
        middle = (bad + good) // 2
        bad, good = (bad, middle) if does(onward[middle - 1], middle) else (middle, good)
    return good


def smaller(spec: Spec, value: Value) -> Iterator[tuple[int, Value]]:
    """Yield the smaller sizes of a bolt's own system, the largest first, with how far down each is; of bolts alone."""
    if spec.is_bolt and value in (scale := _scale(spec, value)):
        yield from enumerate(reversed(scale[: scale.index(value)]), start=1)


def without(spec: Spec) -> Value | None:
    """Return the value that leaves out what a parameter is of: a length or count of 0, or `none`; None for no such.

    A number that the template fills in where it is 0 is still there.
    """
    if spec.kind in ("length", "count") and spec.minimum == 0 and not spec.auto:
        return 0 if spec.kind == "count" else 0.0
    return "none" if "none" in spec.choices else None


def _scale(spec: Spec, value: Value) -> Sequence[Value]:
    if spec.kind == "count":
        return range(int(spec.minimum or 0), int(spec.maximum or 0) + 1)
    metric = str(value).startswith("M")
    return [size for size in spec.choices if size != BY_DIAMETER and size.startswith("M") == metric] * spec.is_bolt
