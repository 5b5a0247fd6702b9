"""The stock: the blank that a part takes of the sheet, what is left of that, and how many such parts it holds.

The blank is the part's upright rectangle with the margin all round. What is left of a sheet with one blank in its
corner is an L; one cut right across makes of it two rectangles: the larger is the drop that goes back on the rack.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts import shop
from parts.cutting import Job, Measures, mass_kg, materials
from parts.data import Kind
from parts.setup.basis import kind_in
from parts.tolerance import LIMIT_SLACK_MM


@dataclass(frozen=True, slots=True)
class Drop:
    """A rectangle that is left of the sheet, mm, the longer side first."""

    length: float
    width: float


@dataclass(frozen=True, slots=True)
class Rows:
    """Parts in straight rows on a sheet: how many, as drawn or after a quarter turn, and the share of it they are."""

    count: int
    turned: bool
    share: float


@dataclass(frozen=True, slots=True)
class Blank:
    """What a part takes of the sheet; lengths mm, mass kg.

    `margin` is at least a thickness. `drop` is None where nothing is left, or the sheet doesn't hold the blank either
    way: then `fits` is false, and what of a sheet is needed isn't said.
    """

    width: float
    height: float
    margin: float
    mass_kg: float
    sheet: tuple[float, float]
    fits: bool
    turned: bool
    drop: Drop | None
    rows: Rows
    source: str
    kind: Kind


def blank(measures: Measures, job: Job) -> Blank:
    """Return what a part of these measures takes of the job's sheet.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data = shop.load(shop.edition()).blank
    margin = max(data.margin_mm, job.cut.thickness_mm)
    width, height = measures.width_mm + 2 * margin, measures.height_mm + 2 * margin
    sheet = job.sheet.x_mm, job.sheet.y_mm
    laid = _laid(width, height, sheet)
    material = materials()[job.cut.material]
    return Blank(
        width=width,
        height=height,
        margin=margin,
        mass_kg=mass_kg(width * height, job.cut.thickness_mm, material),
        sheet=sheet,
        fits=laid is not None,
        turned=bool(laid and laid[0]),
        drop=laid[1] if laid else None,
        rows=_rows(measures, margin, sheet),
        source=data.source,
        kind=kind_in(data, shop.built_in().blank, "margin_mm"),
    )


def _laid(width: float, height: float, sheet: tuple[float, float]) -> tuple[bool, Drop | None] | None:
    """Whether the blank is turned, and the largest drop, of both ways that it lies on the sheet; None where neither."""
    ways = [
        (turned, drop)
        for turned, (w, h) in enumerate(((width, height), (height, width)))
        if w <= sheet[0] + LIMIT_SLACK_MM and h <= sheet[1] + LIMIT_SLACK_MM
        for drop in (*_drops(w, h, sheet), None)
    ]
    best = max(ways, key=lambda way: (_area(way[1]), not way[0]), default=None)
    return None if best is None else (bool(best[0]), best[1])


def _drops(width: float, height: float, sheet: tuple[float, float]) -> Iterator[Drop]:
    """The rectangles that are left by a cut right across, one way or the other."""
    for sides in ((sheet[0] - width, sheet[1]), (sheet[0], sheet[1] - height)):
        if min(sides) > LIMIT_SLACK_MM:
            yield Drop(max(sides), min(sides))


def _area(drop: Drop | None) -> float:
    return drop.length * drop.width if drop else 0.0


def _rows(measures: Measures, margin: float, sheet: tuple[float, float]) -> Rows:
    """The more parts of both ways round, all alike, with the margin between and around them."""
    sides = measures.width_mm, measures.height_mm
    upright, turned = (_count(w, h, margin, sheet) for w, h in (sides, sides[::-1]))
    count = max(upright, turned)
    return Rows(count, turned > upright, count * measures.area_mm2 / (sheet[0] * sheet[1]))


def _count(width: float, height: float, margin: float, sheet: tuple[float, float]) -> int:
    along, up = (
        math.floor((of - margin + LIMIT_SLACK_MM) / (side + margin))
        for side, of in ((width, sheet[0]), (height, sheet[1]))
    )
    return max(along, 0) * max(up, 0)
