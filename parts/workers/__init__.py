"""Work in processes of their own, bounded in time, memory and number: what takes too much is ended, and says so."""

from parts.workers.clock import TimeUp, clock, left_s
from parts.workers.here import is_worker, limit_memory, surroundings
from parts.workers.pool import Pool
from parts.workers.process import Bounds
from parts.workers.run import DONE, FAILED, RUNNING, STOPPED, Limits, Run, Stopping, begin, find

__all__ = [
    "DONE",
    "FAILED",
    "RUNNING",
    "STOPPED",
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
    "left_s",
    "limit_memory",
    "surroundings",
]
