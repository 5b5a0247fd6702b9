"""The numbers of processes.toml against cutting_practice.csv and energy.csv of tests/reference.

A number is of the kind that its source says; a published one must equal a row of the reference marked V1 or V2.
Ranges of common practice have to hold ours; heat and power have to be possible. What is from memory, here and in the
reference, is compared with nothing: memory proves no memory.
"""

import csv
import re
from pathlib import Path

import pytest

from parts.cutting.process import cut_for, thickness_range
from parts.data import kind_of
from parts.shop import tree as shop_tree

REFERENCE = Path(__file__).parents[1] / "reference"
# The name that a row of the reference gives to the source of a row before it.
SAME = {"same book page": "Process Fundamentals of Industrial Laser Welding and Cutting"}
QUANTITY = {"feed": "cutting speed"}
NAMED = {
    "air-plasma": ("plasma", "plasma, air, small"),
    "fine-plasma": ("plasma", "plasma, fine (high definition)"),
    "oxy-fuel": ("oxy-fuel",),
    "laser": ("laser",),
    "waterjet": ("waterjet, abrasive",),
}


def table(name):
    source, *lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    assert source.startswith("Source: ")
    return list(csv.DictReader(lines))


PRACTICE = table("cutting_practice.csv")
ENERGY = {row["material"]: row for row in table("energy.csv")}
PROCESSES = shop_tree.builtin()["processes"]


def practice(process, quantity, condition=""):
    """The one row of the reference that is meant."""
    (row,) = [
        row
        for row in PRACTICE
        if row["process"] == process and row["quantity"] == quantity and condition in row["condition"]
    ]
    return float(row["low"]), float(row["high"])


def numbered(tree, where=""):
    """Every table that holds a number, with its path."""
    if isinstance(tree, list):
        for index, item in enumerate(tree):
            yield from numbered(item, f"{where}[{index}]")
    elif isinstance(tree, dict):
        if any(isinstance(value, int | float) for value in tree.values()):
            yield where, tree
        for key, value in tree.items():
            yield from numbered(value, f"{where}.{key}".lstrip("."))


TABLES = list(numbered(shop_tree.builtin()))
CLAIMS = [(where, of) for where, of in TABLES if where.startswith("processes") and kind_of(of["source"]) == "published"]


def test_the_walk_finds_the_numbers():
    found = {where.split("[")[0] for where, _ in TABLES}
    assert {"bed", "materials.brass", "processes.laser.thinnest", "processes.laser.feed.steel.rows"} <= found
    assert len(TABLES) > 250


def test_every_number_has_a_source():
    sources = {where: of.get("source") or min(of["sources"].values(), key=len) for where, of in TABLES}
    assert [
        where for where, said in sources.items() if not isinstance(said, str) or len(said) < len("from memory")
    ] == []


def matches(process, quantity, of, row):
    """Whether a row of the reference is the one that a published number names."""
    source = re.sub(r" \(book page seen\)", "", SAME.get(row["source"], row["source"]))
    return (
        row["process"] in NAMED[process]
        and row["quantity"] == quantity
        and row["check"].startswith("V")
        and of["source"].startswith(source)
        and (not row["condition"] or row["condition"].split(" (")[0] in of["source"].replace(":", ""))
    )


@pytest.mark.parametrize(("where", "of"), CLAIMS, ids=[where for where, _ in CLAIMS])
def test_a_published_number_is_the_published_one(where, of):
    process, what = where.split(".")[1:3]
    quantity = QUANTITY.get(what, "thickness range covered by ISO 9013:2017")
    (row,) = [row for row in PRACTICE if matches(process, quantity, of, row)]
    value = of["feed_mm_s"] if what == "feed" else of["thickness_mm"]
    assert value == float(row["low"]), row["source"]
    if thickness := re.search(r"steel ([\d.]+) mm", row["condition"]):
        assert of["thickness_mm"] == float(thickness[1])
    if amps := re.search(r"at (\d+) A", row["condition"]):
        assert of["current_a"] == float(amps[1])
    if watts := re.search(r"at (\d+) W", row["condition"]):
        assert of["power_kw"] == float(watts[1]) / 1000


def test_there_are_published_numbers():
    assert len(CLAIMS) == 7  # 4 thinnest, 3 feeds


KERFS = [
    (metals, of)
    for group, metals in (("steel", "mild steel"), ("any", "stainless and aluminium"))
    for of in PROCESSES["air-plasma"]["kerf"][group]["rows"]
    if kind_of(of["source"]) == "common practice"
]


@pytest.mark.parametrize(
    ("metals", "of"), KERFS, ids=lambda each: each if isinstance(each, str) else each["thickness_mm"]
)
def test_kerf_of_air_plasma_is_that_of_its_current(metals, of):
    """A slide of a vocational course, seen (V1): a range of kerfs for a range of currents; which current cuts which
    thickness is common practice, so that is what the row is called.
    """
    ranges = [row for row in PRACTICE if row["quantity"] == "kerf width" and row["condition"].startswith(metals)]
    (row, amps) = next(
        (row, (low, high))
        for row in ranges
        for low, high in [map(int, re.search(r"(\d+) to (\d+) A", row["condition"]).groups())]
        if low <= of["current_a"] <= high
    )
    assert row["check"] == "V1"
    assert of["kerf_mm"] == float(row["low"] if of["current_a"] == amps[0] else row["high"])
    assert of["current_a"] in amps
    assert f"{amps[0]} to {amps[1]} A in {metals}" in of["source"]


