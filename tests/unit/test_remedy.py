"""Remedies solved on parts whose findings are simple sums, so that the answer is known by hand."""

from dataclasses import replace

import pytest

import parts
from parts.finding import Finding
from parts.geometry.draft import circle, polygon
from parts.profile import Opening, Profile
from parts.remedy import REDRAWS, Redrawn, Trials, redraws_of, solved
from parts.rules import by_rule
from parts.spec.parameter import Spec


def number(name, minimum=0.0, maximum=1000.0, **more):
    more = {"moves": "free", **more}
    return Spec(name, "length", name.capitalize(), 0.0, "Holes", minimum=minimum, maximum=maximum, **more)


class Plate:
    """A plate `width` by 100 with a hole of `size` at (`up`, `up`): rules are functions of the values."""

    def __init__(self, *rules, specs=(), refused=lambda _: False, **values):
        self.rules, self.refused, self.draws = rules, refused, 0
        self.values = {"width": 400.0, "size": 8.0, "up": 30.0, **values}
        self.specs = {name: number(name) for name in ("width", "size", "up")} | {spec.name: spec for spec in specs}

    def sight(self, values, together=True):
        self.draws += 1
        if self.refused(values):
            return None
        width, size, up = values["width"], values["size"], values["up"]
        holes = (Opening(circle((up, up), size), "hole", "size"),) if size else ()
        edge = polygon([(0, 0), (width, 0), (width, 100), (0, 100)])
        return Redrawn(Profile((edge,), holes), by_rule(finding for rule in self.rules for finding in rule(values)))

    def remedies(self, units="mm"):
        return self.solution(units).remedies

    def solution(self, units="mm", redraws=REDRAWS):
        start = self.sight(self.values)
        self.draws = 0
        return solved(self.specs, Trials(self.sight, self.values, start, redraws), units)

    def sentences(self, units="mm"):
        return [remedy.sentence for remedy in self.remedies(units)]


def at_least(limit, of, rule="rule", severity="stop", changes=(), at=(0.0, 0.0)):
    """A rule that what `of` computes from the values is at least `limit`."""

    def check(values):
        measured = of(values)
        if measured < limit - 1e-9:
            yield Finding(rule, severity, at, measured, limit, "Too little.", "Make it more.", changes)

    return check


def up(values):
    return values["up"]


def test_nothing_found_costs_nothing():
    plate = Plate(at_least(20, up))
    assert (plate.remedies(), plate.draws) == ((), 0)


def test_a_note_asks_for_no_remedy():
    plate = Plate(at_least(31, up, severity="note"))
    assert (plate.remedies(), plate.draws) == ((), 0)


@pytest.mark.parametrize(
    ("limit", "units", "after"),
    [(31, "mm", "31 mm"), (31.2, "mm", "31.5 mm"), (30.6, "mm", "31 mm"), (31.75, "in", "1-1/4 in"),
     (32, "in", "1-9/32 in")],
)  # fmt: skip
def test_the_value_is_one_a_shop_would_say_on_the_good_side(limit, units, after):
    before = {"mm": "30 mm", "in": "1.181 in"}[units]
    assert Plate(at_least(limit, up)).sentences(units) == [f"Up: {before} → {after}"]


@pytest.mark.parametrize(
    ("most", "units", "after"),
    [(31.3, "mm", "31.3 mm"), (31.27, "mm", "31.25 mm"), (31.6, "in", "1-15/64 in")],
    ids=["tenths", "hundredths", "64ths"],
)
def test_finer_steps_where_another_rule_leaves_a_narrow_window(most, units, after):
    least = {"mm": 31.25, "in": 31.1}[units]
    plate = Plate(at_least(least, up), at_least(-most, lambda v: -up(v), "other"))
    assert [s.rpartition("→ ")[2] for s in plate.sentences(units)] == [after]


def test_the_least_change_wins_and_the_overall_size_counts_four_times():
    def both(values):
        return up(values) + values["width"] / 100 * 99

    assert Plate(at_least(429, both)).sentences() == ["Up: 30 mm → 33 mm"]
    steep = Plate(at_least(430 + 12, lambda v: up(v) + 5 * (v["width"] - 400) + 400))
    assert steep.sentences() == ["Width: 400 mm → 402.5 mm"]


def test_moving_comes_before_resizing_an_opening():
    def room(values):
        return values["up"] - values["size"]

    assert Plate(at_least(23, room)).sentences() == ["Up: 30 mm → 31 mm"]
    held = Plate(at_least(23, room), at_least(-30, lambda v: -up(v), "other"))
    assert held.sentences() == ["Size: 8 mm → 7 mm"]


