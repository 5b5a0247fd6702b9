"""Layers: what a layer's name says of the lines on it, which is a guess (`parts.read.roles` asks the geometry too).

cut       lines to cut through; what any name stands for that says nothing else
scribe    lines to mark; bend, drill likewise
aside     lines that aren't of the part: construction, centre lines, dimensions, text, frames

Our own names are known exactly; any other name by the trade's words at the start of a word in it. A name that also
says hole, bore, slot or cut is of what is cut, unless these only say whose lines, marks or notes they are. Lines of a
layer that are drawn as no edge is, broken or not to be plotted, are taken as on a layer of their own:
`0 (CENTER lines)`.
"""

import re
from typing import Literal, TypeAlias, get_args

Role: TypeAlias = Literal["cut", "scribe", "bend", "drill", "aside"]
ROLES: tuple[Role, ...] = get_args(Role)

OUTSIDE, INSIDE, SCRIBE, BEND, DRILL, NOTES = "OUTSIDE", "INSIDE", "SCRIBE", "BEND", "DRILL", "NOTES"
"""The layers of the files we write (`parts.export.layers`)."""

GROUND = "white background"
"""The layer that a picture's white background is put on."""

OWN = frozenset({OUTSIDE, INSIDE, SCRIBE, BEND, DRILL, NOTES})

_OWN_ROLES: dict[str, Role] = {
    OUTSIDE: "cut", INSIDE: "cut", SCRIBE: "scribe", BEND: "bend", DRILL: "drill", NOTES: "aside",
}  # fmt: skip

# In this order: "centre punch" is a drill centre, "centre marks" are no lines of the part, "engraved text" is.
_WORDS: tuple[tuple[Role, str], ...] = (
    ("drill", r"drill|(?:cent(?:re|er)[ _-]?)?punch"),
    ("aside", r"cent(?:re|er)(?:[ _-]?(?:line|mark)s?)?(?![a-z])"),
    ("scribe", r"scrib|mark|etch|engrav"),
    ("bend", r"(?:bend|fold)(?!.?relief)"),
    (
        "aside",
        r"constr|guide|dim(?:s|ension|ensions)?(?![a-z])|text|notes?(?![a-z])|annot|defpoints|title|border"
        r"|hidden|viewport|background|backdrop",
    ),
)
_ABOUT = r"dim|note|text|tag|label|table|line|mark|axis|axes|cent(?:re|er)|guide|annot|punch"
_HOLES = re.compile(
    rf"(?:(?<![a-z])|(?<=thru)|(?<=through))(?:hole|bore|slot)s?(?![a-z])(?![ _-]?(?:{_ABOUT}))", re.IGNORECASE
)
_LINES_OF = re.compile(r"(?<![a-z])(?:cent(?:re|er)[ _-]?)?(?:line|mark|note|dim)s?[ _-]+(?:of[ _-])?", re.IGNORECASE)
_CUT = re.compile(r"(?<![a-z])cut|cuts?(?![a-z])", re.IGNORECASE)
_PATTERNS = tuple((role, re.compile(f"(?<![a-z])(?:{words})", re.IGNORECASE)) for role, words in _WORDS)
OFF, FROZEN = "switched off", "frozen"
"""Why a drawing doesn't show a layer."""
_DRAWN_ASIDE = re.compile(rf"(.*) \((?:.* lines|not plotted|{OFF}|{FROZEN})\)", re.DOTALL)


def drawn_aside(layer: str, how: str) -> str:
    """Return what the lines of a layer are said to be on that are drawn in a way that edges aren't: `CENTER lines`."""
    return f"{layer} ({how})"


def named_in(layer: str) -> str:
    """Return the name that a drawing has for a layer, without how its lines are drawn: `0` of `0 (CENTER lines)`."""
    match = _DRAWN_ASIDE.fullmatch(layer)
    return match[1] if match else layer


def told_by(layer: str) -> str:
    """Return what tells that the lines of a layer are no outline: its name, or how they are drawn."""
    return "by how it is drawn" if _DRAWN_ASIDE.fullmatch(layer) else "by its name"


def role(layer: str) -> Role:
    """Return what the lines on a layer of this name are for, as far as a name tells."""
    own = _OWN_ROLES.get(layer.upper())
    if own:
        return own
    return "cut" if says_both(layer) else _first_word(layer)


def says_both(layer: str) -> bool:
    """Tell whether a name says something other than cut, and that it is cut as well: `TEXT-CUT`, `Center Bore`."""
    if layer.upper() in OWN or _first_word(layer) in ("cut", "drill") or _DRAWN_ASIDE.fullmatch(layer):
        return False
    return bool(_CUT.search(layer) or (_HOLES.search(layer) and not _LINES_OF.search(layer)))


def _first_word(layer: str) -> Role:
    if _DRAWN_ASIDE.fullmatch(layer):
        return "aside"
    return next((role for role, pattern in _PATTERNS if pattern.search(layer)), "cut")


def side(layer: str) -> Literal["outside", "inside"] | None:
    """Return the side that one of our own layers states for its loops."""
    if layer.upper() == OUTSIDE:
        return "outside"
    return "inside" if layer.upper() == INSIDE else None
