"""What was worked out lately, by what it was worked out from: so many of the last that were asked for."""

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Recent(Generic[K, V]):
    """A mapping that forgets what wasn't asked for longest; several threads may use it."""

    def __init__(self, most: int) -> None:
        self._most, self._known = most, OrderedDict[K, V]()
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

    def keep(self, key: K, found: V) -> V:
        """Keep what was found, and return it."""
        with self._lock:
            self._known[key] = found
            while len(self._known) > self._most:
                self._known.popitem(last=False)
        return found
