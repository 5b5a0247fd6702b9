"""Pictures to metal: what is opened and refused, levels, shapes; sizes against those of what was drawn."""

import contextlib
import io
import math
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from parts.artwork import pictures
from parts.artwork.pictures import contours_of, enclosed, levelled, opened
from parts.errors import Unreadable


def encoded(image: Image.Image, kind: str = "PNG", **how) -> bytes:
    made = io.BytesIO()
    image.save(made, kind, **how)
    return made.getvalue()


def disc(size: int = 120, radius: float = 40.0, ink: int = 0, paper: int = 255, many: int = 8) -> Image.Image:
    """A disc drawn many times as large and reduced, as programs draw smooth edges."""
    large = Image.new("L", (size * many, size * many), paper)
    c, r = size * many / 2, radius * many
    ImageDraw.Draw(large).ellipse((c - r, c - r, c + r, c + r), fill=ink)
    return large.resize((size, size), Image.Resampling.BOX)


def traced(data: bytes, **how):
    return contours_of(levelled(opened(data)), **how).metal()[0]


AREA = math.pi * 40**2
RGB = disc().convert("RGB")


def sixteen_bits() -> bytes:
    return encoded(Image.fromarray(np.asarray(disc(), dtype=np.uint16) * 257))


def see_through(colour: tuple[int, int, int]) -> Image.Image:
    made = Image.new("RGBA", (120, 120), (*colour, 0))
    made.putalpha(disc(ink=255, paper=0))
    return made


def exif(turn: int) -> bytes:
    tags = Image.Exif()
    tags[0x0112] = turn
    return tags.tobytes()


KINDS = {
    "grey": encoded(disc()),
    "colour": encoded(RGB),
    "16 bits": sixteen_bits(),
    "palette": encoded(RGB.quantize(16)),
    "1 bit": encoded(disc().point(lambda v: 255 * (v > 127)).convert("1")),
    "black on nothing": encoded(see_through((0, 0, 0))),
    "white on nothing": encoded(see_through((255, 255, 255))),
    "JPEG": encoded(RGB, "JPEG", quality=85),
    "JPEG of print": encoded(RGB.convert("CMYK"), "JPEG", quality=90),
    "WebP": encoded(RGB, "WEBP", quality=85),
    "WebP without loss": encoded(see_through((0, 0, 0)), "WEBP", lossless=True),
    "light on dark": encoded(disc(ink=250, paper=20)),
    "moving WebP": encoded(RGB, "WEBP", save_all=True, append_images=[RGB.rotate(90)], lossless=True),
    "interlaced": encoded(disc().convert("P")),
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_disc_is_as_large_as_it_was_drawn_in_every_kind_of_file(kind):
    metal = traced(KINDS[kind])
    assert len(metal.geoms) == 1
    assert metal.area == pytest.approx(AREA, rel=0.005)
    x0, y0, x1, y1 = metal.bounds
    assert (x0 + x1, y0 + y1) == pytest.approx((120, 120), abs=0.3)


def test_the_turn_of_a_camera_is_undone():
    wide = Image.new("L", (100, 60), 255)
    ImageDraw.Draw(wide).rectangle((10, 10, 29, 19), fill=0)  # at the upper left
    for turn, corner in ((1, (10, 60 - 20)), (3, (100 - 30, 10)), (6, (60 - 20, 100 - 30)), (8, (10, 10))):
        picture = opened(encoded(wide, "JPEG", quality=98, exif=exif(turn)))
        x0, y0, *_ = contours_of(levelled(picture)).metal()[0].bounds
        assert (x0, y0) == pytest.approx(corner, abs=0.6), turn


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def bomb(wide: int, high: int) -> bytes:
    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    packed = zlib.compress(b"\0" * 10_000_000, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


NOISY = np.random.default_rng(5)
WHOLE = encoded(Image.fromarray(NOISY.integers(0, 255, (200, 200), dtype=np.uint8)))
REFUSED = {
    "cut short": (WHOLE[:9000], "it is cut short; send the whole file"),
    "JPEG cut short": (KINDS["JPEG"][:700], "it is cut short; send the whole file"),
    "only a mark": (b"\x89PNG\r\n\x1a\n", "it is broken; open it in a picture program and save it again"),
    "scrambled": (WHOLE[:60] + WHOLE[200:], "it is broken; open it in a picture program and save it again"),
    "a bomb": (bomb(40_000, 40_000), "it unfolds to far more than 50 million pixels"),
    "a large one": (bomb(9000, 9000), "it has 9,000 by 9,000 pixels and at most 25 million are read; save it smaller"),
    "tiny": (encoded(disc().resize((8, 8))), "it has 8 by 8 pixels; a shape is told from 16 by 16 on"),
    "GIF": (encoded(disc(), "GIF"), "it is a GIF; save it as PNG, JPEG or WebP"),
    "TIFF": (encoded(disc(), "TIFF"), "it is a TIFF; save it as PNG, JPEG or WebP"),
    "text": (b"no picture at all", "it is no picture; save it as PNG, JPEG or WebP"),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_what_cannot_be_opened_is_refused_in_a_sentence(kind):
    data, why = REFUSED[kind]
    with pytest.raises(Unreadable) as refused:
        opened(data)
    assert str(refused.value) == why


def test_files_changed_at_random_are_opened_or_refused():
    for source in (KINDS["grey"], KINDS["JPEG"], KINDS["WebP"], KINDS["palette"]):
        for _ in range(60):
            data = bytearray(source)
            for at in NOISY.integers(8, len(data), 5):
                data[at] = NOISY.integers(0, 256)
            with contextlib.suppress(Unreadable):  # and nothing else
                assert opened(bytes(data)).levels.size


def test_a_blank_sheet_shows_nothing():
    for level in (0, 255):
        with pytest.raises(Unreadable, match="nothing in it is much darker or lighter than the rest"):
            levelled(opened(encoded(Image.new("L", (100, 100), level))))


def test_a_picture_of_noise_is_refused_soon():
    noise = NOISY.integers(0, 255, (1500, 1500), dtype=np.uint8)
    with pytest.raises(Unreadable, match="than can be cut"):
        traced(encoded(Image.fromarray(noise)))


def test_a_large_picture_is_reduced_and_keeps_its_shape():
    picture = opened(encoded(disc(3000, 1000, many=1), "PNG"))
    assert picture.said == ("reduced 3,000 by 3,000 pixels to 1,500 by 1,500",)
    assert contours_of(levelled(picture)).metal()[0].area == pytest.approx(math.pi * 500**2, rel=0.002)


def test_the_edge_of_a_scan_is_where_light_says_it_is():
    """A camera's pixel half covered has half of the light, which a display's curve shows as 186 of 255, not 128."""
    share = np.asarray(disc(400, 60, ink=255, paper=0), dtype=np.float64) / 255
    y, x = np.mgrid[0:1:400j, 0:1:400j]
    light = (0.95 - 0.35 * x - 0.1 * y * y) * (1 - 0.93 * share)  # from one side, and black that isn't all black
    seen = 255 * light ** (1 / 2.2) + NOISY.normal(0, 3, share.shape)
    grey = levelled(opened(encoded(Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)))))
    assert grey.is_scan
    metal = contours_of(grey).metal()[0]
    assert len(metal.geoms) == 1
    assert math.sqrt(metal.area / math.pi) == pytest.approx(60, abs=0.06)


def test_light_is_told_by_the_ground_though_what_is_light_is_small_and_aside():
    """A light plate on a dark ground that the light falls on from one side: the ground's corners are no shapes."""
    y, x = np.mgrid[0:1:300j, 0:1:400j]
    plate = (np.abs(x - 0.7) < 0.12) & (np.abs(y - 0.35) < 0.12)
    light = (0.9 - 0.5 * x - 0.1 * y) * np.where(plate, 0.8, 0.08)
    seen = 255 * light ** (1 / 2.2) + NOISY.normal(0, 4, light.shape)
    grey = levelled(opened(encoded(Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)))))
    metal = contours_of(grey).metal(20)[0]
    assert len(metal.geoms) == 1
    assert metal.area == pytest.approx(plate.sum(), rel=0.01)


