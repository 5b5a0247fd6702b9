"""What of a drawing was passed over, worded: kinds of things that aren't cut, and wide lines."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from parts.finding import Finding, Severity
from parts.geometry import Point
from parts.read.counting import counted, worded
from parts.read.left_out import MANY_OF_SVG, OF_SVG
from parts.read.limits import shown
from parts.read.pieces import DONUT, TOO_TIGHT, WIDE, LeftOut, Stroke, anchors
from parts.read.sentences import READING

_DRAW = "Draw [it|them] as lines and arcs if [it is|they are] cut."


_EXPLODE = "Explode [it|them] into lines and arcs if [it is|they are] cut."


_NOTHING_TO_DO = "Nothing to do: [it isn't|they aren't] cut."


_OUTLINED = "Nothing to do, if [its outline is|their outlines are] drawn as lines too."


_SAVE = "Save the drawing with [it|them] in it, not only pointed to."


_TRACE = "Trace [it|them] into outlines if [it is|they are] to be cut."


_SAID: dict[str, tuple[str, str]] = {
    "text": ("{n} left as text: letters aren't outlines", "Turn the text into outlines if it is to be cut."),
    **dict.fromkeys(
        ("hatch", "filled shape", "filled area"),
        (
            "{n} left out: only outlines are read",
            _OUTLINED,
        ),
    ),
    **dict.fromkeys(
        ("dimension", "leader", "tolerance frame", "table", "endless line"),
        ("{n} left out", _NOTHING_TO_DO),
    ),
    **dict.fromkeys(
        ("block that isn't in the file", "use of something that isn't in the file"),
        ("{n} left out", _SAVE),
    ),
    **dict.fromkeys(
        ("multiline", "region"),
        (
            "{n} left out: only single lines and arcs are read",
            _EXPLODE,
        ),
    ),
    **dict.fromkeys(
        ("3D entity", "3D face"),
        (
            "{n} left out: only what lies flat in the plane of the drawing is read",
            "Draw the part flat, seen from above.",
        ),
    ),
    "block scaled to nothing": (
        "{n} left out: [a scale of it is|scales of them are] zero",
        "Place [it|them] at a scale.",
    ),
    "mask": (
        "{n} left out: [it only hides|they only hide] what lies behind",
        _NOTHING_TO_DO,
    ),
    "proxy": (
        "{n} left out: only the program that made it can draw it",
        "Explode [it|them] into lines and arcs in that program if [it is|they are] cut.",
    ),
    "shape of a font": (
        "{n} left out: what [it draws|they draw] isn't in the file",
        _DRAW,
    ),
    "picture": (
        "{n} left out: [it has|they have] no lines to cut",
        _TRACE,
    ),
    **OF_SVG,
}


_MANY = {
    "block that isn't in the file": "blocks that aren't in the file",
    "use of something that isn't in the file": "uses of something that isn't in the file",
    **MANY_OF_SVG,
    "block scaled to nothing": "blocks scaled to nothing",
    "hatch": "hatches",
    "proxy": "proxies",
    "shape of a font": "shapes of a font",
}


def passed_over(left_out: Iterable[LeftOut]) -> Iterator[str]:
    """Yield what lies on layers for other things and wouldn't be read anyway, in one sentence."""
    kinds = Counter(item.kind for item in left_out)
    if kinds:
        said = ", ".join(counted(count, shown(kind), plural(shown(kind))) for kind, count in kinds.items())
        yield f"left out {said} on layers for other things"


def wide_findings(strokes: Iterable[Stroke], origin: Point, unit_mm: float) -> Iterator[Finding]:
    """Yield a finding for lines that are cut round, for rings, and for lines whose outline can't be told."""
    groups: dict[str, list[Stroke]] = {}
    for stroke in strokes:
        if stroke.kind in _WIDE and stroke.pieces:
            groups.setdefault(stroke.kind, []).append(stroke)
    for kind, wide in groups.items():
        x, y = next(anchors(wide[0].pieces[0]))
        severity, message, remedy = _WIDE[kind]
        at = (x * unit_mm + origin[0], y * unit_mm + origin[1])
        yield Finding(READING, severity, at, None, None, worded(len(wide), message), remedy)


_WIDE: Mapping[str, tuple[Severity, str, str]] = {
    WIDE: (
        "note",
        "{n} line[|s] with a width [is|are] cut round: the cut is the outline.",
        "If the middle is to be cut, draw the line without a width.",
    ),
    DONUT: (
        "note",
        "{n} ring[|s] drawn as [a line|lines] with a width: the cut is [its|their] outer and inner circle[|s].",
        "If the middle is to be cut, draw a circle in its place.",
    ),
    TOO_TIGHT: (
        "warn",
        "{n} line[|s] with a width: bent too tightly to be cut round, so the middle is cut.",
        "Draw its outline as lines and arcs.",
    ),
}


def left_out_findings(left_out: Iterable[LeftOut], origin: Point, unit_mm: float) -> Iterator[Finding]:
    """Yield one finding for each kind of entity that wasn't read, at the first of them."""
    groups: dict[str, list[LeftOut]] = {}
    for item in left_out:
        groups.setdefault(item.kind, []).append(item)
    for kind, items in groups.items():
        said, remedy = _SAID.get(
            kind, ("{n} left out: [it isn't|they aren't] read", "Draw it as lines and arcs if it is cut.")
        )
        noun = kind if kind in _SAID or not kind.isupper() else f"{shown(kind)} entity"
        x, y = items[0].at
        severity: Severity = "warn" if items[0].matters else "note"
        message = worded(len(items), said, counted(len(items), noun, plural(noun)))
        at = (x * unit_mm + origin[0], y * unit_mm + origin[1])
        yield Finding(
            READING, severity, at, None, None, f"{message[0].upper()}{message[1:]}.", worded(len(items), remedy)
        )


def plural(noun: str) -> str:
    """Return the name of a kind of things as of several."""
    if noun in _MANY:
        return _MANY[noun]
    if noun.startswith("shape sized in "):
        return noun.replace("shape", "shapes", 1)
    return f"{noun[:-1]}ies" if noun.endswith("ty") else f"{noun}s"
