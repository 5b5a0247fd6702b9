"""Assumed: what is taken for granted of errors, from `parts/data/bolt_up.toml`, each number with its source."""

from functools import cache
from typing import Annotated

from pydantic import Field

from parts.data import Number, Sourced, Table, load

Positive = Annotated[Number, Field(gt=0)]


class Limits(Sourced):
    """How many standard deviations a limit deviation is."""

    standard_deviations: Positive


class Repeats(Sourced):
    """The limit deviation of what a table with measured errors does besides them, mm."""

    repeats_mm: Positive


class Drilled(Sourced):
    """The limit deviation of a hole drilled at a marked centre, mm."""

    off_mm: Positive


class Wanted(Sourced):
    """The chance that counts as safe."""

    chance: Annotated[Number, Field(gt=0, lt=1)]


class Widest(Sourced):
    """How many bolts wide a hole for that bolt is at most."""

    widest_in_bolts: Annotated[Number, Field(gt=1)]


class BoltUpNumbers(Table):
    """The file of what is assumed."""

    limits: Limits
    table: Repeats
    drilled: Drilled
    wanted: Wanted
    pattern: Widest


@cache
def assumed() -> BoltUpNumbers:
    """Return what is assumed.

    Raises:
        DataError: the file is unusable.
    """
    return load("bolt_up.toml", BoltUpNumbers)
