"""docs/truing.md shows what its file really gives."""

import math
import re
from pathlib import Path

from parts import true_table
from parts.truing.accepted import compensation
from parts.truing.file import INSTRUMENTS
from parts.truing.reading import KINDS
from webapp.true_command import lines

TEXT = (Path(__file__).parents[3] / "docs" / "truing.md").read_text("utf-8")
TABLES = re.findall(r"```toml\n(.*?)```", TEXT, flags=re.S)


def test_the_report_is_that_of_the_file():
    shown = re.search(r"\$ platewright true fernhollow.toml\n(.*?)```", TEXT, flags=re.S).group(1)
    assert shown.splitlines() == list(lines(true_table(TABLES[0])))


def test_what_was_accepted_is_what_was_found():
    found, accepted = compensation(TABLES[0]), compensation(TABLES[1])
    assert found.label == accepted.label == "Fernhollow table"
    assert abs(found.errors.scale_x - accepted.errors.scale_x) < 1e-6
    assert found.errors.scale_y == accepted.errors.scale_y == 0
    assert abs(math.degrees(found.errors.out_of_square - accepted.errors.out_of_square)) < 1e-4


def test_every_kind_and_instrument_is_described():
    assert [kind for kind in KINDS if f"| `{kind}` |" not in TEXT] == []
    assert [name for name, u in INSTRUMENTS.items() if f"`{name}` {u:g} mm" not in TEXT.replace("\n", " ")] == []
