"""`platewright true` of a test bend: shown first, kept with --keep, refused where a slip is likelier."""

import json

import pytest

from parts import shop
from tests.bends_read import STRIPS, toml
from webapp.cli import main


@pytest.fixture
def file(tmp_path):
    def make(text, name="bend.toml") -> str:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return str(path)

    return make


def run(capsys, *words):
    status = main(["true", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_the_report_and_that_it_writes_nothing_unasked(file, capsys, own_file):
    status, out, err = run(capsys, file(toml()))
    assert status == 0
    assert out.splitlines()[0] == (
        "Fernhollow brake: mild steel called 3 mm (2.96 mm measured) over a V of 24 mm, 2 strips turned through 90°"
    )
    for words in (
        "Bend deduction:    5.64 mm (5.",
        "K-factor:          0.419",
        "What --keep writes",
        "Without the test",
    ):
        assert words in out
    assert "keep hands and fingers clear" in err
    assert not own_file.read_text()


def test_kept_it_is_in_the_shops_file_and_parts_are_drawn_by_it(file, capsys, own_file):
    status, _, err = run(capsys, file(toml()), "--keep")
    assert status == 0
    assert f"Kept in {own_file}." in err
    assert len(shop.load(shop.edition()).test_bends["mild-steel"].rows) == 1
    assert main(["draw", "bracket-bent-angle", "thickness=3", "-o", "-", "--format", "json"]) == 0
    (bend,) = json.loads(capsys.readouterr().out)["bends"]
    assert bend["k_name"] == "your test bend of 2026-03-14"
    assert main(["shop"]) == 0
    said = capsys.readouterr().out
    assert "test_bends.mild-steel" in said
    assert "your test bend of 2026-03-14, K 0.419 " in said
    _, out, _ = run(capsys, file(toml(), "again.toml"))
    assert "It takes the place of" in out


def test_it_is_drawn_in_the_pdf_by_the_test(file, capsys, own_file, tmp_path):
    import io

    import pypdf

    run(capsys, file(toml()), "--keep")
    out = tmp_path / "u.pdf"
    assert main(["draw", "bracket-bent-u", "thickness=3", "-o", str(out)]) == 0
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(out.read_bytes())).pages)
    assert "your test bend of 2026-03-14" in " ".join(text.split())
    assert "Expected deviation by that test" in " ".join(text.split())


def test_a_slip_is_told_and_kept_only_when_confirmed(file, capsys, own_file):
    slip = ({"leg_a": "64.88 mm", "leg_b": "84.89 mm"}, {"leg_a": "64.84 mm", "leg_b": "84.95 mm"})
    status, out, err = run(capsys, file(toml(*slip)), "--keep")
    assert status == 2
    assert "asked: The legs of strip 1 together are no longer than its flat" in out
    assert "What --keep writes" not in out
    assert "Look at it first" in err
    assert not own_file.read_text()


MISREAD = {
    "a thickness": ((), {"thickness": "2.69 mm"}, "is it the same sheet, and was its thickness read right?"),
    "a leg": (({}, {"leg_b": "88.18 mm"}), {}, "The strips disagree beyond their uncertainty"),
}


@pytest.mark.parametrize(("strips", "common", "sentence"), MISREAD.values(), ids=MISREAD)
def test_a_length_misread_isnt_kept_unasked_and_the_refusal_says_how_to(
    file, capsys, own_file, strips, common, sentence
):
    status, _, err = run(capsys, file(toml(*strips, **common)), "--keep")
    assert status == 2
    assert sentence in err
    assert 'where it really is so, say confirmed = "yes" under [bend]' in err
    assert not own_file.read_text()
    status, out, _ = run(capsys, file(toml(*strips, **common, confirmed="yes")), "--keep")
    assert status == 0
    assert f"confirmed: {sentence[:10]}" in out or sentence in out
    assert own_file.read_text()


def test_strips_that_cant_both_be_right_are_kept_once_one_is_left_out(file, capsys, own_file):
    status, _, err = run(capsys, file(toml({}, {"leg_b": "88.91 mm"})), "--keep")
    assert status == 2
    assert "leave one of them out. A strip whose lengths are left empty is left out" in err
    left = toml({}, dict.fromkeys(("flat", "leg_a", "leg_b")))
    assert run(capsys, file(left), "--keep")[0] == 0
    assert own_file.read_text()


def test_the_json_is_for_programs(file, capsys):
    status, out, _ = run(capsys, file(toml()), "--json")
    assert status == 0
    said = json.loads(out)
    assert said["v_opening_mm"] == 24
    assert said["deduction_mm"]["low95"] < 5.64 < said["deduction_mm"]["high95"]


def test_the_report_speaks_in_inches_where_asked(file, capsys):
    _, out, _ = run(capsys, file(toml()), "--units", "in")
    assert "Bend deduction:    0.222 in" in out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["TABLE", "--keep"], "a table's readings are kept on the page"),
        (["--tape", "3", "4", "5", "--keep"], "is of a test bend"),
        (["BEND", "TABLE"], "is answered alone"),
    ],
)
def test_what_doesnt_go_together_is_refused(file, capsys, words, sentence):
    reading = '[[reading]]\nkind = "centres"\nnominal = "300 mm"\nmeasured = "300.1 mm"\n'
    paths = {"TABLE": file(reading, "table.toml"), "BEND": file(toml())}
    status, _, err = run(capsys, *(paths.get(word, word) for word in words))
    assert status == 2
    assert sentence in err


def test_a_field_that_cant_be_used_is_one_line(file, capsys):
    status, _, err = run(capsys, file(toml(thickness=None)))
    assert status == 2
    assert err.splitlines() == ["bend thickness: measure the sheet beside the strips: the answer is in thicknesses."]


def test_the_sheet_is_the_file_to_fill_in(tmp_path, capsys):
    sheet = tmp_path / "sheet.toml"
    assert main(["sheet", "gauge-test-bend", "thickness=3", "-o", str(sheet)]) == 0
    text = sheet.read_text(encoding="utf-8")
    status, _, err = run(capsys, str(sheet))
    assert status == 2
    assert "hold no measured length yet" in err
    for empty, value in (("thickness", "2.96"), ("v_opening", "24"), ("inside_radius", "3.9"), ("date", "2026-03-14")):
        text = text.replace(f'{empty} = ""', f'{empty} = "{value}"')
    for row in STRIPS:
        for name in ("flat", "leg_a", "leg_b", "between_deg"):
            text = text.replace(f'{name} = ""', f'{name} = "{row[name]}"', 1)
    sheet.write_text(text, encoding="utf-8")
    status, out, _ = run(capsys, str(sheet))
    assert status == 0
    assert "Bend deduction:    5.64 mm" in out
