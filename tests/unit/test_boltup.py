"""Bolt-up: closed forms against scipy's distributions, trials against closed forms and a second program's trials."""

import json
import math
from contextlib import nullcontext
from dataclasses import replace

import numpy as np
import pytest
from scipy import integrate, optimize, stats

import parts
from parts import Refused
from parts.boltup import Accuracy, Setting, TableErrors, answer, as_holes, holes_of, joint_of, pattern
from parts.boltup.chance import by_trials
from parts.boltup.closed import held_chance, rice, two_chance
from parts.boltup.errors import drawn_trials
from parts.boltup.holes import Hole
from parts.boltup.joint import Joint, Pair, seated
from parts.boltup.laid import growth
from parts.boltup.pattern import EXAMPLES
from parts.geometry import Arc, Motion, rotation
from parts.mating import Side, assumptions, bolt_up, cautions, lines
from parts.truing import Errors
from tests.depth import several
from webapp.cli import main

WANTED = 0.99


def setting(words, width=11.0, bolt=10.0, position=0.25, size=0.1, other="", **more):
    """Two parts with holes as the words say, equally true."""
    a, b = (as_holes(pattern(each, "a", "mm"), width, bolt) for each in (words, other or words))
    joint = joint_of(a, b, bolt)
    true = Accuracy((position,) * len(joint.pairs), (size,) * len(joint.pairs))
    return Setting(joint, true, true, **more)


# ------------------------------------------------------------------------------------------------ closed forms


@pytest.mark.parametrize(("bias", "room"), [(0.01, 0.5), (0.5, 1.0), (2.0, 1.5), (3.0, 6.0), (9.0, 9.0), (0.3, 0.01)])
def test_one_hole_with_a_bias_has_a_rice_distribution(bias, room):
    assert rice(bias, room) == pytest.approx(stats.rice.cdf(room, bias), abs=1e-12)


@pytest.mark.parametrize(
    ("spread", "room", "wide"), [(0.3, 0.9, 0.0), (0.3, 0.9, 0.1), (0.5, 0.2, 0.4), (1.0, -0.1, 0.2)]
)
def test_one_hole_without_a_bias_has_a_rayleigh_distribution(spread, room, wide):
    if not wide:
        expected = stats.rayleigh.cdf(room, scale=spread)
    else:

        def density(r):
            return stats.rayleigh.cdf(r, scale=spread) * stats.norm.pdf(r, room, wide)

        expected = integrate.quad(density, 0, max(room, 0) + 12 * wide, points=[max(room, 0)])[0]
    assert held_chance(spread, 0.0, room, wide) == pytest.approx(expected, abs=1e-9)


def test_two_holes_have_the_difference_of_two_distances():
    chance = np.random.default_rng(7)
    off, room = chance.normal(0.3, 0.5, 400_000), chance.normal(1.2, 0.2, 400_000)
    assert two_chance(0.5, 0.3, 1.2, 0.2) == pytest.approx(np.mean(np.abs(off) <= room), rel=0.005)


def test_a_pair_without_a_spread_enters_or_doesnt():
    assert [held_chance(0, bias, 0.5, 0) for bias in (0.4, 0.5, 0.6)] == [1, 1, 0]
    assert [two_chance(0, bias, 0.5, 0) for bias in (0.4, 0.5, 0.6)] == [1, 1, 0]
    with pytest.raises(ValueError, match="no closed form"):
        held_chance(0.1, 0.1, 0.5, 0.1)


# ---------------------------------------------------------------------------------- trials against closed forms


