"""Changes to a shop's own file leave its comments, order and all other entries: `parts/shop/edit.py`."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.errors import DataError
from parts.shop.editing.edit import Change, changed, edited, pruned

KERF = ("processes", "air-plasma", "kerf", "steel")
FILE = """\
# Fernhollow workshop (invented)

[bed]
x = "52 in"  # taped, twice
y_mm = 2489.2

# The 45 A source
[processes.air-plasma]
thickest = { thickness = "1/2 in", source = "off-cuts" }

# Holes come out well
[processes.air-plasma.smallest_hole]
ratio = 1.75

# measured with a slot gauge
[processes.air-plasma.kerf.steel]
rows = [
    { thickness = "1 mm", kerf = "1.1 mm" },  # thin
    { thickness = "1/8 in", kerf = "1.5 mm" },  # the usual
    { thickness = "1/2 in", kerf = "1.9 mm", source = "slot gauge" },
]

# ours
[materials.wear-plate]
title = "Wear plate"
"""


def row(thickness, kerf):
    return {"thickness": thickness, "kerf": kerf}


ROWS = [row("1 mm", "1.1 mm"), row("1/8 in", "1.5 mm"), {**row("1/2 in", "1.9 mm"), "source": "slot gauge"}]


@pytest.mark.parametrize(
    ("change", "old", "new"),
    [
        pytest.param(Change(("bed",), "x_mm", "53 in", "x"), '"52 in"', '"53 in"', id="a value, its comment kept"),
        pytest.param(Change(("bed",), "y_mm", "98 in", "y"), "y_mm = 2489.2", 'y = "98 in"', id="under another name"),
        pytest.param(
            Change(("bed",), "source", "tape"), "y_mm = 2489.2\n", 'y_mm = 2489.2\nsource = "tape"\n', id="added"
        ),
        pytest.param(Change(("bed",), "x_mm", None), 'x = "52 in"  # taped, twice\n', "", id="taken off"),
        pytest.param(
            Change(("processes", "air-plasma", "thickest"), "thickness_mm", "10 mm", "thickness"),
            '"1/2 in", source = "off-cuts"',
            '"10 mm", source = "off-cuts"',
            id="in a table on one line",
        ),
        pytest.param(
            Change(("processes", "air-plasma", "smallest_hole"), "kerfs", 2.5),
            "ratio = 1.75\n",
            "ratio = 1.75\nkerfs = 2.5\n",
            id="before the comment on the next table",
        ),
        pytest.param(
            Change(KERF, "rows", [ROWS[0], row("1/8 in", "1.6 mm"), ROWS[2]]), '"1.5 mm"', '"1.6 mm"', id="a row"
        ),
        pytest.param(
            Change(KERF, "rows", [ROWS[0], ROWS[2]]),
            '    { thickness = "1/8 in", kerf = "1.5 mm" },  # the usual\n',
            "",
            id="a row less",
        ),
        pytest.param(
            Change(("machine",), "slat_pitch_mm", "3 in", "slat_pitch"),
            'title = "Wear plate"\n',
            'title = "Wear plate"\n\n[machine]\nslat_pitch = "3 in"\n',
            id="a new table, last",
        ),
    ],
)
def test_nothing_else_moves(change, old, new):
    assert FILE.count(old) == 1
    assert edited(FILE, [change]) == FILE.replace(old, new)


def test_a_row_between_others_keeps_their_comments():
    out = edited(FILE, [Change(KERF, "rows", [*ROWS[:2], row("1/4 in", "1.7 mm"), ROWS[2]])])
    added = [line for line in out.splitlines() if line not in FILE.splitlines()]
    assert [line.strip() for line in added] == ['{ thickness = "1/4 in", kerf = "1.7 mm" },']
    assert "# thin" in out
    assert "# the usual" in out


def test_the_last_entry_takes_its_table_with_it_and_a_comment_keeps_it():
    gone = edited(
        '[bed]\nx = "52 in"\nsource = "tape"\n\n[machine]\nslat_pitch_mm = 70\n', [Change(("bed",), "x_mm", None)]
    )
    assert tomllib.loads(gone) == {"machine": {"slat_pitch_mm": 70}}
    assert "[bed]" not in gone
    kept = edited('[bed]\n# rails to rails\nx = "52 in"\n', [Change(("bed",), "x_mm", None)])
    assert "# rails to rails" in kept


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("# only a comment", id="no line end"),
        pytest.param('bed.x = "52 in"\n', id="dotted"),
        pytest.param('bed = { x = "52 in" }\n', id="on one line"),
        pytest.param("[bed]\n", id="empty"),
        pytest.param('[bed]\n  # indented\n  x = "52 in"\n', id="indented"),
        pytest.param('[bed]\r\nx = "52 in" # tape\r\n\r\n[machine]\r\nslat_pitch_mm = 70\r\n', id="line ends of two"),
        pytest.param('\ufeff[bed]\nx = "52 in"\n', id="a mark before it"),
        pytest.param(
            '[processes.laser]\ntitle = "L"\n[bed]\nx = 1\n[processes.laser.lead_in]\nratio = 1\n', id="pieces"
        ),
        pytest.param("[[unknown]]\na = 1\n[[unknown]]\na = 2\n", id="unknown lists"),
    ],
)
def test_any_way_of_writing_is_changed(text):
    plain = tomllib.loads(text.removeprefix("\ufeff"))
    for change in (
        Change(("bed",), "x_mm", "1 m", "x"),
        Change(("bed",), "y_mm", 900.5),
        Change(("processes", "laser", "lead_in"), "ratio", 2),
        Change(("processes", "laser", "kerf", "steel"), "rows", [row("1 mm", "1 mm")]),
        Change(("bed",), "x_mm", None),
    ):
        out = edited(text, [change])
        assert pruned(tomllib.loads(out.removeprefix("\ufeff"))) == changed(plain, [change])
        assert out.startswith("\ufeff") == text.startswith("\ufeff")
        if "\r" in text:
            assert out.count("\r\n") == out.count("\n")
        for line in text.splitlines():
            if "#" in line and (change.value is not None or line.strip().startswith("#")):
                assert line.split("#")[1] in out


def test_rows_as_a_list_of_tables_are_changed():
    text = '[[processes.laser.kerf.any.rows]]\nthickness = "1 mm" # a\nkerf = "0.2 mm"\n\n[bed]\nx = 1000\n'
    change = Change(("processes", "laser", "kerf", "any"), "rows", [row("1 mm", "0.3 mm"), row("2 mm", "0.4 mm")])
    out = edited(text, [change])
    assert tomllib.loads(out) == changed(tomllib.loads(text), [change])


@pytest.mark.parametrize("text", ["x = ", "x = " + "[" * 5000 + "]" * 5000])
def test_what_is_no_toml_is_not_changed(text):
    with pytest.raises(DataError):
        edited(text, [Change(("bed",), "x_mm", 900)])


def test_a_table_that_is_a_number_is_said_to_be_in_the_way():
    with pytest.raises(DataError, match=r"bed\.x_mm can't be changed here"):
        edited("bed = 3\n", [Change(("bed",), "x_mm", 900)])


entries = st.sampled_from(
    [
        (("bed",), "x_mm", "x"),
        (("bed",), "source", "source"),
        (("machine",), "top_speed_mm_s", "top_speed_in_min"),
        (("processes", "laser", "lead_in"), "ratio", "ratio"),
        (("processes", "laser", "thickest"), "thickness_mm", "thickness"),
    ]
)
values = st.one_of(
    st.none(), st.floats(-1e9, 1e9), st.integers(-9, 9), st.text(st.characters(exclude_categories=["Cs"]), max_size=9)
)
scalars = st.builds(lambda entry, value: Change(entry[0], entry[1], value, entry[2]), entries, values)
rows = st.lists(st.integers(1, 30), max_size=6, unique=True).map(
    lambda held: [row(thickness, thickness / 10) for thickness in sorted(held)]
)
columns = st.builds(lambda held: Change(KERF, "rows", held or None), rows)


@given(st.lists(scalars | columns, max_size=12), st.sampled_from(["", FILE]))
def test_any_row_of_changes_comes_out_as_on_the_plain_tree(changes, text):
    plain = pruned(tomllib.loads(text))
    for change in changes:
        text = edited(text, [change])
        plain = changed(plain, [change])
        assert pruned(tomllib.loads(text)) == plain
    assert all(f"# {comment}" in text for comment in ("ours", "The 45 A source") if "materials" in plain)
