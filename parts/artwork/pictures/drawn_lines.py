"""Drawn lines: what a pen's lines enclose, as on a sketch of a part, the edge in the middle of each line.

Every patch of paper that the lines part from the rest has a depth: that at the border is the ground, what lies one line
further in is metal, the next a hole. The edge is where the distances to metal and to what is none are equal, so a line
that ends in the midst of a patch changes nothing.
"""

from collections import deque

import numpy as np
from numpy.typing import NDArray

from parts.artwork.pictures.levels import Grey, is_mostly_dark_at_border
from parts.artwork.pictures.shapes import NOTHING, Contours, Shows, level_lines
from parts.errors import Unreadable

_LEAST_PATCH_PX2 = 30.0
_GAPS_PX = (0, 2, 5, 10)
"""Gaps in lines that are closed: the least that lets them enclose a share of the picture, and next to no more then."""
_SETTLED = 0.02
MOST_PATCHES = 3000


def enclosed(grey: Grey, *, share: float = 0.5, shows: Shows = "auto") -> Contours:
    """Return the level lines half-way across the lines that are drawn.

    Raises:
        Unreadable: if the lines enclose nothing, or far too many patches; the end of a sentence.
    """
    from scipy import ndimage  # noqa: PLC0415 - where no picture is asked for

    level = grey.level(share)
    is_light = shows == "light" or (shows == "auto" and is_mostly_dark_at_border(grey.values, level))
    ink = grey.values > level if is_light else grey.values < level
    ink = np.pad(ink, 1)
    best, before = None, 0.0
    for gap in _GAPS_PX:
        metal, other = _patches(_closed(ink, gap))
        area = float(metal.sum())
        if best is not None and area <= before * (1 + _SETTLED):
            break
        if area:
            best, before = (metal, other), area
    if best is None:
        raise Unreadable(f"its lines enclose nothing: close the outline, or take it as filled. Else {NOTHING}")
    metal, other = best
    nearness = ndimage.distance_transform_edt(~other) - ndimage.distance_transform_edt(~metal)
    field = ndimage.gaussian_filter(nearness.astype(np.float32), 1.0)
    return level_lines(field[1:-1, 1:-1], is_light=is_light)


def _closed(ink: NDArray[np.bool_], gap: int) -> NDArray[np.bool_]:
    """Ink with gaps of up to so many pixels closed."""
    from scipy import ndimage  # noqa: PLC0415 - where no picture is asked for

    if not gap:
        return ink
    reach = gap / 2 + 0.5
    near = ndimage.distance_transform_edt(~ink) <= reach
    closed: NDArray[np.bool_] = ndimage.distance_transform_edt(near) > reach
    return closed | ink


def _patches(ink: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Where is metal by its depth, and where is none; the lines themselves are neither."""
    from scipy import ndimage  # noqa: PLC0415 - where no picture is asked for

    labels, count = ndimage.label(~ink)
    sizes = np.bincount(labels.ravel(), minlength=count + 1)
    small = sizes < _LEAST_PATCH_PX2
    small[0] = True
    small[labels[0, 0]] = False
    if (~small).sum() > MOST_PATCHES:
        raise Unreadable("its lines part it into thousands of patches; take a plainer picture, or take it as filled")
    labels[small[labels]] = 0
    depth = _depths(labels, count)
    is_metal = depth % 2 == 1
    is_metal[0] = False
    is_other = depth % 2 == 0
    is_other[0] = False
    return is_metal[labels], is_other[labels]


def _depths(labels: NDArray[np.int32], count: int) -> NDArray[np.int64]:
    """How many lines lie between each patch and the ground; -1 of what isn't reached."""
    from scipy import ndimage  # noqa: PLC0415 - where no picture is asked for

    nearest = ndimage.distance_transform_edt(labels == 0, return_distances=False, return_indices=True)
    whose = labels[tuple(nearest)]
    pairs = [(whose[:, :-1], whose[:, 1:]), (whose[:-1], whose[1:])]
    met = np.unique(np.concatenate([np.stack([a[a != b], b[a != b]], axis=1) for a, b in pairs]), axis=0)
    beside: dict[int, set[int]] = {}
    for a, b in met.tolist():
        beside.setdefault(a, set()).add(b)
        beside.setdefault(b, set()).add(a)
    depth = np.full(count + 1, -1, dtype=np.int64)
    ground = int(labels[0, 0])
    depth[ground] = 0
    waiting = deque([ground])
    while waiting:
        at = waiting.popleft()
        for other in sorted(beside.get(at, ())):
            if depth[other] < 0:
                depth[other] = depth[at] + 1
                waiting.append(other)
    return depth
