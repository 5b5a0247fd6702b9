"""Outlines to fit lines and arcs to, and the fewest that a dynamic program finds for them.

The program knows nothing of tangents: each line or arc goes from one point of the outline to another, within the
tolerance of all between. So it may be beaten by no tangent arcs, and is a strict judge of them.
"""

import math
from functools import cache
from itertools import pairwise
from pathlib import Path

import matplotlib
import numpy as np
import shapely
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from parts.artwork import curve_points, metal_from

FONT = Path(matplotlib.get_data_path()) / "fonts/ttf/DejaVuSerif.ttf"
"""A font of curves and serifs that another library ships (Bitstream Vera licence)."""


@cache
def letters(text, cap_height=40.0):
    """Metal of letters side by side, by the even-odd rule."""
    font = TTFont(FONT)
    glyphs, names, x, made = font.getGlyphSet(), font.getBestCmap(), 0.0, []
    scale = cap_height / 1493  # of this font, in its units: the height of its H
    for letter in text:
        glyph, pen = glyphs[names[ord(letter)]], DecomposingRecordingPen(glyphs)
        glyph.draw(pen)
        made += [shapely.Polygon(ring).buffer(0) for ring in rings_of(pen.value, scale, x)]
        x += glyph.width * scale
    shape = shapely.Polygon()
    for ring in made:
        shape = shape.symmetric_difference(ring)
    return metal_from(shape)


def rings_of(commands, scale, x):
    """The rings that a pen drew, flattened by the tree."""
    rings, points, at = [], [], (0.0, 0.0)
    for command, operands in commands:
        to = [(px * scale + x, py * scale) for px, py in operands]
        if command == "moveTo":
            points, at = [], to[0]
        elif command == "lineTo":
            points, at = [*points, at], to[0]
        elif command == "qCurveTo":
            middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(to[:-1])]
            for control, end in zip(to[:-1], [*middles, to[-1]], strict=True):
                points, at = [*points, *curve_points([at, control, end])], end
        elif command == "closePath":
            rings.append([*points, at])
    return [ring for ring in rings if len(ring) > 2]


def ellipse(a, b):
    """Metal of an ellipse, its chords within 0.005 mm of it and turning by under 6 degrees."""
    points, t = [], 0.0
    while t < 2 * math.pi - 1e-9:
        points.append((a * math.cos(t), b * math.sin(t)))
        speed = math.hypot(a * math.sin(t), b * math.cos(t))
        radius = speed**3 / (a * b)
        t += 0.9 * min(math.sqrt(8 * 0.005 * radius), math.radians(6) * radius) / speed
    return shapely.MultiPolygon([shapely.Polygon(points)])


def coast(number, count=400, radius=150.0, rough=0.5):
    """Metal of an island whose coast is a sum of waves, the shorter the lower: it turns at every point."""
    random = np.random.default_rng(number)
    t = np.linspace(0, 2 * math.pi, count, endpoint=False)
    far = np.full(count, radius)
    for k in range(2, count // 4):
        far += rough * radius / 4 * random.normal() / k**1.6 * np.cos(k * t + random.uniform(0, 2 * math.pi))
    return metal_from(shapely.Polygon(np.column_stack([far * np.cos(t), far * np.sin(t)])))


def noisy_ring(number, radius=30.0, count=400, noise=0.02):
    """Metal of a ring with three lobes whose points are off by a little."""
    random = np.random.default_rng(number)
    t = np.linspace(0, 2 * math.pi, count, endpoint=False)
    off = np.convolve(random.normal(0, noise, count + 3), np.full(4, 0.25), "valid")
    far = radius * (1 + 0.15 * np.cos(3 * t)) + off
    return shapely.MultiPolygon([shapely.Polygon(np.column_stack([far * np.cos(t), far * np.sin(t)]))])


def fewest(points, tolerance, closed, window=120):
    """The fewest lines and arcs along points (n x 2), by dynamic programming; of a closed row from several starts."""
    if not closed:
        return _fewest(points, tolerance, window)
    twice, n, reach = np.vstack([points, points[1:]]), len(points) - 1, 1
    while reach < min(n - 1, window) and _is_one(twice, 0, reach + 1, tolerance):
        reach += 1
    return min(_fewest(twice[s : s + n + 1], tolerance, window) for s in range(0, reach, max(reach // 3, 1)))


def _fewest(points, tolerance, window):
    cost = np.full(len(points), 10**9)
    cost[0] = 0
    for j in range(1, len(points)):
        misses = 0
        for i in range(j - 1, max(-1, j - window), -1):
            if cost[i] + 1 >= cost[j]:
                continue
            if _is_one(points, i, j, tolerance):
                cost[j], misses = cost[i] + 1, 0
            elif (misses := misses + 1) > 3:
                break
    return int(cost[-1])


def _is_one(points, i, j, tolerance):
    """Whether one line or arc from one point to another is near all between.

    The angle that a point sees both ends under tells the arc through it; a small move of it takes, of that angle, the
    move times the chord over both its distances.
    """
    if j - i < 2:
        return True
    start, end = points[i], points[j]
    chord, between = end - start, points[i + 1 : j]
    length = math.hypot(*chord)
    if length < 1e-9:
        return False
    a, b = between - start, between - end
    cross, dot = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1)
    half = np.where(cross > 0, -1, 1) * (math.pi - np.abs(np.arctan2(cross, dot)))
    room = tolerance * length / (np.hypot(*a.T) * np.hypot(*b.T))
    low, high = (half - room).max(), (half + room).min()
    if low > high or abs(low + high) > 3.4:
        return False
    middles = (points[i:j] + points[i + 1 : j + 1]) / 2
    return _off(np.vstack([between, middles]), start, end, (low + high) / 2) <= tolerance * 1.0001


def _off(points, start, end, half):
    chord = end - start
    length = math.hypot(*chord)
    across = np.array([-chord[1], chord[0]]) / length
    if abs(half) < 1e-7:
        return float(np.abs((points - start) @ across).max())
    centre = (start + end) / 2 + across * (length / 2 / math.tan(half))
    return float(np.abs(np.hypot(*(points - centre).T) - length / 2 / math.sin(abs(half))).max())
