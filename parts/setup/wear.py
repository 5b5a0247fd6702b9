"""Consumables: how much of a set one part wears, and how many such parts a set lasts."""

import math
from dataclasses import dataclass

from parts import shop
from parts.cutting import Cut
from parts.data import Kind
from parts.setup.basis import kind_in

SECONDS_PER_H = 3600


@dataclass(frozen=True, slots=True)
class Wear:
    """What a set of consumables lasts by its pierces and its hours, whichever ends first; 0 isn't counted so.

    `share` is what one part takes of a set: the larger of both shares. `parts` is how many whole parts one set lasts,
    None where nothing is counted. `cost` is None where the shop gave no price of a set.
    """

    pierces: float
    hours: float
    share: float
    parts: int | None
    by: str
    cost: float | None
    source: str
    kind: Kind


def wear(cut: Cut, pierces: int, on_s: float) -> Wear:
    """Return what so many pierces and so many s of arc wear.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data, built_in = (of.processes[cut.process].consumables for of in (shop.load(shop.edition()), shop.built_in()))
    by_pierces = pierces / data.pierces if data.pierces else 0.0
    by_hours = on_s / SECONDS_PER_H / data.arc_hours if data.arc_hours else 0.0
    share = max(by_pierces, by_hours)
    return Wear(
        pierces=data.pierces,
        hours=data.arc_hours,
        share=share,
        parts=math.floor(1 / share + 1e-9) if share else None,
        by="pierces" if by_pierces >= by_hours else "hours",
        cost=None if data.set_price is None else share * data.set_price,
        source=data.source,
        kind=kind_in(data, built_in, "pierces" if by_pierces >= by_hours else "arc_hours"),
    )
