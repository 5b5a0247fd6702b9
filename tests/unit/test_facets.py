"""Parts as facets in space: sizes and volumes of the bent part, at any share of it, and the picture of its edges."""

import itertools
import json
import math
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest

import parts
from parts.errors import GeometryError
from parts.facets import described, in_space, isometric, meshed, told
from parts.facets import mesh as made
from parts.facets.isometric import solid_triangles
from parts.geometry import Line, rectangle
from parts.profile import Bend, Profile
from parts.templates.shared.bent import Bent
from tests import library
from tests.depth import some_of

BENT = [slug for slug, t in parts.templates().items() if issubclass(t.parameters, Bent)]


def size_of(mesh, bends):
    places = in_space(mesh, bends)
    return sorted((places.max(axis=0) - places.min(axis=0)).tolist())


def volume_of(mesh, bends):
    """By the divergence theorem, over triangles that look outward."""
    places, triangles = in_space(mesh, bends), solid_triangles(mesh)
    a, b, c = (places[triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


@pytest.mark.parametrize("slug", some_of(4, BENT))
def test_a_bent_part_has_the_size_asked_and_its_flat_that_of_the_flat(slug):
    part = library.part(slug)
    record, mesh = part.record, meshed(part.record)
    count, t = len({hinge.step for hinge in mesh.hinges}), record.job.cut.thickness_mm
    flat, asked = part.measures, record.template.parameters.read(record.parameters).bent_size
    assert size_of(mesh, 0) == pytest.approx(sorted((flat.width_mm, flat.height_mm, t)), abs=1e-6)
    assert size_of(mesh, count) == pytest.approx(sorted(asked), abs=0.02 + 1e-3 * max(asked))
    gained = math.fsum(b.angle * (0.5 - b.k) * t * t * b.line.length for b in record.bends)
    assert volume_of(mesh, 0) == pytest.approx(flat.area_mm2 * t, rel=4e-3)
    assert volume_of(mesh, count) == pytest.approx(flat.area_mm2 * t + gained, rel=4e-3)
    assert volume_of(mesh, count / 2) == pytest.approx(volume_of(mesh, 0), rel=1e-2)


def test_half_made_the_neutral_line_is_as_long_and_the_flange_as_wide():
    mesh = meshed(parts.draw("bracket-bent-angle", thickness=3, bend_radius=4).record)
    (hinge,) = mesh.hinges
    for bends in (0.25, 0.5, 1.0):
        places = in_space(replace(mesh, thickness=2 * hinge.neutral), bends)  # the middle is the neutral line
        n = len(mesh.corners)
        middle = (places[:n] + places[n:]) / 2
        over = sorted(
            {c: i for i, c in enumerate(mesh.corners) if abs(c[1] - mesh.corners[mesh.lines[0][0]][1]) < 1e-6}
        )
        line = [middle[mesh.corners.index(c)] for c in over]
        on_flat = math.fsum(math.dist(a, b) for a, b in itertools.pairwise(over))
        assert math.fsum(math.dist(a, b) for a, b in itertools.pairwise(line)) == pytest.approx(on_flat, rel=1e-3)


def test_the_bends_are_made_one_after_the_other_in_the_order_of_bending():
    record = library.part("box-pan").record
    mesh = meshed(record)
    assert sorted(hinge.step for hinge in mesh.hinges) == [1, 2, 3, 4]
    first = next(hinge for hinge in mesh.hinges if hinge.step == 1)
    assert [hinge.angle_at(1.0) for hinge in mesh.hinges] == [h.angle if h is first else 0.0 for h in mesh.hinges]
    said = described(record, mesh)
    order = [int(n) for n in re.findall(r"bend (\d), up 90°", said)]
    assert order == [hinge.number for hinge in sorted(mesh.hinges, key=lambda hinge: hinge.step)]


def test_what_is_told_is_the_mesh():
    record = library.part("bracket-bent-z").record
    mesh, said = meshed(record), json.loads(told(record))
    assert len(said["corners"]) == 2 * len(mesh.corners)
    assert said["faces"] == [i for face in mesh.faces for i in face]
    assert max(said["faces"]) < len(mesh.corners)
    assert [hinge["carrier"] for hinge in said["hinges"]].count(-1) >= 1
    assert [hinge["carrier"] for hinge in said["hinges"]] == [
        -1 if h.carrier is None else h.carrier for h in mesh.hinges
    ]
    assert {hinge["up"] for hinge in said["hinges"]} == {True, False}


def test_the_picture_has_the_edges_in_sight_alone():
    """Of a plate nine of twelve edges are seen from over a corner; it hides the others."""
    record = library.part("plate-base").record
    plate = replace(record, profile=Profile((rectangle((0, 0), 100, 60),)))
    root = ET.fromstring(isometric(meshed(plate), "A <plate>"))
    names = {element.tag.rpartition("}")[2] for element in root}
    assert names == {"title", "path"}
    assert root.find("{*}title").text == "A <plate>"
    ends = re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", root.findall("{*}path")[-1].get("d"))
    lines = [tuple(map(float, each)) for each in ends]
    assert sorted(math.dist(line[:2], line[2:]) > 100 for line in lines) == [False] * 3 + [True] * 6
    width, height = (float(v) for v in root.get("viewBox").split()[2:])
    assert all(0 <= x <= width and 0 <= y <= height for a, b, c, d in lines for x, y in ((a, b), (c, d)))


def test_what_can_not_be_shown_is_refused_in_words(monkeypatch):
    record = library.part("plate-base").record
    within = Bend(Line((20.0, 0.0), (20.0, 30.0)), math.pi / 2, 6.0, True, 0.4)
    with pytest.raises(GeometryError, match="the bend line doesn't part it"):
        meshed(replace(record, profile=replace(record.profile, marks=(within,))))
    monkeypatch.setattr(made, "MOST_CORNERS", 10)
    with pytest.raises(GeometryError, match="10 are as many as can be turned"):
        meshed(record)
