"""Profiles by number: one seed, one region, the same on every machine; its loops sound and the region on their left.

Kinds: plates with holes, slots and windows; grids of equal holes; combs with fingers and necks; bent strips; nearly
parallel strips; rings; wild outlines of lines and arcs; outlines of arcs tangent to each other; hollow stars with
cusps. Any of them may have its segments split, its corners cut off or rounded by next to nothing, and be turned.
"""

import itertools
import math
from collections.abc import Callable
from random import Random

from parts.errors import GeometryError
from parts.geometry import draft
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.geometry.segment import Arc, Line, Segment
from parts.profile import Opening, Profile
from parts.spec.faults import loop_faults


def region(seed: int) -> tuple[list[Loop], float]:
    """The loops of region number `seed`, and a limit in mm to look below."""
    rng = Random(seed)
    while True:
        loops = _sound(rng)
        if loops:
            return loops, rng.choice([2.0, 3.5, 6.0, 6.0, 10.0])


def _sound(rng: Random) -> list[Loop]:
    try:
        first, *others = rng.choice(KINDS)(rng)
        if rng.random() < 0.3:
            first, *others = (_split(rng, loop) for loop in (first, *others))
    except GeometryError:
        return []
    turned = rotation(rng.choice([0.0, rng.uniform(-3, 3), math.pi / 4, math.pi / 2]), (rng.uniform(-5, 5), 3.0))
    kept = Profile((turned.loop(first),))
    if any(loop_faults(kept)):
        return []
    for loop in others:
        wider = Profile(kept.outside, (*kept.inside, Opening(turned.loop(loop))))
        kept = kept if any(loop_faults(wider)) else wider
    return list(kept.boundary)


def _quarter(rng: Random, low: float, high: float) -> float:
    """Whole quarters of a millimetre two times in three, so that things lie exactly opposite or in line."""
    exact = rng.uniform(low, high)
    return max(round(exact * 4) / 4, 0.25) if rng.random() < 0.67 else exact


def _tiny(rng: Random) -> float:
    return 10 ** rng.uniform(-4.5, -1)


