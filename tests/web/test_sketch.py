"""What takes long to draw is sketched while someone types, in place and in size; nothing of it passes for true."""

import math
import re

import pytest

import parts
from parts.part import drafted
from parts.record import UNKNOWN
from tests import library
from webapp import create_app

ROUGH = ["sign-plate", "sign-letters", "outline-map", "outline-symbol", "silhouette-oak", "silhouette-fish"]
DRAWN = (
    "anchor", "bird", "butterfly", "cat", "dog", "feather", "fish", "horse", "maple", "oak", "rooster", "stag",
    "tractor",
)  # fmt: skip


def test_what_is_sketched_is_what_takes_long():
    assert [slug for slug, template in parts.templates().items() if template.sketch] == [
        *(f"silhouette-{each}" for each in DRAWN), "sign-letters", "sign-plate", "outline-map", "outline-symbol",
    ]  # fmt: skip


@pytest.mark.parametrize("slug", ROUGH)
def test_a_sketch_stands_where_the_part_will_and_tells_nothing(slug):
    """Boxes to 1 %, openings by their outlines: whoever types sees the part change, and nothing jump."""
    sketch, part = drafted(slug), library.part(slug)
    assert sketch.record.is_sketch
    assert sketch.record.address == part.record.address
    assert sketch.record.box == pytest.approx(part.record.box, abs=0.01 * max(part.record.box))
    cut = sum(loop.signed_area for loop in sketch.profile.boundary)
    assert cut == pytest.approx(part.measures.area_mm2, rel=0.1)  # islands and ties are what it lacks
    own = {d.parameter for d in sketch.profile.dimensions}
    assert own == {d.parameter for d in part.profile.dimensions} - {"tie"}
    assert math.isnan(sketch.measures.mass_kg)
    assert sketch.record.number(1234.5).strip("\u2007") == UNKNOWN
    with pytest.raises(ValueError, match="isn't checked"):
        sketch.to_dxf()


def test_the_answer_to_a_key_is_a_sketch_and_what_follows_is_the_part():
    client = create_app({}).test_client()

    def answered(live, query):
        answer = client.get(f"/parts/outline-symbol?{query}", headers={"Platewright-Live": live})
        return answer.status_code, answer.text

    status, text = answered("following overall_width", "overall_width=210")
    assert status == 200
    assert 'class="drawing sketched"' in text
    assert "Being drawn" in text
    assert not re.search(r'id="(facts|findings|files|cautions)"', text)
    assert not re.search(r"\d+(\.\d+)? (kg|s|min)\b", text)
    status, text = answered("following", "overall_width=210")
    assert status == 200
    assert "sketched" not in text
    assert all(f'id="{name}"' in text for name in ("facts", "findings", "files"))
    for live, query in (("following detail", "detail=90"), ("following symbol", "symbol=xyzzy")):
        status, text = answered(live, query)  # what is known to be refused is at once
        assert status == 422
        assert 'class="message"' in text
