r"""Kerf comb: open slots that step in width, each with its number, to find the one that a plate's edge fits.

     ___   ___    ___     ____   each slot `step` wider than the one before, `smallest` first,
    |   | |   |  |   |   |    |  `web` of metal between them
    |   | |   |  |   |   |    |  depth, to the round bottom
    |   \_/   \__/   \___/    |
    |    9     9.5     10     |  strip, with the numbers and the text
    |_____ X Y TEXT __________|

The slots' bottoms are round, so that they have no corner that the jet can't reach.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import MeasuringPlace, Preset, Template, length
from parts.templates.gauge.shared.stepped import Stepped


class GaugeKerfComb(Stepped):
    """The lower left corner is at the origin, the slots open upward."""

    smallest: float = length("Narrowest slot", default=6, minimum=1, maximum=200, group="Sizes")
    step: float = length("Step from one to the next", default=0.5, minimum=0.05, maximum=50, group="Sizes")
    depth: float = length(
        "Depth of the slots", default=35, minimum=3, maximum=500, group="Sizes", help="Over all.", moves="care"
    )

    @property
    def height(self) -> float:
        """Height of the plate over all."""
        return self.strip + self.depth

    def problems(self) -> Iterator[Problem]:
        """Yield what has no room."""
        yield from self.over("depth", self.sizes[-1], "for the widest slot to have straight sides")
        yield from self.strip_problems()


def outline(p: GaugeKerfComb) -> Profile:
    """Draw the comb counter-clockwise, its slots from right to left."""
    top, corners = p.height, [*p.base, fillet(p.width, p.height, p.corner_radius)]
    path: list[Corner | Point] = [*corners]
    for x, size in zip(reversed(p.middles), reversed(p.sizes), strict=True):
        a, b, r = x - size / 2, x + size / 2, size / 2
        path += [(b, top), fillet(b, p.strip, r), fillet(a, p.strip, r), (a, top)]
    path.append(fillet(0, top, p.corner_radius))
    return Profile((polygon(path),), (), p.marks, tuple(dimensions(p)))


def dimensions(p: GaugeKerfComb) -> Iterator[Dimension]:
    """Yield where each length of the comb can be measured."""
    first, second, top = p.web, 2 * p.web + p.smallest, p.height
    yield Dimension("smallest", (first, top), (first + p.smallest, top), "above")
    # The step is how much further the second slot reaches than the first would, set down in its place.
    yield Dimension("step", (second + p.smallest, top), (second + p.smallest + p.step, top), "above")
    yield Dimension("depth", (p.width, p.strip), (p.width, top), "right")
    yield from p.strip_dimensions()


def readings(p: GaugeKerfComb) -> Iterator[MeasuringPlace]:
    """Yield the width of each slot, half way down its straight sides, and the plate's length, below and beside them."""
    for x, size in zip(p.middles, p.sizes, strict=True):
        middle = p.height - (p.depth - size / 2) / 2
        yield MeasuringPlace("inside", (x - size / 2, middle), (x + size / 2, middle), far=True)
    yield p.over_all
    yield p.over_all_at(p.strip + p.depth / 2)


TEMPLATE = Template(
    "gauge-kerf-comb",
    "Kerf comb",
    GaugeKerfComb,
    outline,
    summary="Open slots stepping in width, each numbered, to find which a plate's edge fits and what the jet takes.",
    cautions=("Let the comb cool and deburr its slots before you try a plate in them: cut edges are sharp.",),
    readings=readings,
    sizes=(),
    words=("kerf", "slot", "fit", "tab", "comb", "calibration", "gauge", "test"),
    presets=(
        Preset(
            "Tabs in 3 mm plate",
            "smallest=3.5 step=0.25 thickness=3 depth=25 text=TABS-3 text_height=4",
            is_metric=True,
        ),
        Preset(
            "Garden bench slats, 10 mm plate",
            "smallest=10 steps=6 web=18 depth=45 thickness=10 text=SLATS-10",
            is_metric=True,
        ),
        Preset(
            "Trailer cross-members, 1/4 in plate",
            "step=1/32in steps=6 units=in text=CROSS-1/4 text_height=4mm",
        ),
    ),
)
