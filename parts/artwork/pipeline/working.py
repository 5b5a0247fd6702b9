"""The pipeline from metal to a profile's loops: islands held, thin places mended, lines and arcs fitted.

Each step takes metal and gives metal with a record of what it did, and each can be left out; only the last makes loops.
What was made is kept for a while, since a page draws the same part several times a request.
"""

from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock

import shapely

from parts.artwork.fitting import Fit, Fitted, fitted
from parts.artwork.holding import Bridge, Dropped, Held, Ties, held
from parts.artwork.metal import Metal, metal_from, pieces
from parts.artwork.sturdy import Change, Mended, Sturdy, sturdy
from parts.geometry import Loop, Point

_KEPT = 64
# How many results are kept: a few signs with the values tried around them.

_SLIVER_MM = 0.02
# What is cut and thinner than twice this is rounding: it is less than lines and arcs are fitted within.


@dataclass(frozen=True)
class Steps:
    """What is done on the way, None what isn't. `moved` has offsets of bridges that were moved by hand, by their keys."""

    ties: Ties | None = None
    moved: tuple[tuple[str, float], ...] = ()
    mending: Sturdy | None = None
    fit: Fit = Fit()


@dataclass(frozen=True)
class Made:
    """Loops to cut, and what was done for them.

    `loose` has a point of each piece that nothing holds, `unmoved` the keys of bridges that couldn't be moved as
    asked, `dropped` what was too small to be held. `changes` are the places that were mended, `moved_mm` is how
    far the outline went there at most; `deviation_mm` how far the lines and arcs are from the metal at most.
    """

    outside: tuple[Loop, ...]
    inside: tuple[Loop, ...]
    bridges: tuple[Bridge, ...] = ()
    loose: tuple[Point, ...] = ()
    unmoved: tuple[str, ...] = ()
    dropped: tuple[Dropped, ...] = ()
    changes: tuple[Change, ...] = ()
    moved_mm: float = 0.0
    deviation_mm: float = 0.0
    fitted: Fitted | None = None


_made: OrderedDict[tuple[bytes, Steps], Made] = OrderedDict()
_lock = Lock()


def made(metal: Metal, steps: Steps) -> Made:
    """Return the loops that bound metal once it is held, mended and smooth.

    Raises:
        GeometryError: nothing is left, or what is left can't be bounded by loops.
    """
    key = shapely.to_wkb(metal), steps
    with _lock:
        if key in _made:
            _made.move_to_end(key)
            return _made[key]
    found = _worked(metal, steps)
    with _lock:
        _made[key] = found
        while len(_made) > _KEPT:
            _made.popitem(last=False)
    return found


def _worked(metal: Metal, steps: Steps) -> Made:
    holding = held(metal, steps.ties, dict(steps.moved)) if steps.ties else Held(largest(metal), ())
    mended = sturdy(holding.metal, steps.mending) if steps.mending else Mended(holding.metal, (), 0.0)
    smooth = fitted(_without_slivers(mended.metal, metal), steps.fit)
    return Made(
        smooth.outside, smooth.inside, holding.bridges, holding.loose, holding.unmoved, holding.dropped,
        mended.changes, mended.moved_mm, smooth.deviation_mm, smooth,
    )  # fmt: skip


def _without_slivers(metal: Metal, before: Metal) -> Metal:
    """The metal without openings and pieces, and cuts into it, too thin to be seen, which rounding leaves in areas.

    Rings that are as they were `before` are left alone.
    """
    known = {ring.wkb for piece in pieces(before) for ring in piece.interiors}
    made = []
    for piece in pieces(metal):
        rings = [cut for ring in piece.interiors for cut in ([ring] if ring.wkb in known else _opened(ring))]
        made.append(shapely.Polygon(piece.exterior, [ring for ring in rings if not _is_sliver(ring)]))
    return metal_from(shapely.MultiPolygon([piece for piece in made if not _is_sliver(piece.exterior)]))


def _opened(ring: shapely.LinearRing) -> list[shapely.LinearRing]:
    """What is cut within a ring, without what is thinner than a sliver."""
    thin = {"quad_segs": 8, "join_style": "mitre", "mitre_limit": 20}
    shape = shapely.buffer(shapely.buffer(shapely.Polygon(ring), -_SLIVER_MM, **thin), _SLIVER_MM, **thin)
    return [part.exterior for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]


def _is_sliver(ring: shapely.LinearRing) -> bool:
    return float(shapely.Polygon(ring).area) < _SLIVER_MM / 2 * float(ring.length)


def largest(metal: Metal) -> Metal:
    """Return the largest piece alone: what is left where nothing holds the others."""
    return shapely.MultiPolygon([max(pieces(metal), key=lambda piece: piece.area)])