@pytest.mark.parametrize(
    "of",
    [
        setting("1 at 10", is_held=True),
        setting("1 at 10", width=12, is_held=True, is_fixed=True),
        setting("2 at 150", position=0.45),
        setting("2 at 150", is_held=True),
        setting("2 at 150", other="2 at 150.9", position=0.3),
        setting("2 at 150", other="2 at 150.9", position=0.2, size=0, is_held=True),
    ],
    ids=["one", "one stud", "two free", "two held", "two apart", "two apart, held"],
)
def test_trials_come_within_half_a_percent_of_closed_forms(of):
    closed, trials = answer(of), by_trials(of, WANTED, several(40_000, 200_000))
    assert (closed.method, trials.method) == ("closed form", "trials")
    assert trials.chance == pytest.approx(closed.chance, rel=0.005)
    assert trials.low <= trials.chance <= trials.high
    assert trials.grow_mm == pytest.approx(closed.grow_mm, abs=0.02)
    assert trials.without == pytest.approx(closed.without, rel=0.005)


@pytest.mark.parametrize(
    "of", [setting("1 at 10", is_held=True), setting("2 at 150", position=0.45)], ids=["one", "two"]
)
def test_the_growth_that_makes_it_safe_does(of):
    grown = replace(
        of,
        joint=replace(
            of.joint,
            pairs=tuple(
                replace(pair, a=replace(pair.a, width=pair.a.width + by), b=replace(pair.b, width=pair.b.width + by))
                for by in [answer(of).grow_mm]
                for pair in of.joint.pairs
            ),
        ),
    )
    assert answer(grown).chance == pytest.approx(WANTED, abs=1e-9)


# ------------------------------------------------------------------------- trials against a second program's


def second_program(places, width, bolt, position, size, count):
    """Trials of round holes in numpy by another way: at each of many turns, disks that have a point in common.

    Disks in the plane have one where some crossing of two of their circles, or a centre, is in all of them.
    """
    chance = np.random.default_rng(99)
    n, at = len(places), np.array(places)
    a = at + chance.normal(0, position, (count, n, 2))
    b = at + chance.normal(0, position, (count, n, 2))
    wide_a, wide_b = (width - bolt + chance.normal(0, size, (count, n)) for _ in "ab")
    room = (wide_a + wide_b) / 2
    i, j = np.triu_indices(n, 1)
    apart = [np.linalg.norm(each[:, i] - each[:, j], axis=-1) for each in (a, b)]
    going = (np.abs(apart[0] - apart[1]) <= room[:, i] + room[:, j]).all(axis=1)  # two by two they must enter
    going &= (wide_a > 0).all(axis=1) & (wide_b > 0).all(axis=1)
    turned_back = (at[:, 0] * (a - b)[..., 1] - at[:, 1] * (a - b)[..., 0]).sum(axis=1) / (at**2).sum()
    entered = np.zeros(count, bool)
    for turn in sorted(np.linspace(-0.006, 0.006, 61), key=abs):
        left = np.flatnonzero(going & ~entered)
        x, y, t = b[left, :, 0], b[left, :, 1], (turn + turned_back[left])[:, None]
        turned = np.stack([x * np.cos(t) - y * np.sin(t), x * np.sin(t) + y * np.cos(t)], axis=-1)
        entered[left] = common_point(a[left] - turned, room[left])
    return entered.mean()


def common_point(centres, radii):
    i, j = np.triu_indices(radii.shape[1], 1)
    (p, q), (r, s) = (centres[:, i], centres[:, j]), (radii[:, i], radii[:, j])
    apart = np.maximum(np.linalg.norm(q - p, axis=-1), 1e-12)
    along = (apart**2 + r**2 - s**2) / (2 * apart)
    up = np.sqrt(np.maximum(r**2 - along**2, 0))
    way = (q - p) / apart[..., None]
    side = np.stack([-way[..., 1], way[..., 0]], axis=-1)
    found = np.zeros(len(radii), bool)
    for points in (
        centres,
        p + along[..., None] * way + up[..., None] * side,
        p + along[..., None] * way - up[..., None] * side,
    ):
        far = np.linalg.norm(points[:, :, None] - centres[:, None], axis=-1)
        found |= (far <= radii[:, None] + 1e-9).all(axis=2).any(axis=1)
    return found


