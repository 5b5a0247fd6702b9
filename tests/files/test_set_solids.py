"""A set as one STEP and one GLB, read back by OpenCASCADE and by the bytes that glTF 2.0 prescribes.

Volumes are the pieces' areas by their thickness, and what a bend adds: A (0.5 - K) T² L (Machinery's Handbook).
"""

import json
import math
import re
import struct
from itertools import combinations

import pytest

import parts
from parts.cutting.measures import measure
from parts.profile import Bend
from tests.depth import DEEP
from webapp.cli import main

SETS = [
    ("bumper-set", {"tow": "tow-hooks", "hook_tab": 16}, (1800, 596, 250)),
    ("box-tray", {"sizes": "outside", "length": 400, "measured": 5.8, "overcut": 0.4}, (400, 200, 100)),
    ("bumper-set", {}, (1800, 486, 250)),
    ("bumper-set", {"thickness": 8, "height": 300, "tow": "none", "wings": "no"}, (1800, 488, 300)),
    ("box-flush", {"sizes": "outside", "process": "laser", "thickness": 3, "measured": 2.9}, (300, 200, 100)),
    ("box-closed", {"sizes": "outside"}, (300, 200, 100)),
    ("box-fire-pit", {"deep": 500}, (700, 500, 350)),
]
"""Each with its size over all, by hand: a bumper is as deep as skid and face, 480 + 6; with tow tabs, whose pin is 116
from their base, the base 35 behind the face and the eye of 35 round the pin, 480 + 116 - 35 + 35."""


def volume_by_hand(record):
    total = 0.0
    for piece in record.assembly:
        t = piece.thickness
        total += measure(piece.profile, record.job).area_mm2 * t
        bends = [mark for mark in piece.profile.marks if isinstance(mark, Bend)]
        total += math.fsum(b.angle * (0.5 - b.k) * t * t * b.line.length for b in bends)
    return total


def near(one, other):
    """Whether the boxes of two solids meet, so that it is worth asking what they have in common."""
    a, b = one.BoundingBox(), other.BoundingBox()
    return all(
        low <= high
        for low, high in (
            (max(a.xmin, b.xmin), min(a.xmax, b.xmax)),
            (max(a.ymin, b.ymin), min(a.ymax, b.ymax)),
            (max(a.zmin, b.zmin), min(a.zmax, b.zmax)),
        )
    )


@pytest.mark.parametrize(("slug", "values", "size"), SETS if DEEP else SETS[:1], ids=lambda value: str(value)[:12])
def test_a_set_is_one_assembly_of_valid_solids_that_do_not_meet(slug, values, size, read):
    part = parts.draw(slug, **values)
    names, step = [piece.name for piece in part.record.assembly], part.to_step()
    shape = read(step)
    solids = shape.solids().vals()
    assert len(solids) == len(names)
    assert all(solid.isValid() for solid in solids)
    assert math.fsum(solid.Volume() for solid in solids) == pytest.approx(volume_by_hand(part.record), rel=1e-9)
    for (name, one), (other_name, other) in combinations(zip(names, solids, strict=True), 2):
        assert not near(one, other) or one.intersect(other).Volume() <= 1e-6, (name, other_name)
    boxes = [solid.BoundingBox(1e-6) for solid in solids]
    spans = [
        max(getattr(b, f"{axis}max") for b in boxes) - min(getattr(b, f"{axis}min") for b in boxes) for axis in "xyz"
    ]
    assert spans == pytest.approx(size, abs=1e-3)
    products = re.findall(rb"PRODUCT\('([^']*)'", step)
    assert [slug, *names] == [name.decode() for name in products]
    assert b"'form: assembled'" in step


def test_a_set_is_flat_where_that_is_asked_and_a_piece_is_alone(read, tmp_path):
    pit = parts.draw("box-fire-pit", air=0)
    flat = pit.flat().to_step()
    assert b"'form: flat'" in flat
    boxes = [solid.BoundingBox(1e-6) for solid in read(flat).solids().vals()]
    assert [box.zlen for box in boxes] == pytest.approx([6] * 4, abs=1e-5)
    (alone,) = read(pit.piece("front").to_step()).solids().vals()
    assert alone.BoundingBox(1e-6).zlen == pytest.approx(6, abs=1e-5)
    path = tmp_path / "pit.glb"
    assert main(["draw", "box-fire-pit", "air=0", "form=assembled", "-o", str(path)]) == 0
    data = path.read_bytes()
    (length,) = struct.unpack("<I", data[12:16])
    said = json.loads(data[20 : 20 + length])
    assert [node["name"] for node in said["nodes"]] == list(pit.pieces)
    assert said["asset"]["extras"]["form"] == "assembled"
    places = [said["accessors"][mesh["primitives"][0]["attributes"]["POSITION"]] for mesh in said["meshes"]]
    high = max(place["max"][1] for place in places) - min(place["min"][1] for place in places)
    assert high == pytest.approx(0.35, abs=1e-6)