def test_what_a_row_holds_for_is_said_wherever_it_matters():
    for process, what, entry in [
        ("air-plasma", "kerf", "current_a"), ("air-plasma", "feed", "current_a"), ("fine-plasma", "kerf", "current_a"),
        ("fine-plasma", "feed", "current_a"), ("laser", "feed", "power_kw"), ("laser", "pierce_time", "power_kw"),
        ("waterjet", "feed", "quality"),
    ]:  # fmt: skip
        rows = [row for column in PROCESSES[process][what].values() for row in column["rows"]]
        assert [row for row in rows if not row.get(entry)] == [], (process, what)


@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma"])
def test_a_thicker_plate_is_never_cut_at_less_current(process):
    for what in ("kerf", "feed"):
        for column in PROCESSES[process][what].values():
            amps = [row["current_a"] for row in column["rows"]]
            assert amps == sorted(amps)


@pytest.mark.parametrize(
    ("process", "rule", "part", "published"),
    [
        (
            "air-plasma",
            "smallest_hole",
            "ratio",
            ("plasma", "minimum hole diameter / thickness", "conventional"),
        ),
        ("air-plasma", "smallest_hole", "floor_mm", ("plasma", "absolute minimum hole diameter")),
        (
            "air-plasma",
            "narrowest_bridge",
            "ratio",
            ("plasma", "minimum web or bridge between cuts / thickness"),
        ),
        (
            "fine-plasma",
            "smallest_hole",
            "ratio",
            ("plasma, fine (high definition)", "minimum hole diameter / thickness"),
        ),
        ("fine-plasma", "smallest_hole", "floor_mm", ("plasma", "absolute minimum hole diameter")),
        (
            "fine-plasma",
            "narrowest_bridge",
            "ratio",
            ("plasma", "minimum web or bridge between cuts / thickness"),
        ),
        ("oxy-fuel", "smallest_hole", "ratio", ("oxy-fuel", "minimum hole diameter / thickness")),
        ("oxy-fuel", "narrowest_bridge", "ratio", ("oxy-fuel", "minimum web between cuts / thickness")),
        ("laser", "smallest_hole", "ratio", ("laser", "minimum hole diameter / thickness")),
        ("laser", "narrowest_bridge", "ratio", ("laser", "minimum web between cuts / thickness")),
        ("waterjet", "smallest_hole", "floor_mm", ("waterjet, abrasive", "minimum hole diameter")),
        ("waterjet", "narrowest_bridge", "floor_mm", ("waterjet, abrasive", "minimum web between cuts")),
    ],
)
def test_rules_are_inside_common_practice(process, rule, part, published):
    low, high = practice(*published)
    assert low <= PROCESSES[process][rule][part] <= high


FLOORS = [
    ("air-plasma", "smallest_hole", "kerfs", "plasma", "absolute minimum hole diameter", r"about ([\d.]+) kerfs"),
    ("air-plasma", "narrowest_bridge", "floor_mm", "plasma", "minimum web or bridge", r"not under ([\d.]+) mm"),
    ("fine-plasma", "narrowest_bridge", "floor_mm", "plasma", "minimum web or bridge", r"not under ([\d.]+) mm"),
    ("air-plasma", "narrowest_slot", "kerfs", "plasma", "minimum slot width", r"not under ([\d.]+) kerfs"),
    ("oxy-fuel", "smallest_hole", "floor_mm", "oxy-fuel", "minimum hole diameter", r"not under about ([\d.]+) mm"),
    ("oxy-fuel", "narrowest_bridge", "floor_mm", "oxy-fuel", "minimum web", r"not under ([\d.]+) mm"),
    ("laser", "narrowest_bridge", "floor_mm", "laser", "minimum web", r"not under ([\d.]+) mm"),
    ("waterjet", "smallest_hole", "kerfs", "waterjet, abrasive", "minimum hole", r"about ([\d.]+) jets"),
    ("waterjet", "smallest_hole", "ratio", "waterjet, abrasive", "minimum hole", r"to ([\d.]+) of thickness"),
    ("air-plasma", "lead_in", "floor_mm", "any thermal", "lead-in length", r"nor ([\d.]+) mm"),
    ("air-plasma", "lead_in", "kerfs", "any thermal", "lead-in length", r"about ([\d.]+) kerfs"),
]


@pytest.mark.parametrize(("process", "rule", "key", "named", "quantity", "said"), FLOORS)
def test_floors_are_what_the_reference_says_in_words(process, rule, key, named, quantity, said):
    """Common practice: read out of the conditions and notes of the reference's rows, in which no code had a hand."""
    (row,) = [row for row in PRACTICE if row["process"] == named and row["quantity"].startswith(quantity)]
    assert row["check"] == "common practice"
    assert PROCESSES[process][rule][key] == float(re.search(said, f"{row['condition']}; {row['note']}")[1])


