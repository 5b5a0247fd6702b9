"""GLB files as trimesh reads them (MIT, a general-purpose mesh library): sizes in metres, closed, as much metal."""

import io
import math

import pytest
import trimesh

import parts
from parts.templates.shared.bent import Bent
from tests.depth import one_in

SLUGS = list(parts.templates())
SETS = [slug for slug, template in parts.templates().items() if template.assembly]
FLAT = [slug for slug, t in parts.templates().items() if not issubclass(t.parameters, Bent) and slug not in SETS]
CHORDS_MM = 0.02
"""How far the chords of a mesh are off the arcs, at most."""


def loaded(data):
    """The bodies of a file where they stand, each with its doubled corners made one."""
    scene = trimesh.load_scene(io.BytesIO(data), file_type="glb")
    bodies = [mesh.copy() for mesh in scene.dump()]
    for body in bodies:
        body.merge_vertices(merge_norm=True, merge_tex=True)
    return scene, bodies


def spans(box):
    return [high - low for low, high in zip(*box, strict=True)]


@pytest.mark.parametrize("slug", one_in(12, SLUGS, 5))
def test_each_body_is_closed_and_all_of_them_weigh_what_the_part_does(slug):
    part = parts.draw(slug)
    _, bodies = loaded(part.file("glb"))
    assert sum(body.body_count for body in bodies) == len(part.profile.outside) + len(part.record.companions)
    assert all(body.is_watertight and body.is_winding_consistent for body in bodies)
    if not part.record.companions:
        t = part.record.job.cut.thickness_mm
        bent = math.fsum(b.angle * (0.5 - b.k) * t * t * b.line.length for b in part.record.bends)
        solid = part.measures.area_mm2 * t + (bent if part.record.is_folded else 0.0)
        assert 1e9 * sum(body.volume for body in bodies) == pytest.approx(solid, rel=4e-3)


@pytest.mark.parametrize("slug", one_in(10, FLAT, 3))
def test_what_is_flat_is_as_large_as_it_is_drawn_with_y_up(slug):
    part = parts.draw(slug)
    scene, _ = loaded(part.file("glb"))
    size = part.measures.width_mm, part.record.job.cut.thickness_mm, part.measures.height_mm
    assert [1000 * span for span in spans(scene.bounds)] == pytest.approx(size, abs=2 * CHORDS_MM)


@pytest.mark.parametrize("slug", one_in(3, [s for s in SLUGS if issubclass(parts.templates()[s].parameters, Bent)], 1))
def test_what_is_bent_is_as_large_as_was_asked(slug):
    part = parts.draw(slug)
    asked = part.record.template.parameters.read(part.record.parameters).bent_size
    if len(part.profile.outside) > 1 or asked is None:
        return
    x, y, z = asked
    scene, _ = loaded(part.file("glb"))
    assert [1000 * span for span in spans(scene.bounds)] == pytest.approx((x, z, y), abs=2 * CHORDS_MM)
