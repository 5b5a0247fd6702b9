"""JSON files: their shape by a schema of the test's own, and the part measured again from them alone."""

import json
import math

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import parts
from parts.data import KINDS
from parts.export import json_text
from tests import library
from tests.depth import some_of
from tests.files.records import FEW, SLUGS, SPECIAL, special
from tests.strategies import parts_of


def record_of(**properties):
    """An object with exactly these entries."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


NUMBER, TEXT, COUNT = {"type": "number"}, {"type": "string"}, {"type": "integer", "minimum": 0}
POINT = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
LINE = record_of(kind={"const": "line"}, start=POINT, end=POINT)
ARC = record_of(
    kind={"const": "arc"}, start=POINT, end=POINT, centre=POINT, radius=NUMBER, clockwise={"type": "boolean"},
    sweep_deg=NUMBER,
)  # fmt: skip
SEGMENTS = {"type": "array", "items": {"oneOf": [LINE, ARC]}, "minItems": 1}
CIRCLE = record_of(centre=POINT, diameter=NUMBER)
LOOP = {
    "type": "object",
    "properties": {
        "side": {"enum": ["outside", "inside"]}, "segments": SEGMENTS, "circle": CIRCLE,
        "name": TEXT, "parameter": TEXT,
    },
    "required": ["side", "segments"],
    "additionalProperties": False,
    "if": {"properties": {"side": {"const": "inside"}}},
    "then": {"required": ["name", "parameter"]},
}  # fmt: skip
MARK = {
    "oneOf": [
        record_of(kind={"const": "scribe"}, segments=SEGMENTS),
        record_of(kind={"const": "bend"}, start=POINT, end=POINT),
        record_of(
            kind={"const": "bend"},
            start=POINT,
            end=POINT,
            angle_deg=NUMBER,
            radius=NUMBER,
            up={"type": "boolean"},
            k=NUMBER,
        ),
        record_of(kind={"const": "drill"}, at=POINT, diameter=NUMBER),
    ]
}
OPTIONAL_NUMBER = {"type": ["number", "null"]}
HOLE = record_of(
    kind=TEXT, name=TEXT, count={"type": "integer", "minimum": 1}, said=TEXT, cut_diameter=OPTIONAL_NUMBER,
    drill_diameter=OPTIONAL_NUMBER, made_diameter=NUMBER, depth=OPTIONAL_NUMBER, angle_deg=OPTIONAL_NUMBER,
    thread={"type": ["string", "null"]}, pitch=OPTIONAL_NUMBER, side={"enum": ["near", "far", None]}, bolt=TEXT,
    at={"type": "array", "items": POINT, "minItems": 1},
)  # fmt: skip
FORMED = record_of(
    bends={"type": "array", "items": {"type": "array", "items": COUNT}}, outside={"type": "array", "items": NUMBER},
    flat=NUMBER, width=NUMBER, height=NUMBER, segments=SEGMENTS,
)  # fmt: skip
STOP = record_of(bend=COUNT, edge={"type": ["string", "null"]}, face_of={}, to_line=OPTIONAL_NUMBER)
BEND = record_of(
    number=COUNT, angle_deg=NUMBER, up={"type": "boolean"}, radius=NUMBER, k=NUMBER, allowance=NUMBER,
    deduction=OPTIONAL_NUMBER, from_end=NUMBER,
    line={"type": "array", "items": POINT, "minItems": 2, "maxItems": 2}, k_name=TEXT, k_source=TEXT,
    k_kind={"enum": [*KINDS]}, v_opening=OPTIONAL_NUMBER,
    deduction_margin95=OPTIONAL_NUMBER,
)  # fmt: skip
FINDING = record_of(
    rule=TEXT, severity={"enum": ["stop", "warn", "note"]}, at=POINT,
    measured=OPTIONAL_NUMBER, limit=OPTIONAL_NUMBER, message=TEXT,
    remedy=TEXT, changes={"type": "object", "additionalProperties": TEXT},
    also={"type": "array", "items": POINT}, count={"type": "integer", "minimum": 1},
)  # fmt: skip
ROUTINE = record_of(rule=TEXT, message=TEXT, remedy=TEXT, places={"type": "array", "items": POINT, "minItems": 1})
A_NUMBER = record_of(
    number=TEXT, value={"type": ["number", "string", "null"]}, unit=TEXT, source=TEXT, setting=TEXT,
    kind={"enum": ["published", "common practice", "from memory", "derived", "yours"]},
)  # fmt: skip
PART = record_of(
    platewright_version=TEXT, template=TEXT, address=TEXT, title=TEXT,
    parameters={"type": "object", "additionalProperties": {"type": ["number", "string", "boolean"]}},
    stock=record_of(material=TEXT, title=TEXT, thickness_mm=NUMBER),
    process=TEXT, process_numbers={"type": "array", "items": A_NUMBER, "minItems": 12}, units={"enum": ["mm", "in"]},
    measures=record_of(
        area_mm2=NUMBER, cut_length_mm=NUMBER, pierces=COUNT, width_mm=NUMBER, height_mm=NUMBER,
        mass_kg=NUMBER, loops=COUNT, drill_centres=COUNT, scribe_length_mm=NUMBER, cut_time_s=NUMBER, slow_share=NUMBER,
        cutting_time_s=NUMBER, lead_in_time_s=NUMBER, pierce_time_s=NUMBER, probe_time_s=NUMBER, travel_time_s=NUMBER,
        travel_mm=NUMBER,
    ),
    loops={"type": "array", "items": LOOP, "minItems": 1},
    marks={"type": "array", "items": MARK},
    bends={"type": "array", "items": BEND}, formed={"type": "array", "items": FORMED},
    stops={"type": "array", "items": STOP}, findings={"type": "array", "items": FINDING},
    routine={"type": "array", "items": ROUTINE},
    rests_on={"type": "object", "additionalProperties": {"type": "array", "items": A_NUMBER}},
    cautions={"type": "array", "items": TEXT},
)  # fmt: skip
PART["properties"]["holes"] = {"type": "array", "items": HOLE, "minItems": 1}  # where holes are worked
SHAPE = jsonschema.Draft202012Validator(PART)


def refuse(word):
    raise AssertionError(f"{word} is not JSON")


def read(text):
    found = json.loads(text, parse_constant=refuse)
    SHAPE.validate(found)
    return found


# ------------------------------------------------------------------ measured again, by Green's theorem


def area_under(segment):
    """Half the integral of x dy - y dx along a segment; on an arc about (cx, cy) from angle a by s:
    r² s + r cx (sin(a+s) - sin a) - r cy (cos(a+s) - cos a), halved."""
    (ax, ay), (bx, by) = segment["start"], segment["end"]
    if segment["kind"] == "line":
        return (ax * by - bx * ay) / 2
    (cx, cy), r, s = segment["centre"], segment["radius"], math.radians(segment["sweep_deg"])
    return (r * r * s + cx * (by - ay) - cy * (bx - ax)) / 2


def length(segment):
    if segment["kind"] == "line":
        return math.dist(segment["start"], segment["end"])
    return segment["radius"] * math.radians(abs(segment["sweep_deg"]))


def points(segment, steps=720):
    """Points along a segment, from its centre, radius and sweep alone, as rows of x and y."""
    if segment["kind"] == "line":
        return np.array([segment["start"], segment["end"]])
    centre, r = np.array(segment["centre"]), segment["radius"]
    a = math.atan2(*reversed(segment["start"] - centre))
    turns = a + math.radians(segment["sweep_deg"]) * np.arange(steps + 1) / steps
    return centre + r * np.column_stack((np.cos(turns), np.sin(turns)))


def check(found, measures):
    segments = [segment for loop in found["loops"] for segment in loop["segments"]]
    size = max(found["measures"]["width_mm"], found["measures"]["height_mm"])
    tiny = 1e-10 * size
    for loop in found["loops"]:
        ends = [segment["end"] for segment in loop["segments"]]
        assert [segment["start"] for segment in loop["segments"]] == [ends[-1], *ends[:-1]]
        assert (sum(map(area_under, loop["segments"])) > 0) == (loop["side"] == "outside")
    for segment in segments:
        if segment["kind"] == "arc":
            assert segment["clockwise"] == (segment["sweep_deg"] < 0)
            reach = max(segment["radius"], size)
            for end in ("start", "end"):
                assert math.dist(segment["centre"], segment[end]) == pytest.approx(segment["radius"], abs=1e-10 * reach)
            assert points(segment, 1)[-1] == pytest.approx(segment["end"], abs=1e-10 * reach)
    assert math.fsum(map(area_under, segments)) == pytest.approx(measures.area_mm2, rel=1e-9)
    assert math.fsum(map(length, segments)) == pytest.approx(measures.cut_length_mm, rel=1e-12)
    outside = [segment for loop in found["loops"] if loop["side"] == "outside" for segment in loop["segments"]]
    outline = np.concatenate([points(segment) for segment in outside])
    flat = max((s["radius"] for s in segments if s["kind"] == "arc"), default=0) * math.radians(1) ** 2 / 8
    box = (*outline.min(axis=0), *outline.max(axis=0))
    assert box == pytest.approx((0, 0, measures.width_mm, measures.height_mm), abs=flat + tiny)


@pytest.mark.parametrize("slug", some_of(16, SLUGS, 1))
def test_a_template_at_its_defaults(slug):
    check(read(library.written(slug, "json")), library.part(slug).measures)


@pytest.mark.parametrize("slug", some_of(8, SLUGS, 1))
@FEW
@given(data=st.data())
def test_a_template_at_any_values(slug, data):
    part = data.draw(parts_of(parts.templates()[slug], common=True, changed=True))
    found = read(part.to_json())
    check(found, part.measures)
    again = parts.draw(found["template"], **found["parameters"])
    assert again.to_json() == part.to_json()


@pytest.mark.parametrize("name", SPECIAL)
def test_a_profile_made_by_hand(name):
    record = special(name)
    check(read(json_text.write(record)), record.measures)


def test_what_the_gusset_says():
    own = {"toe": 12, "snipe": 15, "corner_radius": 3, "bolt": "M10", "first_hole": 35, "back_mark": 20}
    part = parts.draw("gusset-triangle", leg_a="4 in", leg_b=100, holes_a=1, thickness="1/4 in", units="in", **own)
    found = read(part.to_json())
    assert found["template"] == "gusset-triangle"
    assert found["platewright_version"] == parts.VERSION
    assert found["address"] == part.record.address
    assert found["stock"] == {"material": "mild-steel", "title": "Mild steel", "thickness_mm": 6.35}
    assert (found["process"], found["units"]) == ("air-plasma", "in")
    assert (found["parameters"]["leg_a"], found["parameters"]["holes_a"]) == (101.6, 1)
    assert isinstance(found["parameters"]["leg_b"], float)
    assert [loop["side"] for loop in found["loops"]] == ["outside", "inside"]
    hole = found["loops"][1]
    assert (hole["name"], hole["parameter"]) == ("hole in leg A", "holes_a")
    assert hole["circle"] == {"centre": [35.0, 20.0], "diameter": 11.0}
    assert found["cautions"] == list(part.cautions) != []


def test_a_finding_is_whole():
    part = parts.draw("gusset-triangle", holes_a=1, bolt="by-diameter", hole=3, thickness=6)
    found = read(part.to_json())["findings"]
    assert found
    assert [
        (f["rule"], f["severity"], f["at"], f["measured"], f["limit"], f["message"], f["remedy"]) for f in found
    ] == [(f.rule, f.severity, list(f.at), f.measured, f.limit, f.message, f.remedy) for f in part.findings]
    assert [f["changes"] for f in found] == [dict(f.changes) for f in part.findings]


def test_findings_alike_are_one_with_each_place_in_it():
    part = parts.draw("gusset-triangle", leg_a=400, holes_a=5, bolt="by-diameter", hole=3, thickness=6)
    small = [f.at for f in part.findings if f.rule == "hole-to-thickness"]
    (told,) = [f for f in read(part.to_json())["findings"] if f["rule"] == "hole-to-thickness"]
    assert (told["count"], len(small)) == (5, 5)
    assert [tuple(told["at"]), *map(tuple, told["also"])] == small


def test_what_is_routine_stands_outside_the_findings():
    part = parts.draw("bracket-shelf")
    found = read(part.to_json())
    assert [r["rule"] for r in found["routine"]] == ["slat-tip"]
    assert found["routine"][0]["message"].endswith("and stand in the torch's way.")
    assert "slat-tip" not in {f["rule"] for f in found["findings"]}


def test_marks_carry_their_geometry():
    marks = read(json_text.write(special("marks")))["marks"]
    assert [mark["kind"] for mark in marks] == ["scribe"] * 6 + ["bend"] * 2 + ["drill"] * 2
    assert marks[6] == {"kind": "bend", "start": [0.0, 40.0], "end": [100.0, 40.0]}
    assert marks[-1] == {"kind": "drill", "at": [1 / 3, 50.0], "diameter": 0.1}
    quarter = marks[0]["segments"][1]
    assert quarter["centre"] == pytest.approx([30, 20], abs=1e-12)
    assert (quarter["radius"], quarter["sweep_deg"]) == pytest.approx((10, 90))


def test_each_entry_stands_on_its_own_line():
    names = [line.split('"')[1] for line in parts.draw("gusset-triangle").to_json().splitlines()[1:-1]]
    assert names == [name for name in PART["properties"] if name != "holes"]
