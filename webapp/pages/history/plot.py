"""Each error of a table over time, as a plot drawn like a drawing: points with their 95 % bars about nothing."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from typing import TypeAlias

from markupsafe import Markup

from parts.truing import COVERAGE, Words
from parts.truing.history import Entry
from parts.units import MM_PER_IN, Units
from webapp.wording import TITLES, said_of

WIDTH, HEIGHT = 760.0, 190.0
LEFT, RIGHT, TOP, FOOT = 76.0, 24.0, 30.0, 30.0
At: TypeAlias = Callable[[float], float]
_DAY_WIDTH = 92.0
"""Room that a date takes."""


@dataclass(frozen=True)
class PlotPoint:
    """An error as one entry tells it, in the plot's unit; `half` is half of its 95 % interval."""

    entry: Entry
    value: float
    half: float
    in_force: bool
    accepted: bool
    said: str

    @property
    def when(self) -> float:
        """When it was entered, seconds."""
        return datetime.fromisoformat(self.entry.entered).timestamp()


@dataclass(frozen=True)
class Standing:
    """How entries stand: those in force, and the one accepted."""

    in_force: frozenset[int]
    accepted: int | None


def plots(entries: Sequence[Entry], standing: Standing, units: Units) -> list[Markup]:
    """Return a plot of each error that any of the entries tells."""
    drawn = []
    for name in TITLES:
        points = sorted(_points(name, entries, standing, units), key=lambda point: (point.when, point.entry.number))
        if points:
            drawn.append(_plot(name, points, units))
    return drawn


def _points(name: str, entries: Sequence[Entry], standing: Standing, units: Units) -> Iterator[PlotPoint]:
    scale, words = _scale(name, units), Words(units)
    for entry in entries:
        if entry.what != "readings":
            continue
        estimate = entry.report(units).solution.estimates.get(name)
        if estimate is None:
            continue
        half = COVERAGE * estimate.standard_uncertainty
        said = f"{said_of(name, estimate.value, words)} \u00b1 {said_of(name, half, words, sign=False)}"
        is_accepted = entry.number == standing.accepted
        in_force = entry.number in standing.in_force
        yield PlotPoint(entry, scale * estimate.value, scale * half, in_force, is_accepted, said)


_OVER_A_LENGTH = ("scale_x", "scale_y", "out_of_square")


def _scale(name: str, units: Units) -> float:
    """What turns an error into the plot's unit: what ratios and the angle make over a length, else a length."""
    over = Words(units).span_mm if name in _OVER_A_LENGTH else 1.0
    return over / (MM_PER_IN if units == "in" else 1.0)


def _unit(name: str, units: Units) -> str:
    return f"{units} in {Words(units).span}" if name in _OVER_A_LENGTH else units


def _plot(name: str, points: Sequence[PlotPoint], units: Units) -> Markup:
    low = min(0.0, *(point.value - point.half for point in points))
    high = max(0.0, *(point.value + point.half for point in points))
    ticks = ticks_over(low, high)
    low, high = min(low, ticks[0]), max(high, ticks[-1])
    first, last = points[0].when, points[-1].when

    def x(when: float) -> float:
        middle = (LEFT + WIDTH - RIGHT) / 2
        inset = 14.0
        room = WIDTH - LEFT - RIGHT - 2 * inset
        return middle if last == first else LEFT + inset + room * (when - first) / (last - first)

    def y(value: float) -> float:
        return TOP + (HEIGHT - TOP - FOOT) * (high - value) / (high - low)

    items = [*_grid(ticks, y), *_way(points, x, y)]
    items += [line for point in points for line in _mark(point, x(point.when), y)]
    items += _dates(points, x)
    said = "; ".join(f"{point.entry.entered[:10]}: {point.said}" for point in points)
    head = (
        f'<svg class="history" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img">'
        f"<title>{TITLES[name]} over time</title><desc>{escape(said, quote=False)}</desc>"
        f'<text x="{LEFT:g}" y="18" font-weight="600">{TITLES[name]}'
        f'<tspan class="plot-soft" dx="8" font-weight="400">{_unit(name, units)}</tspan></text>'
    )
    return Markup("".join([head, *items, "</svg>"]))  # noqa: S704 - numbers, own words, and what is escaped


def ticks_over(low: float, high: float) -> list[float]:
    """Return round values, about four steps of 1, 2 or 5 times a power of ten, over a range that holds 0."""
    span = (high - low) or 1.0
    power = 10.0 ** math.floor(math.log10(span / 4))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= span / 4 * (1 - 1e-9))
    first = math.floor(low / step + 1e-9)
    return [i * step for i in range(first, max(math.ceil(high / step - 1e-9), first + 1) + 1)]


def _grid(ticks: Sequence[float], y: At) -> Iterator[str]:
    step = ticks[1] - ticks[0]
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    for tick in ticks:
        at = f"{y(tick):.1f}"
        kind = "plot-zero" if abs(tick) < step / 2 else "plot-grid"
        yield f'<path class="{kind}" d="M{LEFT:g} {at}H{WIDTH - RIGHT:g}"/>'
        said = f"{tick:.{decimals}f}".replace("-", "\u2212") if abs(tick) >= step / 2 else "0"
        yield f'<text class="plot-soft" x="{LEFT - 8:g}" y="{float(at) + 4.5:.1f}" text-anchor="end">{said}</text>'
    yield f'<path class="plot-axis" d="M{LEFT:g} {TOP:g}V{HEIGHT - FOOT:g}H{WIDTH - RIGHT:g}"/>'


def _way(points: Sequence[PlotPoint], x: At, y: At) -> Iterator[str]:
    places = [f"{x(point.when):.1f} {y(point.value):.1f}" for point in points if point.in_force]
    if len(places) > 1:
        yield f'<path class="plot-way" d="M{"L".join(places)}"/>'


def _mark(point: PlotPoint, x: float, y: At) -> Iterator[str]:
    """A bar with caps and a round point: filled where accepted, faint where a correction has replaced it."""
    old = "" if point.in_force else " plot-old"
    low, high = y(point.value - point.half), y(point.value + point.half)
    title = f"<title>Entry {point.entry.number}, {point.entry.entered[:10]}: {point.said}</title>"
    kind = "plot-taken" if point.accepted else "plot-point"
    yield f'<g class="plot-entry{old}" data-entry="{point.entry.number}">{title}'
    caps = "".join(f"M{x - 5:.1f} {end:.1f}h10" for end in (low, high))
    yield f'<path class="plot-bar" d="M{x:.1f} {low:.1f}V{high:.1f}{caps}"/>'
    yield f'<circle class="{kind}" cx="{x:.1f}" cy="{y(point.value):.1f}" r="4.5"/></g>'


def _dates(points: Sequence[PlotPoint], x: At) -> Iterator[str]:
    """The dates under the axis, each where the one before leaves room; the last one always."""
    ends = points[-1]
    one_day = points[0].entry.entered[:10] == ends.entry.entered[:10]
    taken = -_DAY_WIDTH
    for point in points:
        at = x(point.when)
        if point is not ends and (at - taken < _DAY_WIDTH or x(ends.when) - at < _DAY_WIDTH):
            continue
        taken = at
        entered = point.entry.entered
        said = entered[:10] if not one_day else entered[11:16] if point is not ends else entered[:16].replace("T", " ")
        middle = min(max(at, LEFT + 30), WIDTH - (60 if one_day else 36))
        text = escape(said, quote=False)
        yield f'<text class="plot-soft" x="{middle:.1f}" y="{HEIGHT - 8:g}" text-anchor="middle">{text}</text>'