def test_eight_bolts_come_within_half_a_percent_of_a_second_program():
    """Within half a percent by a deep run's trials, one percent by an everyday one's, which has a tenth of them."""
    of = setting("8 on 200", position=0.3)
    places = [pair.a.at for pair in of.joint.pairs]
    other = second_program(places, 11.0, 10.0, 0.3, 0.1, several(4_000, 100_000))
    ours = by_trials(of, WANTED, several(10_000, 100_000))
    assert 0.9 < other < 0.99
    assert ours.chance == pytest.approx(other, rel=several(10, 5) / 1000)


def test_the_same_seed_has_the_same_trials():
    of = setting("4 at 100 x 80", position=0.4)
    assert by_trials(of, WANTED, 300, 5) == by_trials(of, WANTED, 300, 5)
    assert by_trials(of, WANTED, 300, 5) != by_trials(of, WANTED, 300, 6)


# ----------------------------------------------------------------------------------------- laid as well as can be


def crossed_slots():
    holes = as_holes(pattern("4 at 100 x 80", "a", "mm"), 11, 10)
    a = [replace(hole, travel=travel) for hole, travel in zip(holes, [(3, 0), (0, 0), (2, 1), (0, 0)], strict=True)]
    b = [replace(hole, travel=travel) for hole, travel in zip(holes, [(0, 2), (0, 0), (2, 1), (1, 0)], strict=True)]
    true = Accuracy((0.8,) * 4, (0.1,) * 4)
    return Setting(joint_of(a, b, 10), true, true)


@pytest.mark.parametrize("of", [setting("5 on 90", position=0.8), crossed_slots()], ids=["round", "slots"])
def test_the_best_laying_is_that_of_a_general_minimiser(of):
    """Against scipy's sequential quadratic programming, with a bolt's place in each slot as a variable of its own."""
    trials, _ = drawn_trials(of, 12, 3)
    found = growth(trials, 0.5, held=False)
    exactly = [general(trials, k) for k in range(12)]
    assert [f > 0 for f in found] == [e > 0 for e in exactly]
    middle = sorted(exactly)[6]
    assert sorted(found)[6] == pytest.approx(middle, abs=2e-3)


def general(trials, k):
    n = len(trials.x)
    u = np.zeros((2, n)) if trials.slots is None else np.array([trials.slots.ux, trials.slots.uy])
    v = np.zeros((2, n)) if trials.slots is None else np.array([trials.slots.vx, trials.slots.vy])

    def spare(z):
        x, y, turn, grow = z[:4]
        s, t = z[4 : 4 + n], z[4 + n :]
        rx = trials.off_x[:, k] - x + turn * trials.y / 50 - u[0] * s - v[0] * t
        ry = trials.off_y[:, k] - y - turn * trials.x / 50 - u[1] * s - v[1] * t
        return trials.room[:, k] + grow - np.sqrt(rx * rx + ry * ry + 1e-12)

    bounds = [(None, None)] * 4 + [(-1, 1)] * (2 * n)
    limits = {"type": "ineq", "fun": spare}
    start = np.zeros(4 + 2 * n)
    start[3] = 5
    return optimize.minimize(lambda z: z[3], start, bounds=bounds, constraints=limits, tol=1e-8).fun


def test_a_slot_makes_a_joint_of_two_surer_along_it_alone():
    along = setting("2 at 150", position=0.6)
    pairs = along.joint.pairs
    for travel, surer in (((4.0, 0.0), True), ((0.0, 4.0), False)):
        slotted = replace(pairs[0], a=replace(pairs[0].a, travel=travel))
        of = replace(along, joint=replace(along.joint, pairs=(slotted, pairs[1])))
        assert (by_trials(of, WANTED, 2000).chance > by_trials(along, WANTED, 2000).chance + 0.02) is surer


CURVE = Arc((30.0, -30.0), (30.0, 30.0), math.tan(math.pi / 8))
"""The middle line of a curved slot: a quarter turn of radius 30 sqrt 2 about the origin, to the right of it."""


