"""Fonts of someone's own: the same outlines by HarfBuzz as by fontTools; hostile, broken and useless ones refused."""

import gc
import io
import random
import struct
import weakref
import zlib
from functools import cache
from time import process_time

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import Glyph, GlyphComponent
from fontTools.ttLib.tables.TupleVariation import TupleVariation

import parts
from parts import Refused
from parts.artwork.glyphs import face, is_own, lent, traits
from parts.artwork.glyphs.traits import measured
from parts.data import FOLDER
from parts.part import outlined
from tests.depth import several

SHIPPED = (FOLDER / "fonts/oswald/oswald-latin-600-normal.woff").read_bytes()


@cache
def as_ttf():
    font, made = TTFont(io.BytesIO(SHIPPED)), io.BytesIO()
    font.flavor = None
    font.save(made)
    return made.getvalue()


def changed(change):
    font, made = TTFont(io.BytesIO(as_ttf())), io.BytesIO()
    change(font)
    font.save(made)
    return made.getvalue()


def _square(pen, size):
    pen.moveTo((0, 0))
    for corner in ((0, size), (size, size), (size, 0)):
        pen.lineTo(corner)
    pen.closePath()
    return pen


def built(*, is_cff=False, has_axis=False, fs_type=0):
    """A font of one letter, a square as high as its capitals."""
    builder = FontBuilder(1000, isTTF=not is_cff)
    builder.setupGlyphOrder([".notdef", "H"])
    builder.setupCharacterMap({ord("H"): "H"})
    if is_cff:
        strings = {name: _square(T2CharStringPen(800, None), 700).getCharString() for name in (".notdef", "H")}
        builder.setupCFF("Square", {"FullName": "Square"}, strings, {})
    else:
        builder.setupGlyf({name: _square(TTGlyphPen(None), 700).glyph() for name in (".notdef", "H")})
    builder.setupHorizontalMetrics({".notdef": (800, 0), "H": (800, 0)})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Square\u202e\x00 of\tFernhollow", "styleName": "Regular"})
    builder.setupOS2(sCapHeight=700, fsType=fs_type)
    builder.setupPost()
    if has_axis:
        builder.setupFvar([("wght", 100, 400, 900, "Weight")], [])
        grown = TupleVariation({"wght": (0, 1, 1)}, [(0, 0), (0, 0), (300, 300), (300, 0), *[(0, 0)] * 4])
        builder.setupGvar({"H": [grown]})
    made = io.BytesIO()
    builder.save(made)
    return made.getvalue()


def refusal(data):
    with pytest.raises(Refused) as refused, lent(data, "My.ttf"):
        pass
    (problem,) = refused.value.problems
    assert (problem.parameter, problem.value) == ("font", "My.ttf")
    return problem.message


@pytest.mark.parametrize("packed", [lambda: SHIPPED, as_ttf], ids=["WOFF", "TTF"])
def test_a_font_of_ones_own_draws_what_the_same_shipped_one_draws(packed):
    """Its outlines are HarfBuzz's, the shipped one's fontTools': the loops are the same to a micron."""
    shipped = parts.draw("sign-plate", text="AGB 8% | fjord", font="narrow")
    with lent(packed(), "Oswald.woff") as font:
        own = parts.draw("sign-plate", text="AGB 8% | fjord", font=font.word)
        assert font.title == "Oswald SemiBold"
        assert traits(font.face) == pytest.approx(traits(face("narrow")), abs=5e-4)
    assert own.record.address.endswith(f"font={font.word}")
    assert len(own.profile.inside) == len(shipped.profile.inside)
    for one, other in zip(own.profile.inside, shipped.profile.inside, strict=True):
        assert one.loop.box == pytest.approx(other.loop.box, abs=1e-3)
        assert one.loop.area == pytest.approx(other.loop.area, rel=1e-6)


def test_nothing_of_it_is_left_after():
    with lent(SHIPPED, "Oswald.woff") as font:
        parts.draw("sign-plate", text="FERN", font=font.word)
        measured(font.face)
    gone, word = weakref.ref(font.face.files[0]), font.word
    del font
    gc.collect()
    assert gone() is None
    with pytest.raises(Refused) as refused:
        parts.draw("sign-plate", text="FERN", font=word)
    (problem,) = refused.value.problems
    assert problem.parameter == "font"
    assert "its file isn't here: choose it again, or one of stencil, sans" in problem.message
    assert is_own(word)
    with pytest.raises(Refused, match="must be one of stencil"):
        parts.draw("sign-plate", font="own-1")


def test_outlines_of_postscript_and_the_default_of_a_variable_font_are_cut():
    for data, notes in (
        (built(), ()),
        (built(is_cff=True), ()),
        (built(has_axis=True), ("It is a variable font: its default is cut.",)),
        (built(fs_type=2), ("Its maker has marked it as restricted: its licence says whether signs may be made with "
                            "it. That is for you to know.",)),
        (built(fs_type=8), ()),
    ):  # fmt: skip
        with lent(data, "Square.otf") as font:
            assert font.notes == notes
            assert font.title == "Square of Fernhollow"
            part = parts.draw("sign-plate", text="H", font=font.word, cap_height="70", holes="none")
        (letter,) = part.profile.inside
        assert letter.loop.box[2] - letter.loop.box[0] == pytest.approx(70, abs=0.05)
        assert letter.loop.box[3] - letter.loop.box[1] == pytest.approx(70, abs=0.05)


def test_a_letter_that_it_lacks_is_told_with_the_font_as_it_calls_itself():
    with lent(built(), "Square.ttf") as font, pytest.raises(Refused) as refused:
        parts.draw("sign-plate", text="HI", font=font.word)
    assert "has “I”, which the font Square of Fernhollow has no letter for" in str(refused.value)


