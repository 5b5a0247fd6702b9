"""Where a region is narrow, searched once and asked often: by several rules with limits of their own, and in drawing.

What is narrower than a limit is, of what was found under a greater one, the part below it: whether a chord is a
neck doesn't depend on the limit. So only a greater limit than any before is searched for.
"""

from functools import lru_cache

from parts.geometry.loop import Loop
from parts.geometry.narrow.width import Neck, necks
from parts.tolerance import LIMIT_SLACK_MM

# Up to this many segments the same loops, made anew, are known again: to compare more takes as long as to search.
KNOWN_AGAIN = 500


class Narrow:
    """The necks of one region, the region on the left of every loop."""

    def __init__(self, loops: tuple[Loop, ...]) -> None:
        self._loops = loops
        self._searched: tuple[float, list[Neck]] = (0.0, [])

    def under(self, limit: float) -> list[Neck]:
        """Return each neck narrower than `limit` mm, narrowest first."""
        searched, found = self._searched
        if limit > searched:
            found = necks(self._loops, limit)
            self._searched = limit, found
        return [neck for neck in found if neck.width < limit - LIMIT_SLACK_MM]


def narrow(loops: tuple[Loop, ...]) -> Narrow:
    """Return the necks of the region on the left of the loops, as far as they were asked for already."""
    return _known(loops) if sum(len(loop.segments) for loop in loops) <= KNOWN_AGAIN else Narrow(loops)


_known = lru_cache(maxsize=32)(Narrow)
