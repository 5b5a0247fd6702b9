"""Narrow places of a region by brute force: what the exact search is held against.

Each loop is a closed curve walked by its length. The distance D(s, t) between two places of the boundary
is tabled on a grid; from each low point of the table a direct search (compass steps that halve) walks down
to a local minimum. A minimum is a narrow place where D is no shorter in any direction around it, no sample
of the boundary lies in the circle on the chord, and the middle of the chord lies in the region. Places of
one width side by side are one run. Nothing here comes from parts/geometry but the loops' own numbers.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.geometry.loop import Loop
from parts.geometry.segment import Arc

STEP = 0.4
"""Between grid points, mm."""
FINE = 0.02
"""Between the samples that the circle has to be empty of, mm."""
AROUND = np.array([(math.cos(a), math.sin(a)) for a in np.arange(48) * math.pi / 24])
PROBE = 2e-3
"""How far around a minimum it is tried whether the chord gets shorter, mm."""


class Curve:
    """One loop by its length: arrays of one row a segment."""

    def __init__(self, loop: Loop) -> None:
        rows = [_row(segment) for segment in loop.segments]
        self.table = np.array(rows)
        self.stops = np.concatenate([[0.0], np.cumsum(self.table[:, 0])])
        self.length = float(self.stops[-1])

    def at(self, s: np.ndarray) -> np.ndarray:
        """Points at the lengths `s`, taken round the loop."""
        s = np.mod(s, self.length)
        k = np.clip(np.searchsorted(self.stops, s, side="right") - 1, 0, len(self.table) - 1)
        length, ax, ay, bx, by, cx, cy, radius, angle, sweep = np.moveaxis(self.table[k], -1, 0)
        f = (s - self.stops[k]) / length
        turned = angle + f * sweep
        bent = radius > 0
        x = np.where(bent, cx + radius * np.cos(turned), ax + f * (bx - ax))
        y = np.where(bent, cy + radius * np.sin(turned), ay + f * (by - ay))
        return np.stack([x, y], axis=-1)

    def samples(self, step: float) -> np.ndarray:
        """Lengths at even steps, and every joint."""
        even = np.arange(0.0, self.length, step)
        return np.unique(np.concatenate([even, self.stops[:-1]]))


def _row(segment) -> tuple[float, ...]:
    """Length, ends, then centre, radius, first angle and sweep of an arc, from ends and bulge by the sagitta."""
    (ax, ay), (bx, by) = segment.start, segment.end
    chord = math.hypot(bx - ax, by - ay)
    if not isinstance(segment, Arc):
        return (chord, ax, ay, bx, by, 0.0, 0.0, 0.0, 0.0, 0.0)
    rise = abs(segment.bulge) * chord / 2
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    left = (radius - rise) * math.copysign(1, segment.bulge)
    cx = (ax + bx) / 2 - left * (by - ay) / chord
    cy = (ay + by) / 2 + left * (bx - ax) / chord
    sweep = 4 * math.atan(segment.bulge)
    return (radius * abs(sweep), ax, ay, bx, by, cx, cy, radius, math.atan2(ay - cy, ax - cx), sweep)


@dataclass(frozen=True)
class Place:
    """A narrow place: chord widths and middles of the points found on it; `sure` unless on a tolerance's edge."""

    width: float
    middles: np.ndarray
    sure: bool
    ends: tuple[Curve, float, Curve, float]


