"""Work in processes of their own, bounded in time, memory and number: what takes too much is ended, and says so."""

from parts.workers.clock import TimeUp, clock, left_s
from parts.workers.forked import keep_running
from parts.workers.here import is_worker, limit_memory, surroundings
from parts.workers.lent import Borrowed, lend, line_at
from parts.workers.pool import Pool
from parts.workers.process import Bounds

__all__ = [
    "Borrowed",
    "Bounds",
    "Pool",
    "TimeUp",
    "clock",
    "is_worker",
    "keep_running",
    "left_s",
    "lend",
    "limit_memory",
    "line_at",
    "surroundings",
]
