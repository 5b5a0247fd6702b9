"""File kind: what a file holds, told by its first bytes and not by its name."""

import re
from collections.abc import Callable
from functools import partial
from pathlib import PurePath
from typing import TypeAlias

from parts.errors import Unreadable
from parts.read.asked import Asked
from parts.read.dxf import reader as dxf
from parts.read.dxf.binary import is_binary
from parts.read.limits import Budget, check_size
from parts.read.raw import Raw
from parts.read.svg import reader as svg

FileReader: TypeAlias = Callable[[bytes, Budget], Raw]

_XML = re.compile(rb"(?:\xef\xbb\xbf)?\s*<|\xff\xfe<|\xfe\xff\x00<")
_DXF = re.compile(rb"(?:\xef\xbb\xbf)?\s*(?:0|999)[ \t]*[\r\n]")
_WIDE_DXF = re.compile(rb"(?:\xff\xfe(?:[ \t]\x00)*0\x00|\xfe\xff(?:\x00[ \t])*\x000)")
_MARKS = (
    (b"\x1f\x8b", "it is compressed; unpack it first"),
    (b"PK", "it is an archive; take the drawing out of it first"),
    (b"%PDF", "it is a PDF; save the drawing as DXF or SVG"),
    (b"ISO-10303", "it is a STEP solid; save its face as a flat DXF"),
    (b"AC10", "it is a drawing in its program's own binary form; save it as a DXF"),
    (b"\x89PNG", "it is a picture; only drawings of lines and arcs are read"),
    (b"\xff\xd8", "it is a picture; only drawings of lines and arcs are read"),
)


def reader_of(data: bytes, filename: str, asked: Asked) -> tuple[FileReader, str]:
    """Return what reads a file, and a sentence where its name says something else, or nothing.

    Raises:
        Unreadable: if it is empty, too large, or neither a DXF nor an SVG.
    """
    check_size(data)
    head = data[:200]
    for mark, why in _MARKS:
        if head.startswith(mark):
            raise Unreadable(why)
    kind = kind_of(data)
    if kind == "svg":
        return partial(svg.read, asked=asked), _misnamed(filename, "svg")
    if kind == "dxf":
        return dxf.read, _misnamed(filename, "dxf")
    raise Unreadable("it is neither a DXF nor an SVG drawing")


def kind_of(data: bytes) -> str:
    """Return what a drawing file is by its first bytes: svg, dxf, or nothing where it is neither."""
    head = data[:200]
    if _XML.match(head):
        return "svg"
    return "dxf" if _DXF.match(head) or _WIDE_DXF.match(head) or is_binary(head) else ""


def _misnamed(filename: str, kind: str) -> str:
    ending = PurePath(filename).suffix.lower()
    if ending in ("", f".{kind}"):
        return ""
    return f"read it as {kind.upper()}, which it is, though its name ends in {ending[:10]}"