def woff(*tables, length=None):
    """A WOFF of packed tables; each says that it is as long as it is, or `length`."""
    rows, bodies, at = [], [], 44 + 20 * len(tables)
    for tag, body in tables:
        packed = zlib.compress(body)
        rows.append(struct.pack(">4sIIII", tag, at, len(packed), length or len(body), 0))
        bodies.append(packed)
        at += len(packed)
    head = struct.pack(">4s4sIHHIHHIIIII", b"wOFF", b"\0\1\0\0", at, len(tables), 0, 0, 1, 0, 0, 0, 0, 0, 0)
    return head + b"".join(rows) + b"".join(bodies)


def _without(*tags):
    def change(font):
        for tag in tags:
            del font[tag]

    return changed(change)


def _emptied(font):
    for name in font.getGlyphOrder():
        font["glyf"][name] = Glyph()


REFUSED = {
    "nothing": (lambda: b"", "is no font: a TTF, an OTF or a WOFF of one font is read."),
    "a text": (lambda: b"# A title\n" * 50, "is no font"),
    "too large": (lambda: as_ttf() + bytes(10_000_001), "has more than 10 MB"),
    "a collection": (lambda: b"ttcf" + bytes(100), "is a collection of several fonts"),
    "WOFF2": (
        lambda: b"wOF2" + bytes(100),
        "is packed as WOFF2, which isn't read here: convert it to TTF, OTF or WOFF.",
    ),
    "Type 1": (lambda: b"%!PS-AdobeFont-1.0", "is a Type 1 font: convert"),
    "half a directory": (lambda: as_ttf()[:20], "is broken: it ends amid its directory."),
    "half a file": (lambda: as_ttf()[: len(as_ttf()) // 2], "ends past the end of the file."),
    "no tables": (lambda: b"\0\1\0\0" + bytes(60), "its directory has 0 tables."),
    "a bomb": (lambda: woff((b"glyf", bytes(30_000_000)), (b"cmap", bytes(30_000_000))), "unpacks to more than 40 MB"),
    "a bomb that says it is small": (lambda: woff((b"glyf", bytes(9_000_000)), length=100), "doesn't unpack to what"),
    "one that says it is larger": (lambda: woff((b"glyf", bytes(10)), length=100), "doesn't unpack to what"),
    "no characters": (lambda: _without("cmap"), "says no characters (it has no table cmap)."),
    "pictures alone": (lambda: _without("glyf", "loca"), "has no outlines, only pictures of letters"),
    "colours over empty outlines": (lambda: changed(_emptied), "has no outlines that can be read"),
    "a cmap of noise": (lambda: as_ttf().replace(b"cmap", b"cmaq"), "says no characters"),
}


@pytest.mark.parametrize(("made", "sentence"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_font_to_cut_is_refused_in_a_sentence_at_little_cost(made, sentence):
    data = made()
    begun = process_time()
    assert sentence in refusal(data)
    assert process_time() - begun < 1


def _component(name):
    made = GlyphComponent()
    made.glyphName, made.x, made.y, made.flags = name, 0, 0, 0x0002
    return made


def _nested(font):
    """H of twenty H2, each of twenty H3, and so on: twenty to the sixth; the last of itself."""
    names = ["H", "A", "B", "C", "D", "E"]
    for name, under in zip(names, [*names[1:], "E"], strict=True):
        glyph = Glyph()
        glyph.numberOfContours, glyph.components = -1, [_component(under) for _ in range(20)]
        glyph.xMin = glyph.yMin = 0
        glyph.xMax = glyph.yMax = 700
        font["glyf"].glyphs[name] = glyph


def test_glyphs_made_of_others_without_end_cost_little():
    font, made = TTFont(io.BytesIO(as_ttf())), io.BytesIO()
    _nested(font)
    font["glyf"].recalcBBoxes = font.recalcBBoxes = False
    font.recalcTimestamp = False
    font["maxp"].recalc = lambda _: None
    font.save(made)
    begun = process_time()
    with pytest.raises(Refused, match=r"^(text|font): .*\.$"), lent(made.getvalue(), "Nested.ttf") as own:
        parts.draw("sign-plate", text="HH", font=own.word)
    assert process_time() - begun < 3


def test_a_font_with_more_points_than_are_drawn_is_refused_for_the_text_that_has_them():
    pen = TTGlyphPen(None)
    pen.moveTo((0, 0))
    for i in range(15_000):
        pen.lineTo((i % 700, 100 + i % 601))
    pen.closePath()
    font, made = TTFont(io.BytesIO(built())), io.BytesIO()
    font["glyf"]["H"] = pen.glyph()
    font.save(made)
    with lent(made.getvalue(), "Ornate.ttf") as own, pytest.raises(Refused, match="more points in its outlines"):
        parts.draw("sign-plate", text="HH", font=own.word)


@pytest.mark.parametrize("number", range(several(6, 400)))
def test_a_font_with_bytes_changed_is_drawn_or_refused(number):
    """Tables of noise: whatever comes of it, it is a part or a sentence, within seconds."""
    chance, data = random.Random(number), bytearray(as_ttf())
    for _ in range(chance.choice((1, 20, 400))):
        data[chance.randrange(12, len(data))] = chance.randrange(256)
    begun, said = process_time(), "."
    try:
        with lent(bytes(data), "My.ttf") as font:
            outlined("sign-plate", text="Fä8", font=font.word)
    except Refused as refused:
        said = str(refused)
    assert said.endswith(".")
    assert process_time() - begun < 10