class Region:
    """The region on the left of some loops."""

    def __init__(self, loops: Sequence[Loop]) -> None:
        self.curves = [Curve(loop) for loop in loops]
        self.fine = [curve.at(curve.samples(FINE)) for curve in self.curves]
        self.all_fine = np.concatenate(self.fine)

    def contains(self, p: np.ndarray) -> bool:
        """Whether a point away from the boundary lies inside, by rays through the sampled loops."""
        crossings = 0
        for ring in self.fine:
            a, b = ring, np.roll(ring, -1, axis=0)
            over = (a[:, 1] > p[1]) != (b[:, 1] > p[1])
            a, b = a[over], b[over]
            x = a[:, 0] + (p[1] - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
            crossings += int((x > p[0]).sum())
        return crossings % 2 == 1

    def places(self, limit: float) -> list[Place]:
        """The narrow places found from the grid."""
        found = []
        for i, a in enumerate(self.curves):
            for b in self.curves[i:]:
                s, t = self._starts(a, b, limit)
                for place in self._settled(a, b, s, t, limit) if len(s) else ():
                    if not any(_side_by_side(place, other) for other in found):
                        found = _with(self._run_through(place), found)
        return found

    def confirms(self, start, end, limit: float) -> Place | None:
        """The narrow place at a chord, searched from its ends; None where there is none."""
        near = []
        for p in (start, end):
            best = min(((float(np.hypot(*(ring - p).T).min()), k) for k, ring in enumerate(self.fine)), default=None)
            curve = self.curves[best[1]]
            s = curve.samples(FINE)
            at = s[int(np.argmin(np.hypot(*(self.fine[best[1]] - p).T)))]
            local = at + np.linspace(-2 * FINE, 2 * FINE, 4001)
            near.append((curve, float(local[np.argmin(np.hypot(*(curve.at(local) - p).T))])))
        (a, s), (b, t) = near
        settled = self._settled(a, b, np.array([s]), np.array([t]), limit, step=PROBE)
        return settled[0] if settled else None

    def _starts(self, a: Curve, b: Curve, limit: float) -> tuple[np.ndarray, np.ndarray]:
        s, t = a.samples(STEP), b.samples(STEP)
        p, q = a.at(s), b.at(t)
        table = np.hypot(p[:, None, 0] - q[None, :, 0], p[:, None, 1] - q[None, :, 1])
        low = table < limit + STEP
        for ds in (-1, 0, 1):
            for dt in (-1, 0, 1):
                low &= table <= np.roll(table, (ds, dt), axis=(0, 1)) + 1e-9
        i, j = np.nonzero(low & (table > 1e-6))
        return s[i], t[j]

    def _settled(
        self, a: Curve, b: Curve, s: np.ndarray, t: np.ndarray, limit: float, step: float = STEP / 2
    ) -> list[Place]:
        s, t, d = _walked_down(a, b, s, t, step)
        ds, dt = (AROUND * PROBE).T
        around = _apart(a, b, s[:, None] + ds, t[:, None] + dt)
        minimal = (around >= d[:, None] - 1e-9).all(axis=1) & (d > 1e-3) & (d < limit + 1e-6)
        places = []
        for sp, tp, width in zip(s[minimal], t[minimal], d[minimal], strict=True):
            middle = (a.at(sp) + b.at(tp)) / 2
            clear = float(np.hypot(*(self.all_fine - middle).T).min()) - width / 2
            if clear < -1e-3 or not self.contains(middle):
                continue
            sure = clear > -1e-6 and width < limit - 1e-6
            places.append(Place(float(width), middle[None, :], sure, (a, sp, b, tp)))
        return places

    def _run_through(self, place: Place) -> Place:
        """The place with the middles of the chords of its width to either side of it."""
        middles = [place.middles]
        for way in (-1, 1):
            a, s, b, t = place.ends
            while len(middles) < 4000:
                s += way * STEP / 4
                reach = t + np.linspace(-2 * STEP, 2 * STEP, 1601)
                t = float(reach[np.argmin(np.hypot(*(b.at(reach) - a.at(np.array(s))).T))])
                p, q = a.at(np.array(s)), b.at(np.array(t))
                middle = (p + q) / 2
                clear = float(np.hypot(*(self.all_fine - middle).T).min()) - place.width / 2
                if abs(float(np.hypot(*(p - q))) - place.width) > 1e-5 or clear < -1e-4:
                    break
                middles.append(middle[None, :])
        return replace(place, middles=np.concatenate(middles))


def _apart(a: Curve, b: Curve, s: np.ndarray, t: np.ndarray) -> np.ndarray:
    return np.hypot(*np.moveaxis(a.at(s) - b.at(t), -1, 0))


def _walked_down(a: Curve, b: Curve, s: np.ndarray, t: np.ndarray, first: float) -> tuple[np.ndarray, ...]:
    """Each start walked down by compass steps until they are 1e-8 mm."""
    s, t = s.copy(), t.copy()
    d = _apart(a, b, s, t)
    step = np.full(len(s), first)
    for _ in range(400):
        going = step > 1e-8
        if not going.any():
            break
        ds, dt = AROUND[:, 0] * step[going, None], AROUND[:, 1] * step[going, None]
        tried = _apart(a, b, s[going, None] + ds, t[going, None] + dt)
        best = np.argmin(tried, axis=1)
        rows = np.arange(len(best))
        better = tried[rows, best] < d[going] - 1e-13
        s[going] += np.where(better, ds[rows, best], 0.0)
        t[going] += np.where(better, dt[rows, best], 0.0)
        d[going] = np.where(better, tried[rows, best], d[going])
        step[going] = np.where(better, step[going] * 1.5, step[going] / 2)
    return s, t, d


def _with(place: Place, found: list[Place]) -> list[Place]:
    """The places found, one more or those beside it made one with it."""
    beside = [other for other in found if _side_by_side(place, other)]
    apart = [other for other in found if all(other is not one for one in beside)]
    middles = np.concatenate([one.middles for one in (place, *beside)])
    return [*apart, replace(place, middles=middles, sure=any(one.sure for one in (place, *beside)))]


def _side_by_side(a: Place, b: Place) -> bool:
    apart = a.middles[:, None] - b.middles[None, :]
    near = float(np.hypot(apart[..., 0], apart[..., 1]).min()) <= STEP
    return near and abs(a.width - b.width) <= 1e-6