SMALL = Spec("small_holes", "choice", "Small holes", "cut", "Stock", choices=("cut", "drill"), moves="free")


@pytest.mark.parametrize(
    ("size", "sentence"), [(8.0, "Size: 8 mm → 9 mm"), (5.0, "Small holes: cut → drill")], ids=["near", "far"]
)
def test_what_the_rule_proposes_comes_before_a_large_change(size, sentence):
    def diameter(values):
        return 9.0 if values["small_holes"] == "drill" else values["size"]

    rule = at_least(9, diameter, changes=(("small_holes", "drill"),))
    assert Plate(rule, specs=[SMALL], size=size, small_holes="cut").sentences() == [sentence]


def test_a_hole_is_given_up_last():
    def metal(values):
        return values["up"] if values["size"] else 100.0

    assert Plate(at_least(99, metal)).sentences() == ["Up: 30 mm → 99 mm"]
    count = Spec("holes", "count", "Holes", 3, "Holes", minimum=0, maximum=9)
    fewer = Plate(at_least(-2, lambda v: -v["holes"]), specs=[count], holes=3)
    assert fewer.sentences() == ["Holes: 3 → 2"]


def test_a_change_that_makes_another_rule_worse_is_none():
    further_up = at_least(40, up)
    further_down = at_least(0, lambda v: 25 - up(v), "other")  # 5 short already, and shorter the higher
    assert Plate(further_up, further_down).remedies() == ()
    assert Plate(further_up).sentences() == ["Up: 30 mm → 40 mm"]


def test_past_a_band_where_values_are_refused():
    plate = Plate(at_least(32, up), refused=lambda v: 31 < v["up"] < 47)
    assert plate.sentences() == ["Up: 30 mm → 47 mm"]


def test_a_rule_that_measures_nothing_is_searched_both_ways():
    def bare(values):
        if values["up"] > 26:
            yield Finding("rule", "stop", (0.0, 0.0), None, None, "Wrong.", "Mend it.")

    assert Plate(bare).sentences() == ["Up: 30 mm → 26 mm"]


def test_two_changes_where_no_single_one_does_it():
    one = at_least(32, up)
    two = at_least(10, lambda v: v["size"], at=(90.0, 90.0))
    assert Plate(one, two).sentences() == ["Up: 30 mm → 32 mm; Size: 8 mm → 10 mm"]


def test_without_any_way_there_is_no_remedy_and_an_end():
    plate = Plate(at_least(1, lambda v: -abs(v["up"]) / 1e6))
    assert plate.remedies() == ()
    assert plate.draws <= REDRAWS


def test_limits_are_kept():
    spec = number("up", maximum=31.0)
    assert Plate(at_least(31, up), specs=[spec]).sentences() == ["Up: 30 mm → 31 mm"]
    assert Plate(at_least(31.5, up), specs=[spec]).remedies() == ()


def test_stock_is_never_changed_unasked_and_only_for_thinner():
    thickness = Spec("thickness", "length", "Thickness", 6.0, "Stock", minimum=1, maximum=100, is_thickness=True)
    thin = Plate(at_least(0, lambda v: 5 - v["thickness"]), specs=[thickness], thickness=6.0)
    (remedy,) = thin.remedies()
    assert remedy.changes[0].after == "5 mm"
    assert remedy.asks.startswith("only if “Thickness” may be 5 mm")
    thick = Plate(at_least(8, lambda v: v["thickness"]), specs=[thickness], thickness=6.0)
    assert thick.remedies() == ()


def test_all_places_of_a_finding_count():
    """The worst place is mended at 31, the other, told of in `also`, at 32."""

    def check(values):
        if values["up"] < 32:
            worst = Finding("rule", "warn", (0.0, 0.0), values["up"], 31, "Too little.", "More.")
            yield replace(worst, also=((5.0, 5.0),)) if values["up"] < 31 else replace(worst, measured=30.9)

    assert Plate(check).sentences() == ["Up: 30 mm → 32 mm"]


def test_an_angle_is_said_in_half_degrees():
    tilt = Spec("tilt", "angle", "Tilt", 30.0, "Holes", minimum=0, maximum=90)

    def check(values):
        return values["tilt"] + 0 * values["up"]

    assert Plate(at_least(33.3, check), specs=[tilt], tilt=30.0).sentences() == ["Tilt: 30° → 33.5°"]


def test_a_label_that_leans_on_its_group_says_the_group():
    spec = replace(number("up"), label="Its height")
    assert Plate(at_least(31, up), specs=[spec]).sentences() == ["Its height (Holes): 30 mm → 31 mm"]


