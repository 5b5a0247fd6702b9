"""A figure drawn, or sketched: its loops, what can be measured of them, and its bridges."""

import math
from collections.abc import Iterator

import shapely

from parts.artwork import Metal, coarse, metal_of, rough_loops, rounded_roughly
from parts.geometry import Box, Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import trying
from parts.templates.outline.shared.figure import Figure
from parts.templates.outline.shared.rounding import eye_at
from parts.templates.shared.plates import middle as centre
from parts.templates.shared.plates import ring

_ROUNDS = 4


def drawn(p: Figure, name: str) -> Profile:
    """Return the figure, `name` being the parameter that says which it is."""
    outside, openings, larger = p.loops
    inside = [Opening(loop, "opening", name) for loop in openings]
    if p.eye_at is not None:
        inside.append(Opening(circle((p.eye_at[0] * larger, p.eye_at[1] * larger), p.hole), "hanging hole", "hole"))
    if p.made_as != "piece":
        inside += [Opening(circle(at, p.hole), "hole", "hole") for at in p.plate.holes_at(p.size)]
    return Profile(outside, tuple(inside), (), tuple(dimensions(p)), ties=tuple(p.ties))


def sketched(p: Figure, name: str) -> Profile | None:
    """Sketch the figure coarsely, nothing rounded off or tied; `name` as of `drawn`."""
    with trying(worded=False):
        if any(p.name_problems()) or any(p.asked_problems()):
            return None
    if p.made_as != "piece":
        return _sketched_around(p, name)
    figure, eye = _rough(p)
    wide, high = figure.bounds[2:]
    areas: list[shapely.Geometry] = [figure]
    if eye:
        rim = shapely.Point(eye).buffer(p.hole / 2 + p.eye, quad_segs=8)
        areas, high = [shapely.union(figure, rim)], max(high, eye[1] + p.hole / 2 + p.eye)
    outside, inside = rough_loops(areas, 0.0)
    openings = [Opening(loop, "opening", name) for loop in inside]
    if eye:
        openings.append(Opening(circle(eye, p.hole), "hanging hole", "hole"))
    return Profile(tuple(outside), tuple(openings), (), tuple(_of_piece(p, (0.0, 0.0, wide, high), eye)))


def _sketched_around(p: Figure, name: str) -> Profile:
    """Sketch the figure cut through its plate, or within its frame."""
    shape = rounded_roughly(coarse(p.original), p.smallest / p.width)
    figure = _as_large(shape, p.width)
    size = p.size_for(figure)
    placed = p.at_place(figure, size)
    if p.made_as == "plate":
        outer, inner = rough_loops([placed, p.plate.border_cut(size, 2 * p.bridge)], 0.0)
    else:
        frame = ring(metal_of([p.plate.edge(size)]), 0.0, p.frame_wide)
        _, opened = rough_loops([frame], 0.0)
        outer, inner = rough_loops([placed], 0.0)
        outer = [*opened, *outer]
    openings = [Opening(loop, "opening", name) for loop in (*outer, *inner)]
    openings += [Opening(circle(at, p.hole), "hole", "hole") for at in p.plate.holes_at(size)]
    return Profile((p.plate.edge(size),), tuple(openings), (), tuple(_of_plate(p, size, placed.bounds)))


def _rough(p: Figure) -> tuple[Metal, Point | None]:
    """The figure coarsely, as large as asked for, and the middle of its hanging hole."""
    shape = rounded_roughly(coarse(p.original), p.smallest / p.width)
    asked = p.overall_width or p.overall_height
    scale = asked if p.overall_width else asked / shape.bounds[3]
    figure = _as_large(shape, scale)
    if p.hang == "none":
        return figure, None
    eye = eye_at(figure, p.hole, p.eye)
    for _ in range(0 if p.overall_width else _ROUNDS):  # the eye is a part of the height
        high = figure.bounds[3]
        above = max(eye[1] + p.hole / 2 + p.eye - high, 0.0)
        scale *= max(asked - above, 1.0) / high
        figure = _as_large(shape, scale)
        eye = eye_at(figure, p.hole, p.eye)
    return figure, eye


def _as_large(shape: Metal, scale: float) -> Metal:
    return shapely.transform(shape, lambda points: scale * points)


def dimensions(p: Figure) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    larger, eye = p.loops[2], p.eye_at
    if p.made_as == "piece":
        yield from _of_piece(p, p.box, eye and (eye[0] * larger, eye[1] * larger))
    else:
        yield from _of_plate(p, p.size, p.placed.bounds)
    for bridge in p.made.bridges[:1]:
        start, end = ((x * larger, y * larger) for x, y in bridge.across(p.bridge / larger))
        yield Dimension("tie", start, end, "along")


def _of_piece(p: Figure, box: Box, eye: Point | None) -> Iterator[Dimension]:
    """What can be measured of a figure of a box over all, but for its bridges; `eye` is the middle of its hole."""
    yield from _over_all(box)
    if eye is not None:
        x, y = eye
        yield Dimension("hole", (x, y), (x + p.hole / 2, y), "diameter")
        yield Dimension("eye", (x, y + p.hole / 2), (x, y + p.hole / 2 + p.eye), "along")


def _over_all(box: Box) -> Iterator[Dimension]:
    x0, y0, x1, y1 = box
    yield Dimension("overall_width", (x0, y0), (x1, y0), "below")
    yield Dimension("overall_height", (x0, y0), (x0, y1), "left")


def _of_plate(p: Figure, size: Point, figure: Box) -> Iterator[Dimension]:
    """What can be measured of plate or frame of a size, around a figure of a box."""
    (width, height), (_, low, right, _), plate = size, figure, p.plate
    yield from _over_all((0.0, 0.0, width, height))
    yield _margin(p, size, figure)
    if p.below:
        yield Dimension("below", (right, low - p.below), (right, low), "right")
    if r := plate.corner_used:
        middle = (width, height) if p.shape == "scalloped" else (width - r, height - r)
        yield Dimension("corner_radius", middle, (width - r, height), "radius")
    _, y = centre(p.shape, size)
    if plate.border:
        name = "border" if p.made_as == "plate" else "frame"
        yield Dimension(name, (plate.border_in, y), (plate.band, y), "along")
    if p.border and p.made_as == "plate":
        yield Dimension("border_in", (0.0, y), (plate.border_in, y), "along")
    for x, up in plate.holes_at(size)[:1]:
        inset = plate.hole_in
        yield Dimension("hole", (x, up), (x + p.hole / 2, up), "diameter")
        above = p.holes == "top"
        ends = ((x, height - inset), (x, height)) if above else ((0.0, up), (inset, up))
        yield Dimension("hole_in", *ends, "right" if above else "below")


def _margin(p: Figure, size: Point, figure: Box) -> Dimension:
    """The margin from the figure's box to the edge, in a shape without level edges to where its frame meets that."""
    (width, height), (x0, _, x1, y1) = size, figure
    if p.shape == "round":
        (x, y), across = (width / 2, height / 2), math.sqrt(0.5)
        ends = [(x + r * across, y + r * across) for r in (width / 2 - p.margin, width / 2)]
        return Dimension("margin", ends[0], ends[1], "along")
    if p.shape == "oval":
        return Dimension("margin", (x1, y1), (x1 + p.margin, y1 + p.margin), "above")
    if height - y1 < x0:
        return Dimension("margin", (x1, y1), (x1, y1 + p.margin), "right")
    low = height - (p.plate.corner_used or 0.0)
    return Dimension("margin", (0.0, low), (p.margin, low), "above")
