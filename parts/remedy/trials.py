"""Trials: redraws of one part with some of its values changed, none made twice, and no more than are allowed."""

from collections.abc import Callable, Mapping
from typing import TypeAlias

from parts.remedy.judge import Redrawn
from parts.spec import Value

Redraw: TypeAlias = Callable[[Mapping[str, Value]], Redrawn | None]
"""Draws a part with every value as given, in mm and degrees; None where the values are refused."""
Changes: TypeAlias = Mapping[str, Value]
"""Values by name, of the parameters that differ from the part as it stands."""


class Trials:
    """The redraws of one part. Those left are counted, and an exhausted count answers as a refusal does."""

    def __init__(self, redraw: Redraw, values: Mapping[str, Value], sight: Redrawn, allowed: int) -> None:
        self.values, self.sight, self.left = values, sight, allowed
        self._redraw = redraw
        self._seen: dict[frozenset[tuple[str, Value]], Redrawn | None] = {frozenset(): sight}

    def see(self, changes: Changes) -> Redrawn | None:
        """Return what is seen with these changes; None where they are refused or no redraw is left."""
        key = frozenset(changes.items())
        if key not in self._seen:
            if self.left <= 0:
                return None
            self.left -= 1
            self._seen[key] = self._redraw({**self.values, **changes})
        return self._seen[key]
