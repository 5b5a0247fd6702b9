"""Every bent template, folded back up from its flat: outside box, volume, metal that hangs together.

A template counts as bent where its parameters are `Bent`. Its `bent_size` says how large the bent part is, from the
outside dimensions asked for; it is held here to a solid folded from the marks of the profile alone, and for some
shapes to sums made by hand. The neutral line keeps its length and lies at K of the thickness, the middle at a half,
so a bend of A radians along a line of length L has A (0.5 - K) T² L more volume than the flat gave for it.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.templates.shared.bent import Bent
from tests.depth import DEEP, every_other, tried
from tests.property.folding import fold, zones
from tests.strategies import parts_of

BENT = {slug: t for slug, t in parts.templates().items() if issubclass(t.parameters, Bent)}
some = tried(15, everyday=3)
K_BY_TURNS = [(slug, k) for at, slug in enumerate(BENT) for turn, k in enumerate((0.3, 0.5)) if DEEP or turn == at % 2]
WITHIN_MM = 0.01


def assert_folds(part):
    values = part.record.parameters
    thickness = part.record.job.cut.thickness_mm
    folded = fold(part)
    asked = part.record.template.parameters.read(values).bent_size
    assert folded.size == pytest.approx(asked, abs=WITHIN_MM)
    gained = sum(
        zone.angle * (0.5 - mark.k) * thickness**2 * zone.length
        for zone, mark in zip(
            zones(part.profile, thickness), [m for m in part.profile.marks if m.kind == "bend"], strict=True
        )
    )
    assert folded.volume == pytest.approx(part.measures.area_mm2 * thickness + gained, rel=1e-6)
    for solid in folded.solids:
        assert solid.isValid()
    return folded


def test_there_are_bent_templates():
    assert len(BENT) >= 2


@pytest.mark.parametrize("slug", BENT)
def test_a_default_and_presets_fold_to_the_size_asked(slug):
    """In an everyday run one preset, by turns."""
    assert_folds(parts.draw(slug))
    presets = BENT[slug].presets
    for preset in presets if DEEP else [presets[list(BENT).index(slug) % len(presets)]]:
        assert_folds(parts.draw(slug, **preset.values))


@pytest.mark.parametrize("slug", every_other(BENT, 1))
@some
@given(data=st.data())
def test_any_values_fold_to_the_size_asked(slug, data):
    assert_folds(data.draw(parts_of(BENT[slug])))


@pytest.mark.parametrize(("slug", "k"), every_other(K_BY_TURNS))
def test_the_k_factor_changes_the_flat_and_not_the_bent_part(slug, k):
    part = parts.draw(slug, k=k)
    assert {mark.k for mark in part.profile.marks if mark.kind == "bend"} == {k}
    assert_folds(part)
    longer = parts.draw(slug, k=k + 0.05)
    assert longer.measures.area_mm2 > part.measures.area_mm2
    assert assert_folds(longer).size == pytest.approx(fold(part).size, abs=WITHIN_MM)


def test_angle_by_hand():
    """Flanges 60 and 40 outside, square: the box is those, and a hole 25 from the outside of the bend is at 25."""
    part = parts.draw("bracket-bent-angle", flange_a=60, flange_b=40, mark_a=25, mark_b=25, thickness=3, holes_b=1)
    folded = assert_folds(part)
    assert folded.size == pytest.approx((60, 80, 40), abs=WITHIN_MM)
    centres = [opening.loop.circle.centre for opening in part.profile.inside]
    placed = sorted(folded.place(centre) for centre in centres)
    assert placed[0] == pytest.approx((35, 20, 0), abs=WITHIN_MM)
    assert placed[1] == pytest.approx((35, 60, 0), abs=WITHIN_MM)
    assert placed[2] == pytest.approx((60, 40, 25), abs=WITHIN_MM)


def test_obtuse_and_acute_angle_by_hand():
    """Turned 60 degrees: B's outside end is at 100 + 50 cos 60, its inside end 3 cos 60 above 50 sin 60."""
    values = {
        "flange_a": 100,
        "flange_b": 50,
        "thickness": 3,
        "bend_radius": 3,
        "mark_a": 35,
        "mark_b": 30,
        "bolt": "M6",
    }
    wide = assert_folds(parts.draw("bracket-bent-angle", bend=60, **values))
    assert wide.size == pytest.approx((125, 80, 25 * math.sqrt(3) + 1.5), abs=WITHIN_MM)
    sharp = assert_folds(parts.draw("bracket-bent-angle", bend=120, **values))
    assert sharp.size == pytest.approx((100 - 6 * math.sqrt(3) + 6, 80, 25 * math.sqrt(3)), abs=WITHIN_MM)
