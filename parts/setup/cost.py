"""The cost of a part by the shop's own rates; what the shop hasn't given isn't reckoned, and is named.

material      the mass of the blank, by the price of a kg: what is left of the sheet goes back on the rack
machine       the time at the table with the rests that the power source asks in a row of parts, by the price of an hour
labour        the same time and the handling, by the price of an hour: someone stands by
consumables   the share of a set that the part wears
supplies      each by its price
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from parts import shop
from parts.setup.supplies import Used
from parts.setup.wear import SECONDS_PER_H, Wear


@dataclass(frozen=True, slots=True)
class CostItem:
    """One thing that costs: its name, how it is reckoned, and what it is; None where the shop gave no rate for it."""

    name: str
    of: str
    amount: float | None


@dataclass(frozen=True, slots=True)
class Cost:
    """The cost of one part, in the shop's money; `currency` as it is written there.

    `given` is the sum of what could be reckoned; `total` is the same, None where something is missing, and `price` is
    that and what the shop puts on top, None where it doesn't say how much.
    """

    currency: str
    items: tuple[CostItem, ...]
    markup_percent: float | None

    @property
    def missing(self) -> tuple[str, ...]:
        """The names of what has no rate."""
        return tuple(item.name for item in self.items if item.amount is None)

    @property
    def given(self) -> float:
        """The sum of what has one."""
        return sum(item.amount for item in self.items if item.amount is not None)

    @property
    def is_given(self) -> bool:
        """Whether anything has one."""
        return any(item.amount is not None for item in self.items)

    @property
    def total(self) -> float | None:
        """The cost, where nothing is missing."""
        return None if self.missing else self.given

    @property
    def price(self) -> float | None:
        """The cost with what the shop puts on top."""
        return (
            None if self.total is None or self.markup_percent is None else self.total * (1 + self.markup_percent / 100)
        )


def cost(material: str, blank_kg: float, table_s: float, supplies: Sequence[Used], wears: Wear) -> Cost:
    """Return the cost of a part of a material that takes so much of it, and so long.

    Raises:
        DataError: the shop's own file is unusable.
    """
    data = shop.load(shop.edition())
    rates = data.rates
    handled_s = table_s + 60 * rates.handling_min
    items: Iterable[CostItem] = (
        CostItem("material", "blank", _times(data.materials[material].price_per_kg, blank_kg)),
        CostItem("machine", "table", _times(rates.machine_per_h, table_s / SECONDS_PER_H)),
        CostItem("labour", "handling", _times(rates.labour_per_h, handled_s / SECONDS_PER_H)),
        CostItem("consumables", "set", wears.cost),
        *(CostItem(each.title.lower(), each.name, each.cost) for each in supplies),
    )
    return Cost(rates.currency, tuple(items), rates.markup_percent)


def _times(rate: float | None, amount: float) -> float | None:
    return None if rate is None else rate * amount
