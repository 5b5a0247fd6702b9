"""Facts: what a file says of itself, by the names that `parts.export.about` gives, whatever the format.

Nothing is unpacked on the way, so that a small file can't become a large one, and nothing in it is followed.
"""

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from html import unescape
from typing import Any

from parts.errors import Unreadable
from parts.read import LARGEST_BYTES
from parts.reopen.binary import glb_facts, pdf_facts, png_facts

MOST_VALUES = 500
"""Parameters that a file may name: many times as many as any template has."""
_LONGEST = 200_000  # letters of all that a file says of itself
_PREFIX = "parameter "
_SVG = re.compile(r"<((?:\w+:)?metadata)\b[^>]*>\s*(\{[^<]*\"platewright_version\"[^<]*\})\s*</\1>")
_COMMENT = re.compile(r"[ \t]*999[ \t]*\r?\n([^\r\n]*)\r?\n")
_PROPERTY = re.compile(
    r"\$CUSTOMPROPERTYTAG[ \t]*\r?\n[ \t]*1[ \t]*\r?\n([^\r\n]{1,200})\r?\n"
    r"[ \t]*9[ \t]*\r?\n\$CUSTOMPROPERTY[ \t]*\r?\n[ \t]*1[ \t]*\r?\n([^\r\n]*)\r?\n"
)
_PRODUCT = re.compile(r"PRODUCT\s*\(\s*'([a-z0-9-]{1,80})'\s*,\s*'(?:[^']|'')*'\s*,\s*'(/parts/(?:[^']|'')*)'")
_ESCAPED = re.compile(r"(?:\\U\+[0-9A-F]{4})+")
_STEP_TEXT = re.compile(r"'((?:[^']|'')*)'")
_STEP_ESCAPE = re.compile(r"\\X([24])\\((?:[0-9A-F]{4})+)\\X0\\")


@dataclass(frozen=True)
class Facts:
    """What a file says: its format, version, template, address, values as texts or numbers, and its `content` if JSON.

    `version` is "" where another program wrote all that is said but the template and its address.
    `compensated` is the sentence about the table that it is compensated for; `shows` what it shows, if not what is cut.
    """

    kind: str
    version: str
    template: str
    address: str
    parameters: Mapping[str, Any]
    compensated: str = ""
    shows: str = ""
    content: Mapping[str, Any] = field(default_factory=dict)


def facts_in(data: bytes, name: str) -> Facts:
    """Return what a file of Platewright's says of itself.

    Args:
        data: the file's bytes; what it is, is told by them.
        name: what to call it in sentences.

    Raises:
        Unreadable: it is empty, too large, broken, of another program, or doesn't say what part it is of.
    """
    if not data.strip():
        raise Unreadable(f"{name} is empty.")
    if len(data) > LARGEST_BYTES:
        raise Unreadable(f"{name} has more than {LARGEST_BYTES // 1_000_000} MB: no file of a part is so large.")
    kind, said = _said(data, name)
    version, template, address = (said.get(word, "") for word in ("platewright_version", "template", "address"))
    if not all(isinstance(word, str) for word in (version, template, address)):
        raise Unreadable(f"{name} is damaged: what it says of its template isn't text.")
    if not template or not (version or kind == "step"):
        raise Unreadable(f"{name} doesn't say what part it is of: {_why_not(kind)}.")
    values = said.get("parameters", {})
    if not isinstance(values, Mapping) or len(values) > MOST_VALUES:
        raise Unreadable(f"{name} is damaged: what it says of its values can't be read.")
    content = said if kind == "json" else {}
    compensated, shows = (str(said.get(word, "")) for word in ("compensated", "shows"))
    return Facts(kind, version, template, address, values, compensated, shows, content)


def _why_not(kind: str) -> str:
    if kind == "dxf":
        return "no comment at its head names a template; another program may have saved it since, or drawn it"
    if kind == "pdf":
        return (
            "nothing in it names a template; it may be locked, or another program may have saved it since. The address "
            "in its title block opens the part"
        )
    return "nothing in it names a template; another program may have saved it since, or made it"


