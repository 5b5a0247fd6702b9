"""Defaults: what holds where nothing is given, of which the bed, the sheet and the paper are the shop's own."""

from parts.cutting import bed, sheet
from parts.shop import edition, load
from parts.spec.parameter import Spec, Value
from parts.units import Units

_OF_SHOP = ("bed_x", "bed_y", "sheet_x", "sheet_y", "paper")
"""The parameters whose default is the shop's own."""


def own_defaults() -> dict[str, Value]:
    """Return the bed, the sheet and the paper of this shop, as values of the parameters.

    Raises:
        DataError: the shop's own file is unusable.
    """
    own_bed, own_sheet = bed(), sheet()
    paper = load(edition()).drawing.paper
    values = (own_bed.x_mm, own_bed.y_mm, own_sheet.x_mm, own_sheet.y_mm, paper)
    return dict(zip(_OF_SHOP, values, strict=True))


def default_of(spec: Spec, units: Units = "mm") -> Value:
    """Return what holds where nothing is given: the declared default of these working units, or the shop's own.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return own_defaults()[spec.name] if spec.name in _OF_SHOP else spec.default_in(units)
