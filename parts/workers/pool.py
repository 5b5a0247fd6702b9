"""A pool of workers: one job at a time each, a few waiting in line, the others told that there are too many."""

import os
import threading
import time
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager

from parts.errors import Busy
from parts.workers.process import Bounds, Worker


class Pool:
    """Workers of one kind, started when they are first needed.

    Args:
        bounds: what they do, and within what.
        most: how many there are; one a core unless said.
        waiting: how many jobs may wait for one to be free.
        idle_s: seconds after which one that has nothing to do is ended.
    """

    def __init__(self, bounds: Bounds, *, most: int | None = None, waiting: int = 4, idle_s: float = 60.0) -> None:
        self._bounds, self._most = bounds, most or os.cpu_count() or 1
        self._waiting, self._idle_s = waiting, idle_s
        self._turn = threading.Condition()
        self._idle: list[tuple[float, Worker]] = []
        self._busy: set[Worker] = set()
        self._line: deque[object] = deque()
        self._at_work = 0
        self._closed = self._watched = False

    @contextmanager
    def turn(self) -> Iterator[Worker]:
        """Have a worker to oneself within, after those who asked before.

        Raises:
            Busy: as many wait as may, or the turn doesn't come.
            RuntimeError: a worker doesn't start.
        """
        with self._my_turn():
            worker = self._taken()
            try:
                yield worker
            finally:
                self._given_back(worker)

    def close(self) -> None:
        """End every worker, those amid a job too; what is asked for later is refused as too much."""
        with self._turn:
            self._closed = True
            workers = [*self._busy, *(worker for _, worker in self._idle)]
            self._idle.clear()
            self._turn.notify_all()
        for worker in workers:
            worker.end()

    @contextmanager
    def _my_turn(self) -> Iterator[None]:
        """Within, no more are at work than may be; whoever came first goes first."""
        with self._turn:
            self._queue()
            self._at_work += 1
        try:
            yield
        finally:
            with self._turn:
                self._at_work -= 1
                self._turn.notify_all()

    def _queue(self) -> None:
        if self._at_work + len(self._line) >= self._most + self._waiting:
            raise Busy(len(self._line))
        me = object()
        self._line.append(me)
        longest = self._bounds.wall_s * (1 + self._waiting / self._most)
        free = self._turn.wait_for(
            lambda: self._closed or (self._line[0] is me and self._at_work < self._most), timeout=longest
        )
        self._line.remove(me)
        self._turn.notify_all()
        if self._closed or not free:
            raise Busy(len(self._line))

    def _taken(self) -> Worker:
        """A worker that is there, the one used last, or a new one."""
        with self._turn:
            while self._idle:
                _, worker = self._idle.pop()
                if worker.is_there:
                    self._busy.add(worker)
                    return worker
                worker.end()
        worker = Worker(self._bounds)
        with self._turn:
            self._busy.add(worker)
            closed = self._closed
        if closed:
            self._given_back(worker)
            raise Busy(0)
        return worker

    def _given_back(self, worker: Worker) -> None:
        with self._turn:
            self._busy.discard(worker)
            if worker.is_there and not self._closed:
                self._idle.append((time.monotonic(), worker))
                self._watch()
                return
        worker.end()

    def _watch(self) -> None:
        """See to it that the idle are ended some time."""
        if not self._watched:
            self._watched = True
            timer = threading.Timer(self._idle_s, self._end_the_idle)
            timer.daemon = True
            timer.start()

    def _end_the_idle(self) -> None:
        with self._turn:
            since = time.monotonic() - self._idle_s
            old = [worker for at, worker in self._idle if at <= since]
            self._idle = [each for each in self._idle if each[0] > since]
            self._watched = False
            if self._idle:
                self._watch()
        for worker in old:
            worker.end()