def test_depth_by_outlines_and_what_is_light_by_the_border():
    rings = Image.new("L", (200, 200), 255)
    pen = ImageDraw.Draw(rings)
    for r, level in ((90, 0), (60, 255), (30, 0)):
        pen.ellipse((100 - r, 100 - r, 100 + r, 100 + r), fill=level)
    metal = traced(encoded(rings))
    assert sorted(len(piece.interiors) for piece in metal.geoms) == [0, 1]
    assert metal.area == pytest.approx(math.pi * (90.5**2 - 60.5**2 + 30.5**2), rel=0.01)
    light = contours_of(levelled(opened(encoded(rings))), shows="light")
    assert light.is_light
    assert light.metal()[0].area == pytest.approx(200 * 200 - metal.area, rel=0.01)


def test_specks_go_by_their_area():
    spotted = disc(200, 50)
    pen = ImageDraw.Draw(spotted)
    pen.rectangle((10, 10, 14, 14), fill=0)  # 25 px
    pen.rectangle((98, 98, 104, 104), fill=255)  # a hole of 49 px
    found = contours_of(levelled(opened(encoded(spotted))))
    for least, specks, holes in ((0, 0, 1), (30, 1, 1), (60, 2, 0)):
        metal, left_out = found.metal(least)
        assert (left_out, len(metal.geoms[-1].interiors)) == (specks, holes)


def test_drawn_lines_bound_what_is_between_their_middles():
    sketch = Image.new("L", (400, 300), 255)
    pen = ImageDraw.Draw(sketch)
    pen.rectangle((40, 40, 360, 260), outline=0, width=9)
    pen.ellipse((150, 100, 250, 200), outline=0, width=5)
    pen.line((60, 60, 90, 90), fill=0, width=4)  # a stroke that ends in the midst of the metal
    pen.line((36, 120, 46, 128), fill=255, width=3)  # the pen left a gap
    metal = enclosed(levelled(opened(encoded(sketch)))).metal()[0]
    assert [len(piece.interiors) for piece in metal.geoms] == [1]
    x0, y0, x1, y1 = metal.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((320 - 8, 220 - 8), abs=2.0)
    hole = metal.geoms[0].interiors[0].bounds
    assert hole[2] - hole[0] == pytest.approx(100 - 4, abs=2.0)
    line = Image.new("L", (200, 200), 255)
    ImageDraw.Draw(line).line((20, 20, 180, 150), fill=0, width=6)
    grey = levelled(opened(encoded(line)))
    with pytest.raises(Unreadable, match="its lines enclose nothing"):
        enclosed(grey)


def test_a_glyph_is_as_large_as_its_font_draws_it():
    """FreeType's own coverage, summed, is the area: each pixel says how much of it is ink."""
    image = Image.new("L", (400, 400), 255)
    ImageDraw.Draw(image).text((60, 20), "R8", font=ImageFont.load_default(size=220), fill=0)
    covered = (255 - np.asarray(image, dtype=np.float64)).sum() / 255
    assert traced(encoded(image)).area == pytest.approx(covered, rel=0.005)


def test_the_picture_that_is_shown_is_small():
    shown = Image.open(io.BytesIO(pictures.as_png(opened(encoded(disc(1000, 300, many=1))))))
    assert shown.size == (900, 900)
