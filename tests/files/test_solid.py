"""Solids of bent parts, read back: STEP by OpenCASCADE's reader, GLB by the bytes that glTF 2.0 prescribes.

The neutral line keeps its length and lies at K of the thickness, the middle at a half, so a bend of A radians along a
line of length L has A (0.5 - K) T² L more volume than the flat gave for it (bend allowance: Machinery's Handbook).
"""

import json
import math
import struct
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.export import glb, step
from parts.geometry import Line
from parts.profile import Bend
from parts.templates.shared.bent import Bent
from tests.depth import DEEP, one_in, tried
from tests.strategies import accepted_anew
from webapp.cli import main

BENT = [slug for slug, t in parts.templates().items() if issubclass(t.parameters, Bent)]
SEVERAL = tried(50, everyday=1)


def volume_by_hand(record):
    t = record.job.cut.thickness_mm
    return record.measures.area_mm2 * t + math.fsum(b.angle * (0.5 - b.k) * t * t * b.line.length for b in record.bends)


def check(record, read):
    """One valid solid for each outside loop, as much metal as the flat gives, as large as was asked."""
    shape = read(step.write(record))
    solids = shape.solids().vals()
    assert len(solids) == len(record.profile.outside)
    assert all(solid.isValid() for solid in solids)
    share = 1e-8 if record.parameters.get("gap") == 0 else 1e-9  # the modeller moves edges of walls that touch
    assert math.fsum(solid.Volume() for solid in solids) == pytest.approx(volume_by_hand(record), rel=share)
    asked = record.template.parameters.read(record.parameters).bent_size
    if asked is None or not record.bends:
        return shape
    if len(solids) == 1:
        box = solids[0].BoundingBox(1e-7)
        assert (box.xlen, box.ylen, box.zlen) == pytest.approx(asked, abs=1e-6 + 1e-9 * max(asked))
    return shape


@pytest.mark.parametrize("slug", BENT)
@SEVERAL
@given(data=st.data())
def test_a_bent_part_is_folded_to_the_size_asked(slug, data, read):
    check(parts.draw(slug, **data.draw(accepted_anew(parts.templates()[slug], changed=DEEP))).record, read)


@pytest.mark.parametrize(
    "values",
    [
        {"long": 2003},
        {"gap": 0},
        {"long": 979, "rim": "hem"},
        {"long": 208, "deep": 155, "high": 120},
        {"long": 20, "deep": 20, "gap": 0},
        {"long": 20, "deep": 20, "gap": 0, "rim": "hem"},
    ],
    ids=str,
)
def test_a_pan_whose_bends_meet_in_its_reliefs_is_folded(values, read):
    """What bends take of the flat there touches in single points, and touches the reliefs."""
    check(parts.draw("box-pan", **values).record, read)


def test_inside_radii_are_true_holes_are_carried_round_and_the_header_says_the_form(read):
    part = parts.draw("bracket-bent-angle", thickness=3, holes_b=1, holes_a=1, bend_radius=4)
    shape = check(part.record, read)
    radii = sorted(round(edge.radius(), 9) for edge in shape.edges("%CIRCLE").vals())
    bolt = part.profile.inside[0].loop.circle.diameter / 2
    assert {4.0, 7.0, bolt} <= set(radii)  # R inside, R + T outside
    level = {round(abs(face.normalAt().z), 6) for face in shape.faces("%PLANE").vals()}
    assert level == {0.0, 1.0}
    ways = [edge.normal() for edge in shape.edges("%CIRCLE").vals() if round(edge.radius(), 9) == bolt]
    assert {tuple(round(abs(v), 6) + 0 for v in way.toTuple()) for way in ways} == {(0, 0, 1), (1, 0, 0)}
    assert b"'form: bent'" in part.to_step()
    flat = part.flat()
    assert b"'form: flat'" in flat.to_step()
    box = read(flat.to_step()).val().BoundingBox(1e-7)
    assert (box.xlen, box.zlen) == pytest.approx((part.measures.width_mm, 3), abs=1e-6)


def test_what_is_rolled_or_tried_out_stays_flat_and_says_so(read):
    part = parts.draw("developed-transition")
    assert b"form: flat: it doesn''t say to which radius" in part.to_step()
    assert b"form:" not in parts.draw("plate-base").to_step()


