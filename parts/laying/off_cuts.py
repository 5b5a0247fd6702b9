"""Off-cuts of the store: as stock for a layout, as what a sheet leaves, as someone drew or measured them."""

from collections.abc import Iterable
from pathlib import PurePath

from parts.checking import Checked, check
from parts.errors import PartsError, Problem, Refused
from parts.orders import OffCut, Sort, stock_of
from parts.sheets import Laid, Outline, flattened, off_cut, outline_of, remnant, rings_of
from parts.store import OffCut as KeptOffCut
from parts.units import Units

LARGEST_MM, SMALLEST_MM = 30_000.0, 50.0
MOST_CORNERS = 2_000


def as_stock(kept: Iterable[KeptOffCut]) -> tuple[OffCut, ...]:
    """Return off-cuts as stock."""
    return tuple(
        OffCut(each.material, each.thickness_mm, off_cut(outline_of(each.outline), each.number)) for each in kept
    )


def left_of_sheet(sort: Sort, laid: Laid, name: str) -> KeptOffCut | None:
    """Return what is left of a sheet once it is cut, None where that is scrap."""
    left = remnant(laid, sort.gap)
    cut = sort.record.job.cut
    return KeptOffCut(cut.material, cut.thickness_mm, rings_of(left[0]), name) if left else None


def measured(size: str, units: Units, name: str = "", **stock: str) -> KeptOffCut:
    """Return an off-cut that is a rectangle of a size, as it is said.

    Raises:
        Refused: the size, the thickness or the material can't be read.
    """
    kind = stock_of(size, units)
    width, height = repr(kind.width), repr(kind.height)
    mm = [f'{name}="{"mm".join((side, ""))}"' for name, side in (("width", width), ("height", height))]
    path = f'<path d="M0 0H{width}V{height}H0Z"/>'
    drawn = f'<svg xmlns="http://www.w3.org/2000/svg" {" ".join(mm)} viewBox="0 0 {width} {height}">{path}</svg>'
    return drawn_as(drawn.encode(), "size.svg", units, name, **stock)


def drawn_as(data: bytes, file: str, units: Units, name: str = "", **stock: str) -> KeptOffCut:
    """Return an off-cut that a DXF or SVG is the outline of; openings in it count as gone.

    Args:
        data: of the file.
        file: what it is called.
        units: of numbers without a unit in `stock`.
        name: what the shop calls the off-cut.
        stock: `thickness` and `material`, as they are typed.

    Raises:
        Refused: it has no outline that closes, or its stock can't be read.
    """
    try:
        found = check(data, file, units, **stock)
    except Refused:
        raise
    except PartsError as error:
        raise Refused((Problem("file", PurePath(file).name, str(error)),)) from error
    rings = rings_of(_outline(found, file))
    cut = found.part.record.job.cut
    return KeptOffCut(cut.material, cut.thickness_mm, rings, name)


def _outline(found: Checked, file: str) -> Outline:
    outlines = flattened(found.part.profile) if found.closed else []
    called = PurePath(file).name
    if len(outlines) != 1:
        message = f"has {len(outlines)} outlines that close; an off-cut has one, and openings in it."
        raise Refused((Problem("file", called, message),))
    if sum(map(len, rings_of(outlines[0]))) > MOST_CORNERS:
        raise Refused((Problem("file", called, f"has an outline of over {MOST_CORNERS:,} corners; draw it simpler."),))
    x0, y0, x1, y1 = outlines[0].bounds
    if max(x1 - x0, y1 - y0) > LARGEST_MM or min(x1 - x0, y1 - y0) < SMALLEST_MM:
        raise Refused((Problem("file", called, "is no off-cut by its size; look whether its units are right."),))
    return outlines[0]
