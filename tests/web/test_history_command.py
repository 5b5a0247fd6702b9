"""The command `history`: list, CSV out, CSV in."""

import pytest

from parts.truing import history
from webapp.cli import main

SQUARE = "".join(
    f'[[reading]]\nkind = "centres"\ndirection_deg = {way}\nnominal = "{drawn} mm"\nmeasured = "{got} mm"\n'
    for way, drawn, got in ((0, 300, 300.12), (90, 300, 299.91), (135, 424.264069, 424.264))
)


OF_A_CALIPER = """1.96 times the root of the squares, of 300 mm, of 0.03 mm, of a scale of 7e-5, of half a zero of 0.012
mm and half one of 0.029 mm, and of 8.7 K and 4.6 K times what steel and the caliper grow"""


def test_an_empty_history_is_said(capsys, own_history):
    assert main(["history"]) == 0
    assert "nothing is kept yet" in capsys.readouterr().out
    assert not own_history.exists()


def test_entries_are_listed_by_table_with_their_errors(capsys):
    history.keep("Fernhollow table", SQUARE)
    history.keep("Fernhollow table", SQUARE, replaces=1)
    history.keep("Other", SQUARE)
    history.accept(2)
    assert main(["history"]) == 0
    out = capsys.readouterr().out
    assert out.index("Fernhollow table:") < out.index("Other:")
    assert "Scale of X +0.400 mm in a metre ± 0.331 mm in a metre" in out, OF_A_CALIPER
    lines = {line.split()[0]: line for line in out.splitlines() if line.startswith("   ")}
    assert lines["1"].endswith("(corrected since)")
    assert lines["2"].endswith("(accepted)")
    assert "the errors of entry 2 accepted" in lines["4"]
    assert main(["history", "--machine", "Other", "--units", "in"]) == 0
    out = capsys.readouterr().out
    assert "Fernhollow" not in out
    assert "+0.0384 in in 8 ft" in out, "0.0004 of 96 in"


def test_csv_out_and_in(capsys, tmp_path, monkeypatch):
    history.keep("Fernhollow table", SQUARE)
    file = tmp_path / "h.csv"
    assert main(["history", "--csv", str(file)]) == 0
    before = history.entries()
    monkeypatch.setenv(history.VARIABLE, str(tmp_path / "other.sqlite"))
    assert main(["history", "--load", str(file)]) == 0
    assert "1 new entry" in capsys.readouterr().err
    assert history.entries() == before
    assert main(["history", "--csv", "-"]) == 0
    assert capsys.readouterr().out.encode() == file.read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--machine", "None"], "nothing is kept of a table of this name"),
        (["--load", "not-there.csv"], "can't be read"),
        (["--load", "x.csv", "--machine", "T"], "takes every entry"),
        (["--load", __file__], "must begin with the columns"),
    ],
)
def test_what_cannot_be_done_is_said(capsys, words, said):
    assert main(["history", *words]) == 2
    assert said in capsys.readouterr().err
