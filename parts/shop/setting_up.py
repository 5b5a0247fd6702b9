"""What a set-up sheet is reckoned from in a shop's file: torch height, duty cycle, supplies, consumables, rates."""

from typing import Annotated, Literal, Self, TypeAlias

from pydantic import AfterValidator, Field, model_validator

from parts.data import Number, Text
from parts.shop.entries import Signed
from parts.units import Millimetres

Money: TypeAlias = Annotated[Number, Field(ge=0, le=1_000_000)]
Height: TypeAlias = Annotated[Millimetres, Field(ge=0, le=100)]
SupplyName: TypeAlias = Literal["air", "oxygen", "nitrogen", "fuel-gas", "water", "abrasive"]

BY_MASS = "abrasive"
"""The supply that is counted by its mass; the others are by their volume."""


LONGEST = 12
"""Characters of the name of a currency."""


def _short(name: str) -> str:
    """The name of a currency, in one line."""
    if len(name) > LONGEST or not name.isprintable():
        raise ValueError(f"it must be a name of at most {LONGEST} characters, such as the money's own")
    return name.strip()


class TorchHeight(Signed):
    """From the tip to the plate, mm; 0 where it isn't known."""

    pierce_height_mm: Height
    cut_height_mm: Height


class DutyCycle(Signed):
    """How much of any ten minutes a power source stands: `percent` at `rated_a`, 0 A for the current that is cut with.

    0 percent is where there is no power source of the kind.
    """

    percent: Annotated[Number, Field(ge=0, le=100)]
    rated_a: Annotated[Number, Field(ge=0, le=2000)]


class Supply(Signed):
    """What is used while the arc, flame or jet is on, in l or kg a minute; its price is of a m³ or a kg.

    `groups` are those of the materials for which it is used, all where there are none. Gas is counted as it is at the
    pressure of the air.
    """

    flow_l_min: Annotated[Number, Field(ge=0, le=20_000)] | None = None
    flow_kg_min: Annotated[Number, Field(ge=0, le=50)] | None = None
    price_per_m3: Money | None = None
    price_per_kg: Money | None = None
    groups: tuple[Text, ...] = ()

    @model_validator(mode="after")
    def _counted_one_way(self) -> Self:
        """Refuse what is counted both by volume and by mass, or neither way."""
        if (self.flow_l_min is None) == (self.flow_kg_min is None):
            raise ValueError("must have one of flow_l_min and flow_kg_min")
        counted, price, other = (
            ("l", "price_per_m3", "price_per_kg")
            if self.flow_kg_min is None
            else ("kg", "price_per_kg", "price_per_m3")
        )
        if getattr(self, other) is not None:
            raise ValueError(f"has a {other}, but is counted in {counted}: give {price}")
        return self


class Consumables(Signed):
    """What one set of them lasts: so many pierces, so many hours of arc, whichever comes first; 0 isn't counted.

    `set_price` is of one set.
    """

    pierces: Annotated[Number, Field(ge=0, le=1_000_000)]
    arc_hours: Annotated[Number, Field(ge=0, le=100_000)]
    set_price: Money | None = None


class BlankData(Signed):
    """The strip that stays around a part, mm."""

    margin_mm: Annotated[Millimetres, Field(ge=0, le=1000)]


class LiftingData(Signed):
    """The mass above which one person doesn't lift a part, kg."""

    mass_kg: Annotated[Number, Field(gt=0, le=1000)]


class RatesData(Signed):
    """What the shop reckons with; what it hasn't said is None, and is never made up."""

    currency: Annotated[str, AfterValidator(_short)] = ""
    machine_per_h: Money | None = None
    labour_per_h: Money | None = None
    handling_min: Annotated[Number, Field(ge=0, le=10_000)]
    markup_percent: Annotated[Number, Field(ge=0, le=10_000)] | None = None
