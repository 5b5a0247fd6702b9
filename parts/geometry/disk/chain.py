"""Chaining pieces into closed loops.

Each is followed by the one it is known to go on in, or by the one that starts where it ends.
"""

from collections.abc import Sequence

from parts.errors import GeometryError
from parts.geometry.search.boxes import pairs_between
from parts.geometry.segment import Point, distance
from parts.tolerance import SAME_NECK_MM


def cycles(starts: Sequence[Point], ends: Sequence[Point], follows: Sequence[int | None]) -> list[list[int]]:
    """Return the closed chains that pieces form, as their indices in order.

    Args:
        starts: where each piece starts.
        ends: where each piece ends.
        follows: the piece that each is known to go on in, or None.

    Raises:
        GeometryError: a piece ends where none starts.
    """
    after = list(follows)
    led_to = {index for index in follows if index is not None}
    loose_ends = [i for i, index in enumerate(after) if index is None]
    loose_starts = [i for i in range(len(starts)) if i not in led_to]
    taken: set[int] = set()
    for _, end, start in sorted(_near(loose_ends, loose_starts, ends, starts)):
        if after[end] is None and start not in taken:
            after[end] = start
            taken.add(start)
    if lost := [ends[i] for i in loose_ends if after[i] is None]:
        raise GeometryError(f"Nothing goes on at {lost[0]}.")
    return _walked([index for index in after if index is not None])


def _near(
    loose_ends: Sequence[int], loose_starts: Sequence[int], ends: Sequence[Point], starts: Sequence[Point]
) -> list[tuple[float, int, int]]:
    here = [(*ends[i], *ends[i]) for i in loose_ends]
    there = [(*starts[j], *starts[j]) for j in loose_starts]
    pairs = ((loose_ends[i], loose_starts[j]) for i, j in pairs_between(here, there, SAME_NECK_MM))
    return [(distance(ends[i], starts[j]), i, j) for i, j in pairs]


def _walked(after: Sequence[int]) -> list[list[int]]:
    seen = [False] * len(after)
    found = []
    for first in range(len(after)):
        cycle, at = [], first
        while not seen[at]:
            seen[at] = True
            cycle.append(at)
            at = after[at]
        if cycle:
            found.append(cycle)
    return found
