"""Plates of several shapes, with border and holes, for what is cut through them or stands in them."""

from parts.templates.shared.plates.border import ring
from parts.templates.shared.plates.plate import HOLES, Holes, Plate
from parts.templates.shared.plates.shape import POINT, SHAPES, Shape, has_room, least_size, middle

__all__ = ["HOLES", "POINT", "SHAPES", "Holes", "Plate", "Shape", "has_room", "least_size", "middle", "ring"]
