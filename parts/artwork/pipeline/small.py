"""What is too small to be cut or seen, taken out of metal: slivers, and openings that no circle goes into."""

from collections.abc import Sequence

import numpy as np
import shapely

from parts.artwork.metal import Metal, metal_from, pieces

_SLIVER_MM = 0.02
# What is cut and thinner than twice this is rounding: it is less than lines and arcs are fitted within.

_TIP_MM, _HAIR_MM = 0.5, 1e-3
# How much of a tip is lost at most where slivers are taken out, since chords end in it; half of what is one anywhere.


def without_slivers(metal: Metal, before: Metal, filled: float) -> Metal:
    """Return metal without what is too thin to be seen, cut or left, which rounding leaves where areas are cut.

    Openings as they were `before` are left alone; new ones between bridges of raised metal that no circle of the
    diameter `filled` goes into are closed: the jet would only burn them out.
    """
    known = {ring.wkb for piece in pieces(before) for ring in (piece.exterior, *piece.interiors)}
    made: list[shapely.Geometry] = []
    for piece in pieces(metal):
        rings = [cut for ring in piece.interiors for cut in ([ring] if ring.wkb in known else _opened(ring))]
        kept = [ring for ring in rings if not (_is_sliver(ring) or (ring.wkb not in known and _is_under(ring, filled)))]
        edge = piece.exterior if piece.exterior.wkb in known else _smooth(piece.exterior)
        if not _is_sliver(edge):
            made.append(shapely.Polygon(edge, kept))
    return metal_from(shapely.union_all(made))


def without_small(metal: Metal, own: Sequence[shapely.Geometry], diameter: float) -> Metal:
    """Return metal with openings closed that no circle of a diameter goes into, but those that its `own` parts have."""
    known = {_place(ring) for piece in shapely.get_parts(own) for ring in piece.interiors}
    return shapely.MultiPolygon(
        [
            shapely.Polygon(
                piece.exterior, [r for r in piece.interiors if _place(r) in known or not _is_under(r, diameter)]
            )
            for piece in pieces(metal)
        ]
    )


def _place(ring: shapely.LinearRing) -> tuple[float, ...]:
    """By what a ring is known again wherever it begins: its box, to a hundredth of a millimetre."""
    return tuple(round(side, 2) for side in ring.bounds)


def _opened(ring: shapely.LinearRing) -> list[shapely.LinearRing]:
    """What is cut within a ring, without what is thinner than a sliver."""
    whole = shapely.Polygon(ring)
    shape = _unspiked(whole, _SLIVER_MM)
    if _only_tips(whole, shape):
        shape = _unspiked(whole, _HAIR_MM)
    return [part.exterior for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]


def _smooth(ring: shapely.LinearRing) -> shapely.LinearRing:
    """An edge without slits and spikes that are slivers."""
    whole = shapely.Polygon(ring)
    shape = _unslit(_unspiked(whole, _SLIVER_MM), _SLIVER_MM)
    if _only_tips(whole, shape):
        shape = _unslit(_unspiked(whole, _HAIR_MM), _HAIR_MM)
    largest: shapely.Polygon = max(shapely.get_parts(shape), key=shapely.area)
    return largest.exterior


def _only_tips(whole: shapely.Geometry, smooth: shapely.Geometry) -> bool:
    """Whether nothing but ends of tips differs: these stay as sharp as they are drawn."""
    other = _unspiked(shapely.symmetric_difference(whole, smooth), _HAIR_MM)
    return bool((shapely.length(shapely.get_parts(other)) < 2 * _TIP_MM).all())


def _unspiked(shape: shapely.Geometry, by: float) -> shapely.Geometry:
    return _grown(_grown(shape, -by), by)


def _unslit(shape: shapely.Geometry, by: float) -> shapely.Geometry:
    return _grown(_grown(shape, by), -by)


def _grown(shape: shapely.Geometry, by: float) -> shapely.Geometry:
    with np.errstate(divide="ignore", invalid="ignore"):  # edges that run on nearly straight: no mitre is made of those
        return shapely.buffer(shape, by, quad_segs=8, join_style="mitre", mitre_limit=20)


def _is_under(ring: shapely.LinearRing, diameter: float) -> bool:
    return bool(diameter) and bool(shapely.is_empty(_grown(shapely.Polygon(ring), -diameter / 2)))


def _is_sliver(ring: shapely.LinearRing) -> bool:
    return float(shapely.Polygon(ring).area) < _SLIVER_MM / 2 * float(ring.length)
