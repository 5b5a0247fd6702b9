"""Signs of many texts in every face: whole, held by bridges wide enough, true to the face, without a `stop`.

An everyday run draws one text in every other face; a deep one 500 in each, of words, of any characters that the face
has, of one letter, of what is hard to hold, and as long as a text may be.
"""

import math
import random
import unicodedata
from functools import cache

import numpy as np
import pytest
import shapely

import parts
from parts.artwork.glyphs import face, lettered, missing, words
from parts.artwork.pipeline import Fit
from parts.geometry import Arc, Line
from parts.templates import template
from tests.depth import every_other, first_number, several
from tests.property.flattened import points

WORDS = (
    "FERNHOLLOW", "WORKSHOP", "GARDEN", "BENCH", "MILL", "POND", "TRAIL", "27", "48B", "No.9", "WELCOME", "Bakery",
    "&", "Café", "QUEUE", "HERE", "PRIVATE", "JAZZ", "Exit", "100%", "8806", "ROW", "Kitchen", "ÄÖÜ", "Größe",
    "Ångström", "ŁÓDŹ", "São", "Ñandú", "O'BRIEN", "(3)", "3/4", "A4", "B52", "Q8", "£5", "5°C", "gypsy", "quay",
    "km", "Öl", "Straße",
)  # fmt: skip
HARD = (
    "O0Q8B%&",
    "@",
    "#",
    "@#&",
    '"A"',
    "'8'",
    "8",
    "B",
    "%",
    "&",
    "O",
    "i",
    "j",
    "Q",
    "g",
    "§",
    "1/2",
    "0.0",
    "O|O",
)
CYRILLIC = ("Жук", "и ёж", "ЩУКА", "Яблоко", "№ 8", "ФЫВА", "Юла", "Дом 6")
ANY = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&!?+-=ÄÖÜÉÈÇÑŠŽŁØÅÆ"
CAP, TIE = 120.0, 3.0
"""mm; the width is what air plasma wants in the 3 mm plate that signs come in, so that the rules look for it."""
LARGE = {"bed_x": 20000, "bed_y": 20000, "sheet_x": 20000, "sheet_y": 20000}
BESIDE_MM = 2 * TIE
"""How far about a bridge its ends may reach, nooks beside it are closed and necks that it makes are widened."""
GAP_MM, SMALL_MM = 1.0, 4.8
"""Half of the gap that is closed where parts meet; what no circle of that goes into is closed too (1.6 thicknesses)."""
MOST = 120
"""Characters of a text."""
TOLERANCE_MM = Fit().tolerance_mm + 0.002  # what rounding and flattening add


def text_of(number, word):
    chance, kind = random.Random(number), number % 10
    if kind in (4, 9):
        characters = ANY if kind == 4 else drawn(word)
        return "".join(chance.choice(characters) for _ in range(chance.randint(1, 14)))
    if kind in (5, 6):
        return " ".join(chance.choice(HARD) for _ in range(chance.randint(1, kind - 4)))
    words = CYRILLIC if kind == 7 and not missing("".join(CYRILLIC), face(word)) else WORDS
    chosen = [chance.choice(words) for _ in range(12 if kind == 8 else chance.randint(1, 4))]
    return (" | " if chance.random() < 0.3 else " ").join(chosen)[:MOST].strip()


@cache
def drawn(word):
    """The letters, figures and signs that a face has, as high as these are: no small ones, no marks."""
    kinds = ("Lu", "Ll", "Nd", "Po", "Pd", "Ps", "Pe", "Pi", "Pf", "Sm", "Sc")
    return [chr(c) for c in sorted(face(word).files[0].characters) if unicodedata.category(chr(c)) in kinds]


def boundary(loops):
    return shapely.MultiLineString([np.vstack([p := points(loop), p[:1]]) for loop in loops])


def raised(chosen):
    """The outline of letters and what they stand on as drawn, and where they meet or are tied, by GEOS alone."""
    x0, y0, x1, y1 = chosen.lines.box
    letters = lettered(chosen.lines, chosen.cap, (chosen.cap * (x0 + x1) / 2, chosen.cap * (y0 + y1) / 2)).glyphs
    drawn = np.array([*letters, *chosen.bars_at(chosen.cap, chosen.lines)])
    whole = shapely.union_all(drawn)
    wide = shapely.buffer(drawn, GAP_MM)
    a, b = shapely.STRtree(wide).query(wide, "intersects")
    met = [*shapely.buffer(shapely.intersection(wide[a[a < b]], wide[b[a < b]]), BESIDE_MM)]
    bars = [shapely.LineString([b.start, b.end]).buffer(b.width_mm / 2) for b in chosen.made.bridges]
    held = shapely.union_all([whole, *bars])
    shut = held.buffer(GAP_MM).buffer(-GAP_MM)  # what a gap that is closed makes an opening is one too
    rings = [
        shapely.Polygon(ring) for one in (held, shut) for part in shapely.get_parts(one) for ring in part.interiors
    ]
    nooks = [hole.difference(hole.buffer(-SMALL_MM / 2).buffer(SMALL_MM / 2)) for hole in rings]
    beside = [part for nook in nooks for part in shapely.get_parts(nook) if part.dwithin(shapely.union_all(bars), 0.1)]
    small = [hole.buffer(GAP_MM) for hole in rings if hole.buffer(-SMALL_MM / 2).is_empty]
    small += [nook.buffer(GAP_MM) for nook in beside]
    tied = [shapely.LineString([b.start, b.end]).buffer(b.width_mm / 2 + BESIDE_MM) for b in chosen.made.bridges]
    return whole.boundary, shapely.union_all([*met, *small, *tied])


