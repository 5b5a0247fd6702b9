"""The stock a part is cut from: materials with their density, the sheet, and the bed that has to hold it."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from parts import shop
from parts.errors import GeometryError, Problem, Refused, nearest
from parts.shop import MaterialData, ShopData
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Gauge, with_unit


@dataclass(frozen=True, slots=True)
class Material:
    """One material as the shop knows it.

    `cautions` are sentences for a person and `caution_keys` their names. `group` is its column in the
    numbers of a process. `gauge` is the table its gauge numbers are of; None where it has none.
    """

    slug: str
    title: str
    density_kg_per_m3: float
    gauge: Gauge | None
    group: str
    cautions: tuple[str, ...]
    caution_keys: tuple[str, ...]
    not_cut_by: tuple[tuple[str, str], ...]
    source: str

    def why_not(self, process: str) -> str | None:
        """Return the sentence why `process` can't cut it, or None if nothing is known against it."""
        return dict(self.not_cut_by).get(process)


@dataclass(frozen=True, slots=True)
class Bed:
    """The rectangle the torch can reach, mm."""

    x_mm: float
    y_mm: float

    def holds(self, width_mm: float, height_mm: float) -> bool:
        """Say whether a part of this size is within reach as it is drawn."""
        return width_mm <= self.x_mm + LIMIT_SLACK_MM and height_mm <= self.y_mm + LIMIT_SLACK_MM

    def holds_turned(self, width_mm: float, height_mm: float) -> bool:
        """Say whether a part of this size is within reach after a quarter turn."""
        return self.holds(height_mm, width_mm)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The rectangle of stock on the bed, mm."""

    x_mm: float
    y_mm: float


def sheet() -> Sheet:
    """Return the sheet this shop cuts from.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data = shop.load(shop.edition()).sheet
    return Sheet(data.x_mm, data.y_mm)


def bed() -> Bed:
    """Return the bed of this shop.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data = shop.load(shop.edition()).bed
    return Bed(data.x_mm, data.y_mm)


def materials() -> Mapping[str, Material]:
    """Return every material by its slug, in the order of the data: built-in, then the shop's own.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return materials_at(shop.edition())


@lru_cache(maxsize=4)
def materials_at(at: shop.Edition) -> Mapping[str, Material]:
    """Return the materials of one state of the shop's own file, as `materials` does."""
    data = shop.load(at)
    return MappingProxyType({slug: _material(slug, of, data) for slug, of in data.materials.items()})


def _material(slug: str, of: MaterialData, data: ShopData) -> Material:
    return Material(
        slug=slug,
        title=of.title,
        density_kg_per_m3=of.density_kg_per_m3,
        gauge=None if of.gauge == "none" else of.gauge,
        group=of.group,
        cautions=data.sentences(of.cautions),
        caution_keys=of.cautions,
        not_cut_by=tuple((process, why) for process, why in of.not_cut_by.items() if why),
        source=of.source,
    )


def unknown(parameter: str, slug: str, known: Mapping[str, object]) -> Iterator[Problem]:
    """Yield the problem of a slug that isn't among `known`, with the one that was probably meant."""
    if slug not in known:
        near = nearest(slug, known)
        meant = f"Did you mean {near}? " if near else ""
        message = f"There is no {parameter} {slug!r}. {meant}There are: {', '.join(known)}."
        yield Problem(parameter, slug, message)


def mass_kg(area_mm2: float, thickness_mm: float, material: Material | str) -> float:
    """Return the mass of a plate of this area, by true density (steel 7850 kg/m3), in kg.

    Trade tables weigh plate at 40.8 lb/ft2 per inch, 0.1 % less, and gauge sheet at 41.82, 2.4 % more.

    Args:
        area_mm2: area of one face, holes taken off.
        thickness_mm: thickness of the plate.
        material: a material or its slug.

    Raises:
        Refused: no material has this slug.
        GeometryError: area or thickness is negative or no number.
    """
    if isinstance(material, str):
        known = materials()
        if problems := tuple(unknown("material", material, known)):
            raise Refused(problems)
        material = known[material]
    volume_mm3 = area_mm2 * thickness_mm
    if not (math.isfinite(volume_mm3) and area_mm2 >= 0 and thickness_mm >= 0):
        area, thick = with_unit(str(area_mm2), "mm2"), with_unit(str(thickness_mm), "mm")
        raise GeometryError(f"There is no plate of {area} that is {thick} thick.")
    return volume_mm3 * material.density_kg_per_m3 * 1e-9  # mm3 in a m3
