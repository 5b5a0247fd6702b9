"""Layouts on sheets: random jobs by exact distances, and a published instance beside its bounds."""

import json
import math
import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
import shapely

from parts.geometry import Arc
from parts.sheets import (
    Laid,
    Piece,
    Problem,
    Stock,
    clashes,
    faults,
    first_layout,
    lay_out,
    left_over,
    may_lie,
    moved,
    off_cut,
    piece_of,
    remnant,
    rings_of,
)
from tests import laid_out, library
from tests.depth import first_number, several

KINDS = [
    "gusset-triangle", "plate-washer", "plate-ring", "bracket-hook", "flange-round", "plate-motor", "gusset-concave",
    "bracket-flat-l", "plate-cover", "outline-star",
]  # fmt: skip
TURNS = ("any", "quarter", "half", "none")
# ESICUP cutting and packing datasets, 2d_irregular/terashima1 (CC0); Terashima-Marin et al. 2010, Lopez-Camacho 2012;
# optimum known: 3 sheets
TA001 = json.loads((Path(__file__).parents[1] / "reference" / "nesting" / "TA001.json").read_text("utf-8"))


def job(number):
    """A random job: its problem, and the profile of each piece by its key."""
    chance = random.Random(number)
    slugs = chance.sample([slug for slug in KINDS if slug in library.SLUGS], chance.randint(2, 5))
    profiles = [library.part(slug).profile for slug in slugs]
    pieces = []
    for key, profile in enumerate(profiles):
        piece = piece_of(key, profile, chance.choice(TURNS), chance.random() < 0.3)
        pieces += [piece] * chance.randint(1, 8)
    longest = max(max(each.box[2:]) for each in profiles)
    sides = [longest * chance.uniform(0.8, 3) for _ in range(2)]
    stock = (Stock(*sides, chance.choice((None, 1, 2))), Stock(longest * 1.5, longest * 1.7, chance.choice((None, 3))))
    problem = Problem(tuple(pieces), stock, chance.choice((0.5, 3.0, 9.97)), chance.choice((0.0, 2.0, 10.0)))
    if number % 3 == 1:
        problem = pinned(problem, chance)
    if number % 3 == 2:
        problem = replace(problem, stock=(off_cut(any_outline(longest, chance), 7), *stock))
    return problem, profiles


def any_outline(longest, chance):
    """An outline that no rectangle is: a corner cut out, one cut off, and an opening; the lower left at the origin."""
    across, up = (longest * chance.uniform(1.5, 3) for _ in range(2))
    x, y = across * chance.uniform(0.3, 0.8), up * chance.uniform(0.3, 0.8)
    outer = [(0, 0), (across, 0), (across, y * 0.6), (x, y), (x, up), (x * 0.3, up), (0, up * 0.7)]
    hole = shapely.Point(x * 0.3, y * 0.3).buffer(longest * 0.15, quad_segs=3)
    return shapely.Polygon(outer).difference(hole)


