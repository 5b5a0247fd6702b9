"""Every opening that a template makes for a bolt says so, and the defaults leave the bolts room."""

import pytest

import parts
from parts.fasteners.bolts import bolt_diameter_mm
from tests import library

BOLTS = [
    ("gusset-triangle", {"holes_a": 2, "holes_b": 1, "bolt": "M12"}, {"hole in leg A": "M12", "hole in leg B": "M12"}),
    ("bracket-flat-l", {"bolt_a": "3/8", "bolt_b": "M8"}, {"hole in leg A": "3/8", "hole in leg B": "M8"}),
    ("bracket-flat-l", {"slot_a": 20, "bolt_b": "by-diameter"}, {"slot in leg A": "M10", "hole in leg B": ""}),
    ("plate-bumper", {"bolt": "1/2", "winch_bolt": "M14", "slots": "vertical"},
     {"mounting slot": "1/2", "fairlead bolt hole": "M14", "lamp opening": "", "fairlead window": "",
      "number-plate hole": ""}),
    ("square-test", {}, {}),
    ("silhouette-leaf", {}, {}),
]  # fmt: skip


@pytest.mark.parametrize(("slug", "values", "bolts"), BOLTS)
def test_openings_for_bolts(slug, values, bolts):
    part = parts.draw(slug, **values)
    due = {name: bolt_diameter_mm(bolt) if bolt else 0.0 for name, bolt in bolts.items()}
    assert {o.name: o.bolt for o in part.profile.inside if o.bolt or o.name in due} == due


@pytest.mark.parametrize("slug", library.SLUGS)
def test_defaults_are_no_bolts_fault(slug):
    found = {f.rule for f in library.part(slug).findings}
    assert not found & {"edge-distance", "bolt-spacing", "drilled-room", "bend-clearance", "short-flange"}


def test_a_bolt_too_near_the_edge_of_a_bracket_is_told():
    part = parts.draw("bracket-flat-l", first_a=12, back_mark_b=13.75)
    (one,) = [f for f in part.findings if f.rule == "edge-distance"]
    assert one.message == (
        "The centre of hole 1 in leg A is 12 mm from the edge; in a structural steel connection the M10 bolt wants "
        "13.75 mm (derived from AISC 360-22 table J3.4M)."
    )


def test_two_rows_of_a_narrow_leg_are_too_near_each_other():
    part = parts.draw("bracket-flat-l", rows_a=2)
    (one,) = [f for f in part.findings if f.rule == "bolt-spacing"]
    assert (one.measured, one.limit) == (22, pytest.approx(80 / 3))
