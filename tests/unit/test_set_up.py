"""The set-up of a part: against hand-worked examples, an independent march along the path, and time in small steps."""

import ast
import io
import json
import math
import operator
import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

import parts
from parts.cutting import machine
from parts.errors import DataError, Refused
from parts.geometry import Arc, circle, rectangle
from parts.profile import Opening, Profile
from parts.setup import grouped, set_up
from parts.setup.duty import allowed_percent, arc_spells, busiest, repeated, rest_after
from parts.setup.steps import MANY, steps
from tests import library

DOCUMENT = (Path(__file__).parents[2] / "docs" / "set-up.md").read_text(encoding="utf-8")


# ------------------------------------------------------------------------------------------- worked by hand

NAMES = {"pi": math.pi, "sqrt": math.sqrt}
DOES = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
    ast.FloorDiv: operator.floordiv, ast.Pow: operator.pow,
}  # fmt: skip


def by_hand(node):
    """The value of a sum as the document writes it."""
    if isinstance(node, ast.Expression):
        return by_hand(node.body)
    if isinstance(node, ast.BinOp):
        return DOES[type(node.op)](by_hand(node.left), by_hand(node.right))
    if isinstance(node, ast.Call):
        return NAMES[node.func.id](*map(by_hand, node.args))
    return NAMES[node.id] if isinstance(node, ast.Name) else node.value


def at(tree, path):
    for word in path.split("."):
        tree = tree[int(word)] if isinstance(tree, list) else tree[word]
    return tree


def test_the_documents_sums_are_what_the_sheet_says(own_file):
    (numbers,) = re.findall(r"```toml\n(.*?)```", DOCUMENT, re.DOTALL)
    own_file.write_text(numbers, encoding="utf-8")
    ((slug, words),) = re.findall(r"^platewright setup (\S+) (.*) -o washer\.json$", DOCUMENT, re.MULTILINE)
    values = dict(word.split("=") for word in words.split())
    said = json.loads(parts.draw(slug, **values).set_up("json"))
    rows = re.findall(r"^\| `([\w.]+)` \| `(.+?)` \| ([\d.]+) \|$", DOCUMENT, re.MULTILINE)
    assert len(rows) == 24
    for path, sum_, printed in rows:
        worked = by_hand(ast.parse(sum_, mode="eval"))
        assert at(said, path) == pytest.approx(worked, rel=1e-5), path
        assert at(said, path) == pytest.approx(float(printed), rel=1e-5), path
    assert said["duty"]["rest_after_each_s"] == 20
    assert said["cost"]["missing"] == []


# ------------------------------------------------------------------------------------------------- time, marched


