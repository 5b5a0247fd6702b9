"""Addresses that take long, answered by workers: others are answered meanwhile, and what takes too much is ended."""

from webapp.workers.apart import CHECKS, KINDS, POOLS, SOLIDS, apart, has_overrun
from webapp.workers.drawn import SUMMARIES, summed
from webapp.workers.pools import close, pools, warm

__all__ = [
    "CHECKS", "KINDS", "POOLS", "SOLIDS", "SUMMARIES", "apart", "close", "has_overrun", "pools", "summed", "warm",
]  # fmt: skip
