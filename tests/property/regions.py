"""Regions to measure the width of: strategies for plates with openings, bent strips, combs and wild outlines.

Numbers are whole quarters of a millimetre or degrees, so that things lie exactly opposite or in line as
often as in a shop's drawings; half of the regions are turned, so that they don't stay so on the axes.
"""

import math
from collections.abc import Callable

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from parts.errors import GeometryError
from parts.geometry import draft
from parts.geometry.loop import Loop
from parts.geometry.motion import rotation
from parts.profile import Opening, Profile
from parts.spec.faults import loop_faults

Region = tuple[Loop, ...]


def quarters(low: float, high: float) -> SearchStrategy[float]:
    """Whole quarters of a millimetre."""
    return st.integers(math.ceil(low * 4), math.floor(high * 4)).map(lambda n: n / 4)


DEGREES = st.integers(0, 359).map(math.radians) | st.sampled_from([0.0, math.pi / 2, math.pi / 4])


@st.composite
def opening(draw: DrawFn) -> Loop:
    """A hole, a slot or a window somewhere on a plate of 40 mm by 30 mm."""
    at = draw(quarters(2, 38)), draw(quarters(2, 28))
    kind = draw(st.sampled_from(["hole", "hole", "slot", "window", "rounded window", "relieved window"]))
    if kind == "hole":
        return draft.circle(at, draw(quarters(1, 12)))
    width, length = draw(quarters(1, 8)), draw(quarters(1, 16))
    turn = rotation(draw(DEGREES), at)
    if kind == "slot":
        return turn.loop(draft.slot(at, width + length, width))
    corner = at[0] - length / 2, at[1] - width / 2
    if kind == "window":
        return turn.loop(draft.rectangle(corner, length, width))
    radius = draw(quarters(0.25, 1.5))
    if kind == "rounded window":
        return turn.loop(draft.rectangle(corner, length, width, radius))
    (x, y), w, h = corner, length, width
    return turn.loop(draft.polygon(draft.relief(*p, radius) for p in ((x, y), (x + w, y), (x + w, y + h), (x, y + h))))


@st.composite
def plate(draw: DrawFn) -> list[Loop]:
    """A plate with treated corners and openings."""
    size = draw(quarters(0, 5))
    treat = draw(st.sampled_from([draft.fillet, draft.chamfer]))
    outside = draft.polygon(treat(x, y, size) for x, y in ((0, 0), (40, 0), (40, 30), (0, 30)))
    return [outside, *draw(st.lists(opening(), min_size=1, max_size=3))]


@st.composite
def bent_strip(draw: DrawFn) -> list[Loop]:
    """An L, a U, a T or a hook, its corners sharp or rounded, with or without a hole."""
    a, b, c, d = (draw(quarters(1.5, 8)) for _ in range(4))
    shape = draw(st.sampled_from(["L", "U", "T", "hook"]))
    corners = {
        "L": [(0, 0), (30, 0), (30, a), (b, a), (b, 30), (0, 30)],
        "U": [(0, 0), (30, 0), (30, 25), (30 - c, 25), (30 - c, a), (b, a), (b, 20), (0, 20)],
        "T": [(0, 0), (30, 0), (30, a), (15 + b, a), (15 + b, 25), (15 - c, 25), (15 - c, a), (0, a)],
        "hook": [(0, 0), (30, 0), (30, 20), (30 - c, 20 + d), (30 - c - 6, 20 - d / 2), (30 - c, a + 2),
                 (b, a), (0, 20)],
    }[shape]  # fmt: skip
    radii = st.just(0.0) | quarters(0.25, 4)
    outside = draft.polygon(draft.fillet(x, y, draw(radii)) for x, y in corners)
    return [outside, *draw(st.lists(opening(), max_size=1))]


@st.composite
def comb(draw: DrawFn) -> list[Loop]:
    """A plate notched from both sides: fingers and necks, some corners exactly opposite."""
    top, bottom = [], []
    for side, found in ((1, top), (-1, bottom)):
        x = draw(quarters(2, 8))
        while x < 34 and len(found) < 12:
            width, taper = draw(quarters(0.5, 4)), draw(quarters(-0.25, 1))
            tip = draw(quarters(9, 18))
            y, far = (30.0, 30 - tip) if side > 0 else (0.0, tip)
            notch = [(x - taper, y), (x, far), (x + width, far), (x + width + taper, y)]
            found += notch if side < 0 else [*reversed(notch)]
            x += width + taper + draw(quarters(1.5, 12))
    top = [p for i in range(len(top) - 4, -1, -4) for p in top[i : i + 4]]
    radius = draw(st.just(0.0) | quarters(0.25, 0.5))
    inner = [draft.fillet(*p, radius) if 0 < p[1] < 30 else p for p in bottom]
    upper = [draft.fillet(*p, radius) if 0 < p[1] < 30 else p for p in top]
    return [draft.polygon([(0.0, 0.0), *inner, (40.0, 0.0), (40.0, 30.0), *upper, (0.0, 30.0)])]


@st.composite
def ring(draw: DrawFn) -> list[Loop]:
    """A washer, its hole in the middle or off it, the loops begun anywhere, perhaps with a second hole."""
    at = draw(st.just((0.0, 0.0)) | st.tuples(quarters(-6, 6), quarters(-6, 6)))
    outside = rotation(draw(DEGREES)).loop(draft.circle((0, 0), draw(quarters(24, 40))))
    hole = rotation(draw(DEGREES), at).loop(draft.circle(at, draw(quarters(6, 24))))
    return [outside, hole, *draw(st.lists(opening(), max_size=1))]


@st.composite
def wild(draw: DrawFn) -> list[Loop]:
    """A star-shaped outline of lines and arcs, bowed in or out, some more than half a turn."""
    count = draw(st.integers(3, 8))
    steps = [draw(st.integers(4, 12)) for _ in range(count)]
    turns = [2 * math.pi * sum(steps[:i]) / sum(steps) for i in range(count)]
    bulges = st.just(0.0) | st.integers(-15, 24).map(lambda n: n / 16)
    vertices = []
    for turn in turns:
        r = draw(quarters(2, 14))
        vertices.append((r * math.cos(turn), r * math.sin(turn), draw(bulges)))
    return [Loop.through(vertices)]


@st.composite
def regions(draw: DrawFn, *kinds: Callable[[], SearchStrategy[list[Loop]]]) -> Region:
    """Draw the loops of a region that the loops rule finds without fault, the region on their left."""
    make = draw(st.sampled_from(kinds or (plate, bent_strip, comb, ring, wild)))
    try:
        first, *others = draw(make())
    except GeometryError:
        return draw(st.nothing())
    turned = rotation(draw(DEGREES))
    profile = Profile((turned.loop(first),), tuple(Opening(turned.loop(loop)) for loop in others))
    kept: list[Opening] = []
    for hole in profile.inside:  # an opening that meets another is left out rather than the whole region
        if not any(loop_faults(Profile(profile.outside, (*kept, hole)))):
            kept.append(hole)
    sound = Profile(profile.outside, tuple(kept))
    return sound.boundary if not any(loop_faults(sound)) else draw(st.nothing())
