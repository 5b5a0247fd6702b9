r"""Encoding: text of a DXF, in whatever code page the file says or doesn't say.

Since 2007 files are UTF-8, before that in the code page of `$DWGCODEPAGE`, with other characters as `\U+4E2D`
(published DXF reference, header variables and text strings).
"""

import codecs
import re

from parts.read.coordinate import plain

_PAGES = {"ANSI_932": "cp932", "ANSI_936": "gbk", "ANSI_949": "cp949", "ANSI_950": "cp950", "ANSI_1361": "johab"}
_PAGE = re.compile(r"(?:ANSI_|DOS|IBM)([0-9]{3,4})", re.IGNORECASE)
_ESCAPED = re.compile(r"\\U\+([0-9A-Fa-f]{4})")


def encoding_of(code_page: bytes) -> str:
    """Return the encoding that a `$DWGCODEPAGE` stands for; nothing where it isn't given or isn't known."""
    name = plain(code_page).upper()
    if name in _PAGES:
        return _PAGES[name]
    found = _PAGE.fullmatch(name)
    try:
        return codecs.lookup(f"cp{found[1]}").name if found else ""
    except LookupError:
        return ""


def text_of(value: bytes, encoding: str) -> str:
    """Return a text without blanks around it: UTF-8 where it is that, else in the file's own encoding."""
    try:
        text = value.decode("utf-8").strip()
    except UnicodeDecodeError:
        text = value.decode(encoding, "replace").strip() if encoding else plain(value)
    return _ESCAPED.sub(_unescaped, text) if "\\" in text else text


def _unescaped(escaped: re.Match[str]) -> str:
    character = chr(int(escaped[1], 16))
    return "\N{REPLACEMENT CHARACTER}" if "\ud800" <= character <= "\udfff" else character
