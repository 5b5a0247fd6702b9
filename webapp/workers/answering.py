"""In a worker: a request answered by the application itself, which has no workers there."""

import io
import sys
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from werkzeug.test import run_wsgi_app

from webapp.workers.apart import Answered, Asked

if TYPE_CHECKING:
    from flask import Flask


def answer(asked: Asked) -> Answered:
    """Return the application's answer to a request."""
    environ: dict[str, Any] = {
        **asked.environ,
        "wsgi.version": (1, 0),
        "wsgi.input": io.BytesIO(asked.body),
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": False,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
        "CONTENT_LENGTH": str(len(asked.body)),
    }
    made, status, headers = run_wsgi_app(_app(tuple(sorted(asked.settings.items()))), environ, buffered=True)
    return Answered(status, tuple(headers), b"".join(made))


@lru_cache(maxsize=1)
def _app(settings: tuple[tuple[str, Any], ...]) -> "Flask":
    from webapp import create_app  # noqa: PLC0415 - the application's views know these workers

    return create_app({**dict(settings), "PROPAGATE_EXCEPTIONS": True})  # of memory: it is told by whoever asked
