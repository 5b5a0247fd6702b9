"""The dimensioned drawing as inline SVG for a page, and the bare outline as a small picture.

Presentation attributes only, so that a strict content policy lets it through. Lines and lettering are
currentColor unless a page's style sheet colours these classes:

    pw-drawing                                               the whole
    pw-part pw-open pw-aside pw-marks pw-bends pw-centres pw-dimension pw-finding   groups
    pw-as-cut pw-slow pw-stock pw-spare                      groups that a page shows when asked to
    pw-ties pw-tie pw-tie-reach pw-tie-line                  bridges that can be moved, on a drawing for a window
    pw-cut-outside pw-cut-inside pw-bend pw-scribe           lines, by pen
    pw-dimension-line pw-centre pw-leader pw-open-line pw-aside-line
    pw-as-cut-line pw-slow-1 pw-slow-2 pw-slow-3             as cut; the bands where the torch slows
    pw-sheet pw-bed                                          what the part is cut from, and on
    pw-text pw-arrow pw-mark pw-number                       lettering, arrowheads, marks and their numbers
    pw-stop pw-warn pw-note                                  flags, by severity

`data-parameter` on a dimension names its parameter, `data-finding` on a flag its number. On a drawing for a window
`data-scale` has px to a mm of the part, `data-window` the room it was drawn for, px, `data-middle` where the part's
middle is on it, `data-foot` where the lower left corner of its bounding box is, and `data-kept` how it was laid out.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from html import escape

from parts.drawing import (
    DASHES,
    MARK_WEIGHT,
    OVERLAYS,
    WEIGHTS,
    Arrow,
    Dot,
    Drawing,
    Group,
    Item,
    Kept,
    NumberedMark,
    Path,
    Pen,
    Polygon,
    Text,
    Window,
    lay_out,
    lay_out_on_screen,
    overlaid,
)
from parts.export.formed import FormedView
from parts.geometry import Line, Point, Segment
from parts.profile import Bend, Profile, Scribe
from parts.record import Record
from parts.units import with_unit

WIDTH, HEIGHT = 100.0, 110.0
"""The drawing's width, and how high it may grow, in its own units."""

CLASSES: dict[Pen, str] = {
    "dimension": "pw-dimension-line",
    "open": "pw-open-line",
    "aside": "pw-aside-line",
    "as-cut": "pw-as-cut-line",
}
"""Class of a pen's lines where it isn't the pen's own name."""

FILLED = 'fill="currentColor" stroke="none"'

THUMBNAIL_LINE = 1.5
"""Width of a small picture's line, px; half of it for what isn't cut."""
THUMBNAIL_DASH = "4 2"
"""Dashes of the bend lines of a small picture, px."""


def write(record: Record, window: Window | None = None, *, overlays: bool = False) -> str:
    """Return the drawing as an `svg` element to stand in a page.

    Args:
        record: the part.
        window: the room it has there, px; None for one of any size, WIDTH wide in its own units.
        overlays: whether it carries what is left as cut and where the torch slows, hidden until a page's style
            sheet shows them.
    """
    drawing = lay_out_on_screen(record, window) if window else lay_out(record, WIDTH, HEIGHT)
    size = _on_screen(record, drawing, window) if window else ""
    if overlays:
        drawing = overlaid(record, drawing)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pw-drawing" role="img" {size}'
        f'viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" fill="none" stroke="currentColor" '
        f'stroke-linecap="butt" stroke-linejoin="round" font-family="sans-serif">'
    )
    title = f"<title>{escape(record.template.title, quote=False)}</title>"
    words = f"<desc>{escape(described(record), quote=False)}</desc>"
    ties = _ties(record, drawing) if window else []
    return "\n".join([head, title, words, *_Sheet(drawing, 3 if window else 4).groups(), *ties, "</svg>"])


def sheet_groups(drawing: Drawing) -> Iterator[str]:
    """Yield each group of a drawing as an element, for a file of its own."""
    return _Sheet(drawing).groups()


def formed(view: FormedView, width: float, height: float, kept: Kept | None = None) -> str:
    """Return a section of the bent part as an `svg` element of class `pw-formed`, for so much room, px.

    `kept` is how it was laid out before a value changed.
    """
    drawing = view.on_screen(width, height, kept)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pw-formed" role="img" '
        f'width="{_n(drawing.width)}" height="{_n(drawing.height)}" '
        f'viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" fill="none" stroke="currentColor" '
        f'stroke-linejoin="round" font-family="sans-serif" data-kept="{drawing.kept}">'
    )
    return "\n".join(
        [head, f"<title>{escape(view.title, quote=False)}</title>", *_Sheet(drawing, 3).groups(), "</svg>"]
    )


