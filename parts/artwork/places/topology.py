"""Topology: the two maps as they are shipped, TopoJSON 1.0, read into rings of longitude and latitude.

Countries are those of Natural Earth at 1:10 million, states those of the US Census; both are in the public domain.
An arc is shared by the places on both its sides, its points are whole numbers, each but the first a step.
Source of the format: "The TopoJSON Format Specification", 2.1 (arcs, transform) and 2.2.4 (polygons).
"""

import gzip
import json
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Degrees = NDArray[np.float64]
"""Points (n x 2): longitude east and latitude north."""

_FOLDER = Path(__file__).parents[2] / "data" / "maps"
_MAPS = (("countries-10m.json.gz", "countries"), ("states-10m.json.gz", "states"))


@cache
def _halves(file: str) -> tuple[Any, list[bytes]]:
    """The map but for its arcs, and the text of each arc: they are nearly all of it, and a place has few of them.

    The list of arcs is the last of that name in the files as they are shipped, and begins with an arc.
    """
    whole = gzip.decompress((_FOLDER / file).read_bytes())
    name, first, last = b'"arcs":', b"[[[", b"]]]"
    start = whole.rindex(name + first) + len(name)
    end = whole.index(last, start) + len(last)
    return json.loads(whole[:start] + b"[]" + whole[end:]), whole[start + 3 : end - 3].split(b"]],[[")


@cache
def shapes() -> dict[tuple[str, str], Any]:
    """Return what each map has of each place, by the map and the name that the map gives it."""
    found: dict[tuple[str, str], Any] = {}
    for file, layer in _MAPS:
        for shape in _halves(file)[0]["objects"][layer]["geometries"]:
            if shape["type"] in ("Polygon", "MultiPolygon"):
                found[layer, shape["properties"]["name"]] = shape
    return found


def has_outline(layer: str, name: str) -> bool:
    """Tell whether a place's outline encloses anything: of the smallest, the map has a point or a line."""
    return any(len(rings[0]) > 2 and abs(_twice_area(rings[0])) > 0 for rings in polygons(layer, name))


def _twice_area(ring: Degrees) -> float:
    x, y = ring.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def polygons(layer: str, name: str) -> list[list[Degrees]]:
    """Return the polygons of a place: of each its outer ring and then its holes, not closed."""
    shape, file = shapes()[layer, name], {of: file for file, of in _MAPS}[layer]
    parts = [shape["arcs"]] if shape["type"] == "Polygon" else shape["arcs"]
    return [[_ring(file, ring) for ring in part] for part in parts]


def _ring(file: str, arcs: list[int]) -> Degrees:
    """The points of arcs one after the other; -1 - i is arc i walked backwards."""
    walked = [_arc(file, i)[:-1] if i >= 0 else _arc(file, ~i)[:0:-1] for i in arcs]
    return np.concatenate(walked)


@lru_cache(maxsize=1024)
def _arc(file: str, index: int) -> Degrees:
    (topology, arcs) = _halves(file)
    transform = topology["transform"]
    steps = np.array(json.loads(b"[[" + arcs[index] + b"]]"), dtype=np.float64)
    points: Degrees = np.cumsum(steps, axis=0) * transform["scale"] + transform["translate"]
    return points
