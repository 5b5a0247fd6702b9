"""Regions of many segments, each of a kind of work: (loops, the region on their left) from about `count` segments."""

import math

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


KINDS = {"wavy": wavy, "leafy": leafy, "comb": comb, "pierced": pierced}
NARROW = {"wavy": 0, "leafy": 0, "comb": 1 / 4, "pierced": 0}
"""Necks a segment."""
