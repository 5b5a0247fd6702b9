"""The shapes that an SVG paints, and those that a DXF encloses."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from parts.artwork import Metal, metal_from, metal_of
from parts.cached import cached_property
from parts.errors import GeometryError, Refused, Unreadable
from parts.geometry import Loop
from parts.read import Painted, ReadDrawing, read_drawing, read_painted, shown
from parts.tracing.figure import Figure, metal_ring, named, of_specks, without_specks
from parts.tracing.mounting import placed
from parts.tracing.settings import Tracing


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
        metal, specks = without_specks(metal, p.despeckle)
        if metal.is_empty:
            raise Unreadable(f"{name} can't be traced: all of it is smaller than the specks that are left out.")
        said += [f"left out {', '.join(map(shown, painted.left_out))}"] if painted.left_out else []
        said += [of_specks(specks, p)] if specks else []
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


def _clause(sentence: str) -> str:
    """A sentence as one of several that stand in a row."""
    return f"{sentence[0].lower()}{sentence[1:]}".removesuffix(".")


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
            why = next((f" {found.message}" for found in reading.findings if found.severity == "stop"), "")
            raise Unreadable(f"{named(self.filename)} can't be traced: no outline in it closes.{why}")
        said = list(reading.healed)
        if reading.open:
            said.append(f"left out {len(reading.open):,} chains of lines that close nothing")
        said += [_clause(found.message) for found in reading.findings if found.severity == "warn"]
        if profile.marks:
            said.append(f"left out {len(profile.marks):,} marks, which aren't cut")
        try:
            metal = metal_of([*profile.outside, *(opening.loop for opening in profile.inside)])
        except GeometryError:
            said.append("united outlines that overlap")
            cut = [shapely.make_valid(metal_ring(opening.loop)) for opening in profile.inside]
            whole = shapely.union_all([shapely.make_valid(metal_ring(loop)) for loop in profile.outside])
            metal = metal_from(shapely.difference(whole, shapely.union_all(cut)) if cut else whole)
        metal, specks = without_specks(placed(metal, scale), p.despeckle)
        if metal.is_empty:
            raise Unreadable(f"{named(self.filename)} can't be traced: all of it is smaller than the specks left out.")
        return Figure(metal, (*said, *([of_specks(specks, p)] if specks else [])))
