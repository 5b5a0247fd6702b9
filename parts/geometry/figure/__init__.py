"""Drawing aids for figures: round-cornered windows, belts round pins, feet, rings."""

from parts.geometry.figure.attach import Seam, attached, clearance_on, highest_seat, highest_within, is_beside, seam
from parts.geometry.figure.belt import Pin, belt, polar, tangent
from parts.geometry.figure.ring import Ring, ring_on, ringed
from parts.geometry.figure.touch import Touch, highest_touch
from parts.geometry.figure.window import Window, hole, level_slot, upright_slot

__all__ = [
    "Pin",
    "Ring",
    "Seam",
    "Touch",
    "Window",
    "attached",
    "belt",
    "clearance_on",
    "highest_seat",
    "highest_touch",
    "highest_within",
    "hole",
    "is_beside",
    "level_slot",
    "polar",
    "ring_on",
    "ringed",
    "seam",
    "tangent",
    "upright_slot",
]
