"""A property that is worked out in one thread keeps nobody waiting who asks for another object's."""

import threading

from parts.cached import cached_property


class _Thing:
    def __init__(self, waits_for: threading.Event | None) -> None:
        self.waits_for, self.worked = waits_for, 0

    @cached_property
    def value(self) -> int:
        self.worked += 1
        return 1 if self.waits_for is None or self.waits_for.wait(10) else 0


def test_one_object_does_not_wait_for_another() -> None:
    go_on = threading.Event()
    slow, quick = _Thing(go_on), _Thing(None)
    beside = threading.Thread(target=lambda: slow.value)
    beside.start()
    other = threading.Thread(target=lambda: quick.value)
    other.start()
    other.join(5)
    waited = other.is_alive()
    go_on.set()
    beside.join()
    other.join()
    assert not waited
    assert (slow.value, slow.worked, quick.value, quick.worked) == (1, 1, 1, 1)
