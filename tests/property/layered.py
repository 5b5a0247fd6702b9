"""Random parts by number, each outline of which is drawn on a layer of a common name, in one of several ways."""

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from tests.files.foreign import dxf

NAMES = (
    "0", "BORDER", "BORDERS", "Center Bore", "TEXT-CUT", "CENTRE HOLES", "DIM", "HATCH", "FRAME", "TITLE",
    "ANNOTATION", "TITLE BLOCK", "CONSTRUCTION", "centerlines", "Defpoints", "HIDDEN", "guide lines", "NOTES",
    "cut lines", "VIEWPORT",
)  # fmt: skip
ROOM = 60.0
"""Of each hole, mm square."""


@dataclass(frozen=True)
class Drawn:
    """An outline: its layer, the middle of its box and its area, mm, and the DXF that draws it."""

    layer: str
    middle: tuple[float, float]
    area: float
    text: str


def part(number: int) -> tuple[bytes, list[Drawn]]:
    """The DXF of a plate with some holes, and what is in it: the plate first."""
    chance = random.Random(number)
    columns, rows = chance.randint(1, 4), chance.randint(1, 3)
    w, h = columns * ROOM + 20, rows * ROOM + 20
    layers = chance.sample(NAMES, chance.randint(1, 4))
    made = [_plate(chance, w, h, chance.choice(layers))]
    rooms = [(10 + ROOM * (i + 0.5), 10 + ROOM * (j + 0.5)) for i in range(columns) for j in range(rows)]
    made += [_hole(chance, at, chance.choice(layers)) for at in chance.sample(rooms, chance.randint(1, len(rooms)))]
    order = chance.sample(made, len(made))
    return dxf("".join(each.text for each in order)), made


def _plate(chance: random.Random, w: float, h: float, layer: str) -> Drawn:
    kind = chance.choice(("square", "clipped", "rounded", "disc"))
    if kind == "disc":
        return _circle((w / 2, h / 2), math.hypot(w, h) / 2, layer)
    c = 0.0 if kind == "square" else chance.uniform(2, 9)
    corners = [(c, 0), (w - c, 0), (w, c), (w, h - c), (w - c, h), (c, h), (0, h - c), (0, c)]
    bulge = math.tan(math.pi / 8) if kind == "rounded" else 0.0
    area = w * h - (4 - math.pi) * c * c if kind == "rounded" else w * h - 2 * c * c
    bulges = [0.0, bulge] * 4
    if kind == "square":
        corners, bulges = [(0, 0), (w, 0), (w, h), (0, h)], [0.0] * 4
    return Drawn(layer, (w / 2, h / 2), area, _closed(chance, corners, bulges, layer))


def _hole(chance: random.Random, at: tuple[float, float], layer: str) -> Drawn:
    x, y = at
    kind, size = chance.choice(("circle", "slot", "window", "triangle")), chance.uniform(12, ROOM - 12)
    if kind == "circle":
        return _circle(at, size / 2, layer)
    half = size / 2
    if kind == "triangle":
        corners = [(x - half, y - half), (x + half, y - half), (x, y + half)]
        return Drawn(layer, at, size * size / 2, _closed(chance, corners, [0.0] * 3, layer))
    tall = half / 2
    corners = [(x - half, y - tall), (x + half, y - tall), (x + half, y + tall), (x - half, y + tall)]
    if kind == "window":
        return Drawn(layer, at, size * size / 2, _closed(chance, corners, [0.0] * 4, layer))
    ends = [(x - tall, y - tall), (x + tall, y - tall), (x + tall, y + tall), (x - tall, y + tall)]
    area = size * size / 4 + math.pi * tall * tall
    return Drawn(layer, at, area, _closed(chance, ends, [0.0, 1.0, 0.0, 1.0], layer))


def _circle(at: tuple[float, float], radius: float, layer: str) -> Drawn:
    text = f"0\nCIRCLE\n8\n{layer}\n10\n{at[0]}\n20\n{at[1]}\n40\n{radius}\n"
    return Drawn(layer, at, math.pi * radius * radius, text)


def _closed(chance: random.Random, corners: list[tuple[float, float]], bulges: list[float], layer: str) -> str:
    """One closed polyline, or a polyline a side, in any order and either way round."""
    if chance.random() < 0.4:
        return _polyline(list(zip(corners, bulges, strict=True)), layer, closed=True)
    sides = [((a, bulge), (b, 0.0)) for a, b, bulge in zip(corners, corners[1:] + corners[:1], bulges, strict=True)]
    return "".join(_polyline([*side], layer, closed=False) for side in chance.sample(sides, len(sides)))


def _polyline(vertices: list[tuple[tuple[float, float], float]], layer: str, closed: bool) -> str:
    points = "".join(f"10\n{x}\n20\n{y}\n42\n{bulge}\n" for (x, y), bulge in vertices)
    return f"0\nLWPOLYLINE\n8\n{layer}\n90\n{len(vertices)}\n70\n{int(closed)}\n{points}"


def missing(made: list[Drawn], found: list[tuple[tuple[float, float], float]]) -> Iterator[Drawn]:
    """Yield what isn't among outlines found, each the middle of its box and its area."""
    for each in made:
        if not any(
            math.dist(each.middle, at) < 0.5 and math.isclose(each.area, area, rel_tol=1e-6) for at, area in found
        ):
            yield each
