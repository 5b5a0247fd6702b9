"""Supplies: what of air, gas, water and abrasive is used while the arc, flame or jet is on for one part."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from parts import shop
from parts.cutting import Cut, materials
from parts.data import Kind
from parts.setup.basis import kind_in

Counted: TypeAlias = Literal["gas", "liquid", "solid"]
TITLES: Mapping[str, tuple[str, Counted]] = MappingProxyType({
    "air": ("Air", "gas"), "oxygen": ("Oxygen", "gas"), "nitrogen": ("Nitrogen", "gas"),
    "fuel-gas": ("Fuel gas", "gas"), "water": ("Water", "liquid"), "abrasive": ("Abrasive", "solid"),
})  # fmt: skip
"""What each is called and how it is counted: gas and liquid in litres, a solid in kg."""
LITRES_PER_M3 = 1000


@dataclass(frozen=True, slots=True)
class Used:
    """One supply: litres or kg a minute and for one part, and what that costs; None where the shop gave no price.

    Gas is counted as it is at the pressure of the air.
    """

    name: str
    title: str
    counted: Counted
    per_minute: float
    amount: float
    cost: float | None
    source: str
    kind: Kind


def used(cut: Cut, on_s: float) -> tuple[Used, ...]:
    """Return what is used of each supply of a cut's process and material while it is on for so many s.

    Raises:
        DataError: the shop's own file is unusable.
    """
    found = []
    built_in = shop.built_in().processes[cut.process].supplies
    group = materials()[cut.material].group
    for name, data in shop.load(shop.edition()).processes[cut.process].supplies.items():
        title, counted = TITLES[name]
        flow = "flow_l_min" if data.flow_l_min is not None else "flow_kg_min"
        rate = getattr(data, flow)
        if (data.groups and group not in data.groups) or not rate:
            continue
        amount, kind = rate * on_s / 60, kind_in(data, built_in.get(name), flow)
        if data.flow_l_min is not None:
            cost = None if data.price_per_m3 is None else amount / LITRES_PER_M3 * data.price_per_m3
        else:
            cost = None if data.price_per_kg is None else amount * data.price_per_kg
        found.append(Used(name, title, counted, rate, amount, cost, data.source, kind))
    return tuple(found)
