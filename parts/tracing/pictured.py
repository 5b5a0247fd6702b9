"""A picture's shapes: told from the ground, specks left out, as finely as its edges deserve."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias, cast

import shapely

from parts.artwork import Metal
from parts.artwork.pictures import (
    BLUR_PX,
    Contours,
    Grey,
    Picture,
    Shows,
    Taken,
    TooRich,
    coarser,
    contours_of,
    enclosed,
    touches,
)
from parts.errors import Unreadable
from parts.tracing.figure import Figure, of_specks
from parts.tracing.mounting import placed
from parts.tracing.settings import Tracing

_SMOOTH_PX, _STEPPED_PX, _NOISY_PX = 0.35, 0.75, 1.0
"""How far smoothing may go from the level line of smooth edges, of steps, which are half a pixel off what was drawn,
and of a photograph, in pixels."""


_RICH_POINTS, _LEAST_RICH_PX = 3000, 250
"""Points along edges beyond which a picture is looked at half as fine, while it has so many pixels a side: with more,
smoothing takes longer than anybody waits, and so rich an edge isn't cut any finer."""


@lru_cache(maxsize=4)
def _contours(grey: Grey, share: float, shows: Shows, lines: str) -> Contours:
    return (enclosed if lines == "middle" else contours_of)(grey, share=share, shows=shows)


_Seen: TypeAlias = tuple[Contours, Metal, int, Grey, int]
"""Level lines, the metal in pixels of the picture, how many specks are left out, the brightness, and how many of the
picture's pixels across one of it is."""


def _seen_of(grey: Grey, share: float, shows: Shows, lines: str, speck_px: float) -> _Seen:
    """What a picture shows, as coarsely as leaves no more points along its edges than are worked on in time.

    Raises:
        Unreadable: if it shows nothing, or far too much however coarse; the end of a sentence.
    """
    high, times, low = grey.values.shape[0], 1, 0.0
    while True:
        found = _contours(grey, share, shows, lines)
        small = min(grey.values.shape) < 2 * _LEAST_RICH_PX
        try:
            metal, specks = found.metal(math.pi / 4 * (speck_px / times) ** 2)
        except TooRich:
            if small:
                raise
        else:
            if small or shapely.get_num_coordinates(metal) <= _RICH_POINTS:
                low = float(high - times * grey.values.shape[0])
                return found, placed(metal, times, (0.0, -low)), specks, grey, times
        grey, times = coarser(grey), 2 * times


@dataclass(frozen=True, eq=False)
class OfPicture:
    """A picture, its classes told apart."""

    name: str
    picture: Picture
    grey: Grey
    unit_mm: float | None = None
    taken: Taken | None = None

    @property
    def size(self) -> tuple[float, float]:
        """Pixels across and down."""
        return float(self.picture.width), float(self.picture.height)

    def at(self, scale: float, p: Tracing) -> Figure:
        """Return its shapes; specks are left out by what they measure at this scale."""
        try:
            seen = _seen_of(self.grey, p.threshold / 100, cast(Shows, p.shows), p.lines, p.despeckle / scale)
        except Unreadable as error:
            raise Unreadable(f"{self.name} can't be traced: {error}.") from error
        found, metal, specks, grey, times = seen
        said = list(self.picture.said)
        said += [f"took every {times} by {times} pixels together, since its edges are so rich"] if times > 1 else []
        said += ["took what is light as the shape"] if found.is_light and p.shows == "auto" else []
        said += [of_specks(specks, p)] if specks else []
        wide, high = self.picture.width, self.picture.height
        if self.taken and not self.taken.on_sheet:
            metal, cut = _whole(metal, wide, high)
            said += (
                [f"left out {cut:,} shape{' that runs' if cut == 1 else 's that run'} out of the photograph"]
                if cut
                else []
            )
        if touches(metal, wide, high):
            said.append("cut off at the border of the picture what runs out of it")
        is_noisy = grey.is_scan or p.lines == "middle"
        fine = (_NOISY_PX if is_noisy else _STEPPED_PX if grey.blur_px >= BLUR_PX else _SMOOTH_PX) * times
        return Figure(placed(metal, scale), tuple(said), grey.blur_px * times * scale, max(0.05, fine * scale))


def _whole(metal: Metal, wide: int, high: int) -> tuple[Metal, int]:
    """The pieces that lie wholly in a picture, where any does, and how many don't."""
    within = [piece for piece in metal.geoms if not touches(shapely.MultiPolygon([piece]), wide, high)]
    return (shapely.MultiPolygon(within), len(metal.geoms) - len(within)) if within else (metal, 0)
