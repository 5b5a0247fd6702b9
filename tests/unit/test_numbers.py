"""Every number that a rule reads is listed as it stands in the data; nothing recalled is called published."""

import ast
import dataclasses
import importlib
import math
import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

import parts
from parts import shop
from parts.cutting import Cut, Job, slowing
from parts.cutting.machine import Machine
from parts.cutting.stock import Bed, Sheet
from parts.data import FOLDER, kind_of, read, threshold
from parts.data.kinds import weakest
from parts.errors import DataError
from parts.forming import Brake
from parts.geometry import rectangle
from parts.numbers import every, kinds_said, listed, of_process, rests_on, row_of, told_of
from parts.numbers.walk import CHOICES, leaves
from parts.part import job_of
from parts.profile import Opening, Profile
from parts.rules import RULES
from parts.spec import Parameters
from tests import library
from webapp import create_app

ROOT = Path(__file__).parents[2]
FILES = sorted(path for path in FOLDER.glob("*.toml") if path.name not in listed.SHAPES)
FIGURES = re.compile(r"(\d+-)?\d+(/\d+)?")
LISTED = every()


@pytest.fixture
def client():
    return create_app().test_client()


# ------------------------------------------------------------------------------- all of the data, as it stands there


def places(tree):
    """Each table or list of a tree that holds a number or a choice, with where in it: a walk of its own."""
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        if isinstance(value, dict | list):
            yield from places(value)
        elif key in CHOICES or isinstance(value, int | float) or (isinstance(value, str) and FIGURES.fullmatch(value)):
            yield tree, key


MARK = 700_001
"""A number that no file has, nor so many after it; short enough to be told whole."""


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_number_changed_in_the_data_is_changed_in_the_listing(path):
    """Whichever it is: nothing in a file is passed over, be it a value or the thickness or bolt that its row is for.

    Each is changed to another mark, all at once, and each mark is told.
    """
    tree = read(path)
    before = len(list(leaves(tree)))
    changed = list(places(tree))
    for mark, (table, key) in enumerate(changed, MARK):
        table[key] = str(mark) if isinstance(table[key], str) else mark
    told = {
        found for leaf in leaves(tree) for found in re.findall(r"\d{6}", f"{leaf.value} {leaf.keys} {leaf.setting}")
    }
    assert [(path.name, key) for mark, (_, key) in enumerate(changed, MARK) if str(mark) not in told] == []
    assert len(changed) >= before > 0


def test_every_file_of_numbers_is_gone_through():
    of_file = {number.name.partition(".")[0] for number in LISTED}
    shared = {name for file in shop.BUILT_IN for name in read(FOLDER / file)} - {"cautions"}
    assert of_file == shared | {path.stem for path in FILES if path.name not in shop.BUILT_IN}


def test_what_is_changed_in_a_file_is_told_and_followed(monkeypatch):
    """The number of a rule, changed where it stands, is another in the list and another to the rule."""
    found = dict(read(FOLDER / "rules.toml"))
    found["hole-to-thickness"] = {**found["hole-to-thickness"], "slot_lengths": 1.75}
    monkeypatch.setattr(listed, "read", lambda path: found if path.name == "rules.toml" else read(path))
    listed.of_files.cache_clear()
    try:
        (slot,) = [number for number in every() if number.name == "rules.hole-to-thickness.slot_lengths"]
    finally:
        monkeypatch.undo()
        listed.of_files.cache_clear()
    assert (slot.value, slot.rules[0]) == (1.75, "hole-to-thickness")
    assert threshold("hole-to-thickness", "slot_lengths") == 1.5


def test_a_number_is_listed_whole():
    (one,) = [n for n in LISTED if n.name == "processes.air-plasma.feed.steel.feed_mm_s" and n.holds_at == "6.4 mm"]
    assert row_of(one) == (
        "processes.air-plasma.feed.steel.feed_mm_s", "6.4 mm, 55 A", "29.6", "mm/s", "speed along the cut",
        "torch-slow", "published",
        "The Fabricator / Practical Welding Today, Cut it out (2002): mild steel 6.4 mm at 55 A",
    )  # fmt: skip