def _said(data: bytes, name: str) -> tuple[str, Mapping[str, Any]]:
    head = data[:512].lstrip(b"\xef\xbb\xbf \t\r\n")
    for kind, mark, said_in in _KINDS:
        if head.startswith(mark):
            try:
                return kind, said_in(data)
            except (ValueError, RecursionError, KeyError, TypeError) as error:
                raise Unreadable(f"{name} is damaged: what it says of itself can't be read.") from error
    raise Unreadable(f"{name} is no file of a part: those that open again are DXF, SVG, PDF, STEP, PNG, GLB and JSON.")


def _dxf(data: bytes) -> Mapping[str, Any]:
    """The comments at the head, or where another program dropped these, the custom properties.

    One that goes on is in several, `name+` after the first.
    """
    text = data[:_LONGEST].decode("utf-8", "replace").removeprefix("\ufeff")
    said: dict[str, str] = {}
    for name, value in _comments(text) or _PROPERTY.findall(text):
        said[name.removesuffix("+")] = said.get(name[:-1], "") + value if name.endswith("+") else value
    return _with_parameters({name: _ESCAPED.sub(_as_letters, value) for name, value in said.items()})


def _comments(text: str) -> list[tuple[str, str]]:
    """The comments as names and texts; none where they don't name a template."""
    found, at = [], 0
    while match := _COMMENT.match(text, at):
        name, colon, value = match[1].partition(": ")
        if not colon and match[1].endswith(":"):  # a blank at a line's end is lost easily
            name = match[1][:-1]
        at = match.end()
        found.append((name, value))
    return found if any(name == "template" for name, _ in found) else []


def _as_letters(match: re.Match[str]) -> str:
    return bytes.fromhex(match[0].replace("\\U+", "")).decode("utf-16-be", "replace")


def _svg(data: bytes) -> Mapping[str, Any]:
    match = _SVG.search(data[:_LONGEST].decode("utf-8", "replace"))
    return _object(unescape(match[2])) if match else {}


def _json(data: bytes) -> Mapping[str, Any]:
    return _object(data.decode("utf-8-sig"))


def _object(text: str) -> Mapping[str, Any]:
    found = json.loads(text)
    if not isinstance(found, dict):
        raise ValueError("no object")
    return found


def _step(data: bytes) -> Mapping[str, Any]:
    """The description in the header, a text for each fact."""
    head, ends, _ = data[:_LONGEST].decode("ascii", "replace").partition("FILE_NAME")
    if not ends:
        return {}
    said: dict[str, str] = {}
    for written in _STEP_TEXT.findall(head):
        text = "".join(written.splitlines()).replace("''", "'")
        name, colon, value = text.partition(": ")
        if colon:
            said[name] = _STEP_ESCAPE.sub(_as_letter, value)
    return _with_parameters(said if "template" in said else _product(data))


def _product(data: bytes) -> Mapping[str, str]:
    """What the product itself says, where another program wrote the header anew: its template and its address."""
    match = _PRODUCT.search(data[:_LONGEST].decode("ascii", "replace").replace("\n", "").replace("\r", ""))
    if not match:
        return {}
    return {"template": match[1], "address": _STEP_ESCAPE.sub(_as_letter, match[2].replace("''", "'"))}


def _as_letter(match: re.Match[str]) -> str:
    wide = match[1] == "4"
    return bytes.fromhex(match[2]).decode("utf-32-be" if wide else "utf-16-be", "replace")


def _with_parameters(said: Mapping[str, str]) -> Mapping[str, Any]:
    """The facts with `parameter NAME` under `parameters`."""
    values = {name.removeprefix(_PREFIX): text for name, text in said.items() if name.startswith(_PREFIX)}
    return {**{name: text for name, text in said.items() if not name.startswith(_PREFIX)}, "parameters": values}


_KINDS: tuple[tuple[str, bytes | tuple[bytes, ...], Callable[[bytes], Mapping[str, Any]]], ...] = (
    ("pdf", b"%PDF-", pdf_facts),
    ("png", b"\x89PNG\r\n", png_facts),
    ("glb", b"glTF", glb_facts),
    ("step", b"ISO-10303-21;", _step),
    ("json", b"{", _json),
    ("svg", b"<", _svg),
    ("dxf", (b"999", b"0\n", b"0\r"), _dxf),
)
