"""The search: what a shop calls a part leads to it, and a letter is a shape."""

import pytest

from webapp.search import search


@pytest.mark.parametrize(
    ("sought", "slug"),
    [("blind flange", "flange-round"), ("angle iron", "bracket-bent-angle"), ("toolbox", "box-tray"),
     ("lifting lug", "bracket-weld-tab"), ("pad eye", "bracket-weld-tab"), ("disk", "plate-washer"),
     ("fishplate", "plate-splice"), ("louver", "plate-panel"), ("stepper", "plate-motor")],
)  # fmt: skip
def test_what_a_shop_calls_a_part_leads_to_it(sought, slug):
    assert slug in [template.slug for template in search(sought)]


def test_a_letter_is_the_shape_of_a_part():
    assert [template.slug for template in search("l bracket")] == ["bracket-bent-angle", "bracket-flat-l"]
    assert "bracket-flat-t" in [template.slug for template in search("t bracket")]


def test_a_letter_that_is_no_shape_begins_a_word():
    assert "plate-bearing" in [template.slug for template in search("bearing m")]
