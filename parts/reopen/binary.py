"""What a PDF, a PNG or a GLB says of itself, from the one place in it that does; nothing is unpacked.

PDF   ISO 32000-1, 14.3.3: the Subject of the document information, a string by 7.3.4
PNG   ISO/IEC 15948: the text `Description`
GLB   glTF 2.0, chapter 4: the `extras` of the asset, in the JSON chunk
"""

import json
import re
import struct
from collections.abc import Iterator, Mapping
from typing import Any
from urllib.parse import unquote

_SUBJECT = re.compile(rb"/Subject\s*([(<])")
_LONGEST = 100_000
_OCTAL = re.compile(rb"[0-7]{1,3}")
_PLAIN = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_MOST_CHUNKS = 64
_FACTS = ("platewright_version", "template", "address")


def pdf_facts(data: bytes) -> Mapping[str, Any]:
    """Return what the subject of a PDF says: `name=value; name=value`, a semicolon in a value written as `%3B`.

    Raises:
        ValueError: it has no end.
    """
    said: dict[str, str] = {}
    for match in _SUBJECT.finditer(data):
        raw = _hexadecimal(data, match.end()) if match[1] == b"<" else _literal(data, match.end())
        text = raw[2:].decode("utf-16-be") if raw.startswith(b"\xfe\xff") else raw.decode("latin-1")
        pairs = (each.partition("=") for each in text.split("; "))
        said = {name: value for name, _, value in pairs}
        if "platewright_version" in said:
            break
    values = {name: unquote(value) for name, value in said.items() if name not in _FACTS}
    return {**{name: said[name] for name in _FACTS if name in said}, "parameters": values}


def _hexadecimal(data: bytes, at: int) -> bytes:
    end = data.index(b">", at, at + _LONGEST)
    return bytes.fromhex(data[at:end].decode("ascii"))


def _literal(data: bytes, at: int) -> bytes:
    """A string between brackets; those within it are balanced or escaped."""
    made, depth, end = bytearray(), 1, min(len(data), at + _LONGEST)
    while at < end:
        byte = data[at : at + 1]
        if byte == b"\\":
            step, letter = _escape(data, at + 1)
            made += letter
            at += 1 + step
            continue
        depth += (byte == b"(") - (byte == b")")
        if not depth:
            return bytes(made)
        made += byte
        at += 1
    raise ValueError("a string without an end")


def _escape(data: bytes, at: int) -> tuple[int, bytes]:
    """How long an escape is after its backslash, and what it stands for."""
    if octal := _OCTAL.match(data, at):
        return len(octal[0]), bytes([int(octal[0], 8) & 255])
    letter = data[at : at + 1]
    if letter in (b"\r", b"\n"):
        return (2 if data[at : at + 2] == b"\r\n" else 1), b""
    return 1, _PLAIN.get(letter, letter)


def png_facts(data: bytes) -> Mapping[str, Any]:
    """Return what the description in a PNG says.

    Raises:
        ValueError: it isn't JSON.
    """
    for kind, body in _png_chunks(data):
        keyword, _, text = body.partition(b"\0")
        if kind == b"tEXt" and keyword == b"Description":
            return _object(text.decode("latin-1"))
    return {}


def _png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 8
    for _ in range(_MOST_CHUNKS):
        if len(data) < at + 8:
            return
        (length,) = struct.unpack(">I", data[at : at + 4])
        yield data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        at += 12 + length


def glb_facts(data: bytes) -> Mapping[str, Any]:
    """Return what the asset of a GLB says.

    Raises:
        ValueError: it isn't JSON, or ends too soon.
    """
    if len(data) < 20:
        raise ValueError("a head without a body")
    (length,) = struct.unpack("<I", data[12:16])
    asset = _object(data[20 : 20 + length].decode("utf-8")).get("asset", {})
    extras = asset.get("extras", {}) if isinstance(asset, dict) else {}
    return extras if isinstance(extras, dict) else {}


def _object(text: str) -> Mapping[str, Any]:
    found = json.loads(text)
    if not isinstance(found, dict):
        raise ValueError("no object")
    return found
