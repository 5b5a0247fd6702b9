"""Boxes of panels with tabs and slots: they go together, and bear their names, whichever box it is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from tests import library
from tests.depth import DEEP, every_other, tried
from tests.property.assembled import assert_goes_together, assert_tabs_lie_in_their_slots
from tests.property.scribed import assert_marks_clear
from tests.strategies import parts_of

PANELS = {"box-closed": 6, "box-tray": 5}
BOXES = [parts.templates()[slug] for slug in PANELS]
"""Of panels with tabs; tests/property/test_folded.py folds the pan, test_box_fire_pit.py puts the fire pit together."""
many = tried(25, everyday=3)
some = tried(5, everyday=1)
each = pytest.mark.parametrize("template", BOXES, ids=lambda template: template.slug)


@pytest.mark.parametrize("template", every_other(BOXES), ids=lambda template: template.slug)
@some
@given(data=st.data())
def test_the_panels_go_together(template, data):
    assert_goes_together(data.draw(parts_of(template, changed=True, overcut=0.0, tab_every=500.0)))


@each
@many
@given(data=st.data())
def test_names_stand_on_their_panels_clear_of_the_cuts(template, data):
    part = data.draw(parts_of(template))
    assert_marks_clear(part, 0.45 * part.record.parameters["names"])


@each
def test_names_are_clear_of_the_reliefs_of_thick_plate(template):
    """A quarter of 43 mm: reliefs reach 3 mm and more beyond their slots."""
    assert_marks_clear(parts.draw(template.slug, measured=43, tab=32, names=5, eye=False), 0.45 * 5)


@each
def test_every_panel_bears_its_name_and_none_without_room(template):
    whole, small, bare = (parts.draw(template.slug, **v) for v in ({}, {"height": 26, "tab": 13}, {"names": 0}))
    assert len(whole.profile.marks) > len(small.profile.marks) > 0 == len(bare.profile.marks)
    assert len(whole.profile.pieces) == PANELS[template.slug] == len(whole.profile.outside)


@each
@many
@given(data=st.data())
def test_every_tab_lies_in_its_slot_with_the_clearance_asked_as_cut(template, data):
    assert_tabs_lie_in_their_slots(data.draw(parts_of(template)))


@pytest.mark.parametrize(
    ("slug", "preset"),
    [(template.slug, preset) for template in BOXES for preset in template.presets],
    ids=lambda value: getattr(value, "name", value),
)
def test_the_presets_go_together(slug, preset):
    """In space the first of each in an everyday run, all in a deep one; the tabs of all of them."""
    part = library.part(slug, preset.name)
    if DEEP or preset == parts.templates()[slug].presets[0]:
        assert_goes_together(part)
    assert_tabs_lie_in_their_slots(part)
