"""A drawing of one's own, read and checked: what a part it is, what was found, and what is refused."""

import json

import pytest

import parts
from parts.checking import checked as own
from parts.checking import limited as apart
from parts.errors import Problem
from parts.export import drawing_svg
from parts.finding import Finding, Verdict
from parts.geometry.draft import circle as round_loop
from parts.geometry.draft import rectangle
from parts.part import job_of
from parts.profile import Opening, Profile
from parts.read import read_drawing
from parts.rules import RULES
from parts.spec.parameters import Parameters
from parts.workers import TimeUp
from tests.files import foreign
from tests.files.foreign import INCH, UNITLESS, circle, dxf, line, svg

JOB = job_of(Parameters.read({}))


def box(w: float, h: float, x: float = 0.0, y: float = 0.0) -> str:
    return line(x, y, x + w, y) + line(x + w, y, x + w, y + h) + line(x + w, y + h, x, y + h) + line(x, y + h, x, y)


def kinds(checked: parts.Checked) -> list[tuple[str, str]]:
    return [(finding.severity, finding.rule) for finding in checked.part.findings]


def test_a_sound_drawing_is_a_part_like_any_other():
    checked = parts.check(dxf(box(100, 60) + circle(50, 30, 10)), "folder/plate.dxf", thickness="6 mm")
    assert (kinds(checked), checked.healed, checked.open) == ([], (), ())
    assert (checked.closed, checked.stopped) == (True, False)
    record = checked.part.record
    assert (record.template.slug, record.template.title, record.address) == ("own-drawing", "plate.dxf", "")
    assert set(record.parameters) == set(Parameters.specs())
    assert checked.part.measures.area_mm2 == pytest.approx(6000 - 100 * 3.141592653589793)


def test_every_rule_is_asked_and_the_reading_speaks_first():
    """One fault of each kind, told together: a stop of the reading before a stop of a rule."""
    drawn = box(3000, 60) + circle(20, 20, 2) + circle(60, 20, 5) + circle(74, 20, 5) + line(200, 20, 230, 20)
    checked = parts.check(dxf(drawn), "all.dxf", thickness=6)
    assert kinds(checked) == [
        ("stop", "loops"), ("stop", "hole-to-thickness"), ("stop", "bridge-width"), ("stop", "bed-fit"),
    ]  # fmt: skip


def test_loops_that_cross_are_found():
    checked = parts.check(dxf(box(100, 60) + circle(100, 30, 10)), "crossing.dxf", thickness=6)
    assert ("stop", "loops") in kinds(checked)


def test_what_is_healed_stays_healed_in_the_file():
    gap = dxf(line(0, 0, 50, 0) + line(50, 0, 50, 40) + line(50.03, 40, 0, 40) + line(0, 40, 0, 0) * 2)
    checked = parts.check(gap, "gap.dxf", thickness=3)
    assert checked.healed == ("joined 1 gap of up to 0.03 mm", "dropped 1 doubled line")
    again = read_drawing(checked.file("dxf"), "again.dxf")
    assert (again.healed, again.findings) == ((), ())
    assert again.profile.outside == checked.part.profile.outside


@pytest.mark.parametrize("kind", own.FORMATS)
def test_the_healed_drawing_can_be_written(kind):
    data = parts.check(dxf(box(80, 40) + circle(20, 20, 8)), "p.dxf", thickness=6).file(kind)
    assert data.startswith({"dxf": b"999\n", "svg": b"<?xml", "pdf": b"%PDF", "json": b"{"}.get(kind, b""))
    assert data


def test_where_nothing_closes_the_open_lines_are_shown_and_nothing_is_written():
    checked = parts.check(dxf(line(0, 0, 80, 0) + line(80, 0, 80, 50)), "bent.dxf", thickness=6)
    assert not checked.closed
    assert kinds(checked) == [("stop", "loops")]
    drawing = drawing_svg.write(checked.part.record)
    assert drawing.count('class="pw-open-line"') == 1
    assert 'data-finding="1"' in drawing
    with pytest.raises(parts.Refused) as refused:
        checked.file("dxf")
    assert refused.value.problems[0].parameter == "file"
    assert json.loads(checked.to_json())["measures"]["loops"] == 0


def test_one_open_line_can_be_drawn_too():
    """It has no height; the drawing needs some."""
    assert "<svg" in drawing_svg.write(parts.check(dxf(line(0, 0, 80, 0)), "l.dxf", thickness=6).part.record)


def test_open_lines_beside_a_closed_outline_are_shown_and_in_no_file():
    checked = parts.check(dxf(box(80, 40) + line(90, 0, 120, 0)), "p.dxf", thickness=6)
    assert len(checked.open) == 1
    assert "pw-open-line" in drawing_svg.write(checked.part.record)
    assert read_drawing(checked.file("dxf"), "again.dxf").segments == 4