@pytest.mark.parametrize("fraction", [0.0, 0.2, 0.5, 1.0])
@pytest.mark.parametrize("room", [0.0, 0.5, 2.0, 400.0])
def test_what_a_curved_slot_counts_for_lies_within_it(fraction, room):
    hole = Hole("slot", CURVE.at(0.5), 11.0, arc=CURVE).seated(fraction, room)
    (x, y), (ux, uy) = hole.at, hole.travel
    for share in (-1.0, -0.5, 0.0, 0.5, 1.0):
        at = (x + share * ux, y + share * uy)
        assert math.dist(at, CURVE.nearest(at)) <= hole.narrowed / 2 + 1e-9
    assert hole.narrowed <= 0.1 * room + 1e-9
    if 0 < room <= 2:
        assert math.hypot(ux, uy) >= 2


@pytest.mark.parametrize("fraction", [0.1, 0.5, 0.85])
def test_a_bolt_in_a_curved_slot_has_the_chance_of_a_second_programs_trials(fraction):
    """Held where it is drawn: the distance to the arc itself against the room, in trials of the test's own."""
    a = Hole("slot", CURVE.at(0.5), 11.0, bolt=10.0, arc=CURVE)
    b = Hole("hole", CURVE.at(fraction), 11.0, bolt=10.0)
    pair = seated(Pair(a, b, b, 10.0), Motion())
    true = Accuracy((0.4,), (0.1,))
    found = by_trials(Setting(Joint((pair,), Motion()), true, true, is_held=True), WANTED)
    chance = np.random.default_rng(9)
    off = chance.normal(0, 0.4 * math.sqrt(2), (20_000, 2)) + b.at
    room = 1.0 + chance.normal(0, 0.1 / math.sqrt(2), 20_000)
    far = np.array([math.dist(p, CURVE.nearest(tuple(p))) for p in off])
    exactly = float((far <= room).mean())
    assert exactly - 0.04 < found.chance < exactly + 0.01
    plain = replace(pair.a, at=CURVE.at(fraction), travel=(0.0, 0.0), narrowed=0.0, arc=None)
    rounded = Setting(Joint((Pair(plain, b, b, 10.0),), Motion()), true, true, is_held=True)
    assert found.chance > by_trials(rounded, WANTED, 2000).chance + 0.05


# -------------------------------------------------------------------------------------------------- which over which


@pytest.mark.parametrize("turn", [0.0, 0.5, 2.1, math.pi])
def test_a_turned_pattern_is_brought_back(turn):
    a = as_holes(((0, 0), (70, 0), (70, 40), (10, 55)), 9, 8)
    b = tuple(hole.moved(rotation(turn, (30, 20))) for hole in a)
    joint = joint_of(a, b[::-1])
    assert [(pair.a.name, pair.own.name) for pair in joint.pairs] == [(hole.name, hole.name) for hole in a]
    assert all(math.dist(pair.a.at, pair.b.at) < 1e-9 for pair in joint.pairs)


def test_a_handed_pattern_needs_to_lie_face_down():
    a = as_holes(((0, 0), (70, 0), (70, 40), (30, 95)), 9, 8)
    b = tuple(replace(hole, at=(-hole.at[0], hole.at[1])) for hole in a)
    assert len(joint_of(a, b).pairs) < 4
    assert len(joint_of(a, b, flipped=True).pairs) == 4


def test_holes_without_a_partner_are_named():
    four, five = (as_holes(pattern(words, "a", "mm"), 9, 8) for words in ("4 at 50", "5 at 50"))
    joint = joint_of(four, five)
    assert (len(joint.pairs), joint.alone_a, len(joint.alone_b)) == (4, (), 1)


