"""Tabs in their slots: a face and the plates it takes, of like values, put together where they go.

A tab's cross-section in the face is its length by its plate's thickness, read off the drawn edge; so is each slot.
"""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.geometry.segment import Line
from tests.depth import tried
from tests.property.flattened import points

CLOSE_MM = 1e-9
few = tried(60)
KINDS = ["wing", "mount", "gusset"]


def tabs_drawn(part):
    """From where to where up the edge each tab stands, lowest first: its two straight sides along x."""
    v = part.record.parameters
    out = v["tab_depth"] or v["thickness"]
    (edge,) = part.profile.outside
    sides = [s for s in edge.segments if isinstance(s, Line) and s.start[1] == pytest.approx(s.end[1], abs=CLOSE_MM)]
    ends = sorted(s.start[1] for s in sides if min(s.start[0], s.end[0]) < out / 2 and s.length < 2 * out)
    return list(zip(ends[::2], ends[1::2], strict=True))


def slots_drawn(face, kind):
    """The slots of one kind, right of the middle, lowest first."""
    middle = face.record.parameters["width"] / 2
    slots = [o.loop for o in face.profile.inside if o.name == f"{kind} slot" and o.loop.box[0] > middle]
    return sorted(slots, key=lambda loop: loop.box[1])


def assert_goes_together(face, plate, kind):
    """Hold every tab, where the plate stands on the face, to lie in its slot with the clearance on every side."""
    v = face.record.parameters
    clearance, thick = v["tab_clearance"], plate.record.parameters["thickness"]
    x, foot = v["width"] / 2 + v[f"{kind}_spacing"] / 2, v[f"{kind}_up"]
    tabs, slots = tabs_drawn(plate), slots_drawn(face, kind)
    assert len(tabs) == len(slots) == v["tabs"]
    for (low, high), slot in zip(tabs, slots, strict=True):
        tab = shapely.box(x - thick / 2, foot + low, x + thick / 2, foot + high)
        opening = shapely.Polygon(points(slot))
        assert opening.buffer(CLOSE_MM).contains(tab)
        assert tab.distance(opening.exterior) == pytest.approx(clearance, abs=1e-6)
        for moved in ((-clearance, 0), (clearance, 0), (0, -clearance), (0, clearance)):
            nudged = shapely.affinity.translate(tab, *moved)
            assert opening.buffer(1e-6).contains(nudged)
            beyond = shapely.affinity.translate(nudged, moved[0] / 5 if clearance else 0, moved[1] / 5)
            assert not clearance or not opening.contains(beyond)


@pytest.mark.parametrize("kind", KINDS)
def test_a_plate_as_it_comes_goes_into_the_face_as_it_comes(kind):
    face = parts.draw("plate-bumper", slots="none", **{f"{kind}_slots": True})
    assert_goes_together(face, parts.draw(f"bumper-{kind}"), kind)


@pytest.mark.parametrize("kind", KINDS)
def test_tabs_fit_their_slots_at_like_values(kind):
    @few
    @given(
        st.integers(1, 3),
        st.floats(25, 40),
        st.floats(62, 80),
        st.floats(3, 10),
        st.floats(3, 10),
        st.floats(0.05, 1),
    )
    def check(tabs, tab_length, tab_pitch, face_thick, thick, clearance):
        like = {"tabs": tabs, "tab_length": tab_length, "tab_pitch": tab_pitch, "tab_first": 50}
        plate = parts.draw(f"bumper-{kind}", **like, thickness=thick, tab_depth=face_thick, height=250)
        face = parts.draw(
            "plate-bumper", **like, height=360, slots="none", lamps="none", plate_holes=False, thickness=face_thick,
            tab_thickness=thick, tab_clearance=clearance, **{f"{kind}_slots": True, f"{kind}_up": 95},
        )  # fmt: skip
        assert_goes_together(face, plate, kind)

    check()


def test_a_set_goes_together():
    faces, sets = parts.templates()["plate-bumper"].presets, 0
    for face in (preset for preset in faces if " set:" in preset.name):
        drawn = parts.draw("plate-bumper", **face.values)
        for kind in KINDS:
            for preset in parts.templates()[f"bumper-{kind}"].presets:
                if preset.name == face.name:
                    assert_goes_together(drawn, parts.draw(f"bumper-{kind}", **preset.values), kind)
                    sets += 1
    assert sets == 3 * len(KINDS)


def drawn_as(slug, name, units):
    """A template's preset of that name in those units, or its default."""
    template = parts.templates()[slug]
    found = [preset.values_in(units, template.parameters) for preset in template.presets if preset.name == name]
    return parts.draw(slug, **{**(found[0] if found else {}), "units": units})


def test_tow_tabs_go_through_their_slots():
    """The tab's section, thickness by height of the neck, in the slot of the face: clear by 0.3 to 1.5 mm all round."""
    pairs = [
        ("Small set: 1500 by 200 face", "Small set: tow-hook slot 90 high"),
        ("Small utility, tow hooks", ""),
    ]
    for (face, tab), units in [(pair, units) for pair in pairs for units in ("mm", "in")]:
        slotted, plate = (
            drawn_as(slug, name, units) for slug, name in (("plate-bumper", face), ("bumper-tow-tab", tab))
        )
        thick, high = (plate.record.parameters[name] for name in ("thickness", "height"))
        slot = next(o.loop for o in slotted.profile.inside if o.name == "tow-hook slot")
        x0, y0, x1, y1 = slot.box
        x, y = (x0 + x1) / 2, (y0 + y1) / 2
        tab_in = shapely.box(x - thick / 2, y - high / 2, x + thick / 2, y + high / 2)
        opening = shapely.Polygon(points(slot))
        assert opening.contains(tab_in), (face, units)
        assert 0.3 <= (x1 - x0 - thick) / 2 <= 1.5, (face, units, x1 - x0, thick)
        assert 0.3 <= (y1 - y0 - high) / 2 <= 1.5, (face, units, y1 - y0, high)
