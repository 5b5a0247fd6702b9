"""The search: what a shop calls a part leads to it, and a letter is a shape."""

import pytest

from webapp.pages.catalogue.search import search


@pytest.mark.parametrize(
    ("sought", "slug"),
    [("blind flange", "flange-round"), ("angle iron", "bracket-bent-angle"), ("toolbox", "box-tray"),
     ("lifting lug", "bracket-weld-tab"), ("pad eye", "bracket-weld-tab"), ("disk", "plate-washer"),
     ("fishplate", "plate-splice"), ("louver", "plate-panel"), ("stepper", "plate-motor"),
     ("caster plate", "plate-base"), ("endcap", "plate-cap-square"), ("bbq grate", "plate-panel")],
)  # fmt: skip
def test_what_a_shop_calls_a_part_leads_to_it(sought, slug):
    assert slug in [template.slug for template in search(sought).templates]


def test_a_letter_is_the_shape_of_a_part():
    assert [template.slug for template in search("l bracket").templates] == ["bracket-flat-l", "bracket-bent-angle"]
    assert "bracket-flat-t" in [template.slug for template in search("t bracket").templates]


def test_a_letter_that_is_no_shape_begins_a_word():
    assert "plate-bearing" in [template.slug for template in search("bearing m").templates]


@pytest.mark.parametrize(
    ("sought", "slugs", "unmet"),
    [("drip tray", ["box-tray"], ["drip"]),
     ("motor bracket", ["plate-adapter", "plate-motor", "plate-slotted"], ["bracket"]),
     ("cap for 2x2 tube", ["plate-cap-round", "plate-cap-square"], ["2x2"]),
     ("u of 11 ga", ["bracket-bent-u"], ["11", "ga"]), ("zzzz", [], ["zzzz"])],
)  # fmt: skip
def test_where_none_goes_by_every_word_the_nearest_is_shown(sought, slugs, unmet):
    found = search(sought)
    assert found.unmet == unmet
    assert [template.slug for template in found.templates] == slugs


@pytest.mark.parametrize(
    ("sought", "slug"),
    [("DN50 PN16", "flange-round"), ("NEMA23", "plate-motor"), ("NEMA 23", "plate-motor")],
)
def test_letters_and_numbers_may_run_together(sought, slug):
    found = search(sought)
    assert [template.slug for template in found.templates] == [slug]
    assert found.unmet == []


@pytest.mark.parametrize(
    ("sought", "slug"), [("fish", "silhouette-fish"), ("gear", "silhouette-gear"), ("leaf", "silhouette-leaf")]
)
def test_what_is_called_so_stands_first(sought, slug):
    found = search(sought).templates
    assert found[0].slug == slug
    families = [template.family for template in found]
    assert families == sorted(families, key=families.index)  # each family in one piece


def test_a_search_that_leaves_a_word_out_says_so(client):
    text = client.get("/?q=drip+tray").text
    assert "None goes by all of “drip tray”; 1 comes nearest, leaving out “drip”." in text
    assert "0 of the" in client.get("/?q=zzzz").text
