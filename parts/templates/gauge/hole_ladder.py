r"""Hole ladder: round holes that step in diameter, each with its number, to find the one that a bolt or pin fits.

     ___________________________
    |   _    __     __     __   |  each hole `step` larger than the one before, `smallest` first,
    |  (_)  (__)   (  )   (  )  |  `web` of metal between them and above the largest
    |               --     --   |
    |   9    10     11     12   |  strip, with the numbers and the text
    |______ X Y TEXT ___________|

The centres stand on a line; the numbers are in the working units.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import circle, fillet, polygon
from parts.profile import Dimension, Opening, Profile
from parts.spec import MeasuringPlace, Preset, Template
from parts.templates.gauge.shared.stepped import Stepped


class GaugeHoleLadder(Stepped):
    """The lower left corner is at the origin, the holes' centres on a line."""

    @property
    def line(self) -> float:
        """How high the centres are."""
        return self.strip + self.sizes[-1] / 2

    @property
    def height(self) -> float:
        """Height of the plate over all."""
        return self.strip + self.sizes[-1] + self.web

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room."""
        yield from self.strip_problems()


def outline(p: GaugeHoleLadder) -> Profile:
    """Draw the ladder counter-clockwise, its holes from the left."""
    r = p.corner_radius
    edge = polygon([*p.base, fillet(p.width, p.height, r), fillet(0, p.height, r)])
    holes = (
        Opening(circle((x, p.line), size), f"hole of {p.say(size)}", "smallest")
        for x, size in zip(p.middles, p.sizes, strict=True)
    )
    return Profile((edge,), tuple(holes), p.marks, tuple(dimensions(p)))


def dimensions(p: GaugeHoleLadder) -> Iterator[Dimension]:
    """Yield where each length of the ladder can be measured."""
    out, x, y = p.smallest / 2 * math.sqrt(0.5), p.middles[0], p.line
    yield Dimension("smallest", (x, y), (x + out, y + out), "diameter")
    # The step is how much further the second hole reaches than the first would, set down in its place.
    far = 2 * p.web + 2 * p.smallest
    yield Dimension("step", (far, p.line), (far + p.step, p.line), "above")
    yield from p.strip_dimensions()


def readings(p: GaugeHoleLadder) -> Iterator[MeasuringPlace]:
    """Yield each hole's diameter, then from the first centre to the last and over all, which tell scale and kerf.

    Both are told twice: over all at the holes' line as well, and to the last centre from the second, or of two again.
    """
    for x, size in zip(p.middles, p.sizes, strict=True):
        yield MeasuringPlace("hole", (x - size / 2, p.line), (x + size / 2, p.line))
    yield MeasuringPlace("centres", (p.middles[0], p.line), (p.middles[-1], p.line))
    yield p.over_all
    yield p.over_all_at(p.line)
    yield MeasuringPlace("centres", (p.middles[min(1, p.steps - 2)], p.line), (p.middles[-1], p.line), far=True)


TEMPLATE = Template(
    "gauge-hole-ladder",
    "Hole ladder",
    GaugeHoleLadder,
    outline,
    summary="Round holes stepping in diameter, each numbered, to find which a bolt or a pin fits as cut.",
    cautions=("Let the ladder cool and deburr its holes before you try a pin in them: cut edges are sharp.",),
    readings=readings,
    sizes=(),
    words=("hole", "fit", "pin", "bolt", "taper", "calibration", "gauge", "test", "drill", "drill gauge"),
    presets=(
        Preset("Garden bench, M10 bolts by quarters", "smallest=10 step=0.25 text=BENCH-M10", is_metric=True),
        Preset(
            "Trail signs, 3 mm plate",
            "smallest=5 step=0.5 steps=10 web=14 thickness=3 strip=24 text=SIGNS-3 text_height=4",
            is_metric=True,
        ),
        Preset(
            "Trailer pins, 1/4 in plate",
            "smallest=1/2in step=1/16in steps=6 units=in text=PINS-1/4",
        ),
    ),
)
