"""The page answered by several processes, which share one set of workers.

The first process loads the application and looks after the others: one that lends workers, and those that answer. They
are forked from it, so that what is loaded is loaded once, and share the socket that listens, so that whichever is free
answers next. None of them holds anything that another request needs.
"""

import shutil
import tempfile
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from socket import socket

from parts.workers import Borrowed, keep_running, lend, line_at
from webapp import workers
from webapp.commands.serve.served import Served


def serve_by_several(served_by: Callable[[Mapping[str, Borrowed]], Served], processes: int) -> None:
    """Serve until interrupted, by so many processes that answer, with the workers that they are given."""
    folder = Path(tempfile.mkdtemp(prefix="platewright-"))  # only who serves may enter it
    try:
        with line_at(folder / "workers") as line, suppress(KeyboardInterrupt):
            served = served_by({kind: Borrowed(folder / "workers", kind) for kind in workers.KINDS})
            served.load()
            served.load_first_part()
            keep_running([partial(_lend, served, line), *[served.answer] * processes])
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _lend(served: Served, line: socket) -> None:
    pools = workers.pools()
    try:
        with served.app.test_request_context("/check", base_url=served.address):
            workers.warm(pools)
        lend(line, pools)
    finally:
        workers.close(pools)