@pytest.mark.parametrize(("condition", "thickness"), [("3 mm and under", 3), ("6 mm", 6), ("12 mm", 12), ("20 mm", 20)])
@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma"])
def test_pierce_delay_of_plasma_is_the_middle_of_common_practice(process, condition, thickness):
    low, high = practice("plasma", "pierce delay", condition)
    assert cut_for(process, "mild-steel", thickness).pierce_time_s == pytest.approx((low + high) / 2)


@pytest.mark.parametrize("thickness", [12, 18, 25])
def test_preheat_of_oxy_fuel_is_inside_common_practice(thickness):
    low, high = practice("oxy-fuel", "pierce (preheat) time")
    assert low <= cut_for("oxy-fuel", "mild-steel", thickness).pierce_time_s <= high


# ---- heat and power: what melts has to be paid for

HIGH_CURRENT = [
    row
    for row in PRACTICE
    if row["process"] == "plasma, high current" and "A," in row["condition"] and row["check"].startswith("V")
]
"""Those that were seen; the rows for carbon steel are from memory."""
STEEL = float(ENERGY["mild steel (iron enthalpy, steel density)"]["melt_energy_J_per_mm3"])
MELT_J_PER_MM3 = {
    "mild-steel": STEEL,
    "stainless-steel": STEEL,
    "aluminium": float(ENERGY["aluminium"]["melt_energy_J_per_mm3"]),
}
NAMES = {"stainless": "stainless-steel", "aluminium": "aluminium"}


def melting_w(cut):
    """Power that goes into melting what the kerf removes, W."""
    return cut.kerf_mm * cut.thickness_mm * cut.feed_mm_s * MELT_J_PER_MM3[cut.material]


def textbook(row):
    name, thickness, _, power = re.fullmatch(r"(\D+) (\d+) mm, (\d+) A, (\d+) kW", row["condition"]).groups()
    return NAMES[name], float(thickness), float(power) * 1000, float(row["low"])


@pytest.mark.parametrize("row", HIGH_CURRENT, ids=lambda row: row["condition"])
def test_no_plasma_here_is_faster_than_the_textbooks_high_current_one(row):
    """Welding textbook tables at 250 A and more: an upper bound for the smaller sources meant here."""
    material, thickness, _, speed = textbook(row)
    for process in ("air-plasma", "fine-plasma"):
        if thickness <= thickness_range(process, material)[1]:
            assert cut_for(process, material, thickness).feed_mm_s < speed


ARC_VOLTS = 130  # cutting arcs run at about 100 to 160 V: common practice
# Share of the arc's power that melts the kerf; the rest heats plate, gas and nozzle (from memory).
LEAST_SHARE, MOST_SHARE = 0.05, 0.75


GROUPS = {"steel": "mild-steel", "stainless": "stainless-steel", "aluminium": "aluminium"}


def feeds(process):
    """Every row of a process's feeds, with its material."""
    return [(GROUPS[group], of) for group, column in PROCESSES[process]["feed"].items() for of in column["rows"]]


@pytest.mark.parametrize("process", ["air-plasma", "fine-plasma"])
def test_the_arc_can_melt_what_the_kerf_removes(process):
    """At the current that each row says it is for; heat to melt from NIST-JANAF (tests/reference/energy.csv)."""
    for material, of in feeds(process):
        share = melting_w(cut_for(process, material, of["thickness_mm"])) / (of["current_a"] * ARC_VOLTS)
        assert (0.0 if material == "aluminium" else LEAST_SHARE) < share < MOST_SHARE, (material, of)


def test_the_laser_can_melt_what_the_kerf_removes():
    """At the power that each row says it is for: what it melts is less, oxygen's help on steel aside."""
    for material, of in feeds("laser"):
        assert 0 < melting_w(cut_for("laser", material, of["thickness_mm"])) < of["power_kw"] * 1000, (material, of)


def test_the_rated_thickness_of_a_source_is_cut_at_the_rated_speed_or_faster():
    """The Fabricator (2008): rated is what a source cuts cleanly at about 10 in/min, 4.2 mm/s."""
    rated, _ = practice("plasma", "rated capacity definition")
    assert cut_for("air-plasma", "mild-steel", 25.4).feed_mm_s > rated


@pytest.mark.parametrize("group", PROCESSES["waterjet"]["feed"])
def test_a_waterjet_never_parts_more_area_a_second_in_thicker_plate(group):
    """Row by row from the published 1.6 mm on: the jet has lost some of its force when it gets to what lies deeper."""
    rows = [row for row in PROCESSES["waterjet"]["feed"][group]["rows"] if row["thickness_mm"] >= 1.6]
    parted = [row["thickness_mm"] * row["feed_mm_s"] for row in rows]
    assert len(parted) > 5
    assert parted == sorted(parted, reverse=True)
