"""What a measuring sheet asks of the strips of a test bend; what they tell of the brake is the work of `truing`."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BendStrips:
    """How many strips, each `flat` mm long and `width` wide, bent `bend_line` from end A through `angle` radians.

    `floors` are how high the lower edge of each lies on the drawing.
    """

    count: int
    flat: float
    bend_line: float
    angle: float
    width: float
    floors: tuple[float, ...]
