"""The units that are worked in, and what turns one into another; each factor is exact."""

from typing import Literal

Units = Literal["mm", "in"]

MM_PER_IN = 25.4
"""Exact by definition: international yard and pound agreement of 1959."""

KG_PER_LB = 0.45359237
"""Exact by definition: the same agreement."""
