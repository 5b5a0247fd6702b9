"""As drawn: the lines and points of a DXF or SVG where the file has them, nothing healed and nothing left out."""

from dataclasses import dataclass
from pathlib import PurePath

from parts.errors import GeometryError, Unreadable
from parts.geometry import Point, Segment
from parts.read import limits
from parts.read.affine import IDENTITY, Affine
from parts.read.asked import Asked
from parts.read.file_kind import reader_of
from parts.read.limits import Budget, shown
from parts.read.outlines import outlines
from parts.read.scale import decided
from parts.units import Units
from parts.workers import TimeUp, clock


@dataclass(frozen=True, slots=True)
class AsDrawn:
    """What a drawing has on each layer: lines and arcs in mm, y upward, and points to drill.

    `own` takes a point to the file's own coordinates in mm, which in an SVG run downward. `unread` are the kinds of
    what stands in it and is neither, without what can't be metal.
    """

    lines: tuple[tuple[str, Segment], ...]
    points: tuple[tuple[str, Point], ...]
    unread: tuple[str, ...]
    own: Affine = IDENTITY


def as_drawn(data: bytes, filename: str, units: Units) -> AsDrawn:
    """Return what a DXF or SVG draws; `units` are gone by where the file doesn't say them.

    Raises:
        Unreadable: it is broken, hostile or too large.
    """
    name = shown(PurePath(filename).name) or "The file"
    try:
        with clock(limits.LONGEST_S):
            return _as_drawn(data, name, units)
    except TimeUp:
        raise Unreadable(f"{name} can't be read: {limits.too_slow()}.") from None
    except Unreadable as error:
        raise Unreadable(f"{name} can't be read: {error}.") from error
    except (ArithmeticError, GeometryError) as error:
        raise Unreadable(f"{name} can't be read: the numbers in it make no lines.") from error


def _as_drawn(data: bytes, name: str, units: Units) -> AsDrawn:
    budget = Budget()
    reader, _ = reader_of(data, name, Asked())
    raw = reader(data, budget)
    unit_mm = decided(raw, None if raw.scale else units, name, budget).unit_mm
    drawn = outlines(raw, unit_mm, budget)
    (dx, dy), own = drawn.moved_by, raw.own
    back = Affine(e=-dx, f=-dy)
    in_mm = Affine(own.a, own.b, own.c, own.d, own.e * unit_mm, own.f * unit_mm)
    return AsDrawn(
        tuple((chain.layer, segment) for chain in drawn.chains for segment in chain.segments),
        tuple((spot.layer, spot.at) for spot in drawn.spots),
        tuple(item.kind for item in raw.left_out if item.matters),
        in_mm.after(back),
    )
