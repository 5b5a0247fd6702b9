"""docs/truing.md shows what its file really gives."""

import math
import re
from pathlib import Path

import parts
from parts import draw, true_table
from parts.truing.accepted import compensation
from parts.truing.instruments import usual_u
from parts.truing.reading import KINDS
from parts.truing.several import true_tables
from webapp.commands.console import values_of
from webapp.commands.true import lines

TEXT = (Path(__file__).parents[3] / "docs" / "truing.md").read_text("utf-8")
TABLES = re.findall(r"```toml\n(.*?)```", TEXT, flags=re.S)


def test_the_report_is_that_of_the_file():
    shown = re.search(r"\$ platewright true fernhollow.toml\n(.*?)```", TEXT, flags=re.S).group(1)
    assert shown.splitlines() == list(lines(true_table(TABLES[0])))


def sheets_filled_in():
    """The sheets that the document asks for, with the readings of its table."""
    asked = re.findall(r"^platewright sheet (\S+)(.*) -o (frame|targets|comb)\.toml$", TEXT, flags=re.M)
    read = dict(re.findall(r"^\| `(\w+)\.toml` \| (.*) \|$", TEXT, flags=re.M))
    for slug, values, name in asked:
        sheet = draw(slug, **values_of(values.split())).measuring_sheet()
        typed = dict(entry.split() for entry in read[name].split(", "))
        assert list(typed) == [place.letter for place in sheet.places]
        text = sheet.to_toml()
        for letter, length in typed.items():
            head, row = text.split(f'note = "{letter}"')
            text = f'{head}note = "{letter}"' + row.replace('measured = ""', f'measured = "{length}"', 1)
        if name == "frame":
            for line in re.search(r"they also wrote (.*); what", TEXT.replace("\n", " ")).group(1).split("`")[1::2]:
                text = text.replace(f'{line.split(" = ")[0]} = ""', line, 1)
        yield name, text


def test_the_report_of_several_pieces_is_that_of_their_sheets():
    shown = re.search(r"\$ platewright true frame.toml targets.toml comb.toml\n(.*?)```", TEXT, flags=re.S).group(1)
    found = true_tables(list(sheets_filled_in()))
    assert shown.splitlines() == list(lines(found))
    assert found.missing == {}
    assert found.disagreements == ()


def test_every_test_piece_is_in_the_table_of_questions():
    pieces = [slug for slug, of in parts.templates().items() if of.readings]
    assert [slug for slug in pieces if f"| `{slug}` |" not in TEXT] == []


def test_what_was_accepted_is_what_was_found():
    found, accepted = compensation(TABLES[0]), compensation(TABLES[1])
    assert found.label == accepted.label == "Fernhollow table"
    assert abs(found.errors.scale_x - accepted.errors.scale_x) < 1e-6
    assert found.errors.scale_y == accepted.errors.scale_y == 0
    assert abs(math.degrees(found.errors.out_of_square - accepted.errors.out_of_square)) < 1e-4


def test_every_kind_and_instrument_is_described():
    assert [kind for kind in KINDS if f"| `{kind}` |" not in TEXT] == []
    assert [name for name, u in usual_u().items() if f"`{name}` {u:g} mm" not in TEXT.replace("\n", " ")] == []
