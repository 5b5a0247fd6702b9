"""The environment: when it counts as whole, how it mends itself, how a new one takes the old one's place."""

import json
import os
import shutil
import subprocess
import time

import pytest

from tests.setup.package_server import LOCKED
from tests.setup.trees import PAGE, SOLIDS, TESTS, pretend_installed, start

PACKAGE = "lib/python*/site-packages/cadquery"


@pytest.fixture
def steps(kept, monkeypatch):
    """The steps of installs that take no time; an exception put in as `fail` is raised by pip."""
    ran = []

    def run(command, total=0):
        ran.append("pip" if "pip" in command else "venv")
        if "venv" in command:
            pretend_installed(kept, kept.NEW)
        elif fail:
            raise fail[0]

    fail = []
    monkeypatch.setattr(kept, "run_logged", run)
    return ran, fail


def folder(kept):
    """The package that `ready` pretends to have."""
    return next(kept.VENV.glob(PACKAGE))


@pytest.mark.parametrize("lock", [PAGE, SOLIDS, TESTS])
def test_a_changed_lock_is_installed_again(ready, kept, lock):
    assert kept.is_whole(lock)
    (ready / lock).write_text("# changed\n")
    assert not kept.is_whole(lock)


def newer_python(kept):
    newer = kept.ROOT / "python9"
    newer.touch()
    kept.PYTHON.unlink()
    kept.PYTHON.symlink_to(newer)


DAMAGES = {
    "stamp gone": lambda kept: (kept.VENV / kept.STAMP).unlink(),
    "stamp cut off": lambda kept: (kept.VENV / kept.STAMP).write_text('{"locks": {'),
    "stamp of another kind": lambda kept: (kept.VENV / kept.STAMP).write_text("[]"),
    "python gone": lambda kept: kept.PYTHON.unlink(),
    "python replaced": newer_python,
    "settings gone": lambda kept: (kept.VENV / "pyvenv.cfg").unlink(),
    "package gone": lambda kept: shutil.rmtree(folder(kept)),
    "module gone": lambda kept: (folder(kept) / "__init__.py").unlink(),
    "all packages gone": lambda kept: shutil.rmtree(folder(kept).parent),
}


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=DAMAGES)
def test_a_damaged_environment_is_built_again(ready, kept, steps, damage):
    kept.ensure(PAGE)
    assert steps[0] == []
    damage(kept)
    kept.ensure(PAGE)
    assert steps[0] == ["venv", "pip"]
    assert kept.is_whole(PAGE)
    assert not kept.is_whole(SOLIDS)


def test_what_python_and_others_add_is_no_damage(ready, kept):
    (folder(kept) / "__pycache__").mkdir()
    (folder(kept) / "added.py").touch()
    assert kept.is_whole(TESTS)
    (folder(kept) / "added.py").unlink()
    (folder(kept) / "__init__.py").unlink()
    assert not kept.is_whole(TESTS)


@pytest.mark.parametrize("error", [KeyboardInterrupt(), OSError(28, "No space left on device")], ids=["Ctrl-C", "full"])
def test_a_failed_addition_leaves_what_was_there(ready, kept, script, steps, error, capsys):
    (ready / TESTS).write_text("# changed\n")
    steps[1].append(error)
    assert script.main(["test"]) == (130 if isinstance(error, KeyboardInterrupt) else 1)
    assert ("Stopped; what was installed before is as it was." in capsys.readouterr().err) is (error.args == ())
    assert kept.is_whole(SOLIDS)
    assert not kept.is_whole(TESTS)
    assert folder(kept).is_dir()
    assert not kept.NEW.exists()


def test_a_package_that_is_not_offered_is_remembered_until_the_lock_changes(ready, kept, steps):
    (ready / SOLIDS).write_text("# changed\n")
    steps[1].append(kept.NotOffered("no"))
    with pytest.raises(kept.NotOffered):
        kept.ensure(SOLIDS)
    assert kept.is_refused(SOLIDS)
    assert kept.is_whole(PAGE)
    (ready / SOLIDS).write_text("# changed again\n")
    assert not kept.is_refused(SOLIDS)


def test_a_larger_lock_counts_for_the_smaller_ones(ready, kept, steps):
    shutil.rmtree(kept.VENV)
    kept.ensure(SOLIDS)
    assert [kept.is_whole(lock) for lock in (PAGE, SOLIDS, TESTS)] == [True, True, False]


