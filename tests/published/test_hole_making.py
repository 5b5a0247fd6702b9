"""Holes as shops make them are those of the tables in tests/reference: threads, countersinks, anchor_holes."""

import csv
import json
import math
from fractions import Fraction
from pathlib import Path

import pytest

import parts
from parts.errors import Refused
from parts.fasteners import bolts, clearance_hole_mm, sizes_of
from parts.finding import Finding
from tests.depth import some_of

FOLDER = Path(__file__).parent.parent / "reference"


def rows(name):
    """A table of tests/reference; its first line says whose it is."""
    _, *lines = (FOLDER / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(lines))


def inches(said):
    """`1-5/16` in mm."""
    whole, _, part = said.partition("-")
    return 25.4 * float(Fraction(whole) + (Fraction(part) if part else 0))


def made(slug="plate-splice", **values):
    """What the JSON says of the worked holes of a part, in plate cut by water unless said otherwise."""
    given = {"process": "waterjet", "thickness": "12 mm"} | values
    return json.loads(parts.draw(slug, **given).to_json())


def test_taps_are_those_of_the_table():
    told = [row for row in rows("threads.csv") if not row["thread"].startswith("#")]
    for row in told:
        bolt = row["thread"] if row["thread"].startswith("M") else row["thread"].rpartition("-")[0]
        (hole,) = made("bracket-weld-tab", bolt=bolt, hole_kind="tapped", thickness=3)["holes"]
        size = hole["cut_diameter"] or hole["drill_diameter"]
        assert size == pytest.approx(float(row["drill_mm"]), abs=0.002), row
        assert hole["made_diameter"] == pytest.approx(float(row["nominal_mm"]))
        assert hole["pitch"] == pytest.approx(float(row["pitch_mm"]), abs=1e-5)
        name = row["thread"] if row["thread"].startswith("M") else f"{row['thread']} UNC"
        assert hole["said"].endswith(f"tap {name}")
    assert len(told) > 24


@pytest.mark.parametrize(("units", "fewest"), [("mm", 12), ("in", 12)])
def test_fine_threads_are_finer(units, fewest):
    """A tap drill leaves 60 to 85 % of the thread's height, 1.299 pitches (ISO 68-1) off the diameter at all of it."""
    fine = [bolt for bolt in bolts().values() if bolt.units == units and bolt.size in sizes_of("tapped", bolt, "fine")]
    for bolt in fine:
        both = [made("bracket-weld-tab", bolt=bolt.size, hole_kind="tapped", thread=thread, thickness=3)["holes"][0]
                for thread in ("coarse", "fine")]  # fmt: skip
        assert both[1]["pitch"] < both[0]["pitch"]
        for hole in both:
            size = hole["cut_diameter"] or hole["drill_diameter"]
            assert 0.6 < (bolt.diameter_mm - size) / (1.299038 * hole["pitch"]) < 0.85, hole
    assert len(fine) >= fewest


def test_countersinks_are_those_of_the_table():
    for row in rows("countersinks.csv"):
        (hole,) = made("bracket-weld-tab", bolt=row["screw"], hole_kind="countersunk", thickness=2)["holes"]
        head, angle = float(row["head_mm"]), float(row["angle_deg"])
        assert (hole["made_diameter"], hole["angle_deg"]) == (pytest.approx(head), angle)
        wide = head - 2 * hole["depth"] * math.tan(math.radians(angle / 2))  # the cone ends at the hole under it
        assert wide == pytest.approx(hole["cut_diameter"] or hole["drill_diameter"])
        assert hole["cut_diameter"] == pytest.approx(clearance_hole_mm(row["screw"]))


def test_anchor_holes_are_those_of_the_table_and_more_than_for_a_bolt():
    told = {row["rod_in"]: row for row in rows("anchor_holes.csv")}
    for bolt in bolts().values():
        (hole,) = made("bracket-weld-tab", bolt=bolt.size, hole_kind="anchor", width=160)["holes"]
        assert hole["made_diameter"] > bolt.hole_mm["loose"]
        if bolt.size in told:
            assert hole["cut_diameter"] == pytest.approx(inches(told[bolt.size]["hole_in"])), bolt.size


def test_what_is_wrong_is_found_at_its_limit():
    def found(**values):
        part = parts.draw("plate-cover", process="waterjet", bolt="M8", **values)
        return [(f.severity, f.measured, f.limit) for f in part.findings if f.rule == "hole-making"]

    near = pytest.approx
    assert found(hole_kind="tapped", thickness=8, inset=30) == []
    assert found(hole_kind="tapped", thickness=7.99, inset=30) == [("warn", near(7.99), 8)]
    assert found(hole_kind="countersunk", thickness=4.47, inset=30) == []  # (17.92 - 9) / 2, by 90 degrees
    assert found(hole_kind="countersunk", thickness=4.45, inset=30) == [("warn", near(4.46), near(4.45))]
    assert found(hole_kind="counterbored", thickness=8.01, inset=30) == []
    assert found(hole_kind="counterbored", thickness=8, inset=30) == [("stop", 8, 8)]
    assert found(hole_kind="countersunk", inset=8.96 + 4.5) == []  # half the head, and half of the hole of 9
    assert found(hole_kind="countersunk", inset=8.96 + 4.4) == [("warn", near(4.4), 4.5)]
    assert found(hole_kind="countersunk", inset=8.5) == [("warn", near(0), 4.5)]


