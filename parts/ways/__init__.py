"""Ways on from values that are refused: the nearest that can be drawn."""

from parts.ways.search import MOST, WayOn, ways_on

__all__ = ["MOST", "WayOn", "ways_on"]
