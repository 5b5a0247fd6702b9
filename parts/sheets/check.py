"""Check: what is wrong with a layout, by distances of outlines and not by how it was found.

Outlines are flattened, so a distance of the true ones is told to twice what that takes; the layout was made with so
much more room, and is held to the gap on the safe side. Where no gap is asked for, parts may touch and not overlap.
"""

from collections import Counter
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from parts.sheets.layout import Laid, Layout, Problem

_SLACK_MM = 2e-6


def faults(problem: Problem, layout: Layout) -> Iterator[str]:
    """Yield a sentence for whatever is wrong with a layout; none of one that can be cut."""
    wanted = Counter(problem.pieces)
    there = Counter(each.piece for laid in layout.sheets for each in laid.placements)
    there.update(each.piece for each in layout.unplaced)
    if wanted != there:
        yield "a part is missing, or there twice"
    for kind in problem.stock:
        if sum(laid.stock is kind for laid in layout.sheets) > kind.limit:
            yield "more sheets are used than there are"
    there_still = [each for laid in layout.sheets for each in laid.placements if each.is_pinned]
    if any(each not in there_still for laid in problem.begun for each in laid.placements):
        yield "a part that is pinned was moved"
    for number, laid in enumerate(layout.sheets, start=1):
        yield from (f"sheet {number}: {fault}" for fault in _on_sheet(problem, laid))


def _on_sheet(problem: Problem, laid: Laid) -> Iterator[str]:
    shapes = [each.shape for each in laid.placements]
    boxes = shapely.bounds(np.array(shapes, dtype=object))
    spills = np.array([each.piece.spill_at(each.turn_deg) for each in laid.placements])
    sides = np.array([0.0, 0.0, laid.stock.width, laid.stock.height])
    inward = (boxes - sides) * (1, 1, -1, -1) - spills[:, None]
    if inward.min() < problem.margin - _SLACK_MM:
        yield "a part is off the sheet, or in its margin"
    elif laid.stock.outline is not None:
        yield from _on_off_cut(problem, shapes, laid.stock.outline)
    needed = max(problem.gap + 2 * problem.error - _SLACK_MM, 0.0)
    tree = shapely.STRtree(shapes)
    a, b = tree.query(shapes, predicate="dwithin", distance=needed)
    if (problem.gap and np.any(a != b)) or (
        not problem.gap
        and any(
            shapely.area(shapely.intersection(shapes[i], shapes[j])) > _SLACK_MM * 1e3
            for i, j in zip(a, b, strict=True)
            if i < j
        )
    ):
        yield "two parts are nearer to each other than the gap"


def _on_off_cut(problem: Problem, shapes: list[BaseGeometry], outline: shapely.Polygon) -> Iterator[str]:
    room = shapely.distance(shapes, outline.boundary)
    inside = shapely.contains(outline, np.array(shapes, dtype=object))
    if not inside.all() or room.min() < problem.margin + problem.error - _SLACK_MM:
        yield "a part is off the off-cut, or in its margin"
