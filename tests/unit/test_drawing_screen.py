"""The drawing in a window: lettering of one size, nothing on anything else, leaders apart, dimensions of two levels."""

import itertools
from collections.abc import Iterator
from dataclasses import replace

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from shapely import STRtree
from shapely.affinity import rotate
from shapely.geometry import LineString, box

import parts
from parts.drawing import DESK, PHONE, Drawing, Group, Path, lay_out_on_screen, overlaid
from tests import library
from tests.depth import DEEP, some_of

OVER_PX = {DESK: 24, PHONE: 18}
"""Free about a window of a page: what is shown while it is asked for may reach into it."""


def lettering(groups):
    """The room that each text takes, by widths of a published font and not by the layout's own reckoning."""
    for text in (text for group in groups for text in group.texts):
        width = stringWidth(text.text, "Helvetica", text.size)
        (x, y), start = text.at, -width * {"start": 0, "middle": 0.5, "end": 1}[text.anchor]
        upright = box(x + start, y, x + start + width, y + 0.72 * text.size)
        yield text.text, rotate(upright, text.angle, origin=(x, y), use_radians=True)


def lasting(drawing: Drawing) -> list[Group]:
    return [group for group in drawing.groups if not group.spare]


def leaders(drawing: Drawing) -> list[tuple[str, LineString]]:
    """The lines of each leader: of lettering on a shelf, and of flags."""
    found = []
    for group in lasting(drawing):
        led = group.kind == "finding" or (group.kind == "dimension" and any(t.anchor != "middle" for t in group.texts))
        paths = [item for item in group.items if isinstance(item, Path) and item.pen in ("dimension", "leader")]
        name = group.texts[0].text if group.texts else f"flag {group.key}"
        found += [(name, LineString([s.start, s.end])) for path in paths for s in path.segments if led]
    return found


def said(groups) -> list[str]:
    return sorted(text.text for group in groups if group.kind == "dimension" for text in group.texts)


def collisions(drawing: Drawing) -> Iterator[str]:
    """What stands on lettering, on an outline, or crosses another leader."""
    texts = list(lettering(lasting(drawing)))
    rooms = [room for _, room in texts]
    for i, j in STRtree(rooms).query(rooms, "intersects").T:
        if i < j and rooms[i].intersection(rooms[j]).area > 1e-6:
            yield f"{texts[i][0]!r} on {texts[j][0]!r}"
    (part,) = drawing.of("part")
    cut = STRtree([LineString([s.at(k / 40) for k in range(41)]) for path in part.items for s in path.segments])
    yield from (f"{text!r} on an outline" for text, room in texts if len(cut.query(room, "intersects")))
    led = leaders(drawing)
    yield from (
        f"the leader of {text!r} on it"
        for text, room in texts
        for of, line in led
        if of == text and line.distance(room) < 1
    )
    for i, j in STRtree([line for _, line in led]).query([line for _, line in led], "intersects").T if led else ():
        if i < j and led[i][0] != led[j][0]:
            yield f"the leader of {led[i][0]!r} crosses that of {led[j][0]!r}"


def misplaced(drawing: Drawing, over: float) -> Iterator[str]:
    """What is shown while it is asked for and would stand on lettering, or where nobody sees it."""
    texts = list(lettering(lasting(drawing)))
    for text, room in lettering(group for group in drawing.groups if group.spare):
        if any(room.intersection(other).area > 1e-6 for _, other in texts):
            yield f"{text!r}, asked for, on another"
        if room.bounds[0] < -over or room.bounds[2] > drawing.width + over:
            yield f"{text!r}, asked for, is out of the window"


@pytest.mark.parametrize("usual", [DESK, PHONE], ids=["desk", "phone"])
def test_every_template_is_legible_in_a_window(usual):
    """Every other template in each window, by turns in one of the two levels; all in both in a deep run."""
    wrong = []
    for number, slug in enumerate(some_of(16, library.SLUGS, int(usual is PHONE))):
        whole = said(library.layout(slug).groups)
        for every in (False, True) if DEEP else (number % 2 == 0,):
            window = replace(usual, every=every)
            drawing = lay_out_on_screen(library.part(slug).record, window)
            found = [*collisions(drawing), *misplaced(drawing, OVER_PX[usual])]
            if not every and (drawing.width > window.width + 1e-9 or drawing.height > window.height + 1e-9):
                found.append(f"{drawing.width:.0f} by {drawing.height:.0f} px")
            wrong += [f"{slug}, {'all' if every else 'first'}: {each}" for each in found]
            assert {text.size for text in drawing.texts} == {13.0 if usual is DESK else 12.0}, slug
            assert said(drawing.groups) == whole, slug
            assert not (every and any(group.spare for group in drawing.groups)), slug
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(
    ("slug", "first", "spare"),
    [
        ("gusset-triangle", ["A 100", "B 100", "C 12", "D 15", "E R3"], []),
        ("bracket-shelf", ["2 \u00d7 Ø9", "A 200", "B 240"], ["E R4", "G R6", "F 28"]),
        (
            "bracket-bent-u",
            ["186.8 flat", "4 \u00d7 Ø11", "A 60 formed", "B 90 formed", "G 20"],
            ["J R5", "F 40 formed"],
        ),
        ("plate-bumper", ["A 1800", "B 250", "J 2 \u00d7 Ø90", "H 1300"], ["E 45", "G R15", "X R12"]),
    ],
)
def test_the_first_level_is_what_a_part_is_laid_out_by(slug, first, spare):
    """Sizes, holes and where they are, bends; small corners and what was told already only when asked for."""
    drawing = lay_out_on_screen(library.part(slug).record, DESK)
    assert set(first) <= set(said(lasting(drawing)))
    assert set(spare) <= set(said(g for g in drawing.groups if g.spare))
    assert bool(spare) == any(g.spare for g in drawing.groups)


def test_the_leaders_of_a_rich_part_are_apart_in_inches_too():
    for slug in ("plate-motor", "plate-bumper", "silhouette-moon-cloud", "gauge-hole-ladder"):
        drawing = lay_out_on_screen(parts.draw(slug, units="in").record, replace(PHONE, every=True))
        for (one, a), (other, b) in itertools.combinations(leaders(drawing), 2):
            assert one == other or not a.intersects(b), f"{slug}: {one!r} and {other!r}"


@pytest.mark.parametrize(
    ("bed", "more", "said"),
    [
        ("52in x 98in", {}, {"Sheet 48 by 96 in", "Bed 52 by 98 in"}),
        ("96in x 48in", {}, {"Sheet 96 by 48 in", "Bed 96 by 48 in"}),
        ("40in x 60in", {}, {"Sheet 48 by 96 in, larger than the bed", "Bed 40 by 60 in"}),
        (
            "52in x 98in",
            {"width": "60"},
            {f"{of}, turned a quarter" for of in ("Sheet 48 by 96 in", "Bed 52 by 98 in")},
        ),
    ],
)
def test_the_sheet_lies_on_the_bed_the_way_it_fits(bed, more, said):
    bed_x, bed_y = bed.split(" x ")
    record = parts.draw("plate-base", units="in", bed_x=bed_x, bed_y=bed_y, **more).record
    drawing = overlaid(record, lay_out_on_screen(record, DESK))
    assert {text.text for group in drawing.groups if group.kind == "stock" for text in group.texts} == said