def test_the_json_is_that_of_a_part_with_what_was_healed():
    checked = parts.check(dxf(box(80, 40) + line(90, 0, 120, 0)), "p.dxf", thickness=6)
    said = json.loads(checked.to_json())
    of_a_part = json.loads(parts.draw("gusset-triangle").to_json())
    own = ["verdict", "unchecked", "healed", "open", "tolerance_mm", "mends", "layers", "outlines"]
    assert list(said) == [*of_a_part, *own]
    assert said["open"] == [[{"kind": "line", "start": [120.0, 0.0], "end": [90.0, 0.0]}]]


# ------------------------------------------------------------------------------------- units and values


def test_bare_numbers_are_in_the_drawings_own_units():
    checked = parts.check(dxf(box(4, 2), units=INCH), "in.dxf", thickness="1/4")
    assert checked.part.record.units == "in"
    assert checked.part.record.job.cut.thickness_mm == 6.35


def test_units_are_asked_for_together_with_what_else_is_wrong():
    with pytest.raises(parts.Refused) as refused:
        parts.check(dxf(box(4, 2), units=UNITLESS), "no.dxf", thickness="900 mm", process="saw")
    assert [problem.parameter for problem in refused.value.problems] == ["thickness", "process", "units"]
    assert "It is 4 mm x 2 mm, or 4 in x 2 in" in refused.value.problems[-1].message


@pytest.mark.parametrize("said", [None, "", "  "])
def test_no_units_asked_for_leaves_it_to_the_file(said):
    assert parts.check(dxf(box(4, 2), units=INCH), "in.dxf", thickness="1/8", units=said).part.record.units == "in"


def test_units_that_are_none():
    with pytest.raises(parts.Refused) as refused:
        parts.check(dxf(box(4, 2)), "p.dxf", thickness=6, units="furlong")
    assert refused.value.problems == (Problem("units", "furlong", "must be one of mm, in."),)


def test_a_value_of_no_own_drawing_is_refused_by_name():
    with pytest.raises(parts.Refused) as refused:
        parts.check(dxf(box(40, 20)), "p.dxf", thickness=6, leg_a=3)
    assert [problem.parameter for problem in refused.value.problems] == ["leg_a"]


@pytest.mark.parametrize("said", [{}, {"thickness": ""}, {"thickness": "  "}, {"thickness": None}], ids=str)
def test_the_thickness_has_to_be_given(said):
    """A drawing doesn't tell it, and a default would pass holes that the real plate is too thick for."""
    with pytest.raises(parts.Refused) as refused:
        parts.check(dxf(box(40, 20)), "p.dxf", process="saw", **said)
    assert [problem.parameter for problem in refused.value.problems] == ["thickness", "process"]
    assert "isn't given: say how thick the plate is, such as 6 mm" in refused.value.problems[0].message


def test_what_is_missing_is_said_together_with_the_units():
    with pytest.raises(parts.Refused) as refused:
        parts.check(dxf(box(4, 2), units=UNITLESS), "no.dxf")
    assert [problem.parameter for problem in refused.value.problems] == ["thickness", "units"]


def test_small_holes_are_exchanged_for_drill_centres():
    checked = parts.check(dxf(box(80, 40) + circle(20, 20, 2)), "p.dxf", thickness=6, small_holes="drill")
    assert (kinds(checked), checked.part.measures.drill_centres) == ([], 1)


# ------------------------------------------------------------------------------------- pieces in windows


