"""The workers of a served page: those that check drawings, one a core, one that makes solids, one for jobs."""

import threading
from collections.abc import Mapping

from parts.errors import PartsError
from parts.workers import Bounds, Pool
from webapp.workers.apart import CHECKS, DRAWINGS, SOLIDS, asked_now

_ANSWERING = "webapp.workers.answering:answer"
CHECK_BOUNDS = Bounds(_ANSWERING, processor_s=4.8, wall_s=30.0, memory_mb=400)
"""A drawing read, checked by the rules and shown; `parts.read` and `parts.checking` say what each of these may take."""
SOLID_BOUNDS = Bounds(_ANSWERING, processor_s=4.8, wall_s=30.0, memory_mb=400)
"""A solid, with the seconds that the solid modeller takes to load."""
DRAWING_BOUNDS = Bounds("webapp.workers.drawn:sum_up", processor_s=4.8, wall_s=30.0, memory_mb=400)
"""A drawing of a job's line, read and checked."""
MOST_WAITING = 64
"""For a worker: a shop's worth of people, none of whom is sent away; who comes after them is told to come again."""
CHECKS_IDLE_S, SOLIDS_IDLE_S = 300.0, 20.0
"""The solid modeller holds much memory: its worker ends soon."""


def pools() -> dict[str, Pool]:
    """Return the workers of one served page, none of them started yet."""
    return {
        CHECKS: Pool(CHECK_BOUNDS, waiting=MOST_WAITING, idle_s=CHECKS_IDLE_S),
        DRAWINGS: Pool(DRAWING_BOUNDS, most=1, waiting=MOST_WAITING),
        SOLIDS: Pool(SOLID_BOUNDS, most=1, waiting=MOST_WAITING, idle_s=SOLIDS_IDLE_S),
    }


def warm(found: Mapping[str, Pool]) -> None:
    """Start the first worker that checks drawings meanwhile, and let it load what it needs by the request at hand."""
    asked = asked_now()

    def first() -> None:
        try:
            with found[CHECKS].turn() as worker:
                worker.do(asked)
        except (PartsError, RuntimeError):  # whoever asks for a check is told
            return

    threading.Thread(target=first, daemon=True).start()


def close(found: Mapping[str, Pool]) -> None:
    """End all workers."""
    for pool in found.values():
        pool.close()
