"""Support functions of loops: width and length at any angle, fitting into a rectangle."""

from parts.geometry.reach.extent import Extent
from parts.geometry.reach.fitting import roundest, turns_that_fit
from parts.geometry.reach.support import envelope, extreme_at

__all__ = ["Extent", "envelope", "extreme_at", "roundest", "turns_that_fit"]
