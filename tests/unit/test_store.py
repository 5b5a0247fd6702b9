"""The store of jobs: what is acknowledged stays, every change is a revision, a file of a job is believed in nothing."""

import json
import multiprocessing
import os
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from dataclasses import replace

import pytest
from sqlalchemy import create_mock_engine, event
from sqlalchemy.dialects import mysql, postgresql, sqlite

from parts import store
from parts.database import engine
from parts.errors import DataError, Refused
from parts.store import Content, Difference, Kept, Line, database, differences
from tests import postgres
from tests.depth import DEEP, several

GUSSET = Kept("gusset-triangle", (("leg_a", "4in"), ("thickness", "1/4 in")))
DRAWING = b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n"
OWN = Kept("plate.dxf", (("thickness", "6 mm"),), store.digest_of(DRAWING), ("BORDER=cut",), ("0,0,9,9=aside",))
GATE = Content("Gate for the garden", "Fernhollow 12 (invented)", (Line(1, GUSSET, 12, "brace", "any", True),))


def with_quantity(quantity, line=1):
    return lambda job: job.content.with_line(replace(job.content.line(line), quantity=quantity))


def test_looking_makes_no_file(own_store):
    assert store.jobs() == ()
    assert store.saved_parts() == ()
    with pytest.raises(store.NoJob):
        store.job(1)
    with pytest.raises(store.NoJob):
        store.undo(1, 1)
    assert not own_store.parent.exists()


def test_a_job_comes_back_as_it_was_put_in():
    begun = store.begin(GATE)
    changed = store.change(1, lambda job: job.content.with_line(store.new_line(job, OWN, 2, " own  plate ")),
                           {OWN.drawing: DRAWING})  # fmt: skip
    assert store.job(1) == changed
    assert [line.number for line in changed.content.lines] == [1, 2]
    assert changed.content.lines == (*GATE.lines, Line(2, OWN, 2, "own plate"))
    assert store.file(OWN.drawing) == DRAWING
    assert [each.content for each in store.revisions(1)] == [begun.content, changed.content]
    assert store.revision(1, 1).content == GATE


def test_a_number_of_a_line_is_never_given_twice():
    store.begin(GATE)
    store.change(1, lambda job: job.content.with_line(store.new_line(job, GUSSET, 1, "")))
    store.change(1, lambda job: job.content.without_line(2))
    again = store.change(1, lambda job: job.content.with_line(store.new_line(job, GUSSET, 1, "")))
    assert [line.number for line in again.content.lines] == [1, 3]


def test_every_change_is_undone_and_redone_in_turn():
    store.begin(GATE)
    for quantity in (2, 3, 4):
        store.change(1, with_quantity(quantity))

    def now():
        return store.job(1).content.lines[0].quantity

    seen = []
    for _ in range(3):
        store.undo(1, store.job(1).revision.number)
        seen.append(now())
    with pytest.raises(Refused, match="has nothing before it"):
        store.undo(1, store.job(1).revision.number)
    for _ in range(3):
        store.redo(1, store.job(1).revision.number)
        seen.append(now())
    with pytest.raises(Refused, match="has nothing before it"):
        store.redo(1, store.job(1).revision.number)
    assert seen == [3, 2, 12, 2, 3, 4]
    store.undo(1, 10)
    store.change(1, with_quantity(9))
    with pytest.raises(Refused, match="has nothing before it"):
        store.redo(1, 12)
    assert [each.what for each in store.revisions(1)][-3:] == ["redone", "undone", "changed"]
    store.undo(1, 12)
    assert now() == 3
    store.put_back(1, 1, 13)
    assert now() == 12
    store.undo(1, 14)
    assert now() == 3


def test_what_was_changed_meanwhile_isnt_undone_unseen():
    store.begin(GATE)
    store.change(1, with_quantity(2))
    for act in (store.undo, store.redo, lambda number, seen: store.put_back(number, 1, seen)):
        with pytest.raises(Refused) as refused:
            act(1, 1)
        (problem,) = refused.value.problems
        assert problem.message == "was changed meanwhile, to revision 2: look at it, then say again."
    with pytest.raises(Refused, match="isn't one of job 1"):
        store.put_back(1, 7, 2)
    assert store.job(1).revision.number == 2


def test_what_changes_nothing_is_no_revision():
    store.begin(GATE)
    assert store.change(1, with_quantity(12)).revision.number == 1


