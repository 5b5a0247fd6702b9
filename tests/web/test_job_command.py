"""`platewright job`: the store as a page sees it, held against what the parts come to one by one."""

import json

import ezdxf
import pytest

import parts
from parts import store
from webapp.cli import main


@pytest.fixture
def run(capsys):
    """Runs an act: its exit status, and what it says on either stream."""

    def ran(*words):
        try:
            status = main(["job", *map(str, words)])
        except SystemExit as ended:
            status = ended.code
        return status, *capsys.readouterr()

    return ran


@pytest.fixture
def trailer(run):
    """A job with two lines."""
    assert run("begin", "Trailer for Fernhollow", "--reference", "FH-12")[0] == 0
    corner = ("gusset-triangle", "leg_a=120", "thickness=6")
    assert run("add", 1, *corner, "--quantity", "12", "--name", "corner")[0] == 0
    assert run("add", 1, "plate-cap-round", "thickness=6")[0] == 0
    return 1


def test_a_job_is_what_its_parts_come_to(trailer, run):
    status, out, _ = run("show", trailer, "--json")
    told = json.loads(out)
    one, other = parts.draw("gusset-triangle", leg_a=120, thickness=6), parts.draw("plate-cap-round", thickness=6)
    assert status == 0
    assert told["totals"]["mass_kg"] == pytest.approx(12 * one.measures.mass_kg + other.measures.mass_kg)
    assert told["totals"]["pierces"] == 12 * one.measures.pierces + other.measures.pierces
    said = run("show", trailer)[1]
    assert "line 1: 12 x corner (gusset-triangle), by quarter turns" in said
    assert "line 2: 1 x plate-cap" in said
    assert "Parts: 13" in said


def test_every_change_is_a_revision_that_can_be_undone(trailer, run):
    assert run("set", trailer, 1, "--quantity", "20", "--turns", "any", "--mirror", "yes", "--name", "wide")[0] == 0
    line = store.job(trailer).content.lines[0]
    assert (line.quantity, line.turns, line.mirror, line.name) == (20, "any", True, "wide")
    assert run("undo", trailer)[0] == 0
    assert store.job(trailer).content.lines[0].quantity == 12
    assert run("redo", trailer)[0] == 0
    assert store.job(trailer).content.lines[0].quantity == 20
    assert run("remove", trailer, 2)[0] == 0
    assert run("rename", trailer, "Wagon", "--reference", "FH-13")[0] == 0
    assert run("back", trailer, 3)[0] == 0
    job = store.job(trailer)
    assert (job.content.name, job.content.reference, len(job.content.lines)) == ("Trailer for Fernhollow", "FH-12", 2)
    history = run("history", trailer)[1].splitlines()
    assert len(history) == job.revision.number
    assert "Line 1, wide: Quantity 12 \u2192 20" in history[3]


def test_jobs_are_found_put_aside_and_copied(trailer, run):
    assert "1  " in run("list", "fh-12", "trailer")[1]
    assert run("list", "benches")[1] == "no job goes by these words\n"
    assert run("duplicate", trailer)[0] == run("archive", trailer)[0] == 0
    assert [row["number"] for row in json.loads(run("list", "--json")[1])] == [2]
    assert [row["number"] for row in json.loads(run("list", "--archived", "--json")[1])] == [1]
    assert run("archive", trailer, "--resume")[0] == 0
    assert len(json.loads(run("list", "--json")[1])) == 2


def test_a_job_goes_out_and_comes_back(trailer, run, tmp_path):
    drawing, whole, folder = tmp_path / "their.dxf", tmp_path / "whole.json", tmp_path / "out"
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_lwpolyline([(0, 0), (200, 0), (100, 140)], close=True)
    document.saveas(drawing)
    assert run("add", trailer, drawing, "thickness=6", "--quantity", "3")[0] == 0
    assert run("export", trailer, "-o", whole)[0] == run("import", whole)[0] == 0
    assert store.job(2).content == store.job(1).content
    status, out, err = run("files", 2, "-o", folder)
    assert (status, err) == (0, "")
    assert "3 of 3 lines" in out
    made = sorted(path.name for path in folder.iterdir())
    assert made == ["001-12x-corner.dxf", "002-1x-plate-cap.dxf", "003-3x-their-dxf.dxf"]
    assert (folder / made[0]).read_text("utf-8") == parts.draw("gusset-triangle", leg_a="120", thickness="6").to_dxf()
    status, out, _ = run("sheets", 2, "--sheet", "1000x1000", "--time", "0", "--json")
    assert status == 0
    assert sum(len(sheet["placements"]) for sheet in json.loads(out)["sheets"]) == 16


def test_a_saved_part_is_added_by_its_name(trailer, run):
    store.save_part("bench foot", store.Kept("plate-base", (("thickness", "8"),)))
    assert run("add", trailer, "bench foot", "--quantity", "4")[0] == 0
    line = store.job(trailer).content.lines[-1]
    assert (line.kept.part, dict(line.kept.values), line.quantity) == ("plate-base", {"thickness": "8"}, 4)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", 9), "job: 9: isn't in this store"),
        (("add", 1, "gusset-triangle", "leg_a=wide"), "leg_a: wide: 'wide' is neither a number"),
        (("add", 1, "gusset-triangle", "--quantity", "some"), "quantity: some"),
        (("add", 1, "nowhere.dxf", "thickness=6"), "file: nowhere.dxf: can't be read"),
        (("add", 1, "gusset"), "There is no template called 'gusset'"),
        (("set", 1, 1), "line: 1: has nothing to change"),
        (("set", 1, 1, "--quantity", "0"), "quantity"),
        (("remove", 1, 7), "line: 7: isn't in the job any more"),
        (("back", 1, 70), "revision: 70: isn't one of job 1"),
        (("begin", " "), "name: is empty"),
        (("sheets", 1, "--sheet", "1000x500"), "output: isn't given"),
        (("files", 1, "-o", "x", "--format", "dwf"), "format: dwf: must be of"),
        (("fnd",), "there are list, show"),
    ],
)
def test_what_can_not_be_is_refused_in_a_sentence_and_changes_nothing(words, said, trailer, run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = store.job(trailer)
    status, _, err = run(*words)
    assert status == 2
    assert said in err
    assert store.job(trailer) == before


def test_what_a_finding_stops_is_kept_and_told(trailer, run, tmp_path):
    status, _, err = run("add", trailer, "plate-washer", "hole=4", "thickness=12")
    assert status == 1
    assert "stop: " in err
    assert run("show", trailer)[0] == 1
    status, _, err = run("files", trailer, "-o", tmp_path / "out")
    assert status == 1
    assert "not written" in err
    assert len(list((tmp_path / "out").iterdir())) == 2