def _ties(record: Record, drawing: Drawing) -> list[str]:
    """The bridges that someone may move, a group each with what it takes to; nothing of it shows without a style."""
    if not record.profile.ties:
        return []
    (x0, y0), foot, scale = record.box[:2], drawing.height - drawing.origin[1], drawing.scale
    made = ['<g class="pw-ties" stroke="none">']
    for tie in record.profile.ties:
        (ax, ay), (bx, by) = (
            (drawing.origin[0] + (x - x0) * scale, foot - (y - y0) * scale) for x, y in (tie.start, tie.end)
        )
        line = f'x1="{_n(ax)}" y1="{_n(ay)}" x2="{_n(bx)}" y2="{_n(by)}" vector-effect="non-scaling-stroke"'
        made.append(
            f'<g class="pw-tie" data-tie="{tie.key}" data-offset="{tie.offset:.4f}" '
            f'data-share="{_n(tie.share[0] * scale)} {_n(-tie.share[1] * scale)}">'
            f'<line class="pw-tie-reach" {line}/><line class="pw-tie-line" {line}/></g>'
        )
    return [*made, "</g>"]


def _on_screen(record: Record, drawing: Drawing, window: Window) -> str:
    """What an `svg` element for a window has besides: its size in px, and what leads from px to the part."""
    x0, y0, x1, y1 = record.box
    left, foot = drawing.origin[0], drawing.height - drawing.origin[1]
    x, y = left + (x1 - x0) / 2 * drawing.scale, foot - (y1 - y0) / 2 * drawing.scale
    return (
        f'width="{_n(drawing.width)}" height="{_n(drawing.height)}" data-scale="{drawing.scale!r}" '
        f'data-units="{record.units}" data-window="{_n(window.width)} {_n(window.height)}" '
        f'data-middle="{_n(x)} {_n(y)}" data-foot="{_n(left)} {_n(foot)}" data-kept="{drawing.kept}" '
    )


def thumbnail(profile: Profile, scale: float) -> str:
    """Return the outline, and the bends and scribed lines, as a small `svg` element hidden from readers of screens.

    Args:
        profile: the part.
        scale: px to a mm of the part; one for all that are to be compared.
    """
    x0, y0, x1, y1 = profile.box
    half = THUMBNAIL_LINE / 2
    width, height = (x1 - x0) * scale + 2 * half, (y1 - y0) * scale + 2 * half

    def at(p: Point) -> str:
        return f"{_n((p[0] - x0) * scale + half)} {_n(height - half - (p[1] - y0) * scale)}"

    cut = "".join(_path(loop.segments, True, at, scale) for loop in profile.boundary)
    bends = "".join(_path((mark.line,), False, at) for mark in profile.marks if isinstance(mark, Bend))
    scribed = "".join(_path((s,), False, at, scale) for m in profile.marks if isinstance(m, Scribe) for s in m.path)
    fine = f'stroke-width="{_n(THUMBNAIL_LINE / 2)}"'
    drawn = [(cut, f'stroke-width="{_n(THUMBNAIL_LINE)}"'), (scribed, fine)]
    drawn += [(bends, f'{fine} stroke-dasharray="{THUMBNAIL_DASH}"')]
    paths = "".join(f'<path d="{data}" {pen}/>' for data, pen in drawn if data)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="pw-thumbnail" aria-hidden="true" '
        f'width="{_n(width)}" height="{_n(height)}" viewBox="0 0 {_n(width)} {_n(height)}" '
        f'fill="none" stroke="currentColor" stroke-linejoin="round">{paths}</svg>'
    )


def described(record: Record) -> str:
    """Return the part in words: what it is, its size, its stock, its openings and its dimensions."""
    if not record.is_judged:
        return f"{record.template.title}: being drawn."
    measures, letters, specs = record.measures, record.template.letters, record.specs
    size = f"{_say(record, measures.width_mm)} wide, {_say(record, measures.height_mm)} high"
    stock = f"{record.material_title.lower()} {_say(record, record.job.cut.thickness_mm)} thick"
    openings = len(record.profile.inside)
    holes = f"{openings} opening{'' if openings == 1 else 's'}" if openings else "no openings"
    shown = dict.fromkeys((d.parameter, d.measured) for d in record.profile.dimensions)
    listed = ", ".join(
        f"{letters.get(name, '')} {specs[name].label.lower()} {_say(record, mm)}".strip()
        for name, mm in shown
        if name in specs
    )
    found = len(record.rows)
    flags = f" {found} finding{'' if found == 1 else 's'} flagged." if found else ""
    of = f"{record.template.title}: {size}, of {stock}, with {holes}."
    return of + (f" {listed}." if listed else "") + flags


def _say(record: Record, mm: float) -> str:
    return with_unit(record.number(mm), record.job.units)


