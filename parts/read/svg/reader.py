"""SVG -> raw drawing: what is painted, as strokes, spots, and what is left out by name.

One drawing unit is a user unit of the outermost viewBox. It has a size only where the file gives its width or
height in mm, cm, in, pt or pc; pixels are 96 to the inch by CSS, and read so, with a finding, unless something else is
asked. y is turned over, since SVG's runs down.
"""

from contextlib import suppress
from dataclasses import replace

from parts.errors import Unreadable
from parts.geometry import Box
from parts.read.affine import Affine, scaling, shift
from parts.read.asked import Asked
from parts.read.limits import Budget, shown
from parts.read.pieces import LeftOut, Stroke
from parts.read.raw import Raw, Scale
from parts.read.scale import ASKED
from parts.read.svg.areas import Areas
from parts.read.svg.css import Sheet, sheet
from parts.read.svg.ground import SAID, as_paper, is_ground
from parts.read.svg.numbers import PX_PER_IN, Resolution, measure, numbers, physical
from parts.read.svg.paint import Painter, unpainted
from parts.read.svg.placed import Place
from parts.read.svg.placing import view_box
from parts.read.svg.style import Style
from parts.read.svg.tree import Element, tree
from parts.read.svg.walk import Walker
from parts.units import format_figures


def read(data: bytes, budget: Budget, asked: Asked = Asked()) -> Raw:  # noqa: B008 - a frozen record
    """Return what an SVG draws, in user units.

    Raises:
        Unreadable: if it is broken, hostile, or holds too much.
    """
    read = tree(data, budget)
    resolution = Resolution(asked.dpi or PX_PER_IN)
    view = view_of(read.root, resolution)
    raw = Raw()
    raw.scale, aspect = scale_of(read.root, view)
    if raw.scale is None:
        raw.unscaled = "The file gives its size in pixels or not at all, so it doesn't say its units"
        _assume(raw, read.root, view, asked, resolution)
    rules = sheet(read, budget)
    walker = Walker(read, rules, resolution, raw, budget, asked.layers)
    unit_mm = _unit_mm(raw, asked)
    painter = Painter(Areas(walker, unit_mm, budget), raw, unit_mm, asked, budget)
    x, y, width, height = view  # the lower left of what it shows is the drawing's origin
    to = scaling(1.0, -aspect).after(shift(-x, -y - height))
    raw.own = Affine(d=-1 / aspect, e=x, f=y + height)
    for shape in walker.shapes([Place(read.root, to, Style({}), (width, height))]):
        before = len(raw.strokes)
        painter.paint(shape)
        raw.strokes[before:] = _coloured(raw.strokes[before:], shape.style, (0.0, 0.0, width, height * aspect), raw)
    with suppress(Unreadable):  # what doesn't show may take no longer than half of what is left
        raw.off += (stroke for shape in walker.hidden() for stroke in unpainted(shape))
    raw.said += painter.told.sentences()
    raw.left_out += _of_sheets(rules)
    return raw


def _coloured(strokes: list[Stroke], style: Style, page: Box, raw: Raw) -> list[Stroke]:
    """The strokes of a shape with its colour; a background that is paper on a layer of its own."""
    coloured = [replace(stroke, colour=style.colour) for stroke in strokes]
    if len(strokes) != 1 or not is_ground(style, strokes[0], page):
        return coloured
    paper = as_paper(style)
    raw.said += [] if paper else [SAID]
    return [replace(coloured[0], layer=paper or strokes[0].layer)]


def view_of(root: Element, resolution: Resolution) -> tuple[float, float, float, float]:
    """Return the left, top, width and height of what is shown, in user units.

    Raises:
        Unreadable: if the file says that it has no size.
    """
    found = [resolution.length(_stated(root, name) or "0", f"the {name}") or 0.0 for name in ("width", "height")]
    for name in ("width", "height"):
        if (text := _stated(root, name)) and measure(text, f"the {name}")[0] <= 0:
            raise Unreadable(f"the {name} of its svg is {shown(text)}; it must be more than 0")
    if view := view_box(root):
        if min(view[2:]) <= 0:
            raise Unreadable(f"the viewBox of its svg is {view[2]:g} by {view[3]:g}; both must be more than 0")
        return view[0], view[1], view[2], view[3]
    return 0.0, 0.0, found[0], found[1]


def scale_of(root: Element, view: tuple[float, float, float, float]) -> tuple[Scale | None, float]:
    """Return the size of a user unit in x, None where the file gives none, and how many times as tall it is as wide."""
    wide, high = (
        physical(text, size, f"the {name}") if (text := _stated(root, name)) else None
        for name, size in (("width", view[2]), ("height", view[3]))
    )
    return _fitted(root, wide, high)


def _fitted(root: Element, wide: Scale | None, high: Scale | None) -> tuple[Scale | None, float]:
    if wide is None or high is None:
        return wide or high, 1.0
    fit = root.get("preserveAspectRatio").split()
    if fit[:1] == ["none"]:
        return wide, high.unit_mm / wide.unit_mm
    pick = max if "slice" in fit else min
    return pick(wide, high, key=lambda scale: scale.unit_mm), 1.0


def _assume(raw: Raw, root: Element, view: tuple[float, float, float, float], asked: Asked, per: Resolution) -> None:
    """Take pixels for what CSS or whoever asks says they are, where the file gives a size in them."""
    wide, high = (
        Scale(size / shown * per.pixel.unit_mm, "pixels", "mm") if shown > 0 and (size := _pixels(root, name)) else None
        for name, shown in (("width", view[2]), ("height", view[3]))
    )
    raw.assumed, _ = _fitted(root, wide, high)
    if asked.dpi is not None:
        raw.assumed = raw.assumed or per.pixel
    elif raw.assumed:
        long = format_figures(100 * raw.assumed.unit_mm)
        raw.assumed_why = f"The file gives its size in pixels, read as 96 to the inch: 100 of its units are {long}."


def _pixels(root: Element, name: str) -> float:
    text = _stated(root, name).lower().removesuffix("px")
    found = numbers(text, f"the {name}") if text and not text.endswith("%") and text[-1:].isdigit() else []
    return found[0] if len(found) == 1 else 0.0


def _stated(root: Element, name: str) -> str:
    """The width or height that the file states; none where that is left to whoever shows it: auto, calc(...)."""
    text = root.get(name).strip()
    return "" if text[:1].isalpha() else text


def _unit_mm(raw: Raw, asked: Asked) -> float:
    """What a drawing unit will be, as `parts.read.scale.decided` has it; 1 mm where that will be asked."""
    if asked.units is not None:
        return ASKED[asked.units].unit_mm
    scale = raw.scale or raw.assumed
    return scale.unit_mm if scale else 1.0


def _of_sheets(rules: Sheet) -> list[LeftOut]:
    left = [LeftOut("style sheet outside the file", "", (0.0, 0.0))] * rules.outside
    return left + [LeftOut("style rule", "", (0.0, 0.0), matters=True)] * rules.not_read