def rings(count: int) -> parts.Checked:
    return parts.check(dxf("".join(circle(0, 0, 30 + 20 * i) for i in range(count))), "rings.dxf", thickness=6)


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5])
def test_a_piece_in_the_window_of_another_is_sound_and_loose(count):
    """By nesting depth: even is outside, odd an opening; each ring is 20 mm wide and 20 mm from the next."""
    found = [kind for kind in kinds(rings(count)) if kind[1] != "slat-tip"]
    assert found == [("stop", "loose-piece")] * ((count - 1) // 2)


@pytest.mark.parametrize(
    ("outside", "inside", "says"),
    [
        ((rectangle((0, 0), 90, 90), rectangle((20, 20), 40, 40)), (), "lies inside the edge of piece 1"),
        ((rectangle((0, 0), 90, 90),), (((20, 20), 50), ((20, 20), 20)), "lies inside opening 1"),
        ((rectangle((0, 0), 90, 90),), (((190, 20), 50),), "lies outside the part"),
    ],
    ids=["part in a part", "opening in an opening", "opening beside"],
)
def test_loops_wrongly_nested_are_found(outside, inside, says):
    openings = tuple(Opening(round_loop((x + 20, y + 20), d)) for (x, y), d in inside)
    found = [finding.message for finding in RULES[0].check(Profile(outside, openings), JOB)]
    assert any(says in message for message in found)


# ------------------------------------------------------------------------------------- rich and hostile drawings


def many_holes(count: int, pitch: float) -> Profile:
    holes = [round_loop((pitch * (i + 1), pitch * (j + 1)), 6) for i in range(count) for j in range(count)]
    return Profile((rectangle((0, 0), pitch * (count + 1), pitch * (count + 1)),), tuple(map(Opening, holes)))


@pytest.mark.parametrize(("count", "told"), [(40, 40), (41, 41), (42, 41)])
def test_of_one_rule_no_more_is_told_than_a_person_reads(count, told):
    drawn = box(40 * count, 60) + "".join(circle(40 * i + 20, 30, 3) for i in range(count))
    found = [
        f
        for f in parts.check(dxf(drawn), "p.dxf", thickness=6, bed_x="20 m").part.findings
        if f.rule == "hole-to-thickness"
    ]
    assert len(found) == told
    if count > 40:
        rest = count - 40
        assert found[-1].message == f"There {'is 1 more place' if rest == 1 else f'are {rest} more places'} like these."


def test_a_rich_drawing_is_checked_in_a_process_of_its_own_with_the_same_findings(monkeypatch):
    profile = many_holes(12, 11.0)
    monkeypatch.setattr(apart, "_is_small", lambda *_: True)
    here = apart.found_within(profile, JOB, 20.0)
    monkeypatch.setattr(apart, "_is_small", lambda *_: False)
    assert apart.found_within(profile, JOB, 20.0) == here
    assert {finding.rule for finding in here} == {"hole-to-thickness", "bridge-width"}


def test_a_rule_that_takes_too_long_is_named_and_the_others_are_still_asked():
    """Hundreds of rings, each near all others by its box: beyond what the rule for bridges does in the time."""
    profile = Profile(tuple(round_loop((0, 0), 9000 - 20 * i) for i in range(0, 400, 2)))
    found = apart.found_within(profile, JOB, 0.2)
    unchecked = [finding for finding in found if finding.message.startswith("Not checked for ")]
    assert unchecked
    assert all(finding.severity == "stop" and finding.is_unchecked for finding in unchecked)
    assert len(unchecked) < len(RULES) / 2


def test_a_rule_that_breaks_is_not_taken_for_one_that_takes_long(monkeypatch):
    monkeypatch.setattr(apart, "_is_small", lambda *_: False)
    with pytest.raises(RuntimeError, match="Traceback"):
        apart.found_within(Profile((rectangle((0, 0), 9, 9),)), None, 5.0)


def test_the_drawing_of_a_rich_part_stays_plain():
    record = parts.check(dxf(box(800, 800) + "".join(circle(30 * i + 40, 30 * j + 40, 1 + i / 10) for i in range(20)
                             for j in range(20))), "p.dxf", thickness=6).part.record  # fmt: skip
    text = drawing_svg.write(record)
    assert "pw-centres" not in text
    assert text.count("Ø") <= 12


def test_svg_is_read_too():
    checked = parts.check(svg('<rect width="80" height="40"/><circle cx="20" cy="20" r="2"/>'), "p.svg", thickness=6)
    assert kinds(checked) == [("stop", "hole-to-thickness")]
    assert isinstance(checked.part.findings[0], Finding)


def test_what_other_programs_write_is_checked():
    made, space = foreign.document(units=INCH)
    space.add_lwpolyline([(0, 0), (8, 0), (8, 4), (0, 4)], close=True)
    space.add_circle((2, 2), 0.5, dxfattribs={"extrusion": (0, 0, -1)})
    space.add_circle((2, 2), 0.5)
    checked = parts.check(foreign.data(made), "theirs.dxf", thickness="1/4")
    assert len(checked.part.profile.outside) == 2  # a circle seen from behind lies mirrored, beside the plate
    assert len(checked.part.profile.inside) == 1


def test_openings_larger_than_the_plate_leave_no_area_and_stop_it():
    drawn = circle(0, 0, 30).replace("8\n0\n", "8\nINSIDE\n") + circle(9, 0, 5).replace("8\n0\n", "8\nOUTSIDE\n")
    checked = parts.check(dxf(drawn), "swapped.dxf", thickness=6)
    assert checked.part.measures.area_mm2 == checked.part.measures.mass_kg == 0
    assert ("stop", "loops") in kinds(checked)


@pytest.mark.parametrize(
    ("drawn", "line"),
    [
        (box(80, 40), "Not everything could be checked: {rule}"),
        (box(80, 40) + circle(20, 20, 2), "Don't cut yet: 1 to mend; not everything could be checked: {rule}"),
    ],
)
def test_what_could_not_be_checked_is_no_pass(monkeypatch, drawn, line):
    rule = next(rule for rule in RULES if rule.RULE == "bridge-width")
    monkeypatch.setattr(rule, "check", lambda *_: 1 / 0)
    checked = parts.check(dxf(drawn), "p.dxf", thickness=6)
    said = json.loads(checked.to_json())
    assert (checked.stopped, checked.verdict.stops) == (True, True)
    assert said["verdict"] == checked.verdict.line == line.format(rule="bridge width")
    assert said["unchecked"] == ["bridge-width"]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
def test_each_rule_that_is_cut_short_stops_it(monkeypatch, rule):
    """Whichever rule runs out of time, there is no verdict without its name."""

    def late(*_):
        raise TimeUp

    monkeypatch.setattr(apart, "is_worker", lambda: True)
    monkeypatch.setattr(rule, "check", late)
    checked = parts.check(dxf(box(80, 40)), "p.dxf", thickness=6)
    assert checked.verdict == Verdict(f"Not everything could be checked: {rule.RULE.replace('-', ' ')}", stops=True)


def test_the_verdict_of_a_sound_drawing_and_of_one_in_doubt():
    assert parts.check(dxf(box(80, 40)), "p.dxf", thickness=6).verdict == Verdict("Can be cut", stops=False)
    doubtful = parts.check(dxf(box(14, 9)), "p.dxf", thickness=6)
    assert doubtful.verdict == Verdict("Can be cut if its units are right; 1 to look at", stops=False)


def test_a_doubt_about_the_unit_comes_before_every_stop():
    found = parts.check(dxf(box(4, 2.4) + circle(1, 1.2, 0.125)), "p.dxf", thickness=6).part.findings
    assert [f.severity for f in found[:2]] == ["warn", "stop"]
    assert found[0].rule == "units"


def test_places_are_told_where_the_drawing_has_them():
    """A hole at (30, 40) of a plate whose corner is at (10, 20), in the unit that the file states."""
    for unit, mm in ((4, 1.0), (INCH, 25.4), (5, 10.0), (6, 1000.0)):
        k = 1 / mm
        drawn = box(90 * k, 60 * k, 10 * k, 20 * k) + circle(30 * k, 40 * k, 2 * k)
        checked = parts.check(dxf(drawn, units=unit), "p.dxf", thickness="6 mm")
        (found,) = json.loads(checked.to_json())["findings"]
        assert found["at"] == pytest.approx([20, 20])
        assert found["at_drawing"] == pytest.approx([30, 40])
        where = {4: "30, 40", INCH: "1.181, 1.575", 5: "3, 4", 6: "0.03, 0.04"}[unit]
        assert checked.place(checked.part.findings[0]) == f"at {where} in the drawing"


def test_places_far_out_and_beside_what_is_open_are_the_drawings_own():
    """What is moved near before it is measured, and an outline that doesn't close, are told where they are drawn."""
    far = parts.check(dxf(box(90, 60, 50_000, 20_000) + circle(50_020, 20_020, 2)), "p.dxf", thickness=6)
    (stop,) = (f for f in json.loads(far.to_json())["findings"] if f["severity"] == "stop")
    assert stop["at_drawing"] == pytest.approx([50_020, 20_020])
    gap = line(100, 200, 190, 200) + line(190, 200, 190, 260) + line(190, 260, 100, 260) + line(100, 260, 100, 205)
    opened = parts.check(dxf(gap), "p.dxf", thickness=6)
    (found,) = json.loads(opened.to_json())["findings"]
    assert found["at_drawing"] in ([100, 205], [100, 200])


def test_places_of_an_svg_run_downward_from_its_own_corner():
    """SVG 2, section 8.1: the y axis points down; a viewBox may begin anywhere."""
    text = ('<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="-10 -20 400 200">'
            '<rect x="20" y="30" width="200" height="120"/><circle cx="60" cy="70" r="4" fill="white"/>'
            '<path d="M0 0"/></svg>')  # fmt: skip
    checked = parts.check(text.encode(), "p.svg", thickness=6)
    places = [checked.place(f) for f in checked.part.findings if f.rule == "hole-to-thickness"]
    assert places == ["at 60, 70 in the drawing"]
    (found,) = (f for f in json.loads(checked.to_json())["findings"] if f["rule"] == "hole-to-thickness")
    assert found["at_drawing"] == pytest.approx([30, 35])  # mm: a unit is half of one


def test_a_rule_that_finds_no_numbers_is_named(monkeypatch):
    monkeypatch.setattr(RULES[1], "check", lambda *_: 1 / 0)
    found = parts.check(dxf(box(80, 40)), "p.dxf", thickness=6).part.findings
    assert [(f.severity, f.rule) for f in found] == [("stop", RULES[1].RULE)]
    assert "or can't be told apart" in found[0].message
