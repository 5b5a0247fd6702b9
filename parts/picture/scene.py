"""A scene: the metal, painted, rusted or bare, on a wall, against the sky, or lit from behind.

What looks random is drawn from a fixed seed, so the same part gives the same picture. The light comes from the upper
left.
"""

from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter

Grey = NDArray[np.float64]
Pixels = NDArray[np.float64]
"""Rows of pixels of red, green and blue, each 0 to 255."""

_SEED = 7
_LIGHT = (-0.55, -0.65)  # to the right and down, of what is lit fully
_BLACK, _PRIMER, _STEEL = (40, 41, 44), (24, 23, 25), (150, 155, 160)
_RUSTS = ((74, 38, 24), (140, 72, 35), (193, 118, 60))
_PLASTER, _DUSK = (225, 220, 210), (42, 40, 45)
_GLOW = (255, 204, 140)
_ZENITH, _HORIZON = (108, 152, 204), (240, 229, 209)


def scene(metal: Grey, look: str, edge_px: float) -> Pixels:
    """Return the picture of a piece.

    Args:
        metal: how much of each pixel it covers, 0 to 1.
        look: one of `LOOKS`.
        edge_px: how wide its lit edges are.
    """
    background, surface = LOOKS[look]
    behind = background(metal)
    front = surface(metal.shape) + _edges(metal, edge_px)[..., None]
    return np.clip(behind + (front - behind) * metal[..., None], 0, 255)


def _noise(shape: tuple[int, ...], cells: int, octaves: int = 1, stretched: float = 1.0) -> Grey:
    """Smooth noise of mean 0 and about 1 at most: grids of random numbers, each twice as fine and half as strong."""
    rng, (high, wide) = np.random.default_rng(_SEED + cells), shape[:2]
    total = np.zeros((high, wide))
    for octave in range(octaves):
        across = max(round(cells * 2**octave * wide / max(wide, high)), 2)
        up = max(round(cells * 2**octave * stretched * high / max(wide, high)), 2)
        grid = Image.fromarray(rng.uniform(-1, 1, (up, across)).astype(np.float32))
        total += np.asarray(grid.resize((wide, high), Image.Resampling.BICUBIC), dtype=np.float64) / 2**octave
    return total


def _grain(shape: tuple[int, ...]) -> Grey:
    """Noise that differs from pixel to pixel."""
    return np.random.default_rng(_SEED).normal(0, 1, shape[:2])


def _coloured(colour: tuple[int, int, int], shade: Grey) -> Pixels:
    """A colour, lighter or darker by as much as is given for each pixel."""
    return np.array(colour, dtype=np.float64) + shade[..., None]


def _blend(stops: tuple[tuple[int, int, int], ...], where: Grey) -> Pixels:
    """Colours between those given, by a number from 0 to 1 for each pixel."""
    places = np.linspace(0, 1, len(stops))
    channels = [np.interp(where, places, [stop[i] for stop in stops]) for i in range(3)]
    return np.stack(channels, axis=-1)


def _edges(metal: Grey, edge_px: float) -> Grey:
    """How much lighter or darker the edges are for facing the light or turning from it."""
    height = gaussian_filter(metal, max(edge_px, 0.8))
    down, right = np.gradient(height)
    steep = np.abs(right).max() + np.abs(down).max() or 1.0
    lit: Grey = (_LIGHT[0] * right + _LIGHT[1] * down) * -150.0 / steep
    return lit


def _blurred(shape: Grey, sigma_px: float) -> Grey:
    """The shape blurred; a wide blur of a copy reduced first, in which nothing is lost that it would leave."""
    step = max(int(sigma_px / 3), 1)
    high, wide = shape.shape
    small = Image.fromarray((shape * 255).astype(np.float32)).reduce(step)
    soft = Image.fromarray(gaussian_filter(np.asarray(small), sigma_px / step, truncate=3.0))
    return np.asarray(soft.resize((wide, high), Image.Resampling.BILINEAR), dtype=np.float64) / 255


def _shifted(metal: Grey, by_px: int) -> Grey:
    """The shape moved right and down, as its shade falls."""
    moved = np.zeros_like(metal)
    moved[by_px:, by_px:] = metal[: metal.shape[0] - by_px, : metal.shape[1] - by_px]
    return moved


def _wall(metal: Grey) -> Pixels:
    """Plaster, with the shade of what stands off it by a bolt's head."""
    size = max(metal.shape)
    near = _blurred(_shifted(metal, size // 110), size / 220)
    wide = _blurred(_shifted(metal, size // 60), size / 45)
    plaster = _coloured(_PLASTER, 3.0 * _noise(metal.shape, 3) + 2.5 * _noise(metal.shape, 90, 2) + _grain(metal.shape))
    return plaster * (1 - 0.48 * near - 0.22 * wide)[..., None]


def _sky(metal: Grey) -> Pixels:
    """An evening sky, lighter at its foot, with soft clouds."""
    high = np.linspace(0, 1, metal.shape[0])[:, None] ** 1.4 * np.ones(metal.shape)
    clouds = np.clip(_noise(metal.shape, 3, 5, stretched=2.5) - 0.1, 0, None)
    return _blend((_ZENITH, _HORIZON), high) + 45.0 * clouds[..., None] * (1 - 0.5 * high[..., None])


def _night(metal: Grey) -> Pixels:
    """A dark wall lit by a strip of lamps behind the metal."""
    size = max(metal.shape)
    light = 0.75 * _blurred(metal, size / 40) + 0.55 * _blurred(metal, size / 14)
    wall = _coloured(_DUSK, 2.0 * _noise(metal.shape, 90, 2) + _grain(metal.shape))
    return wall + np.array(_GLOW, dtype=np.float64) * (np.clip(light, 0, 1) ** 1.2)[..., None]


def _painted(shape: tuple[int, ...]) -> Pixels:
    """Satin black, a little lighter towards the light."""
    fall = np.add.outer(np.linspace(9, -5, shape[0]), np.linspace(9, -5, shape[1]))
    return _coloured(_BLACK, fall + 0.8 * _grain(shape))


def _dark(shape: tuple[int, ...]) -> Pixels:
    """Metal seen against the light."""
    return _coloured(_PRIMER, 0.6 * _grain(shape))


def _rusted(shape: tuple[int, ...]) -> Pixels:
    """Weathered steel: patches from dark to orange, with fine pits."""
    where = 0.5 + 0.26 * _noise(shape, 5, 6)
    pits = 9.0 * np.clip(_noise(shape, 160, 2), None, 0)
    return _blend(_RUSTS, np.clip(where, 0, 1)) + (pits + 3.0 * _grain(shape))[..., None]


def _bare(shape: tuple[int, ...]) -> Pixels:
    """Steel as ground with a flap disk: fine lines along, a soft band of light across."""
    lines = gaussian_filter(_grain(shape), (0.4, 14.0)) * 24.0
    band = 16.0 * np.cos(np.add.outer(np.linspace(0, 2, shape[0]), np.linspace(0, 4, shape[1])))
    return _coloured(_STEEL, lines + band)


LOOKS: Mapping[str, tuple[Callable[[Grey], Pixels], Callable[[tuple[int, ...]], Pixels]]] = {
    "painted": (_wall, _painted),
    "rusted": (_wall, _rusted),
    "bare": (_wall, _bare),
    "sky": (_sky, _dark),
    "lit": (_night, _dark),
}
"""What is behind the piece, of its mask, and its surface, of the picture's rows and columns."""