class _Sheet:
    """Writes the groups of one drawing; y runs downward in SVG."""

    def __init__(self, drawing: Drawing, places: int = 4) -> None:
        self.drawing = drawing
        self._numbers = _Numbers(places)
        self._pens: dict[Pen, tuple[str, str]] = {}

    def groups(self) -> Iterator[str]:
        """Yield each group as an element."""
        for group in self.drawing.groups:
            yield f"<g {_attributes(group)}>{''.join(self._item(item) for item in group.items)}</g>"

    def _item(self, item: Item) -> str:
        if isinstance(item, Path):
            return self._line(item)
        if isinstance(item, Text):
            return self._text(item, "pw-text")
        if isinstance(item, Arrow):
            return f'<path class="pw-arrow" d="{self._polygon(item.outline)}" {FILLED}/>'
        if isinstance(item, Dot):
            x, y = self._xy(item.at)
            return f'<circle class="pw-dot" cx="{x}" cy="{y}" r="{_n(item.size / 2)}" {FILLED}/>'
        return self._mark(item)

    def _line(self, path: Path) -> str:
        if path.pen not in self._pens:
            self._pens[path.pen] = self._pen(path.pen)
        before, after = self._pens[path.pen]
        return f"{before}{_path(path.segments, path.closed, self._at)}{after}"

    def _pen(self, pen: Pen) -> tuple[str, str]:
        """What stands before and after the data of a path drawn with a pen."""
        size = self.drawing.text_size
        dashes = " ".join(_n(share * size) for share in DASHES.get(pen, ()))
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        width, name = _n(WEIGHTS[pen] * size), CLASSES.get(pen, f"pw-{pen}")
        return f'<path class="{name}" d="', f'" stroke-width="{width}"{dashed}/>'

    def _text(self, text: Text, name: str) -> str:
        x, y = self._xy(text.at)
        turned = f' transform="rotate({_n(-math.degrees(text.angle))} {x} {y})"' if text.angle else ""
        return (
            f'<text class="{name}" x="{x}" y="{y}" font-size="{_n(text.size)}" text-anchor="{text.anchor}" '
            f"{FILLED}{turned}>{escape(text.text, quote=False)}</text>"
        )

    def _mark(self, mark: NumberedMark) -> str:
        width = f'stroke-width="{_n(MARK_WEIGHT * mark.size)}"'
        if mark.severity == "note":
            x, y = self._xy(mark.at)
            shape = f'<circle class="pw-mark" cx="{x}" cy="{y}" r="{_n(mark.size / 2)}" {width}/>'
        else:
            shape = f'<path class="pw-mark" d="{self._polygon(mark.outline)}" {width}/>'
        return shape + self._text(mark.label, "pw-number")

    def _polygon(self, polygon: Polygon) -> str:
        return "M" + "L".join(map(self._at, polygon)) + "Z"

    def _xy(self, p: Point) -> tuple[str, str]:
        return self._numbers[p[0]], self._numbers[self.drawing.height - p[1]]

    def _at(self, p: Point) -> str:
        return f"{self._numbers[p[0]]} {self._numbers[self.drawing.height - p[1]]}"


def _attributes(group: Group) -> str:
    name = f"pw-{group.kind}"
    if group.kind in OVERLAYS:
        return f'class="{name}" display="none"'
    if group.kind == "finding":
        return f'class="{name} pw-{group.marks[0].severity}" data-finding="{escape(group.key)}"'
    hidden = ""
    if group.spare:
        name, hidden = f"{name} pw-spare", ' display="none"'
    if group.kind == "dimension" and group.key:
        return f'class="{name}" data-parameter="{escape(group.key)}"{hidden}'
    if hidden:
        return f'class="{name}"{hidden}'
    return f'class="{name}"'


def _path(segments: Iterable[Segment], closed: bool, at: Callable[[Point], str], scale: float = 1.0) -> str:
    """Path data of segments end to end, arcs as arcs; a turn to the left is sweep 0, since y is down."""
    chain = tuple(segments)
    data = [f"M{at(chain[0].start)}"]
    for segment in chain:
        if isinstance(segment, Line):
            data.append(f"L{at(segment.end)}")
        else:
            r, large = _n(segment.radius * scale), int(abs(segment.bulge) > 1)
            data.append(f"A{r} {r} 0 {large} {int(segment.bulge < 0)} {at(segment.end)}")
    return "".join(data) + ("Z" if closed else "")


class _Numbers(dict[float, str]):
    """Numbers as `_n` writes them, each once: outline, bands and what is left as cut share most of theirs."""

    def __init__(self, places: int) -> None:
        super().__init__()
        self._places = places

    def __missing__(self, value: float) -> str:
        text = self[value] = _n(value, self._places)
        return text


def _n(value: float, places: int = 4) -> str:
    """A number as short as its decimals allow."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
