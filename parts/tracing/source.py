"""Source: the file's bytes to metal in mm at a scale, and what is known of its size.

A picture's unit is a pixel, which says nothing of mm. A DXF or SVG may say how large it is.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import PurePath
from typing import Protocol, TypeAlias, cast

import shapely
from shapely.geometry.base import BaseGeometry

from parts.artwork import Metal, metal_from, metal_of, segment_points
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
    is_picture,
    levelled,
    opened,
    taken,
    touches,
)
from parts.artwork.pictures import LARGEST_BYTES as LARGEST_PICTURE
from parts.cached import cached_property
from parts.errors import GeometryError, Problem, Refused, Unreadable
from parts.geometry import Loop
from parts.read import Painted, ReadDrawing, kind_of, read_drawing, read_painted, shown
from parts.tracing.mounting import placed
from parts.tracing.settings import Tracing, place_of
from parts.units import format_length

LARGEST_BYTES = LARGEST_PICTURE
ENDINGS = ("svg", "dxf", "png", "jpg", "jpeg", "webp")
_SMOOTH_PX, _STEPPED_PX, _NOISY_PX = 0.35, 0.75, 1.0
"""How far smoothing may go from the level line of smooth edges, of steps, which are half a pixel off what was drawn,
and of a photograph, in pixels."""
_RICH_POINTS, _LEAST_RICH_PX = 3000, 250
"""Points along edges beyond which a picture is looked at half as fine, while it has so many pixels a side: with more,
smoothing takes longer than anybody waits, and so rich an edge isn't cut any finer."""
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


def source_of(data: bytes, filename: str, sheet: str = "none") -> Source:
    """Return what a file holds, a photograph laid flat by a sheet of paper in it where one is named.

    Raises:
        Unreadable: if it is broken, hostile, too large, of a kind that isn't read, or shows no such sheet.
        Refused: if a sheet is named and it is no picture.
    """
    if is_picture(data):
        return _picture(data, named(filename)) if sheet == "none" else _photograph(data, named(filename), sheet)
    if sheet != "none":
        raise Refused((Problem("sheet", sheet, "is only for a photograph: choose none for a drawing."),))
    if (kind := kind_of(data)) == "svg":
        return OfSvg(data, filename)
    if kind == "dxf":
        return OfDxf(data, filename)
    why = "it is empty" if not data.strip() else "it is no PNG, JPEG or WebP picture, and no SVG or DXF drawing"
    raise Unreadable(f"{named(filename)} can't be traced: {why}.")


def by_known(source: Source, p: Tracing) -> Source:
    """Return a picture whose size a known distance in it tells.

    Raises:
        Refused: if it is no picture, or one of the points lies outside it.
    """
    if not isinstance(source, OfPicture):
        raise Refused((Problem("known", p.said("known"), "is only for a picture: a drawing has its own size."),))
    wide, high = (side * source.picture.reduced for side in source.size)
    for name in ("known_from", "known_to"):
        x, y = place_of(str(getattr(p, name))) or (0.0, 0.0)
        if not (x <= wide and y <= high):
            message = f"lies outside the picture, which has {wide:,.0f} by {high:,.0f} pixels."
            raise Refused((Problem(name, p.said(name), message),))
    return replace(source, unit_mm=p.known / p.known_px * source.picture.reduced)


def picture_of(data: bytes, filename: str) -> Picture | None:
    """Return the picture in a file, to be shown; None where it can't be opened."""
    try:
        return _picture(data, named(filename)).picture
    except Unreadable:
        return None


def named(filename: str) -> str:
    """Return a file's name as a sentence may carry it."""
    return shown(PurePath(filename).name) or "The file"


@lru_cache(maxsize=2)
def _picture(data: bytes, name: str) -> "OfPicture":
    try:
        picture = opened(data)
        return OfPicture(name, picture, levelled(picture))
    except Unreadable as error:
        raise Unreadable(f"{name} can't be traced: {error}.") from error