def test_what_decides_size_time_and_paper_is_listed():
    """What no rule reads is listed as well: rapid feed, probe, square side, paper, and what ISO 9013 is for."""
    found = {n.name: (n.value, n.unit, n.kind) for n in LISTED}
    assert found["machine.rapid_mm_s"] == (250, "mm/s", "from memory")
    assert found["processes.air-plasma.height_probe.time_s"] == (3, "s", "from memory")
    assert found["processes.air-plasma.square_side.side"] == ("right", "", "common practice")
    assert found["drawing.paper"] == ("by-units", "", "common practice")
    assert found["iso9013.conditions.most_length_to_width"] == (4, "widths", "from memory")
    assert found["iso9013.conditions.least_cut_length_mm"] == (350, "mm", "from memory")
    assert found["iso9013.scope.plate.laser.thickest_mm"] == (32, "mm", "published")


def test_a_choice_of_the_shops_is_yours(own_file):
    own_file.write_text('[drawing]\npaper = "A3"\n[processes.air-plasma.square_side]\nside = "left"\n')
    of = {n.name: (n.value, n.kind) for n in every()}
    assert of["drawing.paper"] == ("A3", "yours")
    assert of["processes.air-plasma.square_side.side"] == ("left", "yours")
    assert of["processes.fine-plasma.square_side.side"] == ("right", "common practice")
    told = {rest.name: rest.said for rest in of_process(parts.draw("gusset-triangle").record.job.cut)}
    assert told["square side"] == "square side left, yours"
    assert told["height probe"] == "height probe 3 s, from memory"


def test_every_number_says_what_it_is_for_and_where_it_is_from():
    assert [number for number in LISTED if not number.used_for.strip(": ") or not number.source] == []


# --------------------------------------------------------------------------------------- rules name what they read

UNITS = {"acceleration": "_mm_s2", "top_speed": "_mm_s", "rapid": "_mm_s"}
FIELDS = {
    Bed: lambda name: f"bed.{name}",
    Sheet: lambda name: f"sheet.{name}",
    Brake: lambda name: "brake.punch_width_mm" if name == "punch_width" else f"brake.{name}",
    Machine: lambda name: f"machine.{name}{UNITS.get(name, '_mm')}",
    Cut: lambda name: "height_probe" if name == "probe_time_s" else re.sub(r"_mm(_s)?$|_s$", "", name),
}
NOT_OF_DATA = {"process", "title", "material", "thickness_mm", "cautions", "origins"}
NOT_OF_DATA |= {"material", "title", "group", "k_by", "k_source", "tests", "least_radius_ratio"}  # of a brake


def watched(record, seen):
    """The same record, which notes each of its numbers that is read."""
    kind = type(record)
    names = {field.name for field in dataclasses.fields(kind)} - NOT_OF_DATA

    class Watched(kind):
        __slots__ = ()
        __hash__, __eq__ = object.__hash__, object.__eq__  # a cache's look at its key is no reading

        def __getattribute__(self, name):
            if name in names:
                seen.add(FIELDS[kind](name))
            return super().__getattribute__(name)

    return Watched(**{field.name: getattr(record, field.name) for field in dataclasses.fields(kind)})


MORE = (("plate-bumper", "thickness", 12), ("bracket-bent-u", "thickness", 3), ("bracket-flat-l", "slot_a", 30))


def drawn_examples():
    """The profile and the job of each example of the documents."""
    for rule in RULES:
        drawn = importlib.import_module(f"docs.examples.{rule.__name__.rpartition('.')[2]}")
        job = job_of(Parameters.read(getattr(drawn, "STOCK", {})))
        for profile in (drawn.BREAKS, drawn.OBEYS):
            yield profile.seated(), job
    for slug, values in (
        ("plate-bumper", {"thickness": 12}),
        ("bracket-bent-u", {}),
        ("bracket-flat-l", {"slot_a": 30}),
        ("plate-cover", {"hole_kind": "tapped", "bolt": "M4"}),
    ):
        part = parts.draw(slug, **values)
        yield part.profile, part.record.job


SLIT = Profile((rectangle((0, 0), 200, 100),), (Opening(rectangle((50, 40), 60, 3), "slit"),))
EXAMPLES = [*drawn_examples(), (SLIT, job_of(Parameters.read({})))]


FILED = (
    "rules",
    "edge_distance",
    "bolts",
    "hole_making",
    "air_bending",
    "k_factors",
    "test_bends",
    "least_bend_radius",
)
"""Tables that a rule looks into by itself, and no record of a job has."""


