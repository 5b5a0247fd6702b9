"""What is traced, held and cut, against what was drawn: by summed coverage, and by another reader of the file."""

import io

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont
from skimage import data as samples

from parts.tracing import Traced, trace
from tests.depth import DEEP
from tests.files.readers import by_gdal

FAITHFUL = {"hold": "off", "sturdy": "0", "despeckle": "0"}
WIDTH = {"width": "300mm", "thickness": "3mm", "process": "laser"}


def glyph(letters: str, size: int = 300) -> np.ndarray:
    """Letters as FreeType draws them through Pillow, with its own font: 255 paper, 0 ink."""
    image = Image.new("L", (260 * len(letters) + 120, 460), 255)
    ImageDraw.Draw(image).text((60, 60), letters, font=ImageFont.load_default(size=size), fill=0)
    return np.asarray(image)


def pictures() -> dict[str, np.ndarray]:
    """scikit-image's pictures of two levels, those in its wheel and one that it makes, and glyphs."""
    found = {"horse": np.where(samples.horse(), 255, 0), "checkerboard": samples.checkerboard()}
    if DEEP:
        blobs = samples.binary_blobs(512, blob_size_fraction=0.15, volume_fraction=0.5, rng=3)
        found["blobs"] = np.where(blobs, 0, 255)
    letters = "abcdefghijkmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789&%?!@#" if DEEP else "ag8&"
    return found | {f"glyph {each}": glyph(each) for each in letters}


PICTURES = pictures()


def as_png(levels: np.ndarray) -> bytes:
    made = io.BytesIO()
    Image.fromarray(levels.astype(np.uint8)).save(made, "PNG")
    return made.getvalue()


def traced(name: str, **values: str) -> Traced:
    return trace(as_png(PICTURES[name]), f"{name}.png", **(WIDTH | values))


def area_drawn(levels: np.ndarray) -> float:
    """Ink in pixels: each pixel's level says how much of it is covered."""
    return float((255.0 - levels).sum() / 255)


@pytest.mark.parametrize("name", PICTURES)
def test_the_area_is_that_of_the_picture(name):
    found = traced(name, **FAITHFUL)
    px = found.part.measures.area_mm2 / found.scale**2
    assert px == pytest.approx(area_drawn(PICTURES[name]), rel=0.005)


@pytest.mark.parametrize("name", [name for name in PICTURES if name != "checkerboard"])  # its squares meet at points
def test_held_it_is_one_piece_that_another_reader_finds_whole(name):
    found = traced(name)
    assert not [f for f in found.part.findings if f.severity == "stop"]
    assert len(found.part.profile.outside) == 1
    read = by_gdal(found.file("dxf").decode())
    outside, inside = read["OUTSIDE"], read.get("INSIDE", [])
    assert all(each.closed for each in (*outside, *inside))
    area = sum(each.area for each in outside) - sum(each.area for each in inside)
    assert area == pytest.approx(found.part.measures.area_mm2, rel=5e-4)
    x0, _, x1, _ = outside[0].box
    assert x1 - x0 == pytest.approx(300, abs=found.made.moved_mm + 0.01)


def test_a_glyph_cut_out_of_a_plate_keeps_its_counters_on_bridges():
    found = traced("glyph 8", mount="plate", width="200mm")
    assert len(found.made.bridges) >= 2
    assert len(found.part.profile.outside) == 1
    assert not [f for f in found.part.findings if f.severity == "stop"]