@lru_cache(maxsize=2)
def _photograph(data: bytes, name: str, sheet: str) -> "OfPicture":
    try:
        found = taken(opened(data), sheet)
        return OfPicture(name, found.picture, levelled(found.picture), 1 / found.px_per_mm, found)
    except Unreadable as error:
        raise Unreadable(f"{name} can't be traced: {error}.") from error


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
        said += [_specks(specks, p)] if specks else []
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


def _specks(count: int, p: Tracing) -> str:
    if not p.despeckle:
        return f"left out {count:,} speck{'' if count == 1 else 's'} of a pixel or two"
    wide = format_length(p.despeckle, p.units)
    return f"left out {count:,} speck{'' if count == 1 else 's'} of up to {wide} across"


@dataclass(frozen=True, eq=False)
class OfSvg:
    """An SVG, by what it paints."""

    data: bytes
    filename: str
    picture: None = None
    taken: None = None

    @cached_property
    def _first(self) -> Painted:
        return read_painted(self.data, self.filename, 1.0)

    @property
    def unit_mm(self) -> float | None:
        """What one of its units is, where it gives its size in mm, cm, in, pt or pc."""
        return self._first.unit_mm

    @property
    def size(self) -> tuple[float, float]:
        """The page, in its units."""
        return self._first.width, self._first.height

    def at(self, scale: float, p: Tracing) -> Figure:
        """Return what it paints; curves are fitted at this very scale."""
        name = named(self.filename)
        painted = self._first if scale == 1.0 else read_painted(self.data, self.filename, scale)
        metal, said = _seen(painted, p, scale)
        if metal.is_empty:
            only = f", only {', '.join(map(shown, painted.left_out))}" if painted.left_out else ""
            raise Unreadable(f"{name} can't be traced: it shows no shape{only}; turn all into paths, filled or closed.")
        metal, specks = _without_specks(metal, p.despeckle)
        if metal.is_empty:
            raise Unreadable(f"{name} can't be traced: all of it is smaller than the specks that are left out.")
        said += [f"left out {', '.join(map(shown, painted.left_out))}"] if painted.left_out else []
        said += [_specks(specks, p)] if specks else []
        return Figure(metal, tuple(said))


def _seen(painted: Painted, p: Tracing, scale: float) -> tuple[Metal, list[str]]:
    """What is dark of all coats, or light, as asked; and what was decided."""
    said = []
    coats = painted.coats
    thin = [coat for coat in coats if coat.middle and not coat.is_filled and coat.wide_mm < p.tie_mm]
    is_sketch = not any(coat.is_filled for coat in coats) and len(thin) == len(coats) and bool(coats)
    by_middle = p.lines == "middle" or (p.lines == "auto" and is_sketch)
    if by_middle and any(coat.middle for coat in coats):
        said.append("took its lines as the edge of the shape; lines=thick cuts around them as they are drawn")
        loops = [_evenodd(coat.middle if coat.middle else coat.region) for coat in coats]
        together = loops[0]
        for each in loops[1:]:
            together = shapely.symmetric_difference(together, each)
        return metal_from(together), said
    wants_light = p.shows == "light" or (p.shows == "auto" and _is_light_on_dark(painted, scale))
    metal: BaseGeometry = shapely.MultiPolygon()
    for is_shape, areas in _batches(painted, wants_light):
        metal = (shapely.union_all if is_shape else _taken_off)([metal, *areas])
    if metal.is_empty and p.shows == "auto":
        metal = shapely.union_all([_evenodd(coat.region) for coat in coats]) if coats else metal
    if wants_light and p.shows == "auto":
        said.append("took what is light as the shape")
    return metal_from(metal), said


def _batches(painted: Painted, wants_light: bool) -> list[tuple[bool, list[BaseGeometry]]]:
    """Coats one after the other that paint the shape, or over it."""
    batches: list[tuple[bool, list[BaseGeometry]]] = []
    for coat in painted.coats:
        is_shape = coat.is_light == wants_light
        if not batches or batches[-1][0] != is_shape:
            batches.append((is_shape, []))
        batches[-1][1].append(_evenodd(coat.region))
    return batches


