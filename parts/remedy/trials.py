"""Trials: redraws of one part with some of its values changed, none made twice, and no more than are allowed."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import TypeAlias

from parts.remedy.judge import Redrawn
from parts.spec import Value
from parts.wanted import step

Redraw: TypeAlias = Callable[[Mapping[str, Value], bool], Redrawn | None]
"""Draws a part with every value as given, in mm and degrees; None where the values are refused.

The second says whether it is to be asked if they go together: values that needn't, because they are only a hair off
others that do, are drawn in half the time.
"""
Changes: TypeAlias = Mapping[str, Value]
"""Values by name, of the parameters that differ from the part as it stands."""
_Key: TypeAlias = frozenset[tuple[str, Value]]


class Trials:
    """The redraws of one part. Those left are counted, and an exhausted count answers as a refusal does.

    `kept` are those of the turns yet to come; `ran_out` is whether in this turn one was asked for and none was left.
    `became` are numbers left at 0 to the template, as they were drawn.
    """

    def __init__(
        self, redraw: Redraw, values: Mapping[str, Value], sight: Redrawn, allowed: int, became: Changes | None = None
    ) -> None:
        self.values, self.sight, self.left, self.kept = values, sight, allowed, 0
        self.ran_out = False
        self._became = became or {}
        self._redraw = redraw
        self._counted: set[_Key] = {frozenset()}
        self._seen: dict[_Key, Redrawn | None] = {frozenset(): sight}

    def start(self, name: str) -> float:
        """Return where a number is looked along from: its value, or what became of it where that is left at 0."""
        return float(self._became.get(name, self.values[name]))

    def turn(self, of: int) -> None:
        """Begin a turn, the first of so many yet to come: it may take its part of what is left, and no more."""
        self.kept, self.ran_out = self.left - self.left // of, False

    @contextmanager
    def beside_turns(self) -> Iterator[None]:
        """Let what is drawn inside be taken from all that is left, since it serves every turn."""
        kept, self.kept = self.kept, 0
        before = self.left
        yield
        self.kept = max(0, kept - (before - self.left))

    def see(self, changes: Changes) -> Redrawn | None:
        """Return what is seen with these changes; None where they are refused or no redraw is left."""
        sight = self.glance(changes)
        return sight if sight and sight.is_sound else None

    def glance(self, changes: Changes) -> Redrawn | None:
        """Return what is seen with these changes, without asking whether it can be cut."""
        step()
        key = frozenset(changes.items())
        if not self._is_allowed(key):
            return None
        if key not in self._seen:
            self._seen[key] = self._redraw({**self.values, **changes}, True)
        return self._seen[key]

    def nudged(self, changes: Changes) -> Redrawn | None:
        """Return what is seen with changes of which one is a hair off what was seen, though a limit be passed by it."""
        key = frozenset(changes.items())
        if not self._is_allowed(key):
            return None
        return self._seen[key] if key in self._seen else self._redraw({**self.values, **changes}, False)

    def pass_over(self, changes: Changes) -> None:
        """Count changes that are known not to do: how far is looked doesn't depend on what needn't be drawn."""
        self._is_allowed(frozenset(changes.items()))

    def _is_allowed(self, key: _Key) -> bool:
        if key in self._counted:
            return True
        if self.left <= self.kept:
            self.ran_out = True
            return False
        self.left -= 1
        self._counted.add(key)
        return True
