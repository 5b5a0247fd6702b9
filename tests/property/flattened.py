"""What can be cut, judged by shapely on a flattened copy: simple loops, openings inside and apart.

The copy is made here from the start, end and bulge of each segment, not by the code under test. No chord is
further than CHORD_ERROR_MM from its arc, so two loops nearer each other than twice that may be judged wrongly;
the judgements leave that much room.
"""

import csv
import math
from pathlib import Path

import numpy as np
import shapely

CHORD_ERROR_MM = 1e-4
SOURCE, *LINES = (Path(__file__).parents[1] / "reference" / "clearance_holes.csv").read_text().splitlines()
HOLES = {(row["nominal"], row["fit"].split("=")[-1]): row for row in csv.DictReader(LINES)}


def points(loop):
    """The points of a loop with its arcs flattened, not closed: an array of x and y."""
    flat = []
    for segment in loop.segments:
        start, end, bulge = complex(*segment.start), complex(*segment.end), getattr(segment, "bulge", 0.0)
        flat.append([start])
        if bulge:
            centre = (start + end) / 2 + 1j * (end - start) * (1 - bulge**2) / (4 * bulge)
            sweep, radius = 4 * math.atan(bulge), abs(start - centre)
            steps = max(2, math.ceil(abs(sweep) / math.sqrt(8 * CHORD_ERROR_MM / max(radius, CHORD_ERROR_MM))))
            flat.append(centre + (start - centre) * np.exp(1j * sweep / steps * np.arange(1, steps)))
    z = np.concatenate(flat)
    return np.column_stack((z.real, z.imag))


def assert_can_be_cut(part):
    """Hold the loops of a part, and its area, against shapely; of several pieces, each apart from the others."""
    pieces = [shapely.Polygon(points(loop)) for loop in part.profile.outside]
    holes = [shapely.Polygon(points(opening.loop)) for opening in part.profile.inside]
    assert all(piece.is_valid for piece in pieces)
    assert all(hole.is_valid for hole in holes)
    for loops in (pieces, holes):
        tree = shapely.STRtree(loops)
        assert all(list(tree.query(loop, predicate="intersects")) == [i] for i, loop in enumerate(loops))
    grown = [piece.buffer(CHORD_ERROR_MM) for piece in pieces]
    assert all(any(piece.contains(hole) for piece in grown) for hole in holes)
    area = sum(piece.area for piece in pieces) - sum(hole.area for hole in holes)
    assert abs(part.measures.area_mm2 - area) <= CHORD_ERROR_MM * part.measures.cut_length_mm


def assert_measured(part):
    """Hold each dimension against the parameter it shows: the same few sums, so only rounding parts them.

    One of a bolt shows the published hole; one of a length of 0 what the template makes of that.
    """
    values, specs = part.record.parameters, part.record.specs
    for dimension in part.profile.dimensions:
        name = dimension.parameter
        shown = published_hole(values, name, specs[name].diameter) if specs[name].is_bolt else values[name]
        assert abs(dimension.measured - (shown or dimension.measured)) <= 1e-9, name


def assert_named(refused, template):
    """Hold each problem to a parameter of the template's own, with a sentence."""
    assert refused.problems
    for problem in refused.problems:
        assert problem.parameter in template.parameters.specs()
        assert problem.message.endswith(".")


def published_hole(values, bolt, diameter):
    """The diameter of a hole: as given, or of the published table (an inch drill by its fraction)."""
    if values[bolt] == "by-diameter":
        return values[diameter]
    row = HOLES[values[bolt], values["fit"]]
    if row["standard"] == "ISO 273":
        return float(row["hole_mm"])
    whole, _, fraction = row["drill_in"].rpartition("-") if "/" in row["drill_in"] else (row["drill_in"], "", "0/1")
    top, _, bottom = fraction.partition("/")
    return (int(whole or 0) + int(top) / int(bottom)) * 25.4
