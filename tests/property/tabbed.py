"""Tabs and slots by hand: what each adds to the area of its plate and to the length of the cut."""

import math

from tests.property.assembled import relief_by_hand


def relief(part, most):
    """Radius of the reliefs: a quarter of the plate, half a kerf at least, where there is room for it."""
    cut = part.record.job.cut
    return min(max(part.record.parameters["thickness"] / 4, cut.kerf_mm / 2), most)


def tabs_of(part):
    """What the tabs of an edge add: rectangles, a quarter of their depth as radius at the tips, less the reliefs."""
    v = part.record.parameters
    out = v["tab_depth"] or v["thickness"]
    gain, longer = relief_by_hand(relief(part, out / 2), 0)
    area = v["tab_length"] * out - 2 * (1 - math.pi / 4) * (out / 4) ** 2 - 2 * gain
    edge = 2 * out - 2 * (2 - math.pi / 2) * (out / 4) + 2 * longer
    return v["tabs"] * area, v["tabs"] * edge


def slot_of(part):
    """Area and edge of one slot: a rectangle with its reliefs, and an eye where it is too narrow to pierce in."""
    v, cut = part.record.parameters, part.record.job.cut
    wide, long = sizes(v)
    area, edge = relieved(part, wide, long)
    eye = cut.pierce_diameter_mm + cut.kerf_mm
    if v["tab_eye"] and eye > wide:
        angle = 2 * math.acos(wide / eye)
        area += eye**2 / 4 * (angle - math.sin(angle))
        edge += 2 * (eye / 2 * angle - eye * math.sin(angle / 2))
    return area, edge


def relieved(part, wide, long):
    """Area and edge of a rectangle with a relief through each corner; two at an end don't meet."""
    gain, longer = relief_by_hand(relief(part, 0.97 * min(wide, long) / 2 / math.sqrt(2)), 0)
    return wide * long + 4 * gain, 2 * (wide + long) + 4 * longer


def notch_of(part):
    """Area and edge that an open notch takes and adds: two of its corners are relieved."""
    v = part.record.parameters
    wide, long = sizes(v)
    gain, longer = relief_by_hand(relief(part, 0.97 * min(wide, long) / 2 / math.sqrt(2)), 0)
    deep = (v["tab_thickness"] or v["thickness"]) + v["tab_clearance"]
    return deep * long + 2 * gain, 2 * deep + 2 * longer


def sizes(v):
    """Width and length of a slot."""
    c = v["tab_clearance"]
    return (v["tab_thickness"] or v["thickness"]) + 2 * c, v["tab_length"] + 2 * c


def rounded(radius, turns):
    """What rounding corners of these turns takes of area and edge."""
    area = sum(radius**2 * (math.tan(t / 2) - t / 2) for t in turns)
    return area, sum(radius * (2 * math.tan(t / 2) - t) for t in turns)
