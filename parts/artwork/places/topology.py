"""Topology: the two maps as they are shipped, TopoJSON 1.0, read into rings of longitude and latitude.

Countries are those of Natural Earth at 1:10 million, states those of the US Census; both are in the public domain.
An arc is shared by the places on both its sides, its points are whole numbers, each but the first a step.
Source of the format: "The TopoJSON Format Specification", 2.1 (arcs, transform) and 2.2.4 (polygons).
"""

import gzip
import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Degrees = NDArray[np.float64]
"""Points (n x 2): longitude east and latitude north."""

_FOLDER = Path(__file__).parents[2] / "data" / "maps"
_MAPS = (("countries-10m.json.gz", "countries"), ("states-10m.json.gz", "states"))


@cache
def _topology(file: str) -> Any:  # noqa: ANN401 - as JSON has it
    return json.loads(gzip.decompress((_FOLDER / file).read_bytes()))


@cache
def shapes() -> dict[tuple[str, str], Any]:
    """Return what each map has of each place, by the map and the name that the map gives it."""
    found: dict[tuple[str, str], Any] = {}
    for file, layer in _MAPS:
        for shape in _topology(file)["objects"][layer]["geometries"]:
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
    shape, topology = shapes()[layer, name], _topology({of: file for file, of in _MAPS}[layer])
    parts = [shape["arcs"]] if shape["type"] == "Polygon" else shape["arcs"]
    return [[_ring(topology, ring) for ring in part] for part in parts]


def _ring(topology: Any, arcs: list[int]) -> Degrees:  # noqa: ANN401 - as JSON has it
    """The points of arcs one after the other; -1 - i is arc i walked backwards."""
    walked = [_arc(topology, i)[:-1] if i >= 0 else _arc(topology, ~i)[:0:-1] for i in arcs]
    return np.concatenate(walked)


def _arc(topology: Any, index: int) -> Degrees:  # noqa: ANN401 - as JSON has it
    transform = topology["transform"]
    steps = np.array(topology["arcs"][index], dtype=np.float64)
    points: Degrees = np.cumsum(steps, axis=0) * transform["scale"] + transform["translate"]
    return points