def test_what_cannot_be_cut_is_a_centre_and_a_note():
    """Of any size, and of any kind: tap drills and pilots too; a note says so, and nothing stops."""
    for kind in ("tapped", "pilot", "countersunk"):
        part = parts.draw("plate-strike", bolt="M3", hole_kind=kind, thickness=12, process="air-plasma")
        notes = [f for f in part.findings if f.rule == "hole-making" and f.severity == "note"]
        assert isinstance(notes[0], Finding)
        assert "its centre is marked" in notes[0].message
        assert not [f for f in part.findings if f.rule == "hole-to-thickness"]
        assert len([mark for mark in part.profile.marks if mark.kind == "drill"]) == 2
        assert "DRILL" in part.to_dxf()
    assert made("plate-splice", bolt="M16", hole_kind="pilot")["holes"][0]["said"] == "Ø8.75 pilot, drill Ø17.5"


def test_every_file_says_it_and_no_file_does_unasked():
    part = parts.draw("plate-adapter", first_hole_kind="counterbored", first_bolt="3/8", process="waterjet", units="in",
                      thickness="1/2", head_side="far", notes="yes")  # fmt: skip
    said = 'Ø13/32", cbore Ø5/8", 3/8" deep far side'
    (hole,) = json.loads(part.to_json())["holes"]
    assert (hole["said"], hole["count"], hole["kind"], hole["side"]) == (said, 4, "counterbored", "far")
    assert "cbore" in part.to_dxf()
    plain = parts.draw("plate-adapter", notes="yes")
    assert "holes" not in json.loads(plain.to_json())
    assert "hole_kind" not in plain.to_json()
    text = parts.draw("plate-cover", text="FERN")
    assert "hole_kind" not in text.to_json()


def test_slots_and_welds():
    (slot,) = made("plate-caster", hole_kind="slot", hole_travel=8, hole_way="upright")["holes"]
    assert slot["said"] == "slot 11 mm wide, 19 mm long"
    (weld,) = made("bracket-weld-tab", hole_kind="plug-weld", thickness=10)["holes"]
    assert weld["cut_diameter"] == 18  # AWS D1.1: the thickness and 8 mm


def test_what_has_no_such_hole_is_refused_by_name():
    for values, parameter, words in (
        ({"bolt": "M14", "hole_kind": "countersunk"}, "hole_kind", "has no head for M14 in the tables"),
        ({"hole": 9, "hole_kind": "tapped"}, "hole_kind", "needs a bolt"),
        ({"bolt": "M4", "hole_kind": "tapped", "thread": "fine"}, "hole_kind", "has no fine thread for M4"),
    ):
        with pytest.raises(Refused) as refused:
            parts.draw("plate-cover", **values)
        (problem,) = refused.value.problems
        assert problem.parameter == parameter
        assert words in problem.message


def test_no_bolt_size_stops_where_its_hole_cannot_be_cut():
    """Every preset at sizes from one end of the tables to the other: a deep run takes every size."""
    own = {"hole-to-thickness", "pierce-room", "slot-width", "hole-making", "drilled-room"}
    drilled, stopped = set(), []
    for slug, template in some_of(50, parts.templates().items()):
        specs = template.parameters.specs()
        for choice in [spec for spec in specs.values() if spec.is_bolt]:
            plain = [{}, *(preset.values for preset in some_of(1, template.presets))]
            for values, size in [(v, s) for v in plain for s in some_of(4, choice.choices[1:])]:
                free = {name: value for name, value in values.items() if name != choice.diameter}
                try:
                    part = parts.draw(slug, **{**free, choice.name: size})
                except Refused:
                    continue
                stopped += [(slug, size, f.message) for f in part.findings if f.severity == "stop" and f.rule in own]
                drilled |= {slug for f in part.findings if f.rule == "hole-making" and "to cut in" in f.message}
    assert stopped == []
    assert len(drilled) > 10


@pytest.mark.parametrize(
    ("slug", "values", "centres", "said"),
    [
        ("plate-base", {"bolt": "M6", "thickness": 12}, 4, "is 6.6 mm, too small to cut in 12 mm plate"),
        ("plate-slotted", {"bolt": "M4"}, 8, "Slot end 1 is 4.5 mm wide, too narrow to cut in 6 mm plate"),
        ("plate-washer", {"outside": "square", "inside": "square", "bolt": "M3"}, 1, "is 3.4 mm wide, too narrow"),
    ],
)
def test_a_hole_too_small_is_drilled_unless_asked(slug, values, centres, said):
    """At the limit it is cut; `small_holes=cut` has all cut, and that stops."""
    part = parts.draw(slug, **values)
    (note,) = [f for f in part.findings if f.rule == "hole-making"]
    assert (note.severity, said in note.message, part.stopped) == ("note", True, False)
    assert part.measures.drill_centres == centres
    assert "say cut for \u201cHoles too small to cut\u201d" in note.remedy
    as_drawn = parts.draw(slug, **values, small_holes="cut")
    assert as_drawn.stopped
    assert as_drawn.measures.drill_centres == 0
    assert as_drawn.measures.pierces > part.measures.pierces
