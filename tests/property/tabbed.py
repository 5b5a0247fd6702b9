"""Tabs and slots by hand: what each adds to the area of its plate and to the length of the cut."""

import math


def relief(v):
    return v["tab_relief"] or 0.6 * v["thickness"]


def tabs_of(v):
    """What the tabs of an edge add: rectangles with a quarter of their depth as radius at the tips, less the reliefs.

    The edge loses the tab's length and two diameters of reliefs, and gains two half circles, two sides and a tip.
    """
    r, out = relief(v), v["tab_depth"] or v["thickness"]
    area = v["tab_length"] * out - 2 * (1 - math.pi / 4) * (out / 4) ** 2 - math.pi * r**2
    edge = 2 * out - 2 * (2 - math.pi / 2) * (out / 4) + 2 * (math.pi - 2) * r
    return v["tabs"] * area, v["tabs"] * edge


def slot_of(v):
    """Area and edge of one slot: a rectangle with four half circles beside its long sides."""
    r, c = relief(v), v["tab_clearance"]
    wide, long = (v["tab_thickness"] or v["thickness"]) + 2 * c, v["tab_length"] + 2 * c
    return wide * long + 2 * math.pi * r**2, 2 * (wide + long) + 4 * (math.pi - 2) * r


def rounded(radius, turns):
    """What rounding corners of these turns takes of area and edge."""
    area = sum(radius**2 * (math.tan(t / 2) - t / 2) for t in turns)
    return area, sum(radius * (2 * math.tan(t / 2) - t) for t in turns)
