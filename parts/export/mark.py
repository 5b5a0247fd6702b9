"""Mark: whether a file is one that Platewright wrote and nobody has filled in, by what its writers leave in each.

DXF      the comment `platewright_version: ...` at its head
SVG      the same in its metadata; the class of a drawing for the page
PDF      its creator
JSON     its first entry
STEP     its originating system
GLB      the generator of its asset
PNG      the software that its text names
TOML     a measuring sheet, empty as it was written: with readings in it it is somebody's work
ZIP      a job pack, by the comment at its end
CSV      the columns of the history
"""

import os
import re
import tomllib
from pathlib import Path

from parts.truing.history import CSV_HEAD

_LOOKED_AT = 65_536
"""Bytes of either end of a file that are looked at."""

_HEADS = (
    re.compile(rb"(?:999\r?\n(?!platewright_version)[^\n]*\n){0,4}999\r?\nplatewright_version: "),
    re.compile(
        rb"(?:<\?xml[^>]*>\s*)?<svg\b[^>]*>\s*(?:<title>[^<]*</title>\s*)?<metadata>\s*\{[^<]*\"platewright_version\""
    ),
    re.compile(rb'<svg\b[^>]* class="pw-'),
    re.compile(rb'\{\s*"(?:compensated|platewright_version)": "[^\n]*\n(?:"platewright_version"|"template")'),
    re.compile(rb"ISO-10303-21;.*?FILE_NAME\s*\(.*?'platewright \d", re.DOTALL),
    re.compile(rb'glTF.{16}\{"asset":\{"generator":"Platewright \d', re.DOTALL),
    re.compile(rb"\x89PNG\r\n\x1a\n.{8,64}?tEXtSoftware\0Platewright", re.DOTALL),
    re.compile(re.escape(CSV_HEAD.encode()) + rb"\r?\n"),
)
_PDF, _CREATOR = b"%PDF-", re.compile(rb"/Creator\s*\(Platewright ")
_PACK, _PACKED = b"PK\x03\x04", re.compile(rb"Platewright \d[\w.]* job pack\Z")
_SHEET = b"# Measuring sheet: "


def is_ours(file: Path) -> bool:
    """Tell whether a file is as Platewright wrote it, as far as its mark says.

    Raises:
        OSError: it can't be read.
    """
    head, tail = _ends(file)
    if head.startswith(_PDF):
        return bool(_CREATOR.search(head) or _CREATOR.search(tail))
    if head.startswith(_PACK):
        return bool(_PACKED.search(head + tail))
    if head.startswith(_SHEET):
        return _is_empty_sheet(head + tail)
    return any(pattern.match(head) for pattern in _HEADS)


def _ends(file: Path) -> tuple[bytes, bytes]:
    """The head of a file and, of a long one, its tail."""
    with file.open("rb") as stream:
        head = stream.read(_LOOKED_AT)
        stream.seek(max(os.fstat(stream.fileno()).st_size - _LOOKED_AT, len(head)))
        return head, stream.read()


def _is_empty_sheet(data: bytes) -> bool:
    try:
        known = tomllib.loads(data.decode("utf-8"))
    except ValueError:
        return False
    machine, readings = known.get("machine", {}), known.get("reading", [])
    filled = [*machine.values(), *(reading.get("measured") for reading in readings)]
    usual = {"note", "kind", "direction_deg", "nominal", "measured"}
    return not any(filled) and all(set(reading) <= usual for reading in readings)
