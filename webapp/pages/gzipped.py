"""What is sent compressed to whoever takes it so: pages, whose drawings come to a quarter, scripts and styles."""

import gzip
from functools import lru_cache
from http import HTTPStatus

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


_TEXTS = ("text/", "image/svg+xml", "application/json")
_BEST = 9


def gzipped_file(answer: Response, accepted: Accept) -> Response:
    """Return the answer that is a file of the application compressed, if it is of text; each file is compressed once.

    Its tag is a weak one then: the bytes differ from those of the file.
    """
    if answer.status_code != HTTPStatus.OK or not (answer.mimetype or "").startswith(_TEXTS):
        return answer
    answer.vary.add("Accept-Encoding")
    if accepted.quality("gzip") > 0 and "Content-Range" not in answer.headers:
        answer.direct_passthrough = False
        answer.set_data(_compressed(answer.get_data()))
        answer.headers["Content-Encoding"] = "gzip"
        answer.headers.pop("Accept-Ranges", None)
        tag, _ = answer.get_etag()
        if tag:
            answer.set_etag(tag, weak=True)
    return answer


@lru_cache(maxsize=256)
def _compressed(data: bytes) -> bytes:
    return gzip.compress(data, _BEST, mtime=0)