@pytest.mark.parametrize(("content", "parameter", "message"), [
    (replace(GATE, name="  "), "name", "is empty"),
    (replace(GATE, name="x" * 101), "name", "it may have 100"),
    (replace(GATE, name="a\u202eb"), "name", "isn't seen"),
    (replace(GATE, reference="x" * 201), "reference", "it may have 200"),
    (replace(GATE, lines=(replace(GATE.lines[0], quantity=0),)), "quantity", "1 to 100,000"),
    (replace(GATE, lines=(replace(GATE.lines[0], quantity=100_001),)), "quantity", "1 to 100,000"),
    (replace(GATE, lines=(replace(GATE.lines[0], name="x" * 101),)), "line name", "it may have 100"),
    (replace(GATE, lines=tuple(Line(i, GUSSET) for i in range(501))), "lines", "a job may have 500"),
])  # fmt: skip
def test_what_cant_be_kept_is_refused_by_name(content, parameter, message):
    with pytest.raises(Refused) as refused:
        store.begin(content)
    assert [(each.parameter, message in each.message) for each in refused.value.problems] == [(parameter, True)]
    store.begin(GATE)
    with pytest.raises(Refused):
        store.change(1, lambda _: content)
    assert store.job(1).revision.number == 1


def test_the_most_that_is_kept_is_kept():
    most = tuple(Line(i, GUSSET, 100_000, "x" * 100) for i in range(1, 501))
    known = store.begin(Content("x" * 100, "y" * 200, most))
    assert store.job(1) == known


def test_jobs_are_searched_archived_and_duplicated():
    store.begin(GATE)
    store.begin(Content("Trailer 100%", "Fern sign_7 (invented)", (Line(1, Kept("plate-ring"), 3),)))
    assert [row.number for row in store.jobs()] == [2, 1]
    for sought, found in [
        ("gate", [1]), ("FERNHOLLOW gate", [1]), ("gate trailer", []), ("plate-ring", [2]), ("brace", [1]),
        ("100%", [2]), ("sign_7", [2]), ("n_7", [2]), ("t%e", []), ("2", [1, 2]),
    ]:  # fmt: skip
        assert sorted(row.number for row in store.jobs(sought)) == sorted(found), sought
    store.change(1, lambda job: replace(job.content, is_archived=True))
    assert [row.number for row in store.jobs()] == [2]
    assert [row.number for row in store.jobs(is_archived=True)] == [1]
    copy = store.duplicate(1)
    assert (copy.number, copy.content) == (3, replace(GATE, name="Gate for the garden (copy)"))
    assert (copy.revision.what, copy.revision.of) == ("duplicated", 1)
    store.undo(1, 2)
    assert [row.number for row in store.jobs()] == [1, 3, 2]


def test_differences_name_what_has_another_value():
    other = Kept("gusset-triangle", (("leg_a", "5in"), ("toe", "12")))
    after = Content("Gate", "", (Line(1, other, 6, "brace", "any", True), Line(3, OWN, 2)), True)
    assert differences(replace(GATE, lines=(*GATE.lines, Line(2, GUSSET, 4))), after) == (
        Difference(0, "", "name", "Gate for the garden", "Gate"),
        Difference(0, "", "reference", "Fernhollow 12 (invented)", ""),
        Difference(0, "", "archived", "no", "yes"),
        Difference(1, "gusset-triangle", "quantity", "12", "6"),
        Difference(1, "gusset-triangle", "leg_a", "4in", "5in"),
        Difference(1, "gusset-triangle", "thickness", "1/4 in", ""),
        Difference(1, "gusset-triangle", "toe", "", "12"),
        Difference(3, "plate.dxf", "added", "", "2"),
        Difference(2, "gusset-triangle", "removed", "4", ""),
    )
    assert differences(GATE, GATE) == ()


def test_parts_are_saved_under_a_name_and_forgotten():
    store.save_part("Our  brace", GUSSET)
    store.save_part("our BRACE", replace(GUSSET, values=(("leg_a", "6in"),)))
    store.save_part("An own plate", OWN, {OWN.drawing: DRAWING})
    assert [(each.name, each.kept.part) for each in store.saved_parts()] == [
        ("An own plate", "plate.dxf"), ("our BRACE", "gusset-triangle"),
    ]  # fmt: skip
    assert [dict(each.kept.values) for each in store.saved_parts("gusset-triangle")] == [{"leg_a": "6in"}]
    assert store.file(OWN.drawing) == DRAWING
    store.forget_part("OUR brace")
    assert store.saved_parts("gusset-triangle") == ()
    with pytest.raises(Refused, match="isn't the name of a saved part"):
        store.forget_part("our brace")
    with pytest.raises(Refused, match="is empty"):
        store.save_part(" ", GUSSET)


def test_a_job_goes_to_a_file_and_into_another_store(monkeypatch, tmp_path):
    store.begin(replace(GATE, lines=(*GATE.lines, Line(4, OWN, 2))), {OWN.drawing: DRAWING})
    data = store.export(1)
    monkeypatch.setenv(store.VARIABLE, str(tmp_path / "other.sqlite"))
    came = store.take_in(data, "gate.job.json")
    assert came.content == replace(GATE, lines=(*GATE.lines, Line(4, OWN, 2)))
    assert (came.revision.what, came.next_line) == ("taken in", 5)
    assert store.file(OWN.drawing) == DRAWING
    assert store.export(1) == data


