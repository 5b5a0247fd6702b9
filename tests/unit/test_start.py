"""start.py: who gets the words, when it installs, and what it says when it can't.

Runs are real ones, in a copy of the tree that has a lock without packages and a stand-in for webapp.cli.
"""

import ast
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
RUNTIME, TESTING = "requirements.lock", "requirements-test.lock"
ABSENT = "absent-package==1 --hash=sha256:" + 64 * "0" + "\n"
OFFLINE = {
    "PIP_CONFIG_FILE": os.devnull,
    "PIP_FIND_LINKS": "",
    "PIP_RETRIES": "0",
    "PIP_INDEX_URL": "",
    "PIP_NO_INDEX": "1",
}
CLOSED_PORT = {**OFFLINE, "PIP_INDEX_URL": "http://127.0.0.1:9/", "PIP_NO_INDEX": "0", "PIP_RETRIES": "1"}
REPORTER = """
import json, os, sys
from pathlib import Path

def main():
    Path("said.txt").write_text("relative to the person's folder")
    print(json.dumps({"words": sys.argv, "cwd": os.getcwd(), "python": sys.prefix, "path": sys.path}))
    return int(sys.argv[2]) if sys.argv[1:2] == ["end"] else None
"""


@pytest.fixture
def tree(tmp_path):
    """A copy of the script in a tree of its own, nothing installed."""
    root = tmp_path / "a tree"
    (root / "webapp").mkdir(parents=True)
    shutil.copy(ROOT / "start.py", root)
    (root / "webapp" / "__init__.py").touch()
    (root / "webapp" / "cli.py").write_text(REPORTER)
    for lock in (RUNTIME, TESTING):
        (root / lock).write_text(f"# {lock}: nothing to fetch\n")
    return root


@pytest.fixture
def script(tree):
    """The copy as a module, to call its parts."""
    spec = importlib.util.spec_from_file_location("start_copy", tree / "start.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def ready(tree, script):
    """The same tree as an install leaves it, without the seconds an install takes."""
    script.PYTHON.parent.mkdir(parents=True)
    script.PYTHON.symlink_to(sys.executable)
    (script.VENV / "pyvenv.cfg").write_text(f"home = {Path(sys.executable).resolve().parent}\n")
    script.stamp([RUNTIME, TESTING])
    return tree


def start(tree, *words, cwd=None, python=(), **variables):
    """Run the script as a person would, from another folder than its own unless told."""
    command = [*(python or [sys.executable, str(tree / "start.py")]), *words]
    environment = {**os.environ, **variables}
    folder = cwd or tree.parent
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)


def pretend(tree, line):
    """A command that runs the script after a line of Python has changed the world around it."""
    run = f"import sys, runpy; {line}; runpy.run_path({str(tree / 'start.py')!r}, run_name='__main__')"
    return [sys.executable, "-c", run]


@pytest.mark.parametrize(
    ("words", "handed"),
    [
        ([], ["serve"]),
        (["serve", "--port", "9000", "--no-browser"], ["serve", "--port", "9000", "--no-browser"]),
        (["draw", "gusset-triangle", "leg_a=3 1/2 in", "-o", "g.dxf"], None),
        (["--help"], None),
    ],
    ids=["none", "serve", "draw", "help"],
)
def test_words_are_handed_over_untouched(ready, words, handed):
    answer = json.loads(start(ready, *words).stdout)
    assert answer["words"] == ["platewright", *(words if handed is None else handed)]


@pytest.mark.parametrize(("words", "status"), [(["end", "0"], 0), (["end", "1"], 1), (["end", "2"], 2), (["list"], 0)])
def test_exit_status_is_passed_on(ready, words, status):
    assert start(ready, *words).returncode == status


def test_files_are_relative_to_the_persons_own_folder(ready, tmp_path):
    folder = tmp_path / "shop drawings"
    folder.mkdir()
    (folder / "json.py").write_text("raise SystemExit('a file of the shop was taken for a module')")
    done = start(ready, "list", cwd=folder)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["cwd"] == str(folder)
    assert (folder / "said.txt").read_text() == "relative to the person's folder"


def test_ready_tree_uses_its_own_environment_and_says_nothing(ready):
    done = start(ready, "list", PYTHONPATH="/elsewhere")
    answer = json.loads(done.stdout)
    assert done.stderr == ""
    assert answer["python"] == str(ready / ".venv")
    assert answer["path"][0] == str(ready)
    assert "/elsewhere" not in answer["path"]