def names_it(rule, path):
    return any(f"{path}.".startswith(f"{named}.") for named in rule.NUMBERS)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
def test_a_rule_reads_no_number_of_a_job_that_it_doesnt_name(rule):
    """Seen by watching every record of a job while the rule looks at all the examples; a limit named is read too."""
    seen = set()
    for profile, job in EXAMPLES:
        slowing._lap.cache_clear()
        parts_of = {name: watched(getattr(job, name), seen) for name in ("cut", "bed", "sheet", "machine", "brake")}
        list(rule.check(profile, Job(**parts_of, units=job.units)))
    assert [path for path in sorted(seen) if not names_it(rule, path)] == []
    of_job = {n for n in rule.NUMBERS if n.partition(".")[0] not in FILED}
    assert [named for named in of_job if not any(f"{path}.".startswith(f"{named}.") for path in seen)] == []


TABLES = {
    "EdgeWanted": "edge_distance.metric", "least_spacing_mm": "edge_distance.spacing", "said_bolt": "bolts",
    "tips": "rules.tip", "too_small": "rules.hole-to-thickness", "depth_allowed": "rules.lost-detail.more_kerfs",
}  # fmt: skip
"""What a rule that uses one of these reads through it."""


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
def test_a_rule_names_the_tables_and_thresholds_that_it_uses(rule):
    tree = ast.parse(Path(rule.__file__).read_text("utf-8"))
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)]
    used = [f"rules.{'.'.join(a.value for a in node.args)}" for node in calls if node.func.id == "threshold"]
    used += [TABLES[node.func.id] for node in calls if node.func.id in TABLES]
    assert [path for path in used if not names_it(rule, path)] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
def test_a_rule_has_no_number_of_its_own(rule):
    """But 0, 1, 2 and halves of formulas: a limit, a share or an angle stands in the data with its source."""
    body = ast.parse(Path(rule.__file__).read_text("utf-8")).body
    named = [node for node in body if isinstance(node, ast.Assign | ast.AnnAssign)]
    of_data = [node for node in named if "threshold(" in ast.unparse(node)]
    plain = [node for node in named if node not in of_data]
    found = [n.value for node in plain for n in ast.walk(node) if isinstance(n, ast.Constant)]
    assert [value for value in found if isinstance(value, int | float) and value not in (0, 1, 2)] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.RULE)
def test_what_a_rule_names_is_in_the_data(rule):
    for named in set(rule.NUMBERS) - {"test_bends", "least_bend_radius"}:  # a shop's own alone
        assert [n for n in told_of(LISTED, rule.RULE) if listed.names(named, listed.topic(n.name.split(".")))], named
    rests = rests_on(rule.RULE, EXAMPLES[0][1])
    assert bool(rests) == bool(rule.NUMBERS)
    assert all(rest.said and rest.source and kind_of(rest.source) for rest in rests)


# ------------------------------------------------------------------------------------------------ kinds, and whose

KINDS = [
    ("AISC 360-22 table J3.4", "published"),
    ("common practice: 1 thickness", "common practice"),
    ("from memory", "from memory"),
    ("from memory: AISC 360-22 table J3.5", "from memory"),
    ("common practice: a scale, DIN 862, from memory", "from memory"),
    ("derived from AISC 360-22 table J3.4", "derived"),
    ("shop's own file", "yours"),
    ("shop's own file: from memory", "yours"),
    ("shop's own file: built-in: from memory", "from memory"),
]


@pytest.mark.parametrize(("source", "kind"), KINDS)
def test_a_source_tells_the_kind_by_its_weakest_word(source, kind):
    assert kind_of(source) == kind


def test_of_several_kinds_the_least_sure_holds():
    assert weakest(["published", "common practice", "from memory"]) == "from memory"
    assert weakest(["published", "common practice"]) == "common practice"
    assert weakest(["yours", "published"]) == "published"


