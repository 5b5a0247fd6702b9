"""What saddle gussets of round and of square tube have alike: upright toes, slanting sides, rounded corners."""

import math


def with_rounded_corners(area, edge, v, top, out):
    """Area and edge with the outside corners rounded, of a side that leans from the toe to `out` at the height `top`.

    Rounding a turn t to r takes r² (tan t/2 - t/2) of the area, gives it at an inside corner, and takes
    r |2 tan t/2 - t| of the edge either way.
    """
    foot, toe, r = v["foot"] / 2, v["toe"], v["corner_radius"]
    lean = math.atan2(foot - out, top - toe)  # inwards from upright
    for turn in [math.pi / 2, lean, math.pi / 2 - lean] if toe else [math.pi / 2 + lean, math.pi / 2 - lean]:
        area -= 2 * r**2 * (math.tan(turn / 2) - turn / 2)
        edge -= 2 * r * abs(2 * math.tan(turn / 2) - turn)
    return area, edge