def pinned(problem, chance):
    """The problem with some of its pieces pinned, a few mm from where a layout has them, as far as that can be."""
    begun = []
    for laid in first_layout(problem).sheets:
        stays = Laid(laid.stock, ())
        for each in chance.sample(laid.placements, (len(laid.placements) + 1) // 2):
            other = moved(each, (chance.uniform(-9, 9), chance.uniform(-9, 9)), chance.choice((0, 0, 180)))
            if may_lie(other) and not any(clashes(problem, stays, other)):
                stays = Laid(laid.stock, (*stays.placements, other))
        if stays.placements:
            begun.append(stays)
    return replace(problem, begun=tuple(begun))


def everything_wrong(problem, profiles, layout):
    placed = Counter(each.piece for laid in layout.sheets for each in laid.placements)
    placed.update(each.piece for each in layout.unplaced)
    if placed != Counter(problem.pieces):
        yield "one is missing or twice"
    for kind in problem.stock:
        if kind.count is not None and sum(laid.stock == kind for laid in layout.sheets) > kind.count:
            yield "more sheets than there are"
    for laid in layout.sheets:
        loops = [
            laid_out.place(profiles[each.piece.key], each.x, each.y, each.turn_deg, each.mirrored)
            for each in laid.placements
        ]
        yield from laid_out.wrong(loops, laid.stock.width, laid.stock.height, problem.gap, problem.margin)
        if laid.stock.outline is not None:
            yield from laid_out.off_the_off_cut(loops, rings_of(laid.stock.outline), problem.margin)
    stays = {each for laid in layout.sheets for each in laid.placements}
    if any(each not in stays for laid in problem.begun for each in laid.placements):
        yield "a pinned part was moved"


FIRST = first_number()


@pytest.mark.parametrize("number", range(FIRST, FIRST + several(4, 300)))
def test_no_part_is_nearer_than_the_gap_off_its_sheet_missing_or_twice(number):
    problem, profiles = job(number)
    layout = first_layout(problem) if number % 4 else lay_out(problem, 1.0)
    assert list(everything_wrong(problem, profiles, layout)) == []
    for laid in layout.sheets:
        assert laid.share == pytest.approx(
            sum(shapely.area(each.piece.shape) for each in laid.placements) / laid.stock.area, rel=1e-2
        )


def test_the_same_layout_every_time():
    problem, _ = job(3)
    one, other = (first_layout(Problem(problem.pieces, problem.stock, problem.gap, problem.margin)) for _ in "ab")
    assert one == other


def square(side, key=0, turns="quarter"):
    shape = shapely.box(0, 0, side, side)
    return Piece(key, shape, shape.area, turns)


def test_what_fits_to_the_last_hair_fits():
    """Four squares of 95 and gaps of 10 fill 400 by 400 without its margins of 100 exactly."""
    whole = Problem((square(200),), (Stock(400, 400),), 10, 100)
    assert first_layout(whole).unplaced == ()
    assert [each.why for each in first_layout(Problem((square(200.1),), whole.stock, 10, 100)).unplaced] == [
        "it is too large for every sheet, the margin taken off"
    ]
    one = Problem((square(200),) * 2, (Stock(400, 400, 1),), 10, 100)
    assert [each.why for each in first_layout(one).unplaced] == ["the sheets that there are have no more room for it"]


def test_small_parts_lie_in_the_openings_of_large_ones():
    ring = shapely.box(0, 0, 300, 300).difference(shapely.box(50, 50, 250, 250))
    pieces = (Piece(0, ring, ring.area), *[square(90, 1)] * 4)
    (laid,) = first_layout(Problem(pieces, (Stock(320, 320),), 5, 10)).sheets
    assert len(laid.placements) == 5


def test_the_check_finds_what_is_wrong():
    """A part moved nearer, off the sheet, or left out is told of, each by a sentence of its own."""
    problem = Problem((square(50), square(60, 1)), (Stock(200, 100),), 5, 10)
    layout = first_layout(problem)
    (laid,) = layout.sheets
    first, second = laid.placements
    assert list(faults(problem, layout)) == []
    for worse_one, said in [
        (replace(second, x=second.x - 5), "nearer to each other than the gap"),
        (replace(second, x=second.x + 80), "off the sheet"),
        (first, "missing, or there twice"),
    ]:
        worse = replace(layout, sheets=(replace(laid, placements=(first, worse_one)),))
        assert said in "; ".join(faults(problem, worse))


def test_a_published_instance():
    """TA001 beside the area bound and what bounding boxes by shelves take: at most a sheet over its known optimum."""
    shapes = [shapely.Polygon(each["points"]) for each in TA001["pieces"]]
    pieces = tuple(Piece(key, shape, shape.area) for key, shape in enumerate(shapes))
    width, height = TA001["sheet"]
    sheets = len(first_layout(Problem(pieces, (Stock(width, height),), 0.0, 0.0)).sheets)
    bound = math.ceil(sum(piece.area for piece in pieces) / (width * height))
    assert bound <= TA001["least_sheets"] <= sheets <= TA001["least_sheets"] + 1
    assert sheets < shelves([shape.bounds for shape in shapes], width, height)


def shelves(boxes, width, height):
    """How many sheets bounding boxes take by first fit on shelves, tallest first (first-fit decreasing height)."""
    sizes = sorted(((x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes), key=lambda size: -size[1])
    sheets: list[list[list[float]]] = []
    for across, up in sizes:
        for sheet in sheets:
            shelf = next((s for s in sheet if s[0] + across <= width and up <= s[1]), None)
            if shelf is None and sum(s[1] for s in sheet) + up <= height:
                shelf = [0.0, up]
                sheet.append(shelf)
            if shelf:
                shelf[0] += across
                break
        else:
            sheets.append([[across, up]])
    return len(sheets)


def test_what_is_left_at_the_end_is_free():
    problem = Problem((square(50),) * 3, (Stock(500, 100),), 5, 10)
    (laid,) = first_layout(problem).sheets
    across, up = left_over(laid)
    assert up == 100
    assert 500 - across == pytest.approx(max(each.shape.bounds[2] for each in laid.placements))


def test_what_is_left_of_a_sheet_keeps_its_distance_from_every_part():
    problem = Problem((square(50),) * 3, (Stock(500, 400),), 5, 10)
    (laid,) = first_layout(problem).sheets
    outline, (x, y) = remnant(laid, 5)
    assert outline.bounds[:2] == (0, 0)
    there = shapely.affinity.translate(outline, x, y)
    assert shapely.box(0, 0, 500, 400).buffer(1e-6).contains(there)
    assert min(there.distance(each.shape) for each in laid.placements) >= 5 - 1e-6
    free = 500 * 400 - shapely.union_all([each.shape.buffer(6, join_style="mitre") for each in laid.placements]).area
    assert 0.9 * free < outline.area <= free
    assert remnant(Laid(Stock(500, 80), laid.placements), 5) is None, "nobody keeps a strip so narrow"


def test_flattening_is_as_fine_as_it_says():
    profile = library.part("plate-ring").profile
    assert any(isinstance(each, Arc) for loop in profile.boundary for each in loop.segments)
    piece = piece_of(0, profile)
    for loop in profile.boundary:
        for each in loop.segments:
            for share in (0.1, 0.25, 0.5, 0.8):
                assert piece.shape.boundary.distance(shapely.Point(each.at(share))) <= piece.error
