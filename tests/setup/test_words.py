"""start.py and `platewright`: who gets the words, and what is said where there can be no environment."""

import ast
import json
import re
import shutil
import subprocess
import sys

import pytest

from tests.setup.trees import ROOT, SCRIPTS, let_copy, start


def pretend(tree, line):
    """A command that runs the script after a line of Python has changed the world around it."""
    run = f"import sys, runpy; {line}; runpy.run_path({str(tree / 'start.py')!r}, run_name='__main__')"
    return [sys.executable, "-c", run]


@pytest.mark.parametrize(
    ("words", "handed", "status"),
    [
        ([], ["serve"], 0),
        (["serve", "--port", "9000", "--no-browser"], None, 0),
        (["draw", "gusset-triangle", "leg_a=3 1/2 in", "-o", "g.dxf"], None, 0),
        (["--help"], None, 0),
        (["end", "0"], None, 0),
        (["end", "2"], None, 2),
    ],
    ids=["none", "serve", "draw", "help", "end 0", "end 2"],
)
def test_words_are_handed_over_untouched_and_the_exit_status_is_passed_on(ready, words, handed, status):
    done = start(ready, *words)
    assert json.loads(done.stdout)["words"] == ["platewright", *(words if handed is None else handed)]
    assert done.returncode == status


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


def test_first_start_installs_and_the_second_does_not(first_start):
    tree, told, first_said = first_start
    second = start(tree, "list")
    said = first_said.splitlines()
    assert said[0].startswith(f"Installing Platewright's packages in {tree / '.venv'}, once: about 80 MB now; 400 MB")
    assert said[1:] == ["  all fetched; unpacking them ...", "Installed."]
    assert (second.returncode, second.stderr) == (0, "")
    assert json.loads(told) == json.loads(second.stdout)


def test_two_starts_at_once_install_once(tree, bare):
    let_copy(tree, bare)
    (tree / "waits").touch()
    command = [sys.executable, str(tree / "start.py"), "list"]
    first, second = (subprocess.Popen(command, cwd=tree, stdout=-1, stderr=-1, text=True) for _ in range(2))
    said = {process: process.stderr.readline() for process in (first, second)}
    (tree / "waits").unlink()
    ended = {said[process]: process.communicate() for process in (first, second)}
    assert [process.returncode for process in (first, second)] == [0, 0]
    waiting, installing = sorted(said.values())
    assert waiting == "Another start is installing Platewright; waiting for it.\n"
    assert ended[waiting][1] == ""
    assert ended[installing][1].endswith("Installed.\n")


def test_the_command_in_the_folder_works_from_anywhere(ready, tmp_path):
    link = tmp_path / "bin-platewright"
    link.symlink_to(ready / "platewright")
    for command in (ready / "platewright", link):
        done = subprocess.run([command, "end", "1"], cwd=tmp_path, capture_output=True, text=True)
        assert (done.returncode, done.stderr) == (1, "")
        assert json.loads(done.stdout)["words"] == ["platewright", "end", "1"]


@pytest.mark.parametrize("words", [[], ["test"]], ids=["none", "test"])
def test_the_command_in_the_folder_has_no_words_of_its_own(ready, words):
    done = subprocess.run([ready / "platewright", *words], cwd=ready.parent, capture_output=True, text=True, check=True)
    assert json.loads(done.stdout)["words"] == ["platewright", *words]


def test_the_command_for_windows_hands_all_words_to_the_same_script():
    text = (ROOT / "platewright.cmd").read_bytes()
    assert text.count(b'"%~dp0platewright" %*\r\nexit /b %errorlevel%\r\n') == 2
    assert shutil.which("platewright", path=str(ROOT)) == str(ROOT / "platewright")


def test_old_python_is_told_what_to_install(tree):
    done = start(tree, python=pretend(tree, "sys.version_info = (3, 8, 1)"))
    assert done.returncode == 1
    assert done.stderr == (
        "Platewright needs Python 3.11 or newer and this is Python 3.8: "
        "please install a newer one from your system's packages or python.org.\n"
    )
    assert not (tree / ".venv").exists()


def test_script_can_be_parsed_by_an_old_python():
    for name in ("start.py", "platewright"):
        assert ast.parse((ROOT / name).read_text(), feature_version=(3, 6))


def test_set_up_needs_the_standard_library_only():
    own = {name.removesuffix(".py") for name in SCRIPTS}
    for name in SCRIPTS:
        for node in ast.walk(ast.parse((ROOT / name).read_text())):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else [getattr(node, "module", None)]
            assert {n.split(".")[0] for n in names if n} <= sys.stdlib_module_names | own


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