def test_a_count_far_from_the_present_one_is_found_where_none_near_does():
    """20 holes on 400 mm are 20 mm apart, and 31 mm are wanted: 12 holes are 33 apart, 13 only 30.8."""
    holes = Spec("holes", "count", "Holes", 1, "Holes", minimum=1, maximum=40)
    plate = Plate(at_least(31, lambda values: 400 / values["holes"]), specs=[holes], holes=20)
    plate.refused = lambda values: values["width"] != 400
    assert plate.sentences() == ["Holes: 20 → 12"]


def test_a_second_limit_behind_the_first_is_reached():
    """To 100 one limit counts, and from there on, where it is still 60 short, another one."""

    def check(values):
        at = values["up"]
        if at < 160 - 1e-9:
            limit = 100.0 if at < 100 else 160.0
            yield Finding("rule", "stop", (0.0, 0.0), at, limit, "Too little.", "Make it more.")

    assert Plate(check).sentences() == ["Up: 30 mm → 160 mm"]


def test_a_value_near_one_that_is_far_off_is_passed_over():
    """What a rate led to that isn't true further on: one value is drawn where it led, not each beside it."""
    stuck = Plate(at_least(100, lambda v: up(v) if up(v) < 31 else 31.0))
    tried = []
    draw = stuck.sight
    stuck.sight = lambda values, together=True: tried.append(up(values)) or draw(values)
    assert stuck.sentences() == []
    assert {round(value, 6) for value in tried if 99 <= value < 108} == {100.0}


def test_what_lies_between_two_that_do_harm_is_passed_over():
    """Of finer steps those alone are drawn that are nearer than the first value that does harm."""
    kept = Plate(at_least(33.3, up), at_least(-31, lambda v: -up(v), "other"))
    tried = []
    draw = kept.sight
    kept.sight = lambda values, together=True: tried.append(up(values)) or draw(values)
    assert kept.sentences() == []
    assert sorted({round(value, 6) for value in tried if 33.3 <= value < 34.3}) == [33.3, 33.5, 34.0]


def test_a_change_after_which_loops_cross_is_never_offered():
    """Loops are looked at after the rule in question: the nearest values that it is content with can't be cut here."""

    class Crossing(Plate):
        def sight(self, values, together=True):
            drawn = super().sight(values, together)
            return replace(drawn, has_sound_loops=lambda: not 31 <= values["up"] < 40)

    assert Crossing(at_least(31, up)).sentences() == ["Up: 30 mm → 40 mm"]
    assert Crossing(at_least(29, lambda v: v["size"] + 20)).sentences() == ["Size: 8 mm → 9 mm"]


def test_the_freest_parameter_is_changed_however_much_it_takes():
    def room(values):
        return values["up"] + 10 * values["size"]

    rule = at_least(130, room)
    assert Plate(rule).sentences() == ["Size: 8 mm → 10 mm"]
    assert Plate(rule, specs=[number("size", moves="care")]).sentences() == ["Up: 30 mm → 50 mm"]
    held = [number("size", moves="care"), number("up", moves="never")]
    (remedy,) = Plate(rule, specs=held).remedies()
    assert (remedy.sentence, remedy.asks, remedy.with_care) == ("Size: 8 mm → 10 mm", "", ("size",))


NEVER = {name: number(name, moves="never") for name in ("width", "size", "up")}


@pytest.mark.parametrize(
    ("limit", "of", "asks"),
    [
        (31, up, "“Up” may be 31 mm: what is fastened or fitted to it must follow"),
        (401, lambda v: v["width"], "“Width” may be 401 mm: the part takes up another size, and what stands around it"
         " or is made to it must follow"),
        (9, lambda v: v["size"], "“Size” may be 9 mm: what goes through the opening, or sits in it, must be made to"
         " that"),
    ],
)  # fmt: skip
def test_what_mates_is_asked_with_what_it_does_to_the_part_next_to_it(limit, of, asks):
    (question,) = Plate(at_least(limit, of), specs=NEVER.values()).remedies()
    assert question.asks == f"only if {asks}"


@pytest.mark.parametrize(
    ("spec", "asks"),
    [
        (Spec("other", "choice", "Bolt", "M8", "Holes", choices=("M8", "M10"), diameter="size"),
         "“Bolt” may be M10: the bolts are then M10, and so are the holes in what they go through"),
        (Spec("other", "count", "Holes", 8, "Holes", minimum=0, maximum=9),
         "“Holes” may be 9: what it is joined to must have as many"),
        (Spec("other", "angle", "Bend", 8.0, "Holes", minimum=0, maximum=90), "“Bend” may be 10°: what stands against"
         " it must stand at that angle"),
    ],
    ids=["bolt", "count", "angle"],
)  # fmt: skip
def test_a_bolt_a_count_or_an_angle_is_asked_in_its_own_words(spec, asks):
    def enough(values):
        return {"M8": 8, "M10": 10}.get(values["other"], values["other"])

    rule = at_least(9 if spec.kind == "count" else 10, enough)
    (question,) = Plate(rule, specs=[spec, *NEVER.values()], other=spec.default).remedies()
    assert question.asks == f"only if {asks}"


