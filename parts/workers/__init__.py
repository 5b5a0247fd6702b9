"""Work in processes of their own, bounded in time, memory and number: what takes too much is ended, and says so."""

from parts.workers.clock import TimeUp, clock, left_s
from parts.workers.forked import keep_running
from parts.workers.here import is_worker, limit_memory, surroundings
from parts.workers.lent import Borrowed, lend, line_at
from parts.workers.pool import Pool
from parts.workers.process import Bounds
from parts.workers.run import DONE, FAILED, RUNNING, STOPPED, Limits, Run, Stopping, begin, find

__all__ = [
    "DONE",
    "FAILED",
    "RUNNING",
    "STOPPED",
    "Borrowed",
    "Bounds",
    "Limits",
    "Pool",
    "Run",
    "Stopping",
    "TimeUp",
    "begin",
    "clock",
    "find",
    "is_worker",
    "keep_running",
    "left_s",
    "lend",
    "limit_memory",
    "line_at",
    "surroundings",
]
