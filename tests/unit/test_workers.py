"""Workers: jobs done, ended at their limits, refused when too many; and nothing left running."""

import contextlib
import math
import os
import threading
import time

import pytest

from parts.errors import Busy, Overrun
from parts.workers import Bounds, Pool, TimeUp, clock, left_s
from tests.depth import every_other
from tests.unit.worker_jobs import works_for_ever

TARGET = "tests.unit.worker_jobs:job"
QUICK = Bounds(TARGET, processor_s=0.3, wall_s=60.0, memory_mb=300)
SHORT = Bounds(TARGET, processor_s=60.0, wall_s=1.5, memory_mb=300)


def do(pool, name):
    with pool.turn() as worker:
        return worker.do(name)


def is_running(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.fixture(scope="module")
def pool():
    made = Pool(QUICK, most=1, waiting=0)
    yield made
    made.close()


def test_jobs_are_done_by_one_worker_that_stays(pool):
    first = do(pool, "pid")
    assert first != os.getpid()
    assert do(pool, "prints") is None  # what it prints doesn't stand between its answers
    assert do(pool, "pid") == first


@pytest.mark.parametrize(
    "name", every_other(["works for ever", "one long step", "takes all memory", "takes much memory at once", "ends"])
)
def test_what_takes_too_much_is_ended_and_the_next_job_done(pool, name):
    before = do(pool, "pid")
    with pytest.raises(Overrun, match="more time or memory"):
        do(pool, name)
    assert do(pool, "pid") != before
    assert not is_running(before)


def test_what_breaks_says_where(pool):
    with pytest.raises(RuntimeError, match="ZeroDivisionError"):
        do(pool, "breaks")


def test_what_only_waits_is_ended_too():
    pool = Pool(SHORT, most=1)
    with pytest.raises(Overrun):
        do(pool, "sleeps")
    pool.close()


def test_who_comes_first_goes_first_and_too_many_are_refused():
    pool = Pool(QUICK, most=1, waiting=2)
    done, started = [], threading.Event()

    def ask(number):
        with contextlib.suppress(Overrun), pool.turn() as worker:
            started.set()
            done.append(number)
            worker.do("works for ever" if number == 0 else "pid")

    asking = [threading.Thread(target=ask, args=(number,)) for number in range(3)]
    for number, thread in enumerate(asking):
        thread.start()
        started.wait()
        while number and len(pool._line) < number:
            time.sleep(0.001)
    with pytest.raises(
        Busy, match=r"2 more wait in line\. Nothing is lost: go back, and send it again in a few seconds\."
    ):
        do(pool, "pid")
    for thread in asking:
        thread.join()
    assert done == [0, 1, 2]
    pool.close()


def test_closing_ends_even_the_busy_and_nothing_starts_after():
    pool = Pool(SHORT, most=2)
    seen = []

    def ask():
        with contextlib.suppress(Overrun, Busy), pool.turn() as worker:
            seen.append(worker.pid)
            worker.do("sleeps")

    thread = threading.Thread(target=ask)
    thread.start()
    while not seen:
        time.sleep(0.001)
    idle = do(pool, "pid")
    pool.close()
    thread.join(10)
    assert not any(map(is_running, [idle, *seen]))
    with pytest.raises(Busy):
        do(pool, "pid")


def test_an_idle_worker_is_ended():
    pool = Pool(QUICK, most=1, idle_s=0.2)
    pid = do(pool, "pid")
    until = time.monotonic() + 30
    while is_running(pid) and time.monotonic() < until:
        time.sleep(0.01)
    assert not is_running(pid)
    pool.close()


def test_a_worker_that_does_not_start_is_an_error_that_says_so():
    pool = Pool(Bounds("tests.unit.no_such_module:job", 1.0, 5.0, 300), most=1)
    with pytest.raises(RuntimeError, match="doesn't start"):
        do(pool, "pid")
    pool.close()


def under(seconds, do=works_for_ever):
    with clock(seconds):
        do()


def test_a_clock_rings_within_what_works_and_stops_with_it():
    assert left_s() == math.inf
    with pytest.raises(TimeUp):
        under(0.05)
    with clock(0.05):
        assert 0 < left_s() <= 0.05
    sum(range(3_000_000))


def test_a_clock_in_another_rings_no_later_and_leaves_it_going():
    def inner():
        with pytest.raises(TimeUp):
            under(0.02)
        under(60.0)

    with pytest.raises(TimeUp):
        under(0.1, inner)
    assert left_s() == math.inf


def test_a_ring_that_a_library_takes_for_an_error_of_its_own_is_still_one():
    def mistaken():
        try:
            under(0.02)
        except TimeUp:
            raise RuntimeError("SchemaError: TimeUp:") from None

    with pytest.raises(TimeUp):
        under(0.01, mistaken)
    with pytest.raises(RuntimeError), clock(60.0):
        mistaken()
