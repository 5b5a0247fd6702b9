"""What is too small to be cut or seen, taken out of metal: slivers, and openings that no circle goes into."""

from collections.abc import Sequence

import shapely

from parts.artwork.metal import Metal, metal_from, pieces

_SLIVER_MM = 0.02
# What is cut and thinner than twice this is rounding: it is less than lines and arcs are fitted within.


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
    shape = _grown(_grown(shapely.Polygon(ring), -_SLIVER_MM), _SLIVER_MM)
    return [part.exterior for part in shapely.get_parts(shape) if part.geom_type == "Polygon"]


def _smooth(ring: shapely.LinearRing) -> shapely.LinearRing:
    """An edge without slits and spikes that are slivers."""
    shape = _grown(_grown(_grown(shapely.Polygon(ring), -_SLIVER_MM), 2 * _SLIVER_MM), -_SLIVER_MM)
    largest: shapely.Polygon = max(shapely.get_parts(shape), key=shapely.area)
    return largest.exterior


def _grown(shape: shapely.Geometry, by: float) -> shapely.Geometry:
    return shapely.buffer(shape, by, quad_segs=8, join_style="mitre", mitre_limit=20)


def _is_under(ring: shapely.LinearRing, diameter: float) -> bool:
    return bool(diameter) and bool(shapely.is_empty(_grown(shapely.Polygon(ring), -diameter / 2)))


def _is_sliver(ring: shapely.LinearRing) -> bool:
    return float(shapely.Polygon(ring).area) < _SLIVER_MM / 2 * float(ring.length)
