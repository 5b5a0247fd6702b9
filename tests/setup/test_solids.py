"""What only STEP needs: when it is brought, what is said until then, and that all else works without it."""

import json
import os
import signal
import subprocess
import sys

import pytest

from parts.errors import NotInstalled
from tests.setup.package_server import LONGEST_S
from tests.setup.trees import SOLIDS, let_copy, start

WORDS = [
    (["draw", "gusset-triangle", "-o", "g.step"], True),
    (["draw", "gusset-triangle", "-o", "G.STEP"], True),
    (["draw", "gusset-triangle", "-o", "-", "--format", "step"], True),
    (["draw", "gusset-triangle", "-o", "-", "--format=step"], True),
    (["batch", "table.csv", "--format", "dxf,step"], True),
    (["draw", "gusset-triangle", "-o", "g.dxf"], False),
    (["draw", "sign-plate", "text=one step", "-o", "steps.dxf"], False),
    (["list"], False),
]


@pytest.fixture
def asked(ready, script, monkeypatch):
    """What is asked of the environment of a tree that has only the page; a failure put in as `fail` is raised."""
    locks, fail = [], []

    def ensure(lock):
        locks.append(lock)
        if fail and lock == SOLIDS:
            raise fail[0]

    monkeypatch.setattr(script.kept, "ensure", ensure)
    monkeypatch.setattr(script.kept, "is_whole", lambda lock: lock != SOLIDS)
    monkeypatch.setattr(script, "hand_over", lambda words: 0)
    monkeypatch.setattr(script, "bring_meanwhile", lambda: locks.append("meanwhile"))
    return locks, fail


@pytest.mark.parametrize(("words", "wanted"), WORDS, ids=[" ".join(words) for words, _ in WORDS])
def test_solids_are_brought_when_a_command_asks_for_a_step_file(asked, script, words, wanted):
    assert script.main(words) == 0
    assert asked[0] == ["requirements.lock", SOLIDS][: 1 + wanted]


@pytest.mark.parametrize(
    "words", [["--scheduler", "tcp://a:1"], ["--scheduler=tcp://a:1"], ["--sched", "a:1"]], ids=str
)
def test_a_cluster_is_brought_when_a_batch_asks_for_one(asked, script, words):
    assert script.main(["batch", "t.csv", *words]) == 0
    assert script.main(["nest", *words]) == 0
    assert asked[0] == ["requirements-cluster.lock", "requirements.lock"]


@pytest.mark.parametrize(
    ("words", "wanted"), [([], True), (["serve", "--port", "1"], True), (["serve", "--help"], False)]
)
def test_the_page_has_them_brought_beside_it(asked, script, words, wanted):
    script.main(words)
    assert asked[0] == ["requirements.lock", "meanwhile"][: 1 + wanted]


def test_where_they_are_not_offered_that_is_noted_and_they_are_not_asked_for_again(asked, script, monkeypatch):
    asked[1].append(script.kept.NotOffered("The install failed: no. See the log", "no"))
    assert script.main(["draw", "-o", "x.step"]) == 0
    assert script.NOTE.read_text() == "It could not be brought: no."
    monkeypatch.setattr(script.kept, "is_refused", lambda lock: lock == SOLIDS)
    for words in (["draw", "-o", "x.step"], ["serve"]):
        asked[0].clear()
        script.main(words)
        assert asked[0] == ["requirements.lock"]


def test_a_lock_that_leaves_them_out_here_is_said_to(ready, script, monkeypatch):
    monkeypatch.setattr(script.kept, "has_package", lambda name: False)
    script.bring_solids()
    assert script.NOTE.read_text() == "It is not offered for this kind of machine."


PATIENTLY, TOLD = "time.sleep(PATIENCE)", "while (ROOT / 'waits').exists(): time.sleep(0.01)"
"""How long solids wait for the page to come up, and in a test: until it says so, however busy the machine is."""


