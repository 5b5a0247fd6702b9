"""Which pairs of boxes, points and segments are near each other, so that exact work is kept to those."""