@pytest.mark.parametrize(("count", "other_bolt", "parameter"), [(0, 8, "b"), (60, 8, ""), (61, 8, "b"), (2, 6, "bolt")])
def test_what_cant_be_a_joint_is_refused(count, other_bolt, parameter):
    a = as_holes(tuple((10.0 * k, 0.0) for k in range(60)), 9, 8)
    b = as_holes(tuple((10.0 * k, 0.0) for k in range(count)), 9, other_bolt)
    with pytest.raises(Refused) if parameter else nullcontext() as refused:
        joint_of(a, b)
    assert not parameter or refused.value.problems[0].parameter == parameter


def test_a_drawing_has_every_hole_that_fits_the_bolt():
    profile = parts.draw("plate-motor").profile
    declared = holes_of(profile)
    bare = replace(profile, inside=tuple(replace(each, bolt=0.0) for each in profile.inside))
    assert holes_of(bare) == ()
    found = holes_of(bare, declared[0].bolt)
    assert {hole.at for hole in declared} <= {hole.at for hole in found}
    assert all(hole.width <= 2 * declared[0].bolt for hole in found)


@pytest.mark.parametrize("text", ["0 on 90", "61 on 90", "4 on 90 x 50", "3 at 50 x 40", "4 at x", "2 at 0"])
def test_a_pattern_that_cant_be_is_refused(text):
    with pytest.raises(Refused) as refused:
        pattern(text, "b", "mm")
    assert [(p.parameter, p.value) for p in refused.value.problems] == [("b", text)]


def test_patterns_say_what_they_mean():
    assert pattern("plate-base", "b", "mm") is None
    assert [len(pattern(each, "b", "mm")) for each in EXAMPLES] == [6, 4, 5]
    assert pattern("2 at 4", "b", "in") == ((-50.8, 0.0), (50.8, 0.0))
    assert sorted(pattern("4 at 2 x 1 in", "b", "in"))[0] == (-25.4, -12.7)


# ---------------------------------------------------------------------------------------------- a table's own errors


def test_errors_of_one_table_are_the_same_in_both_parts():
    off = TableErrors("Fernhollow table", Errors(scale_x=0.01))
    of = setting("2 at 200", position=0.2)
    there = replace(of, a=replace(of.a, table=off))
    both = replace(there, b=replace(of.b, table=off), is_one_table=True)
    assert answer(there).chance < 0.55 < answer(of).chance
    assert answer(both).chance == pytest.approx(answer(of).chance, abs=1e-3)
    unsure = replace(off, uncertainty=Errors(scale_x=0.003))
    shared = replace(both, a=replace(of.a, table=unsure), b=replace(of.b, table=unsure))
    apart = replace(shared, is_one_table=False)
    assert by_trials(apart, WANTED, 4000).chance < by_trials(shared, WANTED, 4000).chance - 0.02


def test_a_kerf_that_is_off_makes_holes_wider_or_narrower():
    of = setting("1 at 10", is_held=True)
    wide, narrow = (replace(of, a=replace(of.a, table=TableErrors("t", Errors(kerf=k)))) for k in (0.3, -0.3))
    assert answer(narrow).chance < answer(of).chance < answer(wide).chance


READINGS = """
[machine]
name = "Fernhollow table"
[[reading]]
kind = "centres"
direction_deg = 0
nominal = "300 mm"
measured = "300.6 mm"
u = "0.05 mm"
[[reading]]
kind = "centres"
direction_deg = 90
nominal = "300 mm"
measured = "300.0 mm"
u = "0.05 mm"
[[reading]]
kind = "reversal"
nominal = "300 mm"
measured = "0.0 mm"
u = "0.05 mm"
"""


def test_readings_take_the_place_of_the_standard():
    few = {"trials": "2000"}
    said = bolt_up(Side("flange-round", table=READINGS), Side("flange-round", table=READINGS), few)
    assert said.is_one_table
    assert any("Fernhollow table" in sentence for sentence in assumptions(said))
    assert said.accuracies[0].position[0] == pytest.approx(0.1)  # 0.2 mm, two standard deviations
    other = bolt_up(Side("flange-round", table=READINGS), Side("4 on 160"), {**few, "bolt": "M12"})
    assert not other.is_one_table
    assert other.answer.chance < said.answer.chance or other.answer.grow_mm > said.answer.grow_mm


