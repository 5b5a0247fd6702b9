"""What a font file of someone's own is packed in, undone within bounds: TTF, OTF or WOFF to the tables themselves.

sfnt     a directory of tables, each found by its tag, its place and its length: what TTF and OTF are
WOFF     the same with each table packed; the directory says how long each is unpacked

Source: OpenType 1.9, "Organization of an OpenType font"; W3C, "WOFF File Format 1.0" (2012), sections 3 to 5.
"""

import struct
import zlib
from collections.abc import Mapping

LARGEST_BYTES = 10_000_000
"""Of a file as it comes."""
LARGEST_UNPACKED = 40_000_000
"""Of all its tables, unpacked: four times as much as of a file."""
MOST_TABLES = 128
_SFNT = (b"\0\1\0\0", b"true", b"OTTO")
_REFUSED = {
    b"ttcf": "is a collection of several fonts: save the one that is wanted as a file of its own",
    b"wOF2": "is packed as WOFF2, which isn't read here: convert it to TTF, OTF or WOFF",
    b"typ1": "is a Type 1 font in an old wrapping: convert it to TTF or OTF",
    b"%!PS": "is a Type 1 font: convert it to TTF or OTF",
}
_OUTLINES = (b"glyf", b"CFF ", b"CFF2")
_NEEDED = {b"cmap": "says no characters (it has no table cmap)", b"head": "is broken (it has no table head)"}


class Unfit(ValueError):
    """A font that can't be used; its text goes on after the file's name and has no full stop."""


def sfnt(data: bytes) -> bytes:
    """Return a font as an sfnt, unpacked if need be.

    Raises:
        Unfit: it is no font, a broken one, too large, or one without characters or outlines.
    """
    if len(data) > LARGEST_BYTES:
        raise Unfit(f"has more than {LARGEST_BYTES // 1_000_000} MB, more than a font that is read here may have")
    kind = data[:4]
    if kind in _REFUSED:
        raise Unfit(_REFUSED[kind])
    try:
        if kind == b"wOFF":
            return _put_together(data[4:8], _unpacked(data))
        if kind not in _SFNT:
            raise Unfit("is no font: a TTF, an OTF or a WOFF of one font is read")
        _complete(_tables(data))
    except struct.error:
        raise Unfit("is broken: it ends amid its directory") from None
    return data


def _tables(data: bytes) -> Mapping[bytes, bytes]:
    """The tables of an sfnt, each within the file."""
    (count,) = struct.unpack_from(">H", data, 4)
    return dict(_within(data, *struct.unpack_from(">4s4xII", data, 12 + 16 * i)) for i in range(_counted(count)))


def _counted(count: int) -> int:
    if not 0 < count <= MOST_TABLES:
        raise Unfit(f"is broken: its directory has {count} tables")
    return count


def _within(data: bytes, tag: bytes, offset: int, length: int) -> tuple[bytes, bytes]:
    if offset + length > len(data):
        raise Unfit(f"is broken: its table {_shown(tag)} ends past the end of the file")
    return tag, data[offset : offset + length]


def _unpacked(data: bytes) -> Mapping[bytes, bytes]:
    """The tables of a WOFF, each as long as its directory says, and all within bounds before any is unpacked."""
    (count,) = struct.unpack_from(">H", data, 12)
    rows = [struct.unpack_from(">4sIIII", data, 44 + 20 * i) for i in range(_counted(count))]
    if sum(length for _, _, _, length, _ in rows) > LARGEST_UNPACKED:
        raise Unfit(f"unpacks to more than {LARGEST_UNPACKED // 1_000_000} MB, more than a font that is read here has")
    tables = {}
    for tag, offset, packed, length, _ in rows:
        _, held = _within(data, tag, offset, packed)
        tables[tag] = held if packed == length else _inflated(tag, held, length)
    _complete(tables)
    return tables


def _inflated(tag: bytes, held: bytes, length: int) -> bytes:
    try:
        made = zlib.decompressobj().decompress(held, length + 1)
    except zlib.error:
        made = b""
    if len(made) != length:
        raise Unfit(f"is broken: its table {_shown(tag)} doesn't unpack to what the directory says")
    return made


def _complete(tables: Mapping[bytes, bytes]) -> None:
    """Refuse a font that lacks what letters are cut from."""
    for tag, lacks in _NEEDED.items():
        if not tables.get(tag):
            raise Unfit(lacks)
    if not any(tables.get(tag) for tag in _OUTLINES):
        raise Unfit("has no outlines, only pictures of letters: bitmaps or colours. A face of outlines can be cut")


def _put_together(flavour: bytes, tables: Mapping[bytes, bytes]) -> bytes:
    """An sfnt of tables, in the order of their tags, each at a multiple of four."""
    count = len(tables)
    power = 1 << (count.bit_length() - 1)
    directory = [struct.pack(">4sHHHH", flavour, count, 16 * power, count.bit_length() - 1, 16 * (count - power))]
    bodies, at = [], 12 + 16 * count
    for tag in sorted(tables):
        body = tables[tag]
        directory.append(struct.pack(">4sIII", tag, 0, at, len(body)))  # nobody here looks at checksums
        bodies.append(body + bytes(-len(body) % 4))
        at += len(bodies[-1])
    return b"".join([*directory, *bodies])


def _shown(tag: bytes) -> str:
    text = tag.decode("latin-1").strip()
    return text if text.isprintable() else tag.hex()
