"""Faces, shaping and setting of text, beside fontTools' own bounds, Unicode's rules and plane geometry."""

import io
import math
from itertools import combinations

import numpy as np
import pytest
import shapely
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from parts.artwork import metal_from
from parts.artwork.fitting import Fit, fitted
from parts.artwork.glyphs import Text, face, face_table, laid_out, lettered, missing, opened, who_has, words
from parts.artwork.glyphs.bidi import runs
from parts.artwork.glyphs.outlines import filled_glyph
from parts.artwork.glyphs.shaping import shaped
from parts.data import FOLDER
from parts.profile import Opening, Profile
from tests.depth import DEEP

LICENCE = "This Font Software is licensed under the SIL Open Font License, Version 1.1."
CAPITALS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
BINDING = "ATG489"
"""Among these are the smallest counter, the thinnest stroke and the narrowest gap of every face but one."""


def test_every_face_is_shipped_unchanged_beside_its_licence():
    shipped = {path.relative_to(FOLDER / "fonts").as_posix() for path in (FOLDER / "fonts").rglob("*.woff")}
    assert shipped == {name for face in face_table().values() for name in face.files}
    for folder in {name.split("/")[0] for name in shipped}:
        assert LICENCE in (FOLDER / "fonts" / folder / "OFL.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("word", words())
def test_a_face_has_latin_letters_with_accents_and_a_cap_as_high_as_its_h(word):
    opened_face = face(word)
    assert missing("Ångström ÄÖÜ çñ ŁÓDŹ 0123456789 & % ! ?", opened_face) == ()
    file = opened_face.files[0]
    name = TTFont(FOLDER / "fonts" / face_table()[word].files[0])
    pen = BoundsPen(name.getGlyphSet())
    name.getGlyphSet()[name.getBestCmap()[ord("H")]].draw(pen)
    assert file.cap == pytest.approx(pen.bounds[3], abs=1)


def test_a_character_that_a_face_lacks_is_told_with_the_face_that_has_it():
    assert missing("Жди 7", face("slab")) == ("Ж", "д", "и")
    assert who_has("Ж") == ("narrow",)
    assert who_has("ש") == ("rounded",)
    assert who_has("☃") == ()


@pytest.mark.parametrize(
    ("line", "visual"),
    [
        ("one", ["one"]),
        ("שלום", ["<שלום"]),
        ("שלום one 12", ["one 12", "<שלום "]),
        ("a שלום b", ["a ", "<שלום", " b"]),
        ("שלום 12", ["12", "<שלום "]),
    ],
    ids=["left to right", "right to left", "a name within", "within a name", "a number stays as it is"],
)
def test_runs_stand_as_unicode_orders_them(line, visual):
    """By rules L2 and I1 of Unicode Standard Annex 9, worked by hand."""
    assert [f"{'<' * run.right_to_left}{run.text}" for run in runs(line)] == visual


def test_what_is_set_is_as_wide_as_the_font_says():
    """Advances and kerning by fontTools' tables of the same file: H and H have none."""
    file = TTFont(FOLDER / "fonts" / face_table()["sans"].files[0])
    advance = file["hmtx"][file.getBestCmap()[ord("H")]][0]
    pen = BoundsPen(file.getGlyphSet())
    file.getGlyphSet()[file.getBestCmap()[ord("H")]].draw(pen)
    layout = laid_out(Text("HH", face("sans")))
    assert layout.width * pen.bounds[3] == pytest.approx(advance + pen.bounds[2] - pen.bounds[0], abs=1)


def test_kerning_and_marks_are_the_fonts():
    apart = shaped("AV", face("sans"))
    assert sum(cluster.advance for cluster in apart) < sum(
        cluster.advance for letter in "AV" for cluster in shaped(letter, face("sans"))
    )
    (stacked,) = shaped("q\u0303", face("rounded"))  # no letter of its own: the mark goes above the q
    assert len(stacked.glyphs) == 2


@pytest.mark.parametrize("word", words())
@pytest.mark.parametrize("character", "AÅ8&g")
def test_a_glyph_fills_what_its_contours_wind_round(word, character):
    """Beside the area of the font's own contours, each weighed by its winding: right where none overlap, less else."""
    file = face(word).files[0]
    number = file.font.get_nominal_glyph(ord(character))
    shape = filled_glyph(file, number, 1024.0)
    assert shapely.is_valid(shape)
    from fontTools.pens.areaPen import AreaPen

    pen = AreaPen(file.glyphs)
    file.glyphs[file.font.glyph_to_string(number)].draw(pen)
    assert shape.area <= abs(pen.value) / file.cap**2 * (1 + 1e-4)
    assert shape.area == pytest.approx(abs(pen.value) / file.cap**2, rel=0.03)


@pytest.mark.parametrize("word", words())
def test_the_counter_and_stroke_of_the_data_are_those_of_the_outlines(word):
    known, file, cap = face_table()[word], face(word).files[0], 100.0
    counters, strokes, gaps = [], [], []
    for character in CAPITALS if DEEP else BINDING + "B" * (word == "sans"):
        shape = filled_glyph(file, file.font.get_nominal_glyph(ord(character)), 128.0)
        metal = metal_from(shapely.transform(shape, lambda points: points * cap))
        holes = [shapely.Polygon(ring) for piece in metal.geoms for ring in piece.interiors]
        counters += [2 * shapely.maximum_inscribed_circle(hole, tolerance=0.01).length for hole in holes]
        gaps += [a.distance(b) for a, b in combinations(metal.geoms, 2)]
        loops = fitted(metal, Fit(0.02))
        necks = Profile(loops.outside, tuple(map(Opening, loops.inside))).necks(60)
        strokes += [necks[0].width] if necks else []
    assert known.counter * cap == pytest.approx(min(counters, default=0), abs=0.1)
    assert known.stroke * cap == pytest.approx(min(strokes), abs=0.2)
    assert known.gap * cap == pytest.approx(min(gaps, default=0), abs=0.1)


def test_along_an_arc_base_lines_lie_on_one_circle():
    over, under = (laid_out(Text("HHHHHH", face("sans"), curve=math.radians(angle))) for angle in (120, -120))
    for layout, side in ((over, 1), (under, -1)):
        assert math.copysign(1, layout.radius) == side
        for glyph in layout.lines[0].glyphs:  # the foot of an H in the middle of its own turn
            middle = np.array(layout.lines[0].boxes).mean(axis=1)
            far = np.hypot(middle[:, 0], middle[:, 1] + layout.radius)
            assert np.ptp(far) < 1e-6
            assert glyph.turn * glyph.x * side < 0 or abs(glyph.x) < 1
    assert laid_out(Text("HHHHHH | HHHHHH | HHHHHH", face("sans"), curve=math.radians(300))) is None


def test_letters_stay_apart_or_reach_into_each_other():
    for apart in (0.0, 0.1):
        area = lettered(laid_out(Text("RAMM", face("slab"), apart=apart)), 100, (0, 0)).area
        pieces = list(area.geoms)
        assert len(pieces) == 4
        nearest = min(a.distance(b) for a, b in combinations(pieces, 2))
        assert nearest >= 100 * apart * 0.999
    joined = lettered(laid_out(Text("RAMM", face("slab"), overlap=0.05)), 100, (0, 0)).area
    assert len(joined.geoms) == 1


def test_a_packed_font_is_opened_as_an_unpacked_one():
    packed = (FOLDER / "fonts" / face_table()["sans"].files[0]).read_bytes()
    plain, unpacked = io.BytesIO(), TTFont(io.BytesIO(packed))
    unpacked.flavor = None
    unpacked.save(plain)
    assert opened(packed).characters == opened(plain.getvalue()).characters
    with pytest.raises(ValueError, match=r"^it is no font that can be read \(.*\)$"):
        opened(b"no font")
