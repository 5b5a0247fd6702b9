"""PNG: the finished piece as it hangs, read back as pixels and against the area that the outline encloses."""

import io
import json

import numpy as np
import pytest
from PIL import Image

import parts
from parts.export.mark import is_ours
from parts.picture import LOOKS, coverage, frame
from tests import library


@pytest.mark.parametrize("slug", ["silhouette-leaf", "plate-base", "bumper-wing"])
def test_as_much_of_the_picture_is_metal_as_the_part_has_area(slug):
    part = library.part(slug)
    seen = frame(part.profile)
    measured = coverage(part.profile, seen).sum() / seen.px_per_mm**2
    perimeter = sum(loop.perimeter for loop in part.profile.boundary)
    assert measured == pytest.approx(part.measures.area_mm2, abs=perimeter / seen.px_per_mm / 4)  # a quarter pixel


def test_a_picture_says_what_it_is_of_and_shows_it_each_way(tmp_path):
    assert set(LOOKS) == set(parts.templates()["silhouette-leaf"].parameters.specs()["picture"].choices)
    shown = {}
    for look in LOOKS:
        data = parts.draw("silhouette-leaf", picture=look, thickness="4 mm").file("png")
        image = Image.open(io.BytesIO(data))
        about = json.loads(image.text["Description"])
        assert (about["template"], about["parameters"]["thickness"]) == ("silhouette-leaf", "4mm")
        shown[look] = np.asarray(image.convert("RGB"), dtype=float)
        (tmp_path / "leaf.png").write_bytes(data)
        assert is_ours(tmp_path / "leaf.png")
    seen = frame(parts.draw("silhouette-leaf").profile)
    blade, corner = tuple(map(int, seen.at((40, 160)))), (5, 5)
    brightness = {look: [shown[look][y, x].mean() for x, y in (blade, corner)] for look in LOOKS}
    assert all(metal < behind - 40 for look, (metal, behind) in brightness.items() if look != "lit"), brightness
    red, green, blue = shown["rusted"][blade[1], blade[0]]
    assert red > green > blue
    glow = shown["lit"].mean(axis=2)
    assert glow.max() > 200 > 80 > brightness["lit"][1] > brightness["lit"][0]  # light shows in the openings


def test_the_same_part_gives_the_same_picture():
    assert parts.draw("silhouette-leaf").file("png") == parts.draw("silhouette-leaf").file("png")
