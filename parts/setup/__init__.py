"""Setting up: what a person at the table has to know of one part before it is cut, and what it takes and costs."""

from parts.setup.cost import Cost, CostItem
from parts.setup.duty import Duty
from parts.setup.sheet import Height, SetUp, set_up
from parts.setup.steps import Step, grouped
from parts.setup.stock import Blank, Drop, Rows
from parts.setup.supplies import Used
from parts.setup.wear import Wear

__all__ = [
    "Blank",
    "Cost",
    "CostItem",
    "Drop",
    "Duty",
    "Height",
    "Rows",
    "SetUp",
    "Step",
    "Used",
    "Wear",
    "grouped",
    "set_up",
]
