"""Drawing aids for figures: round-cornered windows, belts round pins, feet, rings."""

from parts.geometry.figure.attach import Seam, Touch, attached, highest_seat, highest_within, room_at, seam, touches
from parts.geometry.figure.belt import Pin, belt, polar, tangent
from parts.geometry.figure.ring import Ring, ring_on, ringed
from parts.geometry.figure.window import Window, hole, level_slot, upright_slot

__all__ = [
    "Pin",
    "Ring",
    "Seam",
    "Touch",
    "Window",
    "attached",
    "belt",
    "highest_seat",
    "highest_within",
    "hole",
    "level_slot",
    "polar",
    "ring_on",
    "ringed",
    "room_at",
    "seam",
    "tangent",
    "touches",
    "upright_slot",
]
