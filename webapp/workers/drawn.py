"""Someone's own drawings of a job, each read and checked by a worker, where there are any."""

from flask import current_app

from parts import store
from parts.errors import Overrun, Problem
from parts.jobs import Summaries, Summed, summed_up
from parts.store import Kept
from parts.units import Units
from parts.workers import Borrowed, Pool
from webapp.workers.apart import DRAWINGS, POOLS

OVERRUN = "takes more time or memory to check than there is; leave only the outline in it."


def sum_up(asked: tuple[Kept, Units, bytes]) -> Summed:
    """Return what is said of a part; a worker's job."""
    return summed_up(*asked)


def _work(kept: Kept, units: Units) -> Summed:
    return summed(kept, units, store.drawing_of(kept))


SUMMARIES = Summaries(_work)
"""What jobs' pages say of parts."""


def summed(kept: Kept, units: Units, data: bytes) -> Summed:
    """Return what is said of a part that may be in no store; of a template it is drawn here.

    Raises:
        Busy: too many ask for it at once.
        DataError: the shop's own file is unusable.
    """
    pool: Pool | Borrowed | None = current_app.config.get(POOLS, {}).get(DRAWINGS)
    if pool is None or not kept.drawing:
        return summed_up(kept, units, data)
    try:
        with pool.turn() as worker:
            made: Summed = worker.do((kept, units, data))
    except Overrun:
        return (Problem("drawing", kept.part, OVERRUN),)
    return made
