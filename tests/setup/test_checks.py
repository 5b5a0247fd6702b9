"""`start.py test`: which checks and tests run, in which order, and what is said at the end."""

import shutil

import pytest


@pytest.fixture
def steps(ready, script, monkeypatch):
    """The commands that `start.py test` runs, each ending with the status that its tool's name has here."""
    ran, status, told = [], {}, []
    monkeypatch.setattr(script, "bring_browser", lambda: status.get("browser", True))

    def run(command, **settings):
        ran.append(command[2:])
        told.append(settings["env"])
        return status.get(command[2], 0)

    monkeypatch.setattr(script.subprocess, "call", run)
    for name in ("browser", "files", "unit", "other", "bench"):
        (ready / "tests" / name).mkdir(parents=True)
        (ready / "tests" / name / "test_one.py").touch()
    shutil.rmtree(ready / "tests" / "bench")
    return ran, status, told


CHECKS = [["ruff", "check", "."], ["ruff", "format", "--check", "."]]
TYPES = ["mypy"]
PYTEST = ["pytest", "--processes", "auto"]
FOLDERS = ["tests/browser", "tests/files", "tests/unit", "tests/other"]


def all_of(steps):
    """What ran, the types last, which are checked beside the tests."""
    return sorted(steps[0], key=lambda words: words == TYPES)


def test_all_checks_run_cheapest_first(steps, script, capsys):
    assert script.main(["test"]) == 0
    assert all_of(steps) == [*CHECKS, [*PYTEST, *FOLDERS], TYPES]
    assert capsys.readouterr().out.splitlines()[-1] == "All checks and tests passed."


def test_all_checks_run_though_some_fail_and_those_are_named(steps, script, capsys):
    steps[1].update(mypy=1, pytest=5)
    assert script.main(["test"]) == 1
    assert all_of(steps) == [*CHECKS, [*PYTEST, *FOLDERS], TYPES]
    assert capsys.readouterr().out.splitlines()[-1] == "Failed: mypy, pytest"


def test_without_a_browser_the_rest_runs_and_the_whole_fails(steps, script, capsys):
    steps[1].update(browser=False)
    assert script.main(["test"]) == 1
    assert [*PYTEST, *FOLDERS[1:]] in steps[0]
    assert capsys.readouterr().out.splitlines()[-1] == "Failed: tests/browser (not run: no Chromium)"


@pytest.mark.parametrize("status", [0, 1, 5])
def test_words_after_test_go_to_pytest_alone(steps, script, status):
    steps[1].update(pytest=status)
    assert script.main(["test", "tests/unit", "-k", "loop"]) == status
    assert steps[0] == [["pytest", "tests/unit", "-k", "loop"]]


@pytest.mark.parametrize(
    ("words", "deep", "ran"),
    [
        ([], None, [*CHECKS, [*PYTEST, *FOLDERS], TYPES]),
        (["--deep"], "1", [*CHECKS, [*PYTEST, *FOLDERS], TYPES]),
        (["tests/unit", "--deep", "-k", "loop"], "1", [["pytest", "tests/unit", "-k", "loop"]]),
        (["tests/unit"], None, [["pytest", "tests/unit"]]),
        (["-n", "2", "tests/unit"], None, [["pytest", "--processes", "2", "tests/unit"]]),
    ],
)
def test_deep_is_told_to_the_tests_and_taken_from_the_words(steps, script, monkeypatch, words, deep, ran):
    monkeypatch.setenv("PLATEWRIGHT_DEEP", "left from elsewhere")
    assert script.main(["test", *words]) == 0
    assert all_of(steps) == ran
    assert {told.get("PLATEWRIGHT_DEEP") for told in steps[2]} == {deep}


def test_what_is_compiled_is_kept_for_the_processes_that_tests_start(steps, script, monkeypatch):
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    assert script.main(["test"]) == 0
    assert not any("PYTHONDONTWRITEBYTECODE" in told for told in steps[2])


@pytest.mark.parametrize(
    ("there", "root", "commands"),
    [
        ({"chromium"}, True, []),
        ({"apt-get"}, True, ["apt-get", "apt-get"]),
        ({"apt-get", "sudo"}, False, ["sudo", "sudo"]),
        ({"apt-get"}, False, []),
        ({"sudo"}, False, []),
    ],
    ids=["there", "root", "sudo", "no rights", "no apt-get"],
)
def test_chromium_is_brought_where_that_is_allowed(script, monkeypatch, capsys, there, root, commands):
    ran = []
    monkeypatch.setattr(script.os, "geteuid", lambda: 0 if root else 1000, raising=False)
    monkeypatch.setattr(script.shutil, "which", lambda name: name if name in there else None)
    monkeypatch.setattr(script.subprocess, "call", lambda command, **settings: ran.append(command[0]))
    assert script.bring_browser() is ("chromium" in there)
    assert ran == commands
    assert ("please install it" in capsys.readouterr().err) is ("chromium" not in there)
