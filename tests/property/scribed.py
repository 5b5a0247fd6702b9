"""Scribed marks, judged by shapely on a flattened copy: on the metal, off the cuts, letters clear of each other."""

import shapely

from parts.geometry.loop import Loop
from tests.property.flattened import CHORD_ERROR_MM, points


def metal(part):
    """The part as shapely polygons with holes."""
    plates = shapely.union_all([shapely.Polygon(points(loop)) for loop in part.profile.outside])
    return plates.difference(shapely.union_all([shapely.Polygon(points(o.loop)) for o in part.profile.inside]))


def lines(part):
    """Each scribed path as a shapely line."""
    return [shapely.LineString(_flat(mark.path)) for mark in part.profile.marks]


def _flat(path):
    """The points of an open path: those of a loop closed straight back, the closing left out."""
    start, end = path[0].start, path[-1].end
    if start == end:
        return [*points(Loop(path)), start]
    return [point for segment in path for point in _along(segment)] + [end]


def _along(segment):
    return [segment.at(i / 16) for i in range(16)] if hasattr(segment, "bulge") else [segment.start]


def assert_marks_clear(part, least):
    """Hold every scribed line to stand on the metal, `least` mm or more from every cut."""
    plate = metal(part)
    marks = shapely.union_all(lines(part)) if part.profile.marks else shapely.Point()
    if marks.is_empty:
        return
    assert plate.contains(marks)
    assert plate.boundary.distance(marks) >= least - 2 * CHORD_ERROR_MM


def assert_labels_apart(labels, least):
    """Hold level labels to `least` mm or more from each other; their own strokes fill their boxes at most."""
    boxes = [shapely.box(*label.box) for label in labels]
    for i, box in enumerate(boxes):
        assert all(box.distance(other) >= least - 1e-9 for other in boxes[:i]), labels[i]
