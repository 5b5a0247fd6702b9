"""Letters cut through a part: in the largest room, clear of edges and holes, held; refused with what fits."""

import math
import re

import pytest
import shapely

import parts
from parts import Refused
from parts.artwork import metal_of
from parts.artwork.inscribing.room import largest_place
from parts.templates.shared.lettered import Lettered
from tests.depth import one_in, some_of

TEXTS = {
    "silhouette-bird": "JAY", "silhouette-conifer": "27", "silhouette-star": "8",
    "silhouette-ridge": "HILLTOP", "plate-base": "FH 7", "plate-cap": "I", "plate-cover": "A | 40",
    "plate-washer": "I", "flange-round": "4", "silhouette-sunburst": "O", "plate-bumper": "FERNHOLLOW",
}  # fmt: skip


def of(profile):
    return metal_of([*profile.outside, *(opening.loop for opening in profile.inside)])


def cap_of(part):
    return next(each.measured for each in part.profile.dimensions if each.parameter == "cap_height")


@pytest.mark.parametrize("slug", one_in(6, TEXTS))
def test_letters_are_in_one_piece_with_the_part_and_clear_of_all_that_was_there(slug):
    """Areas and distances by shapely: the part is as many pieces as before, and only letters are gone from it."""
    part, plain = parts.draw(slug, text=TEXTS[slug]), parts.draw(slug)
    before, after = of(plain.profile), of(part.profile)
    assert len(after.geoms) == len(before.geoms)
    letters = [opening for opening in part.profile.inside if opening.name == "letter"]
    assert {opening.parameter for opening in letters} == {"text"}
    assert shapely.area(before) - shapely.area(after) == pytest.approx(sum(abs(o.loop.area) for o in letters), rel=1e-3)
    cap, cut = cap_of(part), shapely.union_all([metal_of([opening.loop]) for opening in letters])
    tie = min(max(0.055 * cap, 1.05 * part.record.job.cut.thickness_mm, 1), 0.2 * cap)
    assert shapely.distance(cut, shapely.boundary(before)) >= tie - 0.06
    assert part.profile.outside == plain.profile.outside
    assert any("Letters cut through" in caution for caution in part.cautions)
    assert part.record.told["text"] == TEXTS[slug]


def test_nothing_is_told_of_letters_where_there_are_none():
    every = [t for t in parts.templates().values() if issubclass(t.parameters, Lettered)]
    assert len(every) >= 25
    for template in every:
        names = list(template.parameters.specs())
        last = names.index(Lettered.optional[0])
        assert tuple(names[last : last + len(Lettered.optional)]) == Lettered.optional
    part = parts.draw("plate-base")
    for kind in ("json", "dxf", "svg"):
        assert b"letter_tie" not in part.file(kind)
    assert not any("Letters" in caution for caution in part.cautions)
    assert b"letter_tie" in parts.draw("plate-base", text="7").file("dxf")


def test_letters_too_large_are_refused_with_the_largest_that_fit_which_do():
    with pytest.raises(Refused) as refused:
        parts.draw("plate-base", text="FERNHOLLOW", cap_height="80")
    (problem,) = refused.value.problems
    assert problem.parameter == "cap_height"
    most = re.fullmatch(r"has no room between .* for this text; at most (.*) has\.", problem.message)[1]
    assert problem.ways == ({"cap_height": most},)
    fits = parts.draw("plate-base", text="FERNHOLLOW", cap_height=most)
    with pytest.raises(Refused):
        parts.draw("plate-base", text="FERNHOLLOW", cap_height=f"{cap_of(fits) * 1.08}")
    with pytest.raises(Refused, match=r"text: has no room .* fewer letters, more lines"):
        parts.draw("plate-washer", text="FERNHOLLOW COMMUNITY WORKSHOP, MILL LANE 27")


def test_letters_are_moved_and_their_bridges_with_them():
    own = parts.draw("plate-cover", text="AB", cap_height="30")
    moved = parts.draw("plate-cover", text="AB", cap_height="30", text_x="-20", text_y="12.5")
    ends = [next(d for d in part.profile.dimensions if d.parameter == "cap_height").start for part in (own, moved)]
    assert (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) == pytest.approx((-20, 12.5), abs=1e-6)
    with pytest.raises(Refused, match="has no room where it was moved to"):
        parts.draw("plate-cover", text="AB", cap_height="30", text_x="-110")
    with pytest.raises(Refused, match="text: has no room where it was moved to"):
        parts.draw("plate-cover", text="AB", text_x="1400")
    with pytest.raises(Refused, match=r"bridges: moves 9\.9\.top, which isn't there"):
        parts.draw("plate-cover", text="AB", cap_height="30", bridges="9.9.top:0.2")
    with pytest.raises(Refused, match="bridges: has 'so', which can't be read"):
        parts.draw("plate-cover", text="AB", bridges="so")
    with pytest.raises(Refused, match="text: has “Ж”, which the face sans has no letter for"):
        parts.draw("plate-cover", text="Ж")


