"""A job as one file: JSON with its lines, and the drawings that they need; written, and read from anyone.

What is read may come from anywhere, so nothing of it is believed: every entry has its kind and its bounds, and a
drawing is known by what it holds, not by what the file says of it.
"""

import base64
import binascii
import json
from collections.abc import Mapping
from typing import Any

from parts.errors import Problem, Refused, Unreadable
from parts.record import VERSION
from parts.store.as_text import as_rows, content_of, parsed
from parts.store.content import Content, check
from parts.store.jobs import LARGEST_FILE, begin, digest_of, drawings_of, job
from parts.store.revision import Job

LARGEST = 60_000_000
"""Bytes of a job's file."""
KIND = "platewright job"
_EDITION = 1


def export(number: int) -> bytes:
    """Return a job as it stands as the bytes of a file.

    Raises:
        NoJob: there is none of this number.
        Refused: its drawings are too large for one file.
        DataError: the store can't be reached.
    """
    content = job(number).content
    drawings = {digest: base64.b64encode(data).decode() for digest, data in drawings_of(content).items()}
    whole = {"kind": KIND, "edition": _EDITION, "platewright_version": VERSION, "job": as_rows(content)}
    data = json.dumps({**whole, "drawings": drawings}, ensure_ascii=False, indent=1).encode() + b"\n"
    if len(data) > LARGEST:
        message = f"comes to over {LARGEST // 1_000_000} MB with its drawings; take some lines out first."
        raise Refused((Problem("job", str(number), message),))
    return data


def take_in(data: bytes, called: str) -> Job:
    """Begin a job that a file holds, and return it.

    Raises:
        Refused: it is no job's file, or is damaged; the sentence says where.
        DataError: the store can't be reached.
    """
    try:
        content, files = _read(data)
    except Unreadable as error:
        raise Refused((Problem("file", called[:100], str(error)),)) from error
    return begin(check(content), files, what="taken in")


def _read(data: bytes) -> tuple[Content, dict[str, bytes]]:
    if len(data) > LARGEST:
        raise Unreadable(f"It has over {LARGEST // 1_000_000} MB, more than a job's file may have.")
    whole = parsed(data)
    if not isinstance(whole, dict) or whole.get("kind") != KIND:
        raise Unreadable("It is no job's file: export one from a job's page, and choose that.")
    if whole.get("edition") != _EDITION:
        raise Unreadable("It was written by a later edition; bring this one up to date first.")
    given = whole.get("drawings", {})
    if not isinstance(given, dict):
        raise Unreadable("drawings: must be an object.")
    files = {digest: _drawing(digest, text) for digest, text in given.items()}
    content = content_of(whole.get("job"))
    _check_drawings(content, files)
    return content, files


def _drawing(digest: str, text: Any) -> bytes:  # noqa: ANN401 - whatever a file holds
    at = f"drawings.{str(digest)[:12]}"
    if not isinstance(text, str):
        raise Unreadable(f"{at}: must be text.")
    try:
        data = base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as error:
        raise Unreadable(f"{at}: is damaged: no file in base 64.") from error
    if len(data) > LARGEST_FILE:
        raise Unreadable(f"{at}: is over {LARGEST_FILE // 1_000_000} MB, more than a drawing may have.")
    if digest_of(data) != digest:
        raise Unreadable(f"{at}: is damaged: it isn't the drawing that was put in.")
    return data


def _check_drawings(content: Content, files: Mapping[str, bytes]) -> None:
    """Pass where every drawing that a line needs is there."""
    for i, line in enumerate(content.lines, start=1):
        if line.kept.drawing and line.kept.drawing not in files:
            raise Unreadable(f"job.lines[{i}].drawing: isn't among the drawings of the file.")
