"""Drawn shapes come back from their pixels as they were drawn: circles whole, edges straight, corners sharp."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageDraw

from parts.geometry import Line
from parts.tracing import trace
from tests.depth import DEEP
from tests.unit.test_pictures import encoded

Pen = Callable[[ImageDraw.ImageDraw, float], object]


def about(pen: ImageDraw.ImageDraw, middle: float, wide: float, high: float, ink: int = 0) -> None:
    pen.ellipse((middle - wide, middle - high, middle + wide, middle + high), fill=ink)


def corners(pen: ImageDraw.ImageDraw, size: float, *polar: tuple[float, float]) -> None:
    pen.polygon([(size / 2 + size * r * math.sin(t), size / 2 - size * r * math.cos(t)) for t, r in polar], fill=0)


STAR = [(math.pi * i / 5, 0.45 if i % 2 == 0 else 0.18) for i in range(10)]
DRAWN: dict[str, tuple[Pen, int, int]] = {
    # drawn by; lines; segments at most, of which a whole circle is two
    "circle": (lambda pen, s: about(pen, s / 2, 0.4 * s, 0.4 * s), 0, 2),
    "ring": (lambda pen, s: (about(pen, s / 2, 0.4 * s, 0.4 * s), about(pen, s / 2, 0.2 * s, 0.2 * s, 255)), 0, 4),
    "ellipse": (lambda pen, s: about(pen, s / 2, 0.45 * s, 0.25 * s), 0, 14),
    "box": (lambda pen, s: pen.rectangle((0.15 * s, 0.2 * s, 0.85 * s, 0.8 * s), fill=0), 4, 4),
    "turned box": (lambda pen, s: corners(pen, s, *((0.2 + math.pi / 2 * i, 0.42) for i in range(4))), 4, 4),
    "star": (lambda pen, s: corners(pen, s, *STAR), 10, 12),
    "slot": (lambda pen, s: pen.rounded_rectangle((0.05 * s, 0.35 * s, 0.95 * s, 0.65 * s), 0.15 * s, fill=0), 2, 6),
}


@pytest.mark.parametrize("size", [200, 3000] if DEEP else [200])
@pytest.mark.parametrize("many", [1, 8], ids=["steps", "smooth edges"])
@pytest.mark.parametrize("shape", DRAWN)
def test_a_shape_has_the_lines_and_arcs_it_was_drawn_with(shape, many, size):
    pen, lines, most = DRAWN[shape]
    large = Image.new("L", (size * many, size * many), 255)
    pen(ImageDraw.Draw(large), size * many)
    picture = large.resize((size, size), Image.Resampling.BOX)
    found = trace(encoded(picture), "a.png", width="300mm", thickness="3mm", process="laser", sturdy="0", hold="off")
    segments = [segment for loop in found.part.profile.boundary for segment in loop.segments]
    assert len(segments) <= most
    assert sum(isinstance(segment, Line) for segment in segments) >= lines
    if shape in ("circle", "ring"):
        assert all(loop.circle for loop in found.part.profile.boundary)
    drawn = float((255.0 - np.asarray(picture, dtype=np.float64)).sum() / 255)
    assert found.part.measures.area_mm2 / found.scale**2 == pytest.approx(drawn, rel=0.005)


def test_bridges_between_shapes_of_few_pixels_are_as_straight_as_they_are_drawn():
    """Two blocks 300 mm wide together, ten millimetres to a pixel: their bridges are rectangles, by their areas."""
    picture = Image.new("L", (50, 60), 255)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((10, 10, 19, 49), fill=0)
    pen.rectangle((28, 10, 39, 49), fill=0)
    found = trace(encoded(picture), "a.png", width="300mm", thickness="3mm", process="laser")
    bridges = found.made.bridges
    assert len(found.part.profile.outside) == 1
    assert len(bridges) == 2
    holes = sum(loop.area for loop in found.made.inside)
    apart = min(math.dist(bridge.start, bridge.end) for bridge in bridges)
    low, high = sorted(bridge.start[1] for bridge in bridges)
    assert holes == pytest.approx(apart * (high - low - bridges[0].width_mm), rel=0.03)
    assert [f.message for f in found.part.findings if f.severity == "stop"] == []