@pytest.fixture
def serving(installed, bare, server):
    """A page whose solids can't be fetched yet, started as a person does, and its first answer; they wait for word."""
    let_copy(installed, bare)
    (installed / "waits").touch()
    script = installed / "start.py"
    assert script.read_text().count(PATIENTLY) == 1
    script.write_text(script.read_text().replace(PATIENTLY, TOLD))
    start(installed, "list")
    (installed / SOLIDS).write_text((installed / "requirements.lock").read_text() + "# and more\n")
    server.where, server.how = "index", "hang"
    variables = {**os.environ, **server.variables, "PIP_DEFAULT_TIMEOUT": f"{LONGEST_S}"}
    command = [sys.executable, str(script)]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(command, cwd=installed, env=variables, text=True, **pipes) as page:
        yield page, json.loads(page.stdout.readline())
        page.kill()


def test_the_page_is_there_before_the_solids_and_ends_them_with_it(serving, server, installed):
    page, told = serving
    assert told["words"] == ["platewright", "serve"]
    assert told["solids"] == "It is still being brought: try again in a minute or two."
    (installed / "waits").unlink()
    assert server.asked.wait(LONGEST_S)
    page.send_signal(signal.SIGTERM)
    said = page.communicate(timeout=LONGEST_S)[1]  # ends when both have ended, for both hold it
    assert "about 400 MB more, for STEP solids." in said.splitlines()[0]
    assert said.splitlines()[1:] == ["Stopped; what was installed before is as it was."]
    assert not (installed / ".venv.new").exists()
    assert (installed / ".venv.solids").read_text().startswith("Bringing it was stopped")


def test_nothing_is_brought_for_a_page_that_could_not_start(serving, server, installed):
    page, _ = serving
    page.stdin.close()
    assert page.wait(LONGEST_S) == 0
    (installed / "waits").unlink()
    assert page.stderr.read() == ""  # ends when both have ended
    assert not server.asked.is_set()


def test_a_step_file_without_its_modeller_is_refused_in_a_sentence(without_modeller, note):
    with pytest.raises(NotInstalled) as caught:
        without_modeller.to_step()
    assert str(caught.value) == (
        "STEP needs the solid modeller cadquery, which isn't here. It isn't offered for every kind of machine. "
        "The other formats are made without it."
    )
    note.write_text("It is still being brought: try again in a minute or two.")
    with pytest.raises(NotInstalled, match=r"isn't here\. It is still being brought: try again in a minute or two\."):
        without_modeller.to_step()
    assert without_modeller.to_dxf()


@pytest.fixture
def without_modeller(monkeypatch):
    """A part, where neither cadquery nor what comes with it can be imported."""
    import parts

    monkeypatch.setitem(sys.modules, "cadquery", None)
    monkeypatch.setitem(sys.modules, "OCP", None)
    return parts.draw("gusset-triangle")


@pytest.fixture
def note(monkeypatch, tmp_path):
    """The file in which the set-up script notes why there are no solids; not there yet."""
    monkeypatch.setenv("PLATEWRIGHT_SOLIDS", str(tmp_path / "note"))
    return tmp_path / "note"


def test_the_command_says_so_and_writes_nothing(without_modeller, note, tmp_path, capsys):
    from webapp.cli import main

    assert main(["draw", "gusset-triangle", "-o", str(tmp_path / "g.step")]) == 2
    assert capsys.readouterr().err.splitlines()[-1].startswith("STEP needs the solid modeller cadquery")
    assert not (tmp_path / "g.step").exists()
    assert main(["draw", "gusset-triangle", "-o", str(tmp_path / "g.dxf")]) == 0


def test_the_page_says_so(without_modeller, note):
    from webapp import create_app

    client = create_app().test_client()
    answer = client.get("/parts/gusset-triangle.step")
    assert answer.status_code == 503
    (error,) = answer.json["errors"]
    assert (error["parameter"], error["value"]) == ("format", "step")
    assert error["message"].startswith("STEP needs the solid modeller cadquery")
    for ending in ("dxf", "svg", "pdf", "json"):
        assert client.get(f"/parts/gusset-triangle.{ending}").status_code == 200