def test_what_runs_into_a_bend_is_refused_by_name_and_its_flat_is_made():
    """A bend line laid across the holes of a plate, and one that ends within the metal."""
    part = parts.draw("plate-base", width=200, height=100)
    (x, _), radius = next(o.loop.circle.centre for o in part.profile.inside if o.loop.circle), 6.0
    across = Bend(Line((x, 0.0), (x, 100.0)), math.pi / 2, radius, True, 0.4)
    record = replace(part.record, profile=replace(part.profile, marks=(across,)))
    with pytest.raises(
        parts.PartsError, match=r"runs into the bend line, which isn't cut square there\. Take form=flat"
    ):
        step.write(record)
    within = Bend(Line((100.0, 0.0), (100.0, 60.0)), math.pi / 2, radius, True, 0.4)
    record = replace(part.record, profile=replace(part.profile, marks=(within,)))
    with pytest.raises(parts.PartsError, match="the bend line doesn't part it"):
        step.write(record)
    assert step.write(replace(record, is_flat=True))


def mesh_of(data):
    """The JSON of a GLB and its triangles: corners (metres) and normals, read as the standard says."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert (kind, size % 4) == (b"JSON", 0)
    said = json.loads(data[20 : 20 + size])
    binary, kind = struct.unpack_from("<I4s", data, 20 + size)
    assert (kind, 28 + size + binary) == (b"BIN\0", len(data))
    body = data[28 + size :]
    assert said["buffers"] == [{"byteLength": binary}]

    def numbers(index):
        accessor = said["accessors"][index]
        view = said["bufferViews"][accessor["bufferView"]]
        code, wide = {5126: "f", 5125: "I"}[accessor["componentType"]], {"VEC3": 3, "SCALAR": 1}[accessor["type"]]
        assert view["byteLength"] == 4 * wide * accessor["count"]
        flat = struct.unpack_from(f"<{wide * accessor['count']}{code}", body, view["byteOffset"])
        return [flat[i : i + wide] for i in range(0, len(flat), wide)], accessor

    made = said["meshes"][0]["primitives"][0]
    (corners, of), (normals, _), (indices, _) = (
        numbers(made["attributes"]["POSITION"]), numbers(made["attributes"]["NORMAL"]), numbers(made["indices"]),
    )  # fmt: skip
    assert [list(of["min"]), list(of["max"])] == [
        [pick(c[i] for c in corners) for i in range(3)] for pick in (min, max)
    ]
    order = [index for (index,) in indices]
    return said, corners, normals, [order[i : i + 3] for i in range(0, len(order), 3)]


def cross(a, b):
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


@pytest.mark.parametrize("slug", one_in(4, [*BENT, "plate-base"], 3))
def test_a_glb_has_the_size_in_metres_closes_and_looks_outward(slug):
    part = parts.draw(slug)
    said, corners, normals, triangles = mesh_of(part.file("glb"))
    size = [high - low for low, high in zip(said["accessors"][0]["min"], said["accessors"][0]["max"], strict=True)]
    asked = part.record.template.parameters.read(part.record.parameters)
    t, measures = part.record.job.cut.thickness_mm, part.measures
    x, y, z = asked.bent_size if part.record.is_folded else (measures.width_mm, measures.height_mm, t)
    if len(part.profile.outside) == 1:
        assert size == pytest.approx([x / 1000, z / 1000, y / 1000], abs=2e-5 + 1e-6)  # y is up; chords within 0.02 mm
    six, edges = 0.0, {}
    for triangle in triangles:
        a, b, c = (corners[i] for i in triangle)
        six += sum(p * q for p, q in zip(a, cross(b, c), strict=True))
        way = cross([q - p for p, q in zip(a, b, strict=True)], [q - p for p, q in zip(a, c, strict=True)])
        length = math.hypot(*way)
        if length > 1e-12:  # m²; of a sliver single precision doesn't tell which way it looks
            assert all(sum(p * q for p, q in zip(way, normals[i], strict=True)) >= 0.9 * length for i in triangle)
        for p, q in ((a, b), (b, c), (c, a)):
            edges[p, q] = edges.get((p, q), 0) + 1
    assert all(edges.get((q, p)) == count for (p, q), count in edges.items()), "every edge is met from both sides"
    assert six / 6 * 1e9 == pytest.approx(
        volume_by_hand(part.record) if part.record.is_folded else measures.area_mm2 * t, rel=2e-3
    )
    assert said["asset"]["extras"]["address"] == part.record.address
    assert part.file("glb") == glb.write(part.record)


def test_the_command_writes_either_form(tmp_path, capsys):
    for words, form in (([], b"form: bent"), (["form=flat"], b"form: flat"), (["form=bent"], b"form: bent")):
        path = tmp_path / f"{len(words)}{form[-4:].decode()}.step"
        assert main(["draw", "bracket-bent-u", *words, "-o", str(path)]) == 0
        assert form in path.read_bytes()
    assert main(["draw", "bracket-bent-u", "form=folded", "-o", str(tmp_path / "x.step")]) == 2
    assert capsys.readouterr().err.splitlines()[-1] == "form: folded: must be bent, assembled or flat."
    assert main(["draw", "plate-ring", "form=disc", "-o", str(tmp_path / "x.dxf")]) == 0  # a parameter of its own
