"""The units that are worked in, and what turns one into another; each factor is exact."""

from typing import Literal

Units = Literal["mm", "in"]

MM_PER_IN = 25.4
"""Exact by definition: international yard and pound agreement of 1959."""

KG_PER_LB = 0.45359237
"""Exact by definition: the same agreement."""

LITRES_PER_FT3 = 28.316846592
"""Exact by definition: a foot of 304.8 mm, cubed."""

LITRES_PER_GAL = 3.785411784
"""Exact by definition: the gallon of the United States, 231 cubic inches."""