def off(one, other, bridges):
    """How far at most the points of one boundary lie from another, away from bridges."""
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(one, 0.5)))
    shapely.prepare(bridges)
    free = places[~shapely.intersects(bridges, places)]
    pieces = [np.stack([xy[:-1], xy[1:]], axis=1) for line in shapely.get_parts(other) if len(xy := _xy(line))]
    tree = shapely.STRtree(shapely.linestrings(np.concatenate(pieces)))
    return float(tree.query_nearest(free, return_distance=True, all_matches=False)[1].max()) if len(free) else 0.0


def _xy(line):
    return shapely.get_coordinates(line)


def numbers():
    first = first_number()
    return range(first, first + several(1, 500))


def asked(number, word):
    corners = ("sharp", "round")[(number + words().index(word)) % 2]
    tie = 0 if number % 3 == 1 else TIE
    return {"text": text_of(number, word), "font": word, "cap_height": CAP, "tie": tie, "corners": corners, **LARGE}


def checked(slug, values):
    """The sign of some values, looked at for what holds of any: its parameters, with what was made of them."""
    part = parts.draw(slug, **values)
    assert len(part.profile.outside) == 1, values
    assert [f.message for f in part.findings if f.severity == "stop"] == [], values
    segments = [segment for loop in part.profile.boundary for segment in loop.segments]
    assert all(isinstance(segment, Line | Arc) for segment in segments), values
    chosen = template(slug).parameters.read(values)
    assert all(bridge.width_mm >= chosen.bridge >= TIE for bridge in chosen.made.bridges), values
    return chosen


def checked_plate(values):
    chosen = checked("sign-plate", values)
    if chosen.corners == "sharp" and chosen.tie:  # wider bridges also widen necks that letters leave between them
        ideal = lettered(chosen.lines, chosen.cap, chosen.middle).area.boundary
        strips = [shapely.LineString([b.start, b.end]).buffer(b.width_mm / 2 + BESIDE_MM) for b in chosen.made.bridges]
        bridges, cut = shapely.union_all(strips), boundary(chosen.made.inside)
        assert max(off(cut, ideal, bridges), off(ideal, cut, bridges)) <= TOLERANCE_MM, values


def checked_letters(values):
    chosen = checked("sign-letters", values)
    if chosen.corners == "sharp" and chosen.tie:  # wider bridges also widen necks that letters leave between them
        ideal, joined = raised(chosen)
        cut = boundary([*chosen.made.outside, *chosen.made.inside])
        assert max(off(cut, ideal, joined), off(ideal, cut, joined)) <= TOLERANCE_MM, values


def test_an_opening_behind_a_gap_between_letters_is_closed_with_it():
    asked = {"text": "~.ÔPP{7", "font": "sans", "cap_height": CAP, "tie": TIE, "corners": "sharp", **LARGE}
    checked_letters(asked | {"join": "letters"})


def joins():
    return template("sign-letters").parameters.specs()["join"].choices


@pytest.mark.parametrize("word", every_other(words()))
def test_a_text_cut_through_a_plate(word):
    for number in numbers():
        checked_plate(asked(number, word))


@pytest.mark.parametrize("word", every_other(words(), 1))
def test_raised_letters_in_one_piece(word):
    for number in numbers():
        checked_letters(asked(number, word) | {"join": joins()[number % len(joins())]})


@pytest.mark.parametrize(("font", "text"), [("rounded", "שלום 12"), ("narrow", "Жук и ёж"), ("sans", "q\u0303")])
def test_scripts_that_run_the_other_way_and_marks_are_cut(font, text):
    part = parts.draw("sign-plate", font=font, text=text, cap_height=200, corners="sharp")
    assert len(part.profile.outside) == 1
    assert math.isclose(part.measures.height_mm, part.profile.box[3] - part.profile.box[1])
    assert face(font).word == font
