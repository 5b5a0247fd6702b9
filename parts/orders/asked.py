"""What a layout is asked for by: stock, distances, time; and what is pinned."""

from dataclasses import dataclass

from parts.sheets import Stock

MARGIN_MM = 10.0
"""From a part to the edge of its sheet, unless said: room for clamps and a sheet that isn't square, common practice."""


@dataclass(frozen=True, slots=True)
class OffCut:
    """An off-cut that may be used: its material, its thickness in mm, its outline."""

    material: str
    thickness_mm: float
    stock: Stock


@dataclass(frozen=True, slots=True)
class Asked:
    """How parts are laid out: on what, how far apart (None: by the process), how far from the edge, for how long."""

    stock: tuple[Stock, ...]
    gap: float | None = None
    margin: float = MARGIN_MM
    seconds: float = 5.0
    even_so: bool = False
    off_cuts: tuple[OffCut, ...] = ()
    seeds: int = 0
    """Seeds to be tried in place of a search by time, so that the layout hangs on no clock; 0 for the latter."""


@dataclass(frozen=True, slots=True)
class Pin:
    """One of an item, by its key, that stays where it lies."""

    key: int
    x: float
    y: float
    turn_deg: float
    mirrored: bool


@dataclass(frozen=True, slots=True)
class Pinned:
    """A sheet with what is pinned on it."""

    stock: Stock
    pins: tuple[Pin, ...]
