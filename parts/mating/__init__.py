"""Mating: two parts said in words, drawn or read, and whether they bolt up."""

from parts.mating.asked import BESIDE, Side, bolt_up
from parts.mating.outcome import BoltUp
from parts.mating.said import assumptions, cautions, lines, percent
from parts.mating.values import NAMES

__all__ = ["BESIDE", "NAMES", "BoltUp", "Side", "assumptions", "bolt_up", "cautions", "lines", "percent"]
