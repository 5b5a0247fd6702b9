"""Metal made sturdy: thin places widened, points blunted, gaps opened or closed, all else as it was."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from parts.artwork.metal import Metal, metal_from, pieces, quarter_chords
from parts.artwork.sturdy.moved import moved_within
from parts.artwork.sturdy.outline import loops_of
from parts.artwork.sturdy.records import Change, Mended, Sturdy
from parts.artwork.sturdy.thin import STRAIGHT_SHARE, Neck, Tip, lines_of, thin_places
from parts.geometry.narrow import gaps, narrow
from parts.wanted import step

_SHARPEST = math.sin(math.radians(15))
"""How the radius grows along the axis of a point of 30 degrees; a sharper one burns away (rule `outside-tip`)."""
_FINGER = math.sin(math.radians(30))
"""The same of a finger's flanks at 60 degrees (rule `finger`)."""
_NOTCH = 1 / (1 + 2 * ((math.sqrt(2) - 1) / 2 + 0.5))
"""The same of a notch that the jet doesn't reach into by half a kerf more than into a square corner (`lost-detail`)."""
_OVER_MM = 0.1
"""Places are made so much wider than asked, since lines and arcs are fitted to both sides of them within half of it."""
_SHORT_GAP = 3.0
"""A gap that leads from one wide place at most to nowhere is closed if it is no more kerfs long, else opened."""
_LAP_MM = 0.001
"""What closes a gap laps over the metal so much, or rounding would leave slits between them."""
_ROUND_END = 0.42
"""How far from a point the middle of its round end is, in bridges: so near that the point doesn't stick out."""
_WIDENS = 2.0
"""In bridges, how wide a point is where its flanks begin to lean out to its blunt end."""
_SLENDER, _BENT, _OFF_FLANK = 0.1, 0.15, 0.02
"""A point that tapers less, or is bent by more bridges, is made a finger; so is one whose flanks aren't found there."""
_SPECK_KERFS = 1.0
_LEAST_MM = 0.1
"""What is asked for and less is no more than lines and arcs are off on both sides: nothing is mended for it."""
_UNMOVED_MM = 1e-3
_PASSES = 3


class _Patch(NamedTuple):
    """Where metal is added or taken away, and the change that is told of it."""

    area: BaseGeometry
    adds: bool
    change: Change


def sturdy(metal: Metal, wanted: Sturdy) -> Mended:
    """Return metal that is nowhere too narrow for what is asked and that a jet can cut, with every place changed.

    Points of the outline that are not at a changed place stay as they are, to the last bit. Where metal and gap want
    the same room, metal has it.
    """
    asked = wanted.amount * wanted.bridge_mm, wanted.amount * wanted.kerf_mm
    bridge, kerf = (mm if mm >= _LEAST_MM else 0.0 for mm in asked)
    now, made = metal, list[_Patch]()
    near: _Near | None = None
    for number in range(_PASSES):
        cuts = list(_gap_patches(now, kerf, near, may_open=number == 0))
        now = _patched(now, cuts)
        necks = list(_metal_patches(now, bridge, kerf, near))
        now = _patched(now, necks)
        made += cuts + necks
        if not cuts and not necks:
            break
        near = _Near.of([*cuts, *necks], max(bridge, kerf))
    if not made:
        return Mended(metal, (), 0.0)
    moved = moved_within(metal, now, [patch.area for patch in made])
    told = [replace(patch.change, moved_mm=far) for patch, far in zip(made, moved, strict=True) if far > _UNMOVED_MM]
    return Mended(now, (*told, *_pieces_changed(metal, now)), max(moved, default=0.0))


@dataclass(frozen=True)
class _Near:
    """Where something was changed, and what has to be looked at to see what came of it."""

    told: BaseGeometry
    seen: BaseGeometry

    @classmethod
    def of(cls, patches: Sequence[_Patch], width: float) -> "_Near":
        boxes = shapely.bounds(np.array([patch.area for patch in patches], dtype=object))
        grown = [boxes + np.array([-far, -far, far, far]) for far in (width, 4 * width)]
        return cls(*(shapely.union_all(shapely.box(*box.T)) for box in grown))


def _thin(metal: Metal, width: float, near: _Near | None) -> tuple[list[Neck], list[Tip]]:
    """The thin places of metal, or of what of it is near changes."""
    seen = metal if near is None else metal_from(shapely.intersection(metal, near.seen))
    chords = [(neck.start, neck.end) for neck in narrow(loops_of(seen)).under(width)]
    return _told(thin_places(seen, width, chords), near)


def _thin_cut(cut: BaseGeometry, metal: Metal, kerf: float, near: _Near | None) -> tuple[list[Neck], list[Tip]]:
    """The same of what is cut between metal."""
    if near is not None:
        cut, metal = shapely.intersection(cut, near.seen), metal_from(shapely.intersection(metal, near.seen))
    return _told(thin_places(cut, kerf, [(gap.start, gap.end) for gap in gaps(loops_of(metal), kerf)]), near)


def _told(places: tuple[list[Neck], list[Tip]], near: _Near | None) -> tuple[list[Neck], list[Tip]]:
    """Those places that aren't made by looking at a part only."""
    if near is None:
        return places
    shapely.prepare(near.told)
    necks, tips = places
    return (
        [neck for neck in necks if shapely.intersects_xy(near.told, *neck.at)],
        [tip for tip in tips if shapely.intersects_xy(near.told, *tip.at)],
    )