# --------------------------------------------------------------------------------------------------- said in words


def test_two_templates_are_compared_and_said():
    said = bolt_up(
        Side("flange-round?thickness=10"), Side("/parts/flange-round?units=mm"), {"process": "laser", "trials": "2000"}
    )
    content = json.loads(said.to_json())
    assert content["chance"] == said.answer.chance
    assert [each["number"] for each in content["bolts"]] == [1, 2, 3, 4]
    assert "class 1 of ISO 9013" in content["sources"]["a"][0]
    assert next(iter(lines(said))).startswith("4 x M12 bolt: all enter with a chance of ")
    assert "licensed" in next(cautions(said))


def test_a_drawing_of_ones_own_is_read_and_one_of_ours_opens_again():
    part = parts.draw("flange-round")
    ours = Side("f.dxf", part.to_dxf().encode())
    stock = {"bolt": "M12", "thickness": "6 mm", "units": "mm"}
    own = '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60">{}</svg>'
    drawn = own.format('<rect width="60" height="60"/><circle cx="30" cy="30" r="6.75"/>').encode()
    said = bolt_up(ours, Side("f.svg", drawn), stock)
    assert said.a.address == part.record.address
    assert said.b.address == ""
    assert len(said.joint.pairs) == 1
    assert said.answer.chance > 0.99


WRONG = {"bolt": "x", "lie": "fre", "class_a": "3", "wanted": "0", "seed": "-1"}


@pytest.mark.parametrize(
    ("a", "b", "values", "parameters"),
    [
        ("", "6 on 120", {}, ["a"]),
        ("6 on 120", "6 on 120", {}, ["bolt"]),
        ("6 on 120", "6 on 120", {"bolt": "M10", "boltt": "M8"}, ["boltt"]),
        ("6 on 120", "6 on 120", WRONG, list(WRONG)),
        ("6 on 120", "6 on 120", {"bolt": "M10", "trials": "999"}, ["trials"]),
        ("6 on 120", "6 on 120", {"bolt": "M10", "trials": "200001", "position_a": "1001"}, ["position_a", "trials"]),
        ("6 on 120", "6 on 120", {"bolt": "M10", "units": "ft"}, ["units"]),
        ("flange-round?process=waterjet", "flange-round", {}, ["position_a"]),
    ],
)  # fmt: skip
def test_what_cant_be_asked_is_refused_by_name(a, b, values, parameters):
    with pytest.raises(Refused) as refused:
        bolt_up(Side(a), Side(b), values)
    assert [problem.parameter for problem in refused.value.problems] == parameters


def test_limits_that_are_given_go_over_the_standard():
    values = {"position_a": "0.4", "size_a": "0.2 mm", "trials": "1000", "wanted": "95 %"}
    said = bolt_up(Side("flange-round?process=waterjet"), Side("4 on 160"), {**values, "bolt": "M12"})
    assert said.accuracies[0].position[0] == pytest.approx(0.2)
    assert said.accuracies[0].size[0] == pytest.approx(0.1)
    assert said.accuracies[1].position[0] == 0
    assert said.answer.wanted == 0.95


def test_the_command_says_it_and_its_exit_status_is_whether_it_is_sure(capsys, tmp_path):
    assert main(["boltup", "flange-round", "flange-round", "trials=2000"]) == 0
    said = capsys.readouterr()
    assert "4 x M12 bolt" in said.out
    assert "caution: " in said.err
    assert main(["boltup", "flange-round", "4 on 163", "bolt=M12", "lie=drawn", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["lie"] == "drawn"
    table = tmp_path / "t.toml"
    table.write_text(READINGS)
    assert main(["boltup", "flange-round", "flange-round", "trials=2000", "--table", str(table)]) == 0
    assert "Fernhollow table" in capsys.readouterr().out
    assert main(["boltup", "flange-round", "no-such"]) == 2