def _taken_off(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapely.difference(areas[0], shapely.union_all(areas[1:]))


def _is_light_on_dark(painted: Painted, scale: float) -> bool:
    """Whether the first coat is a dark ground as large as the page, or all else."""
    if len(painted.coats) < 2 or painted.coats[0].is_light or not any(coat.is_light for coat in painted.coats):
        return False
    ground = _evenodd(painted.coats[0].region)
    x0, y0, x1, y1 = ground.bounds
    covers_page = (x1 - x0) * (y1 - y0) >= 0.98 * painted.width * painted.height * scale**2
    return bool(ground.area > 0.98 * (x1 - x0) * (y1 - y0)) and covers_page


def _evenodd(region: Sequence[Loop]) -> BaseGeometry:
    """The area of a region's loops."""
    try:
        return metal_of(region)
    except GeometryError:  # loops that touch
        area: BaseGeometry = shapely.MultiPolygon()
        for loop in region:
            area = shapely.symmetric_difference(area, shapely.make_valid(metal_ring(loop)))
        return area


def metal_ring(loop: Loop) -> shapely.Polygon:
    """Return one loop as a polygon, valid or not."""
    return shapely.Polygon([at for segment in loop.segments for at in segment_points(segment)])


def _without_specks(metal: Metal, wide_mm: float) -> tuple[Metal, int]:
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


@dataclass(frozen=True, eq=False)
class OfDxf:
    """A DXF, by its closed outlines."""

    data: bytes
    filename: str
    picture: None = None
    taken: None = None

    @cached_property
    def _read(self) -> tuple[ReadDrawing, bool]:
        """The drawing in mm, and whether it says its units."""
        try:
            return read_drawing(self.data, self.filename), True
        except Refused as refused:
            if any(problem.parameter != "units" for problem in refused.problems):
                raise
            return read_drawing(self.data, self.filename, "mm"), False

    @property
    def unit_mm(self) -> float | None:
        """1 where it says its units: it is read in mm."""
        return 1.0 if self._read[1] else None

    @property
    def size(self) -> tuple[float, float]:
        """The box of its outlines."""
        x0, y0, x1, y1 = self._read[0].profile.box
        return x1 - x0, y1 - y0

    def at(self, scale: float, p: Tracing) -> Figure:
        """Return what its outlines enclose; where they overlap, all of them together."""
        reading, _ = self._read
        profile = reading.profile
        if not profile.outside:
            raise Unreadable(f"{named(self.filename)} can't be traced: no outline in it closes.")
        said = list(reading.healed)
        if reading.open:
            said.append(f"left out {len(reading.open):,} chains of lines that close nothing")
        if profile.marks:
            said.append(f"left out {len(profile.marks):,} marks, which aren't cut")
        try:
            metal = metal_of([*profile.outside, *(opening.loop for opening in profile.inside)])
        except GeometryError:
            said.append("united outlines that overlap")
            cut = [shapely.make_valid(metal_ring(opening.loop)) for opening in profile.inside]
            whole = shapely.union_all([shapely.make_valid(metal_ring(loop)) for loop in profile.outside])
            metal = metal_from(shapely.difference(whole, shapely.union_all(cut)) if cut else whole)
        metal, specks = _without_specks(placed(metal, scale), p.despeckle)
        if metal.is_empty:
            raise Unreadable(f"{named(self.filename)} can't be traced: all of it is smaller than the specks left out.")
        return Figure(metal, (*said, *([_specks(specks, p)] if specks else [])))


def needs_size(source: Source, filename: str) -> Refused:
    """Return the refusal of a file that doesn't say its size, where none was asked for."""
    what = "a picture doesn't tell" if source.picture else "the file doesn't tell"
    return Refused((
        Problem("width", "", f"isn't given: say how wide the finished piece shall be, as 300 mm or 12 in; {what}."),
    ))  # fmt: skip
