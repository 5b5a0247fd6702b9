"""Paper: a sheet of known size in a photograph, found by its edges, and with it the plane that it lies on.

plane    where the sheet lies, mm, its lower left corner the origin, y upward
photo    pixels of the photograph, y downward

The four corners and the lens are fitted together: a straight edge that the picture shows bent is bent by the lens (one
term, k1, of D. C. Brown, Close-range camera calibration, Photogrammetric Engineering 37, 1971). Sheets by ISO 216 and
ANSI/ASME Y14.1. The proportions of a rectangle seen aslant are by Z. Zhang and L. He, Whiteboard scanning and image
enhancement, Digital Signal Processing 17, 2007 (formulas from memory).
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from parts.artwork.pictures.levels import otsu
from parts.artwork.pictures.opening import Levels, Picture
from parts.errors import Unreadable

Points: TypeAlias = NDArray[np.float64]

SHEETS: Mapping[str, tuple[float, float]] = {
    "a3": (420.0, 297.0), "a4": (297.0, 210.0), "a5": (210.0, 148.0),
    "letter": (279.4, 215.9), "legal": (355.6, 215.9), "tabloid": (431.8, 279.4),
}  # fmt: skip
"""Long and short side, mm."""
_USUAL = ("a4", "letter", "legal", "tabloid")  # of the A sheets, all alike, the one that is meant
LEAST_SHARE = 0.02
"""Of the photograph, that the sheet must be."""
LEAST_PX_PER_MM = 2.0
MOST_RESIDUAL_PX = 0.5
_MOST_ASPECT = 0.045  # of the proportions, that they may be off: half of what lies between A4 and letter
_COARSE_PX = 700
_FILLS = 0.93  # of the best quadrilateral around it, that a sheet fills


@dataclass(frozen=True, eq=False)
class Plane:
    """How a plane of mm is seen in a photograph.

    Args:
        homography: from mm to pixels as a lens without distortion would show them, 3 by 3.
        k1: of the lens: a pixel at r of half the diagonal is seen (1 + k1 r^2) times as near to the middle.
        middle: of the photograph, pixels.
        half: of its diagonal, pixels.
        corners: of the sheet in the photograph, from the upper left on clockwise, 4 by 2.
        residual_px: how far the sheet's edges are from straight, root mean square.
        px_per_mm: pixels to a mm where the sheet is smallest.
    """

    homography: Points
    k1: float
    middle: Points
    half: float
    corners: Points
    residual_px: float
    px_per_mm: float
    size_mm: tuple[float, float]

    def seen(self, at_mm: Points) -> Points:
        """Return the pixels where points of the plane are seen, n by 2."""
        flat = _mapped(self.homography, at_mm)
        off = flat - self.middle
        seen = off.copy()
        for _ in range(6):
            seen = off / (1 + self.k1 * (seen**2).sum(axis=1, keepdims=True) / self.half**2)
        return seen + self.middle

    def lies(self, seen_px: Points) -> Points:
        """Return where on the plane pixels lie, mm, n by 2."""
        return _mapped(
            np.asarray(np.linalg.inv(self.homography), dtype=np.float64),
            _straightened(seen_px, self.k1, self.middle, self.half),
        )


def plane_of(picture: Picture, sheet: str) -> Plane:
    """Return the plane of the sheet of paper in a photograph.

    Raises:
        Unreadable: if there is none, or it is cut off, too small, bent, or of other proportions; the end of a sentence.
    """
    values = picture.levels.astype(np.float32)
    start = _roughly(picture.levels)
    middle = np.array([(picture.width - 1) / 2, (picture.height - 1) / 2])
    half = math.hypot(picture.width, picture.height) / 2
    edges = [_edge(values, start[i], start[(i + 1) % 4]) for i in range(4)]
    straight, k1, residual = _fitted(start, edges, middle, half)
    if residual > MOST_RESIDUAL_PX:
        raise Unreadable(
            f"the edges of the sheet in it are {residual:.1f} pixels off straight, and {MOST_RESIDUAL_PX:g} are "
            "allowed: lay it flat, clear all four edges, and take the photograph again"
        )
    wide, high = _sides(straight, middle, sheet, max(picture.width, picture.height))
    target = np.array([(0.0, high), (wide, high), (wide, 0.0), (0.0, 0.0)])
    homography = _homography(target, straight)
    sides = [math.dist(straight[i], straight[(i + 1) % 4]) / (wide, high)[i % 2] for i in range(4)]
    if min(sides) < LEAST_PX_PER_MM:
        raise Unreadable(
            f"a mm of the sheet in it is {min(sides):.1f} pixels and at least {LEAST_PX_PER_MM:g} are needed: go nearer"
        )
    plane = Plane(homography, k1, middle, half, straight, residual, min(sides), (wide, high))
    return Plane(homography, k1, middle, half, plane.seen(target), residual, min(sides), (wide, high))


def _roughly(levels: Levels) -> Points:
    """The corners of the sheet to a pixel or two of the reduced picture, from the upper left on clockwise."""
    step = max(1, math.ceil(max(levels.shape) / _COARSE_PX))
    high, wide = (side // step for side in levels.shape)
    coarse = levels[: high * step, : wide * step].reshape(high, step, wide, step).mean(axis=(1, 3))
    first = otsu(coarse)
    light = coarse[coarse > first]
    thresholds = (first, otsu(light), (first + float(np.percentile(light, 80))) / 2)
    found = [each for threshold in thresholds for each in _patches(coarse > threshold)]
    whole = [(share, quad) for share, sides, quad in found if share >= LEAST_SHARE and not sides]
    if not whole:
        is_cut_off = any(share >= LEAST_SHARE for share, _, _ in found)
        raise Unreadable(
            "the sheet in it is cut off by the border: have all of it in the photograph" if is_cut_off
            else f"the sheet in it is under {LEAST_SHARE:.0%} of the photograph: go nearer" if found
            else "no sheet of paper is found in it: lay a white one on a darker ground, all four edges clear"
        )  # fmt: skip
    _, best = max(whole, key=lambda each: each[0])
    corners: Points = (best + 0.5) * step - 0.5
    return corners


def _patches(light: NDArray[np.bool_]) -> Iterator[tuple[float, int, Points]]:
    """Each large light quadrilateral: its share of the photograph, how many borders it touches, its corners."""
    from scipy import ndimage  # noqa: PLC0415 - where no photograph is asked for

    labels, _ = ndimage.label(light)
    sizes = np.bincount(labels.ravel())
    sizes[0] = 0
    for label in np.argsort(sizes, kind="stable")[::-1][:4]:
        patch = ndimage.binary_fill_holes(labels == label)
        sides = sum(bool(side.any()) for side in (patch[0], patch[-1], patch[:, 0], patch[:, -1]))
        share = float(patch.mean())
        if share > LEAST_SHARE / 4 and sides < 3 and (quad := _quadrilateral(patch)) is not None:  # 3: the table
            yield share, sides, quad


def _quadrilateral(patch: NDArray[np.bool_]) -> Points | None:
    """The corners of a patch that is a quadrilateral, clockwise as seen from the upper left one; None of any other."""
    rows, columns = np.nonzero(patch)
    hull = shapely.MultiPoint(np.stack([columns, rows], axis=1).astype(np.float64)).convex_hull
    if not isinstance(hull, shapely.Polygon):
        return None
    tolerance = 1.0
    while len(hull.exterior.coords) > 13:
        hull = shapely.Polygon(np.asarray(hull.exterior.simplify(tolerance).coords))
        tolerance *= 1.4
    found = np.array(hull.exterior.coords[:-1])
    if len(found) < 4:
        return None
    quads = (found[list(pick)] for pick in combinations(range(len(found)), 4))
    best = max(quads, key=lambda quad: shapely.Polygon(quad).area)
    area = shapely.Polygon(best).area
    if not area or not _FILLS < patch.sum() / area < 2 - _FILLS:
        return None
    if not shapely.is_ccw(shapely.LinearRing(best)):  # y runs down, so what runs so is clockwise to the eye
        best = best[::-1]
    turned: Points = np.roll(best, -int(np.argmin(best.sum(axis=1))), axis=0)
    return turned


def _edge(values: NDArray[np.float32], start: Points, end: Points) -> Points:
    """Points along a side of the sheet where the brightness is halfway between the sheet's and the ground's."""
    from scipy import ndimage  # noqa: PLC0415 - where no photograph is asked for

    long = math.dist(start, end)
    along = np.linspace(0.05, 0.95, max(int(long / 3), 20))[:, None]
    at = start + along * (end - start)
    inward = np.array([start[1] - end[1], end[0] - start[0]]) / long
    reach = max(6.0, 0.015 * long)
    steps = np.arange(-reach, reach + 0.25, 0.5)
    places = at[:, None, :] + steps[None, :, None] * inward
    blurred = ndimage.gaussian_filter(values, 0.8)
    seen = ndimage.map_coordinates(blurred, [places[..., 1], places[..., 0]], order=1, mode="nearest")
    third = len(steps) // 3
    outer, inner = np.median(seen[:, :third], axis=1), np.median(seen[:, -third:], axis=1)
    contrast = inner - outer
    level = (inner + outer)[:, None] / 2
    rises = (seen[:, :-1] < level) & (seen[:, 1:] >= level)
    nearest = np.where(rises, np.abs(steps[:-1])[None, :], np.inf)
    which = np.argmin(nearest, axis=1)
    row = np.arange(len(which))
    below, above = seen[row, which], seen[row, which + 1]
    sound = np.isfinite(nearest[row, which]) & (contrast > max(8.0, 0.4 * float(np.median(contrast))))
    if sound.sum() < 12:
        raise Unreadable("an edge of the sheet in it isn't clear: lay it on a darker ground, all four edges free")
    offset = steps[which] + 0.5 * (level[:, 0] - below) / np.maximum(above - below, 1e-6)
    found: Points = (at + offset[:, None] * inward)[sound]
    fit = np.polyfit(along[sound, 0], offset[sound], 2)
    off = np.abs(offset[sound] - np.polyval(fit, along[sound, 0]))
    kept: NDArray[np.bool_] = off <= max(3 * 1.4826 * float(np.median(off)), 0.3)
    return np.asarray(found[kept], dtype=np.float64)


def _fitted(start: Points, edges: list[Points], middle: Points, half: float) -> tuple[Points, float, float]:
    """The corners without the lens, the lens, and the root mean square of what the edges are off."""
    from scipy.optimize import least_squares  # noqa: PLC0415 - where no photograph is asked for

    def off(guess: Points) -> Points:
        corners = guess[:8].reshape(4, 2)
        found = []
        for i, points in enumerate(edges):
            a, b = corners[i], corners[(i + 1) % 4]
            flat = _straightened(points, float(guess[8]), middle, half) - a
            d = (b - a) / math.dist(a, b)
            found.append(flat[:, 0] * d[1] - flat[:, 1] * d[0])
        return np.concatenate(found)

    solved = least_squares(off, np.append(start.ravel(), 0.0), loss="soft_l1", f_scale=0.5, x_scale="jac")
    return solved.x[:8].reshape(4, 2), float(solved.x[8]), float(np.sqrt(np.mean(off(solved.x) ** 2)))


def _sides(corners: Points, middle: Points, sheet: str, longest_px: float) -> tuple[float, float]:
    """The sheet's width and height as it lies, by its proportions.

    Raises:
        Unreadable: if it has other proportions than the sheet that was named.
    """
    aspect = _aspect(corners - middle, longest_px)
    long, short = SHEETS[sheet]
    wide, high = (long, short) if aspect >= 1 else (short, long)
    if abs(aspect / (wide / high) - 1) > _MOST_ASPECT:
        seen = max(aspect, 1 / aspect)
        near = min(_USUAL, key=lambda name: abs(SHEETS[name][0] / SHEETS[name][1] - seen))
        like = f", as {near} has" if abs(SHEETS[near][0] / SHEETS[near][1] / seen - 1) < _MOST_ASPECT else ""
        raise Unreadable(
            f"the sheet in it is {seen:.2f} times as long as wide{like}, and {sheet} is {long / short:.2f} times: name "
            "the sheet that it is, lying flat"
        )
    return wide, high


def _aspect(corners: Points, longest_px: float) -> float:
    """How many times as wide as high a rectangle is whose corners are seen there, from the middle of the picture."""
    m1, m2, m4, m3 = (np.append(corner, 1.0) for corner in corners)
    k2 = np.dot(np.cross(m1, m4), m3) / np.dot(np.cross(m2, m4), m3)
    k3 = np.dot(np.cross(m1, m4), m2) / np.dot(np.cross(m3, m4), m2)
    n2, n3 = k2 * m2 - m1, k3 * m3 - m1
    focal = (1.0 * longest_px) ** 2
    if abs(n2[2] * n3[2]) > 1e-3:
        focal = float(np.clip(-(n2[0] * n3[0] + n2[1] * n3[1]) / (n2[2] * n3[2]), 0.4 * focal, 9 * focal))

    def length(n: Points) -> float:
        return math.sqrt((n[0] ** 2 + n[1] ** 2) / focal + n[2] ** 2)

    return length(n2) / length(n3)


def _homography(source: Points, target: Points) -> Points:
    """The homography that takes four points to four others (direct linear transformation)."""
    rows = []
    for (x, y), (u, v) in zip(source, target, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    solved = np.linalg.solve(np.array(rows), target.ravel())
    return np.append(solved, 1.0).reshape(3, 3)


def _mapped(homography: Points, points: Points) -> Points:
    made = np.column_stack([points, np.ones(len(points))]) @ homography.T
    found: Points = made[:, :2] / made[:, 2:]
    return found


def _straightened(points: Points, k1: float, middle: Points, half: float) -> Points:
    off = points - middle
    found: Points = middle + off * (1 + k1 * (off**2).sum(axis=1, keepdims=True) / half**2)
    return found