def test_the_shops_own_numbers_are_yours_one_by_one(own_file):
    own_file.write_text(
        '[processes.air-plasma.smallest_hole]\nratio = 2\n[bed]\ny = "100 in"\n'
        '[processes.air-plasma.kerf.steel]\nrows = [{ thickness = "1 mm", kerf = "1.1 mm" }, '
        '{ thickness = "25 mm", kerf = "3 mm", source = "built-in: from memory" }]\n'
    )
    of = {(n.name, n.holds_at): n.kind for n in every()}
    hole = "processes.air-plasma.smallest_hole"
    assert (of[f"{hole}.ratio", ""], of[f"{hole}.floor_mm", ""]) == ("yours", "common practice")
    assert (of["bed.y_mm", ""], of["bed.x_mm", ""]) == ("yours", "common practice")
    kerf = "processes.air-plasma.kerf.steel.kerf_mm"
    assert (of[kerf, "1 mm"], of[kerf, "25 mm"]) == ("yours", "from memory")
    part = parts.draw("gusset-triangle", thickness=12)
    first, *_ = rests_on("hole-to-thickness", part.record.job)
    assert (first.name, first.value, first.kind) == ("smallest hole", 24, "yours")
    assert [rest.kind for rest in rests_on("bed-fit", part.record.job)][:2] == ["common practice", "yours"]


def brake_numbers():
    return {n.name.removeprefix("brake."): (n.kind, n.source) for n in every() if n.name.startswith("brake.")}


def test_each_number_of_the_brake_has_its_own_source(own_file):
    built_in = brake_numbers()
    assert built_in["punch_width_mm"] == ("from memory", "from memory: common practice, a straight punch of 20 mm")
    assert built_in["hole_ratio"][0] == built_in["slot_ratio"][0] == built_in["flange_per_v"][0] == "common practice"
    assert built_in["k_factor"][0] == "published"
    assert len({source for _, source in built_in.values()}) == len(built_in)
    own_file.write_text(
        '[brake]\nhole_ratio = 3\npunch_width = "15 mm"\nsource = "coupon"\n[brake.sources]\npunch_width = "caliper"\n'
    )
    own = brake_numbers()
    assert own["hole_ratio"] == ("yours", "shop's own file: coupon")
    assert own["punch_width_mm"] == ("yours", "shop's own file: caliper")
    assert {name: own[name] for name in own if name not in ("hole_ratio", "punch_width_mm")} == {
        name: said for name, said in built_in.items() if name not in ("hole_ratio", "punch_width_mm")
    }
    told = {rest.name: rest.said for rest in rests_on("return-flange", parts.draw("bracket-bent-u").record.job)}
    assert told["punch width"] == "punch width 15 mm, yours"
    own_file.write_text('[brake.sources]\npunch_widht = "caliper"\n')
    with pytest.raises(DataError, match=r"brake has no entry sources\.punch_widht: did you mean punch_width_mm"):
        every()


def test_a_number_typed_with_the_part_is_yours():
    job = parts.draw("gusset-triangle", bed_x="30 in").record.job
    bed = [(rest.name, rest.kind) for rest in rests_on("bed-fit", job)][:2]
    assert bed == [("bed in X", "yours"), ("bed in Y", "common practice")]


def test_between_two_published_rows_a_value_is_derived():
    rows = [parts.cutting.process.FeedRow(thickness_mm=t, feed_mm_s=f, source="A book") for t, f in ((1, 9), (3, 5))]
    on, between = (parts.cutting.between(tuple(rows), t) for t in (3, 2))
    assert (on.kind, on.value) == ("published", 5)
    assert (between.kind, between.value) == ("derived", 7)


def test_what_a_process_holds_for_is_told_with_its_numbers():
    of = {rest.name: rest for rest in of_process(parts.draw("gusset-triangle", thickness=6.4).record.job.cut)}
    assert (of["feed"].setting, of["feed"].kind) == ("55 A", "published")
    assert (of["kerf"].setting, of["kerf"].kind) == ("50 A", "common practice")
    laser = {r.name: r for r in of_process(parts.draw("gusset-triangle", process="laser", thickness=2).record.job.cut)}
    assert laser["feed"].setting == "1.2 kW to 3 kW"
    jet = {r.name: r for r in of_process(parts.draw("gusset-triangle", process="waterjet", thickness=6).record.job.cut)}
    assert jet["feed"].setting == "good edge"


# ------------------------------------------------------------------------------- nothing recalled is called published

UNSURE = re.compile(r"from memory|common practice|derived")
VAGUE = re.compile(r"encyclop|vocational|online|web ?page|trade page|several|various|internet|forum|AISI-type", re.I)


def test_no_number_that_is_recalled_is_listed_as_published():
    published = [number for number in LISTED if number.kind == "published"]
    assert len(published) > 300
    assert [number for number in published if UNSURE.search(number.source)] == []


