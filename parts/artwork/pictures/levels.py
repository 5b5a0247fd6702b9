"""Levels: what is dark and what is light in a picture, and the level halfway between, where an edge lies.

artwork   drawn by a program: two levels and the steps between, which say how much of a pixel is covered
scan      of a camera or a scanner: uneven light and noise; a covered share shows in linear light

The two classes are told apart by Otsu's method (N. Otsu, A threshold selection method from gray-level histograms, IEEE
Trans. SMC 9, 1979); the edge lies between their medians, which a few pixels of a third tone don't move.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from parts.artwork.pictures.opening import Levels, Picture
from parts.errors import Unreadable

Floats: TypeAlias = NDArray[np.float32]

_LINEAR = 2.2  # exponent of a display, near enough to sRGB's curve
BLUR_PX, SMOOTH_BLUR_PX = 1.0, 0.5
"""Standard deviation of the blur that takes noise and steps off before an edge is looked for; less where a program drew
smooth edges, whose levels say already how much of a pixel is covered."""
_HALF_COVERED = 0.15
"""Of the places where dark meets light, the pixels that are neither: steps have none, a smooth edge two of five."""
_DRAWN = 0.5  # share of neighbours that are exactly alike where a program drew the picture; noise leaves few
_LEAST_APART = 12.0  # levels between the medians; a blank sheet's noise has fewer
_SAMPLES = 250_000
_DIMMEST = 1e-3  # of the lightest place, as dark as light is taken to be
_MOST_UNEVEN = 5.0  # between the light in the middle and anywhere
_COARSE = 160  # pixels on the longer side of the picture that the light is fitted on


@dataclass(frozen=True, eq=False)
class Grey:
    """A picture made ready to have its edges found.

    Args:
        values: brightness, of a scan in linear light and with the light evened out; blurred.
        dark: median of the darker class.
        light: median of the lighter one.
        is_scan: whether a camera or a scanner made it.
        blur_px: by how much it was blurred.
    """

    values: Floats
    dark: float
    light: float
    is_scan: bool
    blur_px: float = BLUR_PX

    def level(self, share: float = 0.5) -> float:
        """Return the brightness so far up from the dark median to the light one."""
        return self.dark + share * (self.light - self.dark)


def otsu(values: NDArray[np.floating]) -> float:
    """Return the threshold that parts values into the two classes of the least variance within."""
    low, high = float(values.min()), float(values.max())
    if high <= low:
        return low
    counts, edges = np.histogram(values, bins=256, range=(low, high))
    middle = (edges[:-1] + edges[1:]) / 2
    below = np.cumsum(counts)
    above = below[-1] - below
    sums = np.cumsum(counts * middle)
    with np.errstate(divide="ignore", invalid="ignore"):
        between = below * above * (sums / below - (sums[-1] - sums) / above) ** 2
    between = np.nan_to_num(between)
    best = np.flatnonzero(between >= between.max() * (1 - 1e-9))
    return float(middle[best].mean() + (edges[1] - edges[0]) / 2)


def levelled(picture: Picture) -> Grey:
    """Return a picture's brightness and its two classes.

    Raises:
        Unreadable: if nothing in it is darker or lighter than the rest; the end of a sentence.
    """
    sample = _sampled(picture.levels)
    dark, light = _classes(sample)
    if light - dark < _LEAST_APART:
        raise Unreadable("nothing in it is much darker or lighter than the rest; take one with more contrast")
    is_scan = bool((np.diff(picture.levels[:: max(1, picture.height // 500)], axis=1) == 0).mean() < _DRAWN)
    values = picture.levels.astype(np.float32)
    if is_scan:
        table = ((np.arange(256) / 255) ** _LINEAR * 255).astype(np.float32)
        values = evened(table[picture.levels])
    blur = SMOOTH_BLUR_PX if not is_scan and _is_smooth(picture.levels, dark, light) else BLUR_PX
    values = _blurred(values, blur)
    dark, light = _classes(_sampled(values))
    return Grey(values, dark, light, is_scan, blur)


def coarser(grey: Grey) -> Grey:
    """Return a picture's brightness with four pixels made one, its edges smooth: each says how much it is covered.

    Where its sides are odd, the last row and column stand for themselves twice.
    """
    values = np.pad(grey.values, [(0, side % 2) for side in grey.values.shape], mode="edge")
    halved = values.reshape(values.shape[0] // 2, 2, values.shape[1] // 2, 2).mean(axis=(1, 3), dtype=np.float32)
    blur = BLUR_PX if grey.is_scan else SMOOTH_BLUR_PX
    return Grey(_blurred(halved, blur), grey.dark, grey.light, grey.is_scan, blur)


def _is_smooth(levels: Levels, dark: float, light: float) -> bool:
    """Tell whether pixels along edges say how much of them is covered, rather than step."""
    quarter = (light - dark) / 4
    level = (dark + light) / 2
    is_light = levels > level
    meet = np.count_nonzero(is_light[1:] != is_light[:-1]) + np.count_nonzero(is_light[:, 1:] != is_light[:, :-1])
    between = np.count_nonzero((levels > dark + quarter) & (levels < light - quarter))
    return bool(between > _HALF_COVERED * meet)


def _blurred(values: Floats, blur_px: float) -> Floats:
    from scipy.ndimage import gaussian_filter  # noqa: PLC0415 - where no picture is asked for

    blurred: Floats = gaussian_filter(values, blur_px, mode="nearest", truncate=3.0)
    return blurred


def _sampled(values: NDArray[np.generic]) -> NDArray[np.generic]:
    step = max(1, int((values.size / _SAMPLES) ** 0.5))
    return values[::step, ::step]


def _classes(values: NDArray[np.generic]) -> tuple[float, float]:
    """The medians of the dark and the light class."""
    plain = values.astype(np.float64).ravel()
    threshold = otsu(plain)
    is_dark = plain <= threshold
    dark, light = plain[is_dark], plain[~is_dark]
    if not dark.size or not light.size:
        return float(plain.min()), float(plain.max())
    return float(np.median(dark)), float(np.median(light))


def evened(values: Floats) -> Floats:
    """Return brightness with slow changes of the light taken out: as if it fell alike everywhere.

    The light is a parabola over the picture, fitted three times to what is its ground by then, the class that has most
    of the border: a window at one side, a lens that is darker in its corners. A shadow's edge isn't slow, and stays.
    Where the light would differ more than any does in a picture that shows anything, all stays as it is.
    """
    high, wide = values.shape
    step = max(1, max(high, wide) // _COARSE)
    coarse = values[: high // step * step, : wide // step * step]
    coarse = coarse.reshape(high // step, step, wide // step, step).mean(axis=(1, 3)).astype(np.float64)
    y, x = np.mgrid[-1 : 1 : coarse.shape[0] * 1j, -1 : 1 : coarse.shape[1] * 1j]
    terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)
    light = np.full_like(coarse, max(float(coarse.max()), 1.0))
    found = np.zeros(terms.shape[-1])
    for _ in range(3):
        ratio = coarse / light
        is_light = ratio > otsu(ratio)
        ground = is_light if _most_of_border(is_light) else ~is_light
        if ground.sum() < 10 * terms.shape[-1]:
            return values
        found, *_ = np.linalg.lstsq(terms[ground], coarse[ground], rcond=None)
        light = np.maximum(terms @ found, _DIMMEST * float(coarse.max()))
    fine = _at_every_pixel(found, (high, wide))
    middle = float(np.median(light))
    if fine.min() < middle / _MOST_UNEVEN or fine.max() > middle * _MOST_UNEVEN:
        return values
    return (values / fine * middle).astype(np.float32)


def _most_of_border(where: NDArray[np.bool_]) -> bool:
    border = np.concatenate([where[0], where[-1], where[:, 0], where[:, -1]])
    return bool(border.mean() > 0.5)


def _at_every_pixel(found: NDArray[np.float64], shape: tuple[int, int]) -> Floats:
    y = np.linspace(-1, 1, shape[0], dtype=np.float32)[:, None]
    x = np.linspace(-1, 1, shape[1], dtype=np.float32)[None, :]
    a, b, c, d, e, f = (np.float32(each) for each in found)
    surface: Floats = (a + b * x + d * x * x) + y * (c + e * x) + f * y * y
    return surface


def is_mostly_dark_at_border(values: Levels | Floats, level: float) -> bool:
    """Tell whether most of the picture's border is darker than a level: then what is light is drawn on dark."""
    return _most_of_border(values < level)