def _patched(metal: Metal, patches: Sequence[_Patch]) -> Metal:
    if not patches:
        return metal
    taken = [patch.area for patch in patches if not patch.adds]
    whole: BaseGeometry = shapely.difference(metal, shapely.union_all(taken)) if taken else metal
    return metal_from(shapely.union_all([whole, *(patch.area for patch in patches if patch.adds)]))


def _gap_patches(metal: Metal, kerf: float, near: _Near | None, may_open: bool) -> Iterator[_Patch]:
    """Yield what mends gaps that a jet of the kerf doesn't get through, and notches that it doesn't get into."""
    if not kerf or metal.is_empty:
        return
    x0, y0, x1, y1 = metal.bounds
    around = shapely.box(x0 - 3 * kerf, y0 - 3 * kerf, x1 + 3 * kerf, y1 + 3 * kerf)
    cut = shapely.difference(around, metal)
    yield from _specks(cut, kerf)
    necks, tips = _thin_cut(cut, metal, kerf, near)
    for neck in necks:
        step()
        is_short = neck.ends < 2 and shapely.length(neck.axis) <= _SHORT_GAP * kerf
        if may_open and not is_short:
            wide = _around(neck.axis, kerf)
            yield _Patch(wide, False, Change(neck.at, "opened", neck.width))
        else:
            yield _Patch(neck.area.buffer(_LAP_MM), True, Change(neck.at, "closed", neck.width))
    for tip in tips:
        if tip.taper(kerf / 2) < _NOTCH:
            yield _Patch(tip.area.buffer(_LAP_MM), True, Change(tip.at, "closed", tip.width))


def _specks(cut: BaseGeometry, kerf: float) -> Iterator[_Patch]:
    """Yield what closes openings that are nowhere wide enough for the jet, nor long."""
    parts = shapely.get_parts(cut)
    for part in parts[shapely.area(parts) < _SPECK_KERFS * kerf**2]:
        if part.buffer(-kerf / 2).is_empty:
            x, y = part.centroid.coords[0]
            width = 2 * float(shapely.maximum_inscribed_circle(part).length)
            yield _Patch(part.buffer(_LAP_MM), True, Change((x, y), "closed", width))


def _metal_patches(metal: Metal, bridge: float, kerf: float, near: _Near | None) -> Iterator[_Patch]:
    """Yield what mends bridges and points."""
    if not bridge or metal.is_empty:
        return
    necks, tips = _thin(metal, bridge, near)
    for neck in necks:
        step()
        yield _Patch(_widened(neck, bridge), True, Change(neck.at, "widened", neck.width))
    for tip in tips:
        step()
        if tip.taper(bridge / 2) < (_FINGER if tip.width >= kerf / 2 else _SHARPEST):
            yield _Patch(_blunted(tip, bridge, metal), True, Change(tip.at, "blunted", tip.width))


def _widened(neck: Neck, bridge: float) -> BaseGeometry:
    return _around(neck.axis, bridge)


def _around(axis: BaseGeometry, width: float) -> BaseGeometry:
    """What is as wide as asked about an axis."""
    radius = (width + _OVER_MM) / 2
    return axis.buffer(radius, quad_segs=quarter_chords(radius))


def _blunted(tip: Tip, bridge: float, metal: Metal) -> BaseGeometry:
    """A tip as wide as a bridge, its round end where the tip ended."""
    outline = shapely.get_coordinates(tip.area)
    outline = outline[np.hypot(*(outline - tip.at).T) < bridge]
    inmost = tip.node[np.argmax(tip.radius)]
    end = outline[np.argmax(np.hypot(*(outline - inmost).T))] if len(outline) else np.array(tip.at)
    apart = np.hypot(*(tip.node - end).T)
    inner = apart >= min(bridge * _ROUND_END, float(apart.max()))
    edges = tip.edges[inner[tip.edges].all(axis=1)]
    middle = (
        lines_of(tip.node, edges, STRAIGHT_SHARE * bridge) if len(edges) else shapely.Point(tip.node[apart.argmax()])
    )
    blunt = _around(middle, bridge)
    flank = _flank(tip, bridge, metal)
    return blunt if flank is None or middle.is_empty else shapely.convex_hull(shapely.union_all([blunt, flank]))


def _flank(tip: Tip, bridge: float, metal: Metal) -> BaseGeometry | None:
    """A disc further in a tip that its blunt end widens from, or it would be a ball on a point; None of a bent one."""
    taper = tip.taper(bridge / 2)
    low, high = tip.node[np.argmin(tip.radius)], tip.node[np.argmax(tip.radius)]
    long = math.dist(low, high)
    if taper < _SLENDER or not long:
        return None
    along = (high - low) / long
    aside = np.abs((tip.node - low) @ np.array([-along[1], along[0]])).max()
    radius = _WIDENS * bridge / 2
    disc = shapely.Point(high + along * max(radius - float(tip.radius.max()), 0.0) / taper).buffer(radius)
    is_within = shapely.difference(disc, metal).area < _OFF_FLANK * disc.area
    return disc if aside < _BENT * bridge and is_within else None


def _pieces_changed(before: Metal, after: Metal) -> Iterator[Change]:
    """Yield where pieces that lay apart are joined, and where one was parted."""
    for one, other, kind in ((pieces(before), pieces(after), "joined"), (pieces(after), pieces(before), "parted")):
        tree = shapely.STRtree(one)
        for part in other:
            if len(tree.query(part, "intersects")) > 1:
                x, y = part.representative_point().coords[0]
                yield Change((x, y), "joined" if kind == "joined" else "parted")