def _opening(rng: Random, width: float, height: float) -> Loop:
    at = rng.uniform(2, width - 2), rng.uniform(2, height - 2)
    at = (round(at[0]), round(at[1])) if rng.random() < 0.5 else at
    kind = rng.choice(["hole", "hole", "slot", "window", "round", "relief", "tiny", "star"])
    if kind == "hole":
        return draft.circle(at, _quarter(rng, 0.5, 12))
    if kind == "star":
        return _cusped(rng, at)
    turn = rotation(rng.choice([0.0, rng.uniform(0, 3), math.pi / 4, math.pi / 6]), at)
    w, h = _quarter(rng, 1, 14), _quarter(rng, 1, 8)
    if kind == "slot":
        return turn.loop(draft.slot(at, w + h, h))
    corners = [(at[0] + x * w / 2, at[1] + y * h / 2) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    size = _tiny(rng) if kind == "tiny" else min(w, h) * rng.uniform(0.1, 0.45)
    treat = {"window": None, "relief": draft.relief, "tiny": rng.choice([draft.fillet, draft.chamfer])}
    made = treat.get(kind, draft.fillet)
    return turn.loop(draft.polygon([made(x, y, size) if made else (x, y) for x, y in corners]))


def _cusped(rng: Random, at: tuple[float, float]) -> Loop:
    """A hole between arcs; those of a quarter turn are tangent at its points."""
    count, radius, turn = rng.choice([3, 4, 4, 5]), rng.uniform(2, 7), rng.uniform(0, 2)
    bulge = rng.choice([-math.tan(math.pi / 8), -0.3, -0.2])
    return Loop.through(
        (at[0] + radius * math.cos(turn + i * 2 * math.pi / count),
         at[1] + radius * math.sin(turn + i * 2 * math.pi / count), bulge)
        for i in range(count)
    )  # fmt: skip


def _plate(rng: Random) -> list[Loop]:
    w, h = rng.choice([(40.0, 30.0), (rng.uniform(20, 60), rng.uniform(15, 40))])
    size, treat = _quarter(rng, 0.25, 5), rng.choice([draft.fillet, draft.chamfer, None])
    corners = ((0, 0), (w, 0), (w, h), (0, h))
    outside = draft.polygon([treat(x, y, size) if treat else (x, y) for x, y in corners])
    return [outside, *(_opening(rng, w, h) for _ in range(rng.randint(1, 6)))]


def _grid(rng: Random) -> list[Loop]:
    """Equal holes at equal distances: many places of one width."""
    nx, ny, d = rng.randint(1, 5), rng.randint(1, 4), _quarter(rng, 2, 6)
    px, py = d + _quarter(rng, 0.25, 5), d + _quarter(rng, 0.25, 5)
    edge = d / 2 + _quarter(rng, 0.25, 4)
    w, h = 2 * edge + (nx - 1) * px, 2 * edge + (ny - 1) * py
    turn = rng.choice([0.0, 0.4])
    shape: Callable[[tuple[float, float]], Loop] = rng.choice(
        [lambda at: draft.circle(at, d), lambda at: rotation(turn, at).loop(draft.rectangle(at, d / 2, d / 2))]
    )
    inside = [shape((edge + i * px, edge + j * py)) for i in range(nx) for j in range(ny)]
    return [draft.rectangle((0, 0), w, h), *inside]


def _comb(rng: Random) -> list[Loop]:
    top: list[list[tuple[float, float]]] = []
    bottom: list[list[tuple[float, float]]] = []
    depth, every = rng.uniform(8, 18), _quarter(rng, 2, 8)
    for rows, up in ((bottom, True), (top, False)):
        x = _quarter(rng, 2, 8)
        regular = rng.random() < 0.5
        while x < 34:
            width = every / 2 if regular else _quarter(rng, 0.5, 4)
            taper = 0.0 if regular else rng.choice([0.0, rng.uniform(-0.2, 1), 1e-5, 1e-7])
            far = depth if regular else rng.uniform(9, 18)
            y, tip = (0.0, far) if up else (30.0, 30 - far)
            rows.append([(x - taper, y), (x, tip), (x + width, tip), (x + width + taper, y)])
            x += width + taper + (every if regular else rng.uniform(0.8, 10))
    radius = rng.choice([0.0, _tiny(rng), 0.2])

    def treated(p: tuple[float, float]) -> draft.Corner | tuple[float, float]:
        return draft.fillet(*p, radius) if radius and 0 < p[1] < 30 else p

    lower = [treated(p) for notch in bottom for p in notch]
    upper = [treated(p) for notch in reversed(top) for p in reversed(notch)]
    return [draft.polygon([(0.0, 0.0), *lower, (44.0, 0.0), (44.0, 30.0), *upper, (0.0, 30.0)])]


def _strip(rng: Random) -> list[Loop]:
    a, b, c, d = (_quarter(rng, 1.5, 8) for _ in range(4))
    corners = rng.choice([
        [(0, 0), (30, 0), (30, a), (b, a), (b, 30), (0, 30)],
        [(0, 0), (30, 0), (30, 25), (30 - c, 25), (30 - c, a), (b, a), (b, 20), (0, 20)],
        [(0, 0), (30, 0), (30, a), (15 + b, a), (15 + b, 25), (15 - c, 25), (15 - c, a), (0, a)],
        [(0, 0), (30, 0), (30, 20), (30 - c, 20 + d), (24 - c, 20 - d / 2), (30 - c, a + 2), (b, a), (0, 20)],
    ])  # fmt: skip
    radii = rng.choice([[0.0], [0.0, 0.5, 2.0], [_tiny(rng)], [a, b, c]])
    outside = draft.polygon(draft.fillet(x, y, rng.choice(radii)) for x, y in corners)
    return [outside, *(_opening(rng, 30, 25) for _ in range(rng.randint(0, 2)))]


def _sliver(rng: Random) -> list[Loop]:
    """A strip whose sides are parallel, or all but."""
    lean, width, length = rng.choice([0.0, 10 ** rng.uniform(-6.5, -1)]), _quarter(rng, 1, 6), rng.uniform(10, 50)
    knee = rng.uniform(0.2, 0.8) * length
    step = rng.choice([0.0, 10 ** rng.uniform(-6, -1), -(10 ** rng.uniform(-6, -1))])
    upper = [(length, width + lean * length), (knee, width + lean * knee + step), (0.0, width)]
    return [draft.polygon([(0.0, 0.0), (length, 0.0), *upper])]


def _ring(rng: Random) -> list[Loop]:
    outer, inner = _quarter(rng, 24, 40), _quarter(rng, 6, 24)
    off = rng.choice([0.0, 10 ** rng.uniform(-6, 0), rng.uniform(0, 7)])
    turn = rng.uniform(0, 6)
    at = off * math.cos(turn), off * math.sin(turn)
    hole = rotation(rng.uniform(0, 6), at).loop(draft.circle(at, inner))
    return [rotation(rng.uniform(0, 6)).loop(draft.circle((0, 0), outer)), hole,
            *(_opening(rng, 30, 30) for _ in range(rng.randint(0, 2)))]  # fmt: skip


def _wild(rng: Random) -> list[Loop]:
    count = rng.randint(3, 14)
    steps = [rng.randint(2, 12) for _ in range(count)]
    vertices = []
    for i in range(count):
        turn, r = 2 * math.pi * sum(steps[:i]) / sum(steps), _quarter(rng, 2, 18)
        bulge = rng.choice([0.0, rng.randint(-15, 24) / 16, rng.uniform(-0.9, 1.2), rng.uniform(-0.01, 0.01)])
        vertices.append((r * math.cos(turn), r * math.sin(turn), bulge))
    return [Loop.through(vertices)]


def _wave(rng: Random) -> list[Loop]:
    """A band whose sides wave in arcs that go over into each other smoothly."""
    rise, count, turn = _quarter(rng, 2, 8), rng.randint(2, 8), rng.uniform(0.2, 1.9)
    pitch, shift = _quarter(rng, 3, 9), rng.choice([0.0, 0.5, rng.random()])
    bulge = math.tan(turn / 4)
    lower = [(i * pitch, 0.0, bulge * (-1) ** i) for i in range(count)]
    upper = [((count - i + shift) * pitch, rise, rng.choice([bulge, -bulge]) * (-1) ** i) for i in range(count)]
    return [Loop.through([*lower, (count * pitch, 0.0, 0.0), *upper, (shift * pitch, rise, 0.0)])]


def _split(rng: Random, loop: Loop) -> Loop:
    """The same loop, some of its segments in two or three pieces, some of them tiny."""
    pieces: list[Segment] = []
    for segment in loop.segments:
        shares = [rng.choice([rng.random(), 0.5, 1e-3, 1e-5, 1 - 1e-4]) for _ in range(rng.choice([0, 0, 1, 2]))]
        pieces += _cut(segment, sorted({share for share in shares if 1e-6 < share < 1 - 1e-6}))
    return Loop(tuple(pieces))


def _cut(segment: Segment, shares: list[float]) -> list[Segment]:
    stops = [0.0, *shares, 1.0]
    points = [segment.start, *(segment.at(share) for share in shares), segment.end]
    made: list[Segment] = []
    for k, (p, q) in enumerate(itertools.pairwise(points)):
        if isinstance(segment, Arc):
            made.append(Arc(p, q, math.tan((stops[k + 1] - stops[k]) * segment.sweep / 4)))
        else:
            made.append(Line(p, q))
    return made


KINDS = (_plate, _plate, _plate, _grid, _comb, _comb, _strip, _sliver, _ring, _wild, _wild, _wave)