def marched(segments, feed, of):
    """How long a lap takes by stepping over its length in 0.01 mm: v² grows by 2 a ds at most, both ways, twice round.

    Written from the limits alone: feed, v² <= a r on an arc, and the corner's inscribed arc r (1 / cos(t/2) - 1) = d.
    """
    step = 0.01
    cap, joints = [], []
    for segment in segments:
        most = min(feed, of.top_speed)
        if isinstance(segment, Arc):
            most = min(most, math.sqrt(of.acceleration * segment.radius))
        joints.append(len(cap))
        cap += [most] * max(round(segment.length / step), 1)
    squares = np.array(cap) ** 2
    for i, place in enumerate(joints):
        before, after = segments[i - 1], segments[i]
        (ux, uy), (vx, vy) = heading(before, 1.0), heading(after, 0.0)
        turn = abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))
        if turn > 1e-6:
            half = math.cos(turn / 2)
            squares[place] = min(squares[place], of.acceleration * of.corner_tolerance / (1 / half - 1))
    gain, twice = 2 * of.acceleration * step, np.concatenate([squares, squares])
    for i in range(1, len(twice)):
        twice[i] = min(twice[i], twice[i - 1] + gain)
    for i in range(len(twice) - 2, -1, -1):
        twice[i] = min(twice[i], twice[i + 1] + gain)
    count, total = len(squares), sum(segment.length for segment in segments)
    lap = np.sqrt(twice[count // 2 : count // 2 + count])
    return float((total / count / lap).sum())


def heading(segment, share):
    if isinstance(segment, Arc):
        return segment.heading_at(segment.start if share == 0 else segment.end)
    return segment.heading


@pytest.mark.parametrize("slug", ["gusset-triangle", "bracket-flat-l"])
def test_time_with_the_arc_on_is_that_of_a_march_along_the_path(slug):
    """Each loop by itself and all of it: pierce, lead-in by uniform acceleration from rest, and the marched lap."""
    record = library.part(slug).record
    job, cut = record.job, record.job.cut
    for step in set_up(record).steps:
        loop = record.profile.boundary[step.loop]
        way = min(cut.lead_in_mm, min(step.width, step.height) / 2)
        feed = min(cut.feed_mm_s, job.machine.top_speed)
        ticks = np.arange(0, 2, 1e-5)
        gone = np.cumsum(np.minimum(job.machine.acceleration * ticks, feed)) * 1e-5
        lead_in = float(ticks[np.searchsorted(gone, way)])
        expected = cut.pierce_time_s + lead_in + marched(loop.segments, cut.feed_mm_s, machine())
        assert step.arc_time_s == pytest.approx(expected, rel=3e-3), step.name
    m = record.measures
    on = m.cutting_time_s + m.lead_in_time_s + m.pierce_time_s
    assert sum(step.arc_time_s for step in set_up(record).steps) == pytest.approx(on, rel=1e-12)


# ---------------------------------------------------------------------------------------------- the power source


def test_the_duty_cycle_at_another_current():
    """IEC 60974-1, worked: 60 % at 60 A is 33.75 % at 80 A, 202.5 s of ten minutes; never over 100 %.

    By the square of the current, as the source warms (common practice).
    """
    assert allowed_percent(60, 60, 80) == pytest.approx(33.75)
    assert "33.75 % at 80 A, 3 min 22.5 s" in DOCUMENT
    assert allowed_percent(60, 60, 80) / 100 * 600 == pytest.approx(3 * 60 + 22.5)
    assert allowed_percent(60, 60, 60) == 60
    assert allowed_percent(60, 60, 30) == 100
    assert allowed_percent(60, 0, 80) == allowed_percent(60, 60, None) == 60


def stepped(spells, window):
    """The most of the arc in any window, in steps of 0.1 s."""
    on = np.concatenate([np.repeat([0.0, 0.1], [round(10 * off), round(10 * lit)]) for off, lit in spells])
    sums = np.concatenate([[0.0], np.cumsum(np.concatenate([on, np.zeros(round(10 * window))]))])
    width = round(10 * window)
    return float((sums[width:] - sums[:-width]).max())


LONG = [(3, 250), (4, 20), (60, 300), (3, 90), (200, 40)]
SHORT = [(3.0, 5.0), (3.4, 11.3)]


@pytest.mark.parametrize("spells", [LONG, SHORT, repeated(SHORT, 0.0), repeated(SHORT, 20.0), [(0, 700.0)]])
def test_the_busiest_ten_minutes_are_those_found_in_small_steps(spells):
    assert busiest(spells) == pytest.approx(stepped(spells, 600), abs=0.2)


def test_a_rest_is_the_least_that_is_enough():
    rest = rest_after(SHORT, 240)
    assert stepped(repeated(SHORT, rest), 600) <= 240.2
    assert stepped(repeated(SHORT, rest - 1), 600) > 240
    assert rest_after([(300.0, 10.0)], 300) == 0


def test_rest_is_said_where_ten_minutes_have_too_much_of_the_arc(own_file):
    own_file.write_text("[processes.air-plasma.duty_cycle]\npercent = 20\n")
    thick = set_up(parts.draw("plate-base", thickness=20, small_holes="cut").record)
    assert thick.duty.current_a == 125
    assert thick.duty.allowed_s == 120
    assert thick.duty.rest_within
    assert thick.duty.rest_in_all_s == pytest.approx(thick.duty.on_s / 0.20 - thick.duty.whole_s)
    own_file.write_text("[processes.air-plasma.duty_cycle]\npercent = 20\nrated_a = 60\n")
    assert "more than the 60 A it is rated at" in text_of(parts.draw("plate-base", thickness=20, small_holes="cut"))
    own_file.write_text("[processes.air-plasma.duty_cycle]\npercent = 20\n")
    thin = set_up(parts.draw("gusset-triangle", thickness=3).record).duty
    assert (thin.rest_within, thin.rest_s > 0, thin.kind) == (False, True, "yours")
    for process in ("oxy-fuel", "laser", "waterjet"):
        none = set_up(parts.draw("gusset-triangle", process=process).record).duty
        assert (none.percent, none.rest_s, none.rest_within) == (None, 0, False)


def test_off_and_on_are_the_time_at_the_table():
    record = library.part("plate-bumper").record
    spells = arc_spells(record.profile, record.job)
    assert sum(off + on for off, on in spells) == pytest.approx(record.measures.cut_time_s, rel=1e-12)


def test_between_two_rows_the_higher_current_holds():
    """The feed's rows in steel: 45 A at 3 mm, 55 A at 6.4 mm, 80 A at 9.5 mm."""
    for mm, amperes in ((3, 45), (3.1, 55), (6.4, 55), (7, 80)):
        assert set_up(parts.draw("gusset-triangle", thickness=mm).record).duty.current_a == amperes


# ----------------------------------------------------------------------------------------------------- the order


def test_what_lies_inside_comes_first_and_small_before_large():
    for slug in ("plate-bumper", "plate-base", "sign-letters", "bracket-flat-l"):
        record = library.part(slug).record
        every, loops = steps(record.profile, record.job), record.profile.boundary
        assert sorted(step.loop for step in every) == list(range(len(loops)))
        turn = {step.loop: step.number for step in every}
        assert [step.number for step in every] == list(range(1, len(every) + 1))
        if len(record.profile.outside) == 1:
            assert turn[0] == len(loops)
            areas = [loops[step.loop].area for step in every]
            assert all(b > a - 0.02 for a, b in pairwise(areas))


def plate(*openings, outside=None):
    return Profile(outside or (rectangle((0, 0), 400, 300),), tuple(Opening(loop, "hole") for loop in openings))


def test_holes_of_one_size_are_cut_far_from_each_other():
    """Of four at the corners the next one is across: no two in a row share the shorter side."""
    job = library.part("gusset-triangle").record.job
    corners = [(20, 20), (380, 20), (380, 280), (20, 280)]
    every = steps(plate(*(circle(at, 10) for at in corners)), job)
    places = [step.at for step in every[:4]]
    assert places[0] == pytest.approx((20, 20))
    assert places[1] == pytest.approx((380, 280))
    assert [group[0].number for group in grouped(every)] == [1, 5]
    many = [circle((20 + 18 * (i % 20), 20 + 18 * (i // 20)), 5) for i in range(MANY + 50)]
    row = [step.at for step in steps(plate(*many), job)[:-1]]
    assert len(set(row)) == len(many)
    assert min(math.dist(a, b) for a, b in pairwise(row)) > 18.001


def test_a_piece_within_an_opening_is_cut_before_it_and_the_farthest_piece_last():
    job = library.part("gusset-triangle").record.job
    outside = (rectangle((0, 0), 400, 300), rectangle((150, 100), 60, 60), rectangle((500, 0), 50, 50))
    profile = plate(rectangle((100, 60), 200, 180), circle((180, 130), 8), outside=outside)
    order = [step.loop for step in steps(profile, job)]
    # the hole of the inner piece, that piece, the window around it, the plate; then the piece far from the clamp
    assert order == [4, 1, 3, 0, 2]


# ------------------------------------------------------------------------------------------- stock, wear and cost


def test_a_blank_that_the_sheet_doesnt_hold_is_said_and_the_turn_that_it_asks():
    """By hand: 1800 + 2 x 10 goes along the 2438.4 side alone; 2500 + 20 along neither."""
    laid = set_up(parts.draw("plate-bumper", width=1800, sheet_x="48in", sheet_y="96in").record).blank
    assert (laid.fits, laid.turned) == (True, True)
    assert (laid.drop.length, laid.drop.width) == pytest.approx((2438.4, 1219.2 - laid.height))
    small = parts.draw("plate-bumper", width=1800, sheet_x=1000, sheet_y=1000)
    none = set_up(small.record).blank
    assert (none.fits, none.drop, none.rows.count) == (False, None, 0)
    assert "it doesn't hold the blank" in text_of(small)
    thick = set_up(parts.draw("gusset-triangle", thickness=20).record).blank
    assert thick.margin == 20  # a thickness, where that is more than the margin


def test_what_the_shop_has_no_rate_for_is_named_and_never_made_up(own_file):
    part = parts.draw("gusset-triangle", thickness=6)
    none = set_up(part.record).cost
    assert (none.is_given, none.total, none.price) == (False, None, None)
    assert none.missing == ("material", "machine", "labour", "consumables", "air")
    own_file.write_text('[rates]\nmachine_per_h = 0\ncurrency = "Taler"\n[materials.mild-steel]\nprice_per_kg = 2\n')
    some = set_up(parts.draw("gusset-triangle", thickness=6).record).cost
    assert some.missing == ("labour", "consumables", "air")
    assert some.given == pytest.approx(2 * 120**2 * 6 * 7850e-9)  # a machine that costs nothing is given too
    assert "Taler without labour, consumables, air: not given" in text_of(parts.draw("gusset-triangle"))


def test_supplies_go_by_the_process_and_the_material():
    def of(**values):
        return {each.name: each for each in set_up(parts.draw("gusset-triangle", **values).record).supplies}

    assert {*of(process="laser")} == {"oxygen"}
    assert {*of(process="laser", material="stainless-steel")} == {"nitrogen"}
    jet = of(process="waterjet", thickness=10)
    assert jet["abrasive"].counted == "solid"
    assert jet["water"].amount / jet["abrasive"].amount == pytest.approx(3.5 / 0.35)


# -------------------------------------------------------------------------------------------------- the sheet


def text_of(part):
    pages = PdfReader(io.BytesIO(part.set_up())).pages
    assert len(pages) == 1
    return " ".join(pages[0].extract_text().split())


DEAREST = (
    ("plate-bumper", {"units": "in"}, "44.9 lb"),
    ("sign-letters", {}, "more, in the order of the set-up's JSON"),
    ("plate-panel", {"paper": "letter"}, "32 \u00d7 opening"),
    ("bracket-bent-u", {"units": "in", "material": "stainless-steel"}, "chrom"),
    ("plate-base", {"thickness": 25, "small_holes": "cut"}, "Don't cut yet: 2 to mend"),
    ("plate-base", {"width": 1000, "height": 1000, "process": "waterjet", "paper": "A3"}, "Heavy: 47"),
    ("plate-base", {"small_holes": "drill", "thickness": 25}, "Afterwards drill 4 \u00d7 \u00d8 13.5 mm"),
    ("gusset-triangle", {"process": "oxy-fuel", "thickness": 12}, "Fuel gas"),
)


@pytest.mark.parametrize(("slug", "values", "said"), DEAREST)
def test_a_sheet_is_one_page_and_says_it(slug, values, said):
    part = parts.draw(slug, **values)
    text = text_of(part)
    for words in (said, "Feed", "Pierce height", "Cutting order", "Checks (common practice)", part.record.address[:40]):
        assert words in text
    assert part.set_up() == part.set_up()
    if part.record.job.cut.process == "air-plasma":
        assert "(IEC 60974-1)" in text


def test_a_height_that_isnt_known_is_the_machines_books(own_file):
    own_file.write_text("[processes.air-plasma.torch_height]\npierce_height_mm = 0\n")
    part = parts.draw("gusset-triangle")
    assert "machine's book" in text_of(part)
    assert json.loads(part.set_up("json"))["process"]["pierce_height_mm"]["value"] is None


def test_a_heavy_part_is_over_the_limit_from_just_over_it(own_file):
    """25 kg (common practice); a part of 0.283 kg against limits either side of that."""
    mass = library.part("gusset-triangle").measures.mass_kg
    for limit, over in ((mass * 0.999, True), (mass, False), (mass * 1.001, False)):
        own_file.write_text(f"[lifting]\nmass_kg = {limit!r}\n")
        assert set_up(parts.draw("gusset-triangle").record).lift.is_over is over


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[rates]\nmachine_per_h = -1", "rates.machine_per_h is -1; it must be at least 0"),
        ('[rates]\ncurrency = "a currency of many words"', "currency is 'a currency of many words'; it must be a"),
        ("[processes.air-plasma.duty_cycle]\npercent = 120", "duty_cycle.percent is 120; it must be at most 100"),
        ("[processes.waterjet.supplies.abrasive]\nflow_l_min = 3", "must have one of flow_l_min and flow_kg_min"),
        ("[processes.laser.supplies.oxygen]\nprice_per_kg = 3", "counted in l: give price_per_m3"),
        ("[processes.laser.supplies.abrasive]\nflow_l_min = 3", "supplies.abrasive without flow_kg_min"),
        ("[processes.laser.supplies.argon]\nflow_l_min = 3", "argon"),
        ("[processes.laser.consumables]\narc_hours = 'long'", "arc_hours is 'long'; it must be a number"),
        ("[lifting]\nmass_kg = 0", "lifting.mass_kg is 0; it must be over 0"),
    ],
)  # fmt: skip
def test_a_slip_in_the_numbers_is_told_in_a_sentence(own_file, text, sentence):
    own_file.write_text(text)
    with pytest.raises(DataError, match=re.escape(sentence)):
        parts.draw("gusset-triangle").set_up()


def test_there_is_no_other_format_and_none_of_a_compensated_part():
    part = library.part("gusset-triangle")
    with pytest.raises(Refused, match="there are pdf, json"):
        part.set_up("dxf")
    from parts.truing import Errors

    with pytest.raises(Refused, match="not with its set-up sheet"):
        part.compensated(Errors(scale_x=1e-3), "Fernhollow table").set_up()
