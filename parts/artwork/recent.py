"""What was worked out lately, by what it was worked out from: so many of the last that were asked for."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Recent(Generic[K, V]):
    """A mapping that forgets what wasn't asked for longest; several threads may use it.

    Args:
        most: how much it holds, by `weigh`; the last is held, whatever it weighs.
        weigh: what one value comes to, the same each time; by itself, each is 1.
    """

    def __init__(self, most: int, weigh: Callable[[V], int] = lambda _: 1) -> None:
        self._most, self._weigh, self._held = most, weigh, 0
        self._known = OrderedDict[K, V]()
        self._lock = Lock()

    def get(self, key: K) -> V | None:
        """Return what is known of a key, None where that is nothing."""
        with self._lock:
            if key in self._known:
                self._known.move_to_end(key)
            return self._known.get(key)

    def clear(self) -> None:
        """Know nothing more."""
        with self._lock:
            self._known.clear()
            self._held = 0

    def keep(self, key: K, found: V) -> V:
        """Keep what was found, and return it."""
        with self._lock:
            if key in self._known:
                self._held -= self._weigh(self._known.pop(key))
            self._known[key] = found
            self._held += self._weigh(found)
            while self._held > self._most and len(self._known) > 1:
                self._held -= self._weigh(self._known.popitem(last=False)[1])
        return found