def test_what_takes_an_opening_from_the_part_asks_however_freely_it_moves():
    (question,) = Plate(at_least(8, lambda v: 8 - v["size"]), size=4.0).remedies()
    assert question.sentence == "Size: 4 mm → 0 mm"
    assert question.asks.startswith("only if 1 opening, piece or drill centre may go: ")


def test_a_rule_that_cant_be_mended_leaves_redraws_to_the_others():
    hopeless = at_least(1, lambda v: -abs(up(v)) / 1e6 - abs(v["size"]) / 1e6, rule="first")
    easy = at_least(10, lambda v: v["width"] / 41, rule="second")
    plate = Plate(hopeless, easy)
    assert [remedy.rule for remedy in plate.remedies()] == ["second"]
    assert plate.draws <= REDRAWS


def test_what_was_not_tried_for_want_of_redraws_is_told():
    hopeless = at_least(1, lambda v: -abs(up(v)) / 1e6, rule="hopeless")
    assert Plate(hopeless).solution(redraws=3).cut_short == ("hopeless",)
    assert Plate(at_least(32, up)).solution().cut_short == ()
    plain, rich = (parts.draw(slug) for slug in ("gusset-triangle", "sign-plate"))
    assert redraws_of(plain.profile, plain.record.template.parameters.effort) == REDRAWS
    assert 4 <= redraws_of(rich.profile, rich.record.template.parameters.effort) < 30


@pytest.mark.parametrize(
    ("slug", "values", "rule", "change"),
    [
        ("flange-round", {"bolt": "M16"}, "edge-distance", "Bolt: M16 → M14"),
        ("plate-cover", {"bolt": "M12"}, "edge-distance", "Screw: M12 → M10"),
        ("bracket-strap", {"bolt": "M16"}, "bolt-spacing", "Bolt: M16 → M14"),
        ("bracket-flat-t", {"bolt": "M20"}, "bolt-spacing", "Bolt: M20 → M16"),
    ],
)
def test_a_smaller_bolt_is_asked_about_before_holes_are_moved_or_lost(slug, values, rule, change):
    part = parts.draw(slug, **values)
    (asked,) = (remedy for remedy in part.solved if remedy.rule == rule)
    assert asked.sentence == change
    assert asked.asks.startswith("only if ")
    assert "the bolts are then " in asked.asks
    mended = part.mended(asked)
    assert all(finding.rule != rule or finding.severity == "note" for finding in mended.findings)
    assert len(mended.profile.inside) == len(part.profile.inside)


@pytest.mark.parametrize(
    ("slug", "values"), [("bracket-clevis-ear", {"bolt": "M20"}), ("bracket-hook", {"bolt": "M12"})]
)
def test_what_leaves_every_hole_in_its_place_needs_no_smaller_bolt(slug, values):
    (remedy,) = (each for each in parts.draw(slug, **values).remedies if each.rule == "edge-distance")
    assert remedy.asks == ""
    assert " → M" not in remedy.sentence


def sized(limit):
    """A plate whose hole is for a bolt: too near the edge until the bolt is small, or the hole moved, or gone."""
    bolt = Spec("bolt", "choice", "Bolt", "M20", "Holes", choices=("M10", "M12", "M16", "M20", "M24"), diameter="size")
    left = {"M10": 20, "M12": 18, "M16": 14, "M20": 10, "M24": 6}

    def beside(values):
        return left[values["bolt"]] + values["up"] - 30 if values["size"] else 1000

    return Plate(at_least(limit, beside, "edge-distance"), specs=(bolt,), bolt="M20")


@pytest.mark.parametrize(
    ("limit", "change"),
    [(12, "Bolt: M20 → M16"), (14, "Bolt: M20 → M16"), (14.5, "Bolt: M20 → M12"), (20, "Bolt: M20 → M10"),
     (20.5, "Up: 30 mm → 40.5 mm")],
)  # fmt: skip
def test_the_largest_of_the_smaller_bolts_that_does(limit, change):
    plate = sized(limit)
    plate.specs = {name: replace(spec, moves="never") for name, spec in plate.specs.items()}
    assert plate.sentences() == [change]