def test_openings_of_a_vent_panel_make_room_for_letters_and_go_with_them():
    """By shapely: as much metal as a bridge about the letters, a third of the openings left, and nothing stops it."""
    plain, part = parts.draw("plate-panel"), parts.draw("plate-panel", text="TOOLS")
    count, inside = len(plain.profile.inside), part.profile.inside
    letters = shapely.union_all([metal_of([o.loop]) for o in inside if o.name == "letter"])
    vents = [metal_of([o.loop]) for o in inside if o.name == "opening"]
    assert count / 3 < len(vents) < count
    assert min(shapely.distance(vents, letters)) >= plain.record.job.cut.narrowest_bridge_mm
    assert not [finding for finding in part.findings if finding.severity == "stop"]
    with pytest.raises(Refused, match="takes all the room of the openings"):
        parts.draw("plate-panel", text="A", width=80, height=60, least_margin=10, opening_length=20)


@pytest.mark.parametrize(
    ("region", "width", "height", "scale"),
    [
        (shapely.box(0, 0, 40, 10), 2, 1, 10),
        (shapely.box(0, 0, 40, 10), 8, 1, 5),
        (shapely.Point(0, 0).buffer(10, quad_segs=200), 3, 4, 4),
        (shapely.box(0, 0, 40, 40) - shapely.box(10, 10, 40, 40), 3, 1, 10),
        (shapely.Polygon([(0, 0), (12, 0), (0, 12)]), 1, 1, 6),
    ],
    ids=["a strip", "a strip of what is longer", "a circle", "an L", "a triangle"],
)
def test_the_largest_place_is_that_of_plane_geometry(region, width, height, scale):
    """In a circle a rectangle's diagonal is its diameter; in a right-angled triangle the square of half its leg."""
    place = largest_place(region, width, height)
    assert 0.95 * scale <= place.scale <= scale * (1 + 1e-9)
    x, y = place.at
    a, b = place.scale * width / 2, place.scale * height / 2
    assert shapely.buffer(region, 1e-6).covers(shapely.box(x - a, y - b, x + a, y + b))
    if math.isclose(region.area, 400):
        assert x == pytest.approx(20, abs=0.5), "in the middle where it has as much room everywhere"
    assert largest_place(shapely.Polygon(), 1, 1) is None


def test_a_bridge_is_where_it_was_moved_and_the_drawing_says_how_far_that_is():
    """A share is of the breadth of the counter that it holds, to the right."""
    own = parts.draw("sign-plate", text="R")
    moved = parts.draw("sign-plate", text="R", bridges="1.1.top:0.2")
    (tie,), (there,) = own.profile.ties, moved.profile.ties
    assert (tie.key, there.offset) == ("1.1.top", pytest.approx(0.2))
    by = there.offset - tie.offset
    assert there.start[0] - tie.start[0] == pytest.approx(by * tie.share[0], abs=1e-6)
    assert tie.share[1] == pytest.approx(0, abs=1e-6)
    for past in ("0.51", "9", "-40"):
        with pytest.raises(Refused, match=r"moves 1\.1\.top, which isn't there or has no room there"):
            parts.draw("sign-plate", text="R", bridges=f"1.1.top:{past}")


def draw_or_refuse(slug, **values):
    try:
        return parts.draw(slug, **values)
    except Refused as error:
        return error


EVERY = [slug for slug, each in parts.templates().items() if issubclass(each.parameters, Lettered)]


@pytest.mark.parametrize("slug", some_of(2, EVERY))
def test_letters_that_are_drawn_unasked_can_be_cut_and_others_are_refused_with_what_can(slug):
    """Of every part and three texts in a deep run: by the rules, that this doesn't ask."""
    for text in ("OAK", "FERNHOLLOW", "27"):
        tried = draw_or_refuse(slug, text=text)
        if isinstance(tried, Refused):
            assert re.search("has no room|these letters from about", tried.problems[0].message), (slug, text)
            continue
        letters = [f.message for f in tried.findings if f.severity == "stop" and "etter" in f.message]
        assert letters == [], (slug, text)


@pytest.mark.parametrize(("units", "most", "least"), [("mm", "12 mm", "17 mm"), ("in", "0.46 in", "1-1/8 in")])
def test_letters_with_room_for_less_than_the_process_cuts_say_both_heights(units, most, least):
    with pytest.raises(Refused) as refused:
        parts.draw("silhouette-stag", text="OAK", units=units)
    (problem,) = refused.value.problems
    assert f"has room for capitals of {most} at most, and air plasma" in problem.message
    assert f"cuts these letters from about {least} on" in problem.message
    assert problem.ways == ({"cap_height": most},)
    assert parts.draw("silhouette-stag", text="OAK", units=units, cap_height=most)
