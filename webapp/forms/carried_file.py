"""Kept: a file that travels in a form of its own page, so that the server stores nothing between two requests.

A page can't fill in a file field. So the page that answers a form with a file carries that file in a hidden field,
packed, and whatever is sent from that page needs no choosing again, with scripts or without.
"""

import base64
import binascii
import zlib
from collections.abc import Mapping
from contextlib import closing

from werkzeug.datastructures import FileStorage

from parts import Problem, Refused
from parts.read import LARGEST_BYTES

FILE, KEPT, KEPT_NAME = "file", "kept", "kept_name"
LARGEST_KEPT = 8_000_000
"""Letters of a packed file; no drawing of so few lines as are read comes near it."""
LONGEST_NAME = 120


def sent(
    files: Mapping[str, FileStorage], form: Mapping[str, str], wanting: str = "Choose a drawing: a DXF or an SVG."
) -> tuple[bytes, str]:
    """Return the file of a sent form and its name: the one chosen, else the one that was kept.

    Raises:
        Refused: if there is neither, which `wanting` says, or what was kept has been tampered with.
    """
    chosen = files.get(FILE)
    if chosen and chosen.filename:
        with closing(chosen):
            return chosen.read(LARGEST_BYTES + 1), chosen.filename.replace("\\", "/").rsplit("/", 1)[-1][-LONGEST_NAME:]
    name = form.get(KEPT_NAME, "")[-LONGEST_NAME:]
    if not form.get(KEPT):
        raise Refused((Problem(FILE, "", wanting),))
    data = unpacked(form[KEPT], LARGEST_BYTES)
    if data is None:
        raise Refused((Problem(FILE, name, "This page no longer holds the drawing: choose it again."),))
    return data, name


def unpacked(text: str, most: int) -> bytes | None:
    """Return the file that the text of a hidden field holds, of one byte more than `most` if it has more.

    None where it has been tampered with.
    """
    unpacking = zlib.decompressobj()
    try:
        data = unpacking.decompress(base64.b64decode(text, validate=True), most + 1)
    except (binascii.Error, zlib.error, ValueError):
        return None
    return data if unpacking.eof or len(data) > most else None


def packed(data: bytes) -> str:
    """Return a file as the text of a hidden field; nothing where it is too large to be carried."""
    text = base64.b64encode(zlib.compress(data, 6)).decode("ascii")
    return text if len(text) <= LARGEST_KEPT else ""