def test_every_source_is_one_that_a_person_can_get_or_says_what_it_is():
    """Bends have a table of their own, whose source stands there."""
    vague = [n.source for n in LISTED if n.kind == "published" and VAGUE.search(n.source)]
    assert [source for source in dict.fromkeys(vague) if "Bending (metalworking)" not in source] == []


@pytest.mark.parametrize("slug", library.SLUGS[::9])
@pytest.mark.parametrize("process", ["air-plasma", "laser"])
def test_no_answer_of_a_part_calls_published_what_isnt(slug, process):
    try:
        content = parts.export.json_content(parts.draw(slug, process=process).record)
    except parts.Refused:
        return
    told = [*content["process_numbers"], *(number for rests in content["rests_on"].values() for number in rests)]
    assert len(told) >= 12
    assert [n for n in told if n["kind"] == "published" and UNSURE.search(n["source"])] == []
    assert {finding["rule"] for finding in content["findings"]} <= content["rests_on"].keys()


RECALLED = re.compile(r"J3\.5M?\b|ISO 9013:2002")
"""Standards of which only recalled numbers are here."""


def test_the_documents_say_of_what_is_recalled_that_it_is():
    pages = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
    said = [one for page in pages for one in re.split(r"[.;]\s|\n\n", page.read_text("utf-8"))]
    sentences = [one for one in said if RECALLED.search(one)]
    assert sentences
    assert [one for one in sentences if "from memory" not in one] == []


def pdf_text(data):
    """What a PDF says."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages).split())


def loose_hole():
    """A part with an oversized hole too near an edge."""
    return parts.draw("bracket-flat-l", bolt_a="M16", fit="loose", width_a=60, first_a=23)


def test_a_finding_says_of_what_is_recalled_that_it_is(client):
    """Wherever the increment is told: in the finding, in JSON, on the page and in the PDF."""
    part = loose_hole()
    (one,) = [finding for finding in part.findings if finding.rule == "edge-distance"]
    assert "(from memory: AISC 360-22 table J3.5M)" in one.message
    assert kinds_said(rests_on("edge-distance", part.record.job)) == "published, from memory"
    page = client.get(part.record.address).text
    assert "Rests on numbers: published, from memory" in page
    sheet = pdf_text(part.to_pdf())
    for text in (part.to_json(), page, sheet):
        found = [text[max(m.start() - 60, 0) : m.end()] for m in RECALLED.finditer(text)]
        assert found
        assert [each for each in found if "from memory" not in each] == []
    assert "Numbers: published, from memory." in sheet


def bent(material):
    """A bend sharper than its metal stands."""
    return parts.draw("bracket-bent-angle", thickness=6, material=material, bend_radius=2).record.job


@pytest.mark.parametrize(
    ("material", "its", "not_its"),
    [
        ("stainless-steel", "annealed|as the hard metals|1 T;", "Aluminum|EN 10025|0.64|1.57 R at 90 degrees$|DIN"),
        ("aluminium", "Aluminum Association", "EN 10025|hard metals|DIN"),
        ("mild-steel", "EN 10025", "Aluminum|hard metals|DIN"),
    ],
)
def test_a_bend_rests_on_the_rows_of_its_own_metal(material, its, not_its):
    """Another metal's table is none of its numbers, nor the formula for K that doesn't hold."""
    sources = [rest.source for rest in rests_on("bend-radius", bent(material))]
    assert any(re.search(its, source) for source in sources)
    wrong = [source for source in sources if re.search(not_its, source)]
    assert [source for source in wrong if "hard metals" not in source or material != "stainless-steel"] == []


def test_what_the_handbook_doesnt_name_isnt_called_published():
    """Machinery's Handbook has 0.71 for hard metals and doesn't name stainless steel."""
    neutral = {m: bent(m).brake.neutral(6, 6) for m in ("stainless-steel", "mild-steel", "aluminium")}
    assert {m: line.kind for m, line in neutral.items()} == {
        "stainless-steel": "common practice", "mild-steel": "published", "aluminium": "published",
    }  # fmt: skip
    assert neutral["stainless-steel"].k == pytest.approx(0.71 * 2 / math.pi)


def test_the_size_to_expect_of_thick_plate_is_told_as_recalled():
    part = parts.draw("gusset-triangle", thickness=25)
    assert "ISO 9013 class 2, from memory" in pdf_text(part.to_pdf())