def whole(kept, venv):
    """Let an environment for the page stand in a folder."""
    pretend_installed(kept, venv)
    kept.write_stamp(venv, kept.stamp_for(venv, PAGE))


LEFT = {  # which folders a start that was killed left behind -> whether the page's packages are there after the next
    "half made": (lambda kept: (whole(kept, kept.VENV), kept.NEW.mkdir()), True),
    "half made, nothing before": (lambda kept: kept.NEW.mkdir(), False),
    "whole, not yet in place": (lambda kept: (kept.VENV.mkdir(), whole(kept, kept.NEW)), True),
    "the old one put aside": (lambda kept: (whole(kept, kept.OLD), whole(kept, kept.NEW)), True),
    "the old one put aside, nothing new": (lambda kept: whole(kept, kept.OLD), True),
    "the old one not deleted": (lambda kept: (whole(kept, kept.VENV), kept.OLD.mkdir()), True),
}


@pytest.mark.parametrize(("leave", "there"), LEFT.values(), ids=LEFT)
def test_what_a_killed_start_left_is_put_in_order_at_the_next(kept, leave, there):
    leave(kept)
    kept.tidy()
    assert kept.is_whole(PAGE) is there
    assert not kept.NEW.exists()
    assert not kept.OLD.exists()


def test_a_link_to_an_environment_elsewhere_is_replaced_and_the_other_one_kept(ready, kept, steps, tmp_path):
    other = tmp_path / "other"
    kept.VENV.rename(other)
    kept.VENV.symlink_to(other)
    (ready / PAGE).write_text("# changed\n")
    kept.ensure(PAGE)
    assert kept.is_whole(PAGE)
    assert not kept.VENV.is_symlink()
    assert (other / kept.STAMP).exists()


def test_a_file_in_the_way_is_named_and_kept(tree):
    (tree / ".venv").write_text("a file where the folder should be")
    done = start(tree, "list")
    assert done.returncode == 1
    assert done.stderr == f"Platewright can't be set up in {tree / '.venv'}: {tree / '.venv'} is a file\n"
    assert (tree / ".venv").is_file()


def test_a_moved_checkout_works_on_and_its_scripts_too(installed):
    done = start(installed, "list", PIP_NO_INDEX="1")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["python"] == str(installed / ".venv")
    scripts = installed / ".venv" / "bin"
    for script, said in (("ring-bell", "ding\n"), ("pip", f"from {installed}")):
        words = ["--version"] if script == "pip" else []
        assert said in subprocess.run([scripts / script, *words], capture_output=True, text=True, check=True).stdout
    texts = [path.read_bytes() for path in scripts.iterdir() if path.is_file() and not path.is_symlink()]
    assert not any(b".venv.new" in text or b"/made" in text for text in texts)


def test_a_deleted_package_is_brought_again(installed, quick_venv, server, monkeypatch):
    for name, value in server.variables.items():
        monkeypatch.setenv(name, value)
    quick_venv.ensure(PAGE)
    deleted = next((installed / ".venv").glob("lib/*/site-packages/shop_bell"))
    shutil.rmtree(deleted)
    quick_venv.ensure(PAGE)
    assert (deleted / "clapper.py").exists()


def test_looking_after_a_large_environment_takes_a_moment(ready, kept):
    top = folder(kept).parent
    for i in range(100):
        package = top / f"package{i}"
        package.mkdir()
        for j in range(4):
            (package / f"module{j}.py").touch()
    kept.write_stamp(kept.VENV, kept.stamp_for(kept.VENV, TESTS))
    begun = time.process_time()
    for _ in range(20):
        assert kept.is_whole(TESTS)
    assert (time.process_time() - begun) / 20 < 0.03


def test_a_whole_environment_is_not_touched(installed, server):
    start(installed, "list")
    before = {path: os.lstat(path).st_mtime_ns for path in (installed / ".venv").glob("*")}
    server.where, server.how = "index", "500"
    assert start(installed, "list", **server.variables).stderr == ""
    assert {path: os.lstat(path).st_mtime_ns for path in (installed / ".venv").glob("*")} == before
    assert not server.asked.is_set()


def test_the_lock_of_the_tree_is_the_one_installed(installed):
    assert (installed / PAGE).read_text() == LOCKED
    assert "shop_bell" in (installed / ".venv.log").read_text()