def test_first_start_installs_and_the_second_does_not(tree):
    first, second = start(tree, "list"), start(tree, "list")
    assert (first.returncode, second.returncode) == (0, 0)
    assert first.stderr.splitlines() == [
        f"Making an environment for Platewright in {tree / '.venv'}",
        "Installing 0 packages, once; this takes a minute or two ...",
        "Installed.",
    ]
    assert second.stderr == ""
    assert json.loads(first.stdout) == json.loads(second.stdout)


def test_two_starts_at_once_install_once(tree):
    command = [sys.executable, str(tree / "start.py"), "list"]
    pair = [subprocess.Popen(command, cwd=tree, stdout=-1, stderr=-1, text=True) for _ in range(2)]
    said = sorted(process.communicate()[1] for process in pair)
    assert [process.returncode for process in pair] == [0, 0]
    assert said[0] == "Another start is installing Platewright; waiting for it.\n"
    assert said[1].endswith("Installed.\n")


@pytest.mark.parametrize("lock", [RUNTIME, TESTING])
def test_changed_lock_is_installed_again(ready, script, lock):
    assert script.is_installed(lock)
    (ready / lock).write_text("# changed\n")
    assert not script.is_installed(lock)


@pytest.mark.parametrize("lost", ["STAMP", "PYTHON"])
def test_environment_without_stamp_or_python_counts_for_nothing(ready, script, lost):
    getattr(script, lost).unlink()
    assert not script.is_installed(RUNTIME)


def test_environment_of_a_python_that_was_replaced_is_made_again(ready, script, tmp_path):
    newer = tmp_path / "python9"
    newer.touch()
    script.PYTHON.unlink()
    script.PYTHON.symlink_to(newer)
    assert not script.is_installed(RUNTIME)


def test_interrupted_install_is_thrown_away_and_repeated(ready, script, monkeypatch):
    (ready / ".venv" / "half").mkdir()
    (ready / ".venv" / "half" / "a-file").touch()
    script.STAMP.unlink()
    steps = []
    monkeypatch.setattr(script, "run_logged", lambda command, total=0: steps.append(command[3]))
    script.ensure(RUNTIME)
    assert steps == ["venv", "pip"]
    assert sorted(path.name for path in script.VENV.iterdir()) == [
        "busy.lock",
        "install.log",
        "installed.txt",
    ]


def test_interruption_leaves_no_stamp(ready, script, monkeypatch):
    def interrupt(command, total=0):
        raise KeyboardInterrupt

    (ready / TESTING).write_text("# changed\n")
    monkeypatch.setattr(script, "run_logged", interrupt)
    assert script.main(["test"]) == 130
    assert not script.STAMP.exists()


def test_test_packages_are_added_to_a_whole_environment(ready, script, monkeypatch):
    script.stamp([RUNTIME])
    steps = []
    monkeypatch.setattr(script, "run_logged", lambda command, total=0: steps.append(command[3]))
    script.ensure(TESTING)
    assert steps == ["pip"]
    assert script.is_installed(RUNTIME)
    assert script.is_installed(TESTING)


def test_failed_addition_leaves_the_runtime_environment_whole(ready, script, monkeypatch):
    def fail(command, total=0):
        raise script.Trouble("no")

    script.stamp([RUNTIME])
    monkeypatch.setattr(script, "run_logged", fail)
    assert script.main(["test"]) == 1
    assert script.is_installed(RUNTIME)
    assert not script.is_installed(TESTING)


@pytest.mark.parametrize(
    ("variables", "why"),
    [
        (OFFLINE, "a package is not offered for this Python or this kind of machine"),
        (CLOSED_PORT, "the package server could not be reached; please check the network and start again"),
    ],
    ids=["not offered", "no network"],
)
def test_failed_install_says_why_and_keeps_pips_log(tree, variables, why):
    (tree / RUNTIME).write_text(ABSENT)
    done = start(tree, "list", **variables)
    log = tree / ".venv" / "install.log"
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.splitlines()[-1] == f"The install failed: {why}. Details are in {log}"
    assert "absent-package" in log.read_text()
    assert not (tree / ".venv" / "installed.txt").read_text()


@pytest.mark.parametrize(
    ("log", "why"),
    [
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM", "a download is not the file it should be"),
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("Connection broken: ConnectionResetError", "the package server could not be reached"),
        ("ReadTimeoutError: Read timed out.", "the package server did not answer in time"),
        ("one\nERROR: something rare.\n", "ERROR: something rare"),
        ("", "no reason was given"),
    ],
)
def test_reason_is_read_from_the_log(ready, script, log, why):
    script.LOG.write_text(log)
    assert script.reason().startswith(why)


def test_old_python_is_told_what_to_install(tree):
    done = start(tree, python=pretend(tree, "sys.version_info = (3, 8, 1)"))
    assert done.returncode == 1
    assert done.stderr == (
        "Platewright needs Python 3.11 or newer and this is Python 3.8: "
        "please install a newer one from your system's packages or python.org.\n"
    )
    assert not (tree / ".venv").exists()


