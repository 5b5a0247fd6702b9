"""Lengths in data files: shop text or a number, in millimetres once read."""

from typing import Annotated

from pydantic import BeforeValidator, Field

from parts.data import number
from parts.units.reading import parse_length


def _millimetres(value: object) -> object:
    """Read shop text; a plain number is millimetres already."""
    return parse_length(value) if isinstance(value, str) else number(value)


def _inches(value: object) -> object:
    """Read shop text of inches, or a plain number of them, exactly."""
    return parse_length(value if isinstance(value, str) else str(number(value)), bare="in")


Millimetres = Annotated[float, BeforeValidator(_millimetres), Field(allow_inf_nan=False)]
"""A length under a name that ends in mm."""
Inches = Annotated[float, BeforeValidator(_inches), Field(allow_inf_nan=False)]
"""A length under a name that ends in inches; mm once read."""
