"""Regions of many segments, each of a kind of work: (loops, the region on their left) from about `count` segments."""

import math
import random

from parts.geometry import draft
from parts.geometry.loop import Loop

LIMIT = 4.0
"""Material narrower than this is looked for in them, mm."""


def wavy(count: int) -> list[Loop]:
    """A round plate whose edge waves in lines of half a millimetre; nothing is narrow."""
    radius = count / (4 * math.pi)
    turns = [2 * math.pi * k / count for k in range(count)]
    reach = [radius + 2 * math.sin(k * 0.175) for k in range(count)]
    return [Loop.through((r * math.cos(t), r * math.sin(t), 0.0) for r, t in zip(reach, turns, strict=True))]


def leafy(count: int) -> list[Loop]:
    """Three lobes edged by arcs, full and hollow by turns; nothing is narrow."""
    vertices = []
    for k in range(count):
        t = 2 * math.pi * k / count
        r = count * 1.5 / (2 * math.pi) * (1 + 0.3 * math.cos(3 * t))
        vertices.append((r * math.cos(t), r * math.sin(t), 0.3 if k % 2 else -0.2))
    return [Loop.through(vertices)]


def comb(count: int) -> list[Loop]:
    """A comb, each of its teeth 3 mm wide and so too narrow."""
    teeth = count // 4
    vertices = [(0.0, -60.0, 0.0), (teeth * 6.0, -60.0, 0.0)]
    for k in reversed(range(teeth)):
        x = k * 6.0
        vertices += [(x + 6, -20, 0.0), (x + 3, -20, 0.0), (x + 3, 0, 0.0), (x, 0, 0.0)]
    return [Loop.through(vertices)]


def pierced(count: int) -> list[Loop]:
    """A plate with a grid of holes of 8 mm, 12 mm of material between them."""
    across = math.isqrt(count // 2)
    up = count // 2 // across
    plate = draft.rectangle((0, 0), across * 20 + 10, up * 20 + 10)
    holes = [draft.circle((15 + i * 20, 15 + j * 20), 8).reversed() for i in range(across) for j in range(up)]
    return [plate, *holes]


def rounded_comb(count: int) -> list[Loop]:
    """A comb of rounded teeth 3 mm wide, the gaps between them rounded as well."""
    teeth = count // 4
    vertices = [(0.0, -60.0, 0.0), (teeth * 6.0, -60.0, 0.0)]
    for k in reversed(range(teeth)):
        x = k * 6.0
        vertices += [(x + 6, -20, -1.0), (x + 3, -20, 0.0), (x + 3, 0, 1.0), (x, 0, 0.0)]
    return [Loop.through([*vertices, (0.0, -20.0, 0.0)])]


def slanting_comb(count: int) -> list[Loop]:
    """A comb whose teeth lean, each another way, every other one 2 to 3.5 mm wide, the rest 6 mm."""
    rng, teeth = random.Random(5), count // 4
    vertices = [(-9.0, -60.0, 0.0), (teeth * 24.0, -60.0, 0.0)]
    for k in reversed(range(teeth)):
        x, lean, high = k * 24.0, rng.uniform(-6, 6), rng.uniform(10, 20)
        width = rng.uniform(2, 3.5) if k % 2 else 6 * math.hypot(lean, high) / high
        vertices += [(x + width, 0, 0.0), (x + width + lean, high, 0.0), (x + lean, high, 0.0), (x, 0, 0.0)]
    return [Loop.through(vertices)]


def slotted(count: int) -> list[Loop]:
    """A plate of slots 8 mm wide, 3 mm of material between their ends and 3.5 mm between their sides in pairs."""
    across = math.isqrt(count // 8)
    up = 2 * (count // 8 // across)
    plate = draft.rectangle((0, 0), across * 23 + 10, up * 20)
    slots = [
        draft.slot((17 + i * 23, 10 + j * 20 - j % 2 * 8.5), 20, 8).reversed() for i in range(across) for j in range(up)
    ]
    return [plate, *slots]


KINDS = {
    "wavy": wavy,
    "leafy": leafy,
    "comb": comb,
    "pierced": pierced,
    "rounded comb": rounded_comb,
    "slanting comb": slanting_comb,
    "slotted": slotted,
}


def narrow_places(kind: str, count: int) -> int:
    """The number of places under LIMIT in the region of a kind that was made of about `count` segments."""
    across = math.isqrt(count // 8)
    pairs = across * (count // 8 // across)
    side_by_side, end_to_end = pairs, 2 * (pairs - count // 8 // across)
    found = {"comb": count // 4, "rounded comb": count // 4, "slanting comb": count // 8}
    return side_by_side + end_to_end if kind == "slotted" else found.get(kind, 0)