def damaged():
    whole = {"kind": "platewright job", "edition": 1, "job": {"name": "Gate", "lines": []}, "drawings": {}}

    def job(**entries):
        return json.dumps({**whole, "job": {**whole["job"], **entries}}).encode()

    def line(**entries):
        return job(lines=[{"part": "plate-ring", **entries}])

    return {
        "nothing": (b"", "holds no JSON"), "no text": (b"\xff\xfe\x00", "holds no JSON"),
        "deep": (b"[" * 200_000, "holds no JSON"), "a list": (b"[]", "no job's file"),
        "a part": (b'{"template": "x"}', "no job's file"), "half": (job()[:-9], "holds no JSON"),
        "later": (json.dumps({**whole, "edition": 2}).encode(), "later edition"),
        "none": (json.dumps({**whole, "job": 7}).encode(), "job: must be an object"),
        "name": (job(name=7), "job.name: must be text"), "no name": (job(name=""), "is empty"),
        "lines": (job(lines={}), "job.lines: must be a list"),
        "line": (job(lines=[7]), "job.lines[1]: must be an object"),
        "number": (line(number=True), "job.lines[1].number: must be a whole number"),
        "far": (line(number=10**30), "is no number of a line"), "many": (line(quantity=10**30), "must be 1 to"),
        "share": (line(quantity=1.5), "job.lines[1].quantity: must be a whole number"),
        "twice": (job(lines=[{"part": "a"}, {"part": "b"}]), "two lines have one number"),
        "turns": (line(turns="never"), "job.lines[1].turns: 'never' must be one of"),
        "value": (line(values={"leg_a": 4}), "job.lines[1].values.leg_a: must be text"),
        "long": (line(values={"leg_a": "4" * 2001}), "it may have 2,000"),
        "values": (line(values={str(i): "" for i in range(401)}), "a part may have 400"),
        "surrogate": (line(part="\ud800"), "a sign in it that no text has"),
        "drawing": (line(drawing="00"), "isn't among the drawings"),
        "no drawings": (json.dumps({**whole, "drawings": []}).encode(), "drawings: must be an object"),
        "not packed": (json.dumps({**whole, "drawings": {"00": "%"}}).encode(), "no file in base 64"),
        "another": (json.dumps({**whole, "drawings": {"00": "AAAA"}}).encode(), "isn't the drawing that was put in"),
        "large": (b" " * 60_000_001, "more than a job's file may have"),
    }  # fmt: skip


@pytest.mark.parametrize("what", damaged())
def test_a_hostile_file_of_a_job_is_refused_with_the_place(what, own_store):
    data, message = damaged()[what]
    with pytest.raises(Refused) as refused:
        store.take_in(data, "x.json")
    assert message in refused.value.problems[0].message
    assert not own_store.exists()


def test_a_store_that_is_no_database_or_damaged_says_so(own_store):
    own_store.parent.mkdir(parents=True)
    own_store.write_text("this is no database, but long enough to be read as one" * 20)
    with pytest.raises(DataError, match=r"The store of jobs in .* can't be used: file is not a database\."):
        store.jobs()
    own_store.unlink()
    store.begin(GATE)
    with sqlite3.connect(own_store) as connection:
        connection.execute("UPDATE job_revision SET content = x'00'")
    connection.close()
    with pytest.raises(DataError, match="a revision of job 1 that is damaged"):
        store.job(1)


