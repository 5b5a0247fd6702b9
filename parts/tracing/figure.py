"""Figure: what a file shows at a scale, and what is said of it."""

import math
from dataclasses import dataclass
from pathlib import PurePath
from typing import Protocol

import shapely

from parts.artwork import Metal, metal_from, segment_points
from parts.artwork.pictures import Picture, Taken
from parts.geometry import Loop
from parts.read import shown
from parts.tracing.settings import Tracing
from parts.units import format_length

_SLIVER_MM2 = 1e-6


@dataclass(frozen=True, slots=True)
class Figure:
    """What a file shows at a scale: metal in mm, wherever the file has it, and sentences of what was decided.

    `blur_mm` is how far its points may be off, 0 where they are exact; `tolerance_mm` how closely they are worth
    following.
    """

    metal: Metal
    said: tuple[str, ...] = ()
    blur_mm: float = 0.0
    tolerance_mm: float = 0.05


class Source(Protocol):
    """What a file holds."""

    @property
    def unit_mm(self) -> float | None:
        """What one of its units is, where it says so."""

    @property
    def size(self) -> tuple[float, float]:
        """Its page, in its units; 0 where it has none."""

    @property
    def picture(self) -> Picture | None:
        """The picture that it is, if it is one."""

    @property
    def taken(self) -> Taken | None:
        """The photograph that it is, laid flat by a sheet in it, if it is one."""

    def at(self, scale: float, p: Tracing) -> Figure:
        """Return what it shows, one of its units `scale` mm large.

        Raises:
            Unreadable: if there is nothing to cut, or far too much.
        """


def named(filename: str) -> str:
    """Return a file's name as a sentence may carry it."""
    return shown(PurePath(filename).name) or "The file"


def of_specks(count: int, p: Tracing) -> str:
    """Return what is said of the specks that are left out."""
    if not p.despeckle:
        return f"left out {count:,} speck{'' if count == 1 else 's'} of a pixel or two"
    wide = format_length(p.despeckle, p.units)
    return f"left out {count:,} speck{'' if count == 1 else 's'} of up to {wide} across"


def metal_ring(loop: Loop) -> shapely.Polygon:
    """Return one loop as a polygon, valid or not."""
    return shapely.Polygon([at for segment in loop.segments for at in segment_points(segment)])


def without_specks(metal: Metal, wide_mm: float) -> tuple[Metal, int]:
    """Metal without pieces and holes smaller than a dot so wide."""
    least = max(math.pi / 4 * wide_mm**2, _SLIVER_MM2)
    kept, specks = [], 0
    for piece in metal.geoms:
        if shapely.Polygon(piece.exterior).area < least:
            specks += 1
            continue
        holes = [ring for ring in piece.interiors if shapely.Polygon(ring).area >= least]
        specks += len(piece.interiors) - len(holes)
        kept.append(shapely.Polygon(piece.exterior, holes))
    return metal_from(shapely.MultiPolygon(kept)), specks