def test_script_can_be_parsed_by_an_old_python():
    assert ast.parse((ROOT / "start.py").read_text(), feature_version=(3, 6))


@pytest.mark.parametrize("module", ["venv", "ensurepip"])
def test_machine_without_venv_is_told_what_to_install(tree, module):
    done = start(tree, python=pretend(tree, f"sys.modules[{module!r}] = None"))
    major, minor = sys.version_info[:2]
    assert done.returncode == 1
    assert done.stderr == (
        "This Python can't make environments: please install its venv package "
        f"(on Debian and Ubuntu: sudo apt-get install python{major}.{minor}-venv), then start again.\n"
    )
    assert not (tree / ".venv").exists()


def test_folder_that_cannot_be_written_is_named(tree):
    (tree / ".venv").write_text("a file where the folder should be")
    done = start(tree, "list")
    assert done.returncode == 1
    assert re.fullmatch(r"Platewright can't be set up in .*\.venv: .*\n", done.stderr)


@pytest.fixture
def steps(ready, script, monkeypatch):
    """The commands that `start.py test` runs, each ending with the status that its tool's name has here."""
    ran, status = [], {}
    monkeypatch.setattr(script, "bring_browser", lambda: status.get("browser", True))

    def run(command, **settings):
        ran.append(command[2:])
        return status.get(command[2], 0)

    monkeypatch.setattr(script.subprocess, "call", run)
    for name in ("browser", "files", "unit", "other", "bench"):
        (ready / "tests" / name).mkdir(parents=True)
        (ready / "tests" / name / "test_one.py").touch()
    shutil.rmtree(ready / "tests" / "bench")
    return ran, status


CHECKS = [["ruff", "check", "."], ["ruff", "format", "--check", "."], ["mypy"]]
PYTEST = ["pytest", "-n", "auto", "--dist", "worksteal"]
FOLDERS = ["tests/unit", "tests/files", "tests/other", "tests/browser"]


def test_all_checks_run_cheapest_first(steps, script, capsys):
    assert script.main(["test"]) == 0
    assert steps[0] == [*CHECKS, [*PYTEST, *FOLDERS]]
    assert capsys.readouterr().out.splitlines()[-1] == "All checks and tests passed."


def test_all_checks_run_though_some_fail_and_those_are_named(steps, script, capsys):
    steps[1].update(mypy=1, pytest=5)
    assert script.main(["test"]) == 1
    assert steps[0] == [*CHECKS, [*PYTEST, *FOLDERS]]
    assert capsys.readouterr().out.splitlines()[-1] == "Failed: mypy, pytest"


def test_without_a_browser_the_rest_runs_and_the_whole_fails(steps, script, capsys):
    steps[1].update(browser=False)
    assert script.main(["test"]) == 1
    assert steps[0][-1] == [*PYTEST, *FOLDERS[:-1]]
    assert capsys.readouterr().out.splitlines()[-1] == "Failed: tests/browser (not run: no Chromium)"


@pytest.mark.parametrize("status", [0, 1, 5])
def test_words_after_test_go_to_pytest_alone(steps, script, status):
    steps[1].update(pytest=status)
    assert script.main(["test", "tests/unit", "-k", "loop"]) == status
    assert steps[0] == [["pytest", "tests/unit", "-k", "loop"]]


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


def packages(lock):
    """The packages of a lock, with the markers that say where each is wanted."""
    return [line.rstrip(" \\") for line in (ROOT / lock).read_text().splitlines() if line[:1].isalnum()]


@pytest.mark.parametrize("lock", [RUNTIME, TESTING])
def test_lock_pins_every_package_with_hashes_and_names_no_place(lock):
    text = (ROOT / lock).read_text()
    entries = re.split(r"\n(?=\w)", text.strip())
    assert len(entries) == len(packages(lock)) > 40
    for entry in entries:
        assert re.match(r"[a-z0-9-]+==[^ ]+( ; [^\\]+)? \\\n    --hash=sha256:[0-9a-f]{64}", entry)
    assert not re.search(r"://|--index|--find-links|^ *#", text, re.MULTILINE)


def test_test_lock_holds_the_runtime_lock():
    assert set(packages(RUNTIME)) < set(packages(TESTING))


def test_lock_holds_what_the_project_asks_for():
    asked = re.findall(r'^    "([a-z0-9-]+)[>=]', (ROOT / "pyproject.toml").read_text(), re.MULTILINE)
    assert set(asked) <= {line.split("==")[0] for line in packages(TESTING)}
    assert len(asked) > 15
