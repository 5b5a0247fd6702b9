"""A page sent compressed to whoever takes it so: drawings come to a quarter."""

import gzip

from flask import Response
from werkzeug.datastructures import Accept

_LEVEL, _HURRIED = 4, 1
"""Of 9: beyond the first the page gets little smaller, and takes up to twice as long; the other is half as long."""


def gzipped(answer: Response, accepted: Accept, *, is_hurried: bool = False) -> Response:
    """Return the answer compressed by gzip, if that is accepted: less so where someone waits for it at each key."""
    answer.vary.add("Accept-Encoding")
    if accepted.quality("gzip") > 0:
        answer.set_data(gzip.compress(answer.get_data(), _HURRIED if is_hurried else _LEVEL, mtime=0))
        answer.headers["Content-Encoding"] = "gzip"
    return answer