def test_those_who_write_at_once_all_have_their_way():
    store.begin(GATE)

    def add():
        for _ in range(5):
            store.change(1, lambda job: job.content.with_line(store.new_line(job, GUSSET, 1, "")))

    threads = [threading.Thread(target=add) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [line.number for line in store.job(1).content.lines] == list(range(1, 22))
    assert store.job(1).revision.number == 21


WRITER = """
import sys
from dataclasses import replace
from parts import store
job = store.job(1)
while True:
    job = store.change(1, lambda job: job.content.with_line(replace(job.content.line(1), quantity=job.revision.number)))
    sys.stdout.write(f"{job.revision.number}\\n")
    sys.stdout.flush()
"""


def killed_and_looked_at(turns):
    """Kill who writes, amid it, so many times; nothing that was acknowledged may be lost."""
    store.begin(GATE)
    for turn in range(turns):
        writer = subprocess.Popen([sys.executable, "-c", WRITER], stdout=subprocess.PIPE, text=True)
        for _ in range(3 + turn % 17):
            last = int(writer.stdout.readline())
        os.kill(writer.pid, signal.SIGKILL)
        told = [last, *(int(line) for line in writer.stdout if line.endswith("\n"))]
        writer.wait()
        writer.stdout.close()
        yield
        known = store.job(1).revision
        assert known.number in (told[-1], told[-1] + 1)
        assert known.content.lines[0].quantity == known.number - 1


def test_nothing_acknowledged_is_lost_when_who_writes_is_killed(own_store):
    """SIGKILL amid writing; 300 times in a deep run."""
    for _ in killed_and_looked_at(several(1, 300)):
        with sqlite3.connect(own_store) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        connection.close()


@pytest.mark.skipif(not (DEEP and postgres.is_there()), reason="for a deep run, where PostgreSQL is installed")
def test_nothing_is_lost_on_another_database_either(monkeypatch):
    """The same 300 kills where the store is PostgreSQL, whose server goes on; what the writer had begun it gives up."""
    with postgres.served() as address:
        monkeypatch.setenv("PLATEWRIGHT_STORE", address)
        for _ in killed_and_looked_at(300):
            time.sleep(0.02)  # until the server has seen that nobody is there any more
        assert store.kept_at().startswith("postgresql")


def test_a_transaction_is_flushed_to_the_disk(own_store):
    """As SQLite's own documentation has it: a log is durable where it is synchronous in full."""
    store.begin(GATE)
    with database.connected() as connection:
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2


def used():
    store.begin(replace(GATE, lines=(*GATE.lines, Line(2, OWN, 2))), {OWN.drawing: DRAWING})
    store.change(1, with_quantity(5))
    store.undo(1, 2)
    store.redo(1, 3)
    store.put_back(1, 1, 4)
    store.save_part("Our brace", GUSSET)
    store.save_part("Our Brace", OWN, {OWN.drawing: DRAWING})
    assert store.file(OWN.drawing) == DRAWING
    assert [each.what for each in store.revisions(1)] == ["begun", "changed", "undone", "redone", "put back"]
    assert [row.name for row in store.jobs("gate brace")] == [GATE.name]
    assert [each.name for each in store.saved_parts()] == ["Our Brace"]
    store.forget_part("our brace")
    assert store.duplicate(1).number == 2
    assert store.take_in(store.export(1), "gate.json").content == store.job(1).content


def test_another_database(monkeypatch, tmp_path):
    monkeypatch.setenv(store.VARIABLE, f"duckdb:///{tmp_path / 'jobs.duckdb'}")
    used()


def test_postgresql(monkeypatch):
    """Where the environment names one, as PLATEWRIGHT_TEST_STORE=postgresql+pg8000://...; it may hold nothing yet."""
    address = os.environ.get("PLATEWRIGHT_TEST_STORE", "")
    if not address:
        pytest.skip("PLATEWRIGHT_TEST_STORE names no empty database of a server")
    monkeypatch.setenv(store.VARIABLE, address)
    database.METADATA.drop_all(engine.engine_of(address, True))
    used()
    database.METADATA.drop_all(engine.engine_of(address, True))
    store.begin(GATE)
    with multiprocessing.get_context("spawn").Pool(4) as pool:
        pool.map(_add, range(4))
    assert [line.number for line in store.job(1).content.lines] == list(range(1, 22))


def _add(_):
    for _ in range(5):
        store.change(1, lambda job: job.content.with_line(store.new_line(job, GUSSET, 1, "")))


def test_the_environment_names_a_database_or_is_told_it_does_not(monkeypatch):
    monkeypatch.setenv(store.VARIABLE, "nothing://")
    with pytest.raises(DataError, match=r"The store of jobs in nothing:// can't be used"):
        store.jobs()
    monkeypatch.setenv(store.VARIABLE, "://x")
    with pytest.raises(DataError, match="PLATEWRIGHT_STORE is no path and no database's address"):
        store.jobs()


def tables(name, dialect):
    made = []
    mock = create_mock_engine(f"{name}://", lambda clause, *_, **__: made.append(str(clause.compile(dialect=dialect))))
    database.METADATA.create_all(mock, checkfirst=False)
    return made


def test_tables_and_statements_compile_for_each_kind_of_database(own_store):
    seen = []

    def note(_connection, clause, *_rest):
        seen.append(clause)

    at = engine.engine_of(f"sqlite:///{own_store}", True)
    event.listen(at, "before_execute", note)
    used()
    event.remove(at, "before_execute", note)
    for name, kind in {"postgresql": postgresql, "mysql": mysql, "sqlite": sqlite}.items():
        made = tables(name, kind.dialect())
        assert len([text for text in made if "CREATE TABLE" in text]) == 5
        assert ("LONGBLOB" in "".join(made)) == (name == "mysql")
        assert all(str(clause.compile(dialect=kind.dialect())) for clause in seen if not isinstance(clause, str))
