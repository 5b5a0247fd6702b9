"""Painted: what an SVG shows as areas, one over the other, dark or light; for who takes it as a picture.

Where a drawing is read as a part's lines (`paint`), each outline counts. Here what counts is what can be seen: a fill
by its rule, a stroke as wide as it is drawn, a light shape over a dark one as paper over it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from parts.geometry import Loop
from parts.geometry.area import Region
from parts.read.affine import scaling, shift
from parts.read.limits import Budget
from parts.read.raw import Raw
from parts.read.svg.areas import Areas
from parts.read.svg.css import sheet
from parts.read.svg.numbers import PX_PER_IN, Resolution
from parts.read.svg.placed import Place, Shape
from parts.read.svg.reader import scale_of, view_of
from parts.read.svg.style import Style, is_colour, luminance, reference
from parts.read.svg.tree import tree
from parts.read.svg.walk import Walker

_SEEN = 0.5
"""How opaque what is painted must be, and how light what stands for paper: halfway."""
_MOST_LINKS = 4  # of gradients that take their stops from another


@dataclass(frozen=True, slots=True)
class Coat:
    """An area that is painted over those before it; `middle` says that it is what a thin line encloses."""

    region: Region
    is_light: bool
    is_filled: bool
    middle: Region = ()
    wide_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Painted:
    """What an SVG shows, in mm at the size that was asked for, y upward.

    `unit_mm` is what the file says that one of its units is, None where it gives no size or one in pixels. `width` and
    `height` are of the page, in the file's units, 0 where it has none. `left_out` are kinds of things that aren't read.
    """

    coats: tuple[Coat, ...]
    unit_mm: float | None
    width: float
    height: float
    left_out: tuple[str, ...]


def painted(data: bytes, unit_mm: float, budget: Budget) -> Painted:
    """Return what an SVG paints, one of its units drawn `unit_mm` mm large.

    Raises:
        Unreadable: if it is broken, hostile, or holds too much.
    """
    read = tree(data, budget)
    resolution = Resolution(PX_PER_IN)
    view = view_of(read.root, resolution)
    scale, aspect = scale_of(read.root, view)
    raw = Raw()
    walker = Walker(read, sheet(read, budget), resolution, raw, budget)
    areas = Areas(walker, unit_mm, budget)
    x, y, width, height = view
    to = scaling(1.0, -aspect).after(shift(-x, -y - height))
    shapes = walker.shapes([Place(read.root, to, Style({}), (width, height))])
    coats, unfollowed = list[Coat](), list[str]()
    for shape in shapes:
        coats += _coats(shape, areas, budget)
        unfollowed += areas.unfollowed(shape)
    left_out = tuple(dict.fromkeys([*(item.kind for item in raw.left_out), *unfollowed]))
    return Painted(tuple(coats), scale.unit_mm if scale else None, width, height * aspect, left_out)


def _coats(shape: Shape, areas: Areas, budget: Budget) -> Iterator[Coat]:
    """The fill of a shape and its stroke over that, cut off as they are shown."""
    for name in ("fill", "stroke"):
        is_fill = name == "fill"
        paint = shape.style.paint("fill" if is_fill else "stroke")
        if not paint or shape.style.share("opacity") * shape.style.share(f"{name}-opacity") < _SEEN:
            continue
        region = areas.fill(shape) if is_fill else areas.stroke(shape)
        middle = () if is_fill else _within(shape, areas)
        if shape.cuts:
            left = areas.left_by(shape.cuts)
            region, middle = areas.both(region, left), areas.both(middle, left)
        budget.segments(sum(len(loop.segments) for loop in region))
        if region or middle:
            wide = 0.0 if is_fill else areas.pen_mm(shape)
            yield Coat(region, _lightness(paint, areas) >= _SEEN, is_fill, middle, wide)


def _lightness(paint: str, areas: Areas) -> float:
    """How light a paint is, 0 to 1: of a gradient the mean of its stops; of a pattern, or no colour at all, dark."""
    if not paint.startswith("url("):
        return luminance(paint) if is_colour(paint) else 0.0
    found = areas.element(reference(paint))
    for _ in range(_MOST_LINKS):
        stops = [each for each in found.children if each.name == "stop"] if found else []
        if found is None or stops:
            break
        found = areas.element(found.get("href").removeprefix("#"))
    else:
        stops = []
    if not stops:
        other = paint.partition(")")[2].strip()
        return luminance(other) if is_colour(other) else 0.0
    shown = [areas.style_of(stop).get("stop-color", "black") for stop in stops]
    return sum(map(luminance, shown)) / len(shown)


def _within(shape: Shape, areas: Areas) -> Region:
    """What the closed lines of a stroke without a fill enclose."""
    if shape.style.paint("fill"):
        return ()
    loops: list[Loop] = [loop for each in areas.chains(shape) if each.closed and (loop := each.as_loop())]
    return areas.filled(loops, "evenodd") if loops else ()
