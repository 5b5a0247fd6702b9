"""A run in several processes tells what became of every test, also of one that ends its process."""

import re
import subprocess
import sys
from pathlib import Path

TESTS = """
import os, pytest
def test_passes(): print("never seen")
def test_fails(): print("said before"); assert 1 + 1 == 3
def test_ends_its_process(): os._exit(7)
def test_comes_after_it(): pass
@pytest.mark.skip
def test_is_skipped(): pass
@pytest.fixture(scope="module")
def shared(tmp_path_factory): yield tmp_path_factory.mktemp("shared"); assert 0, "taken down"
@pytest.mark.parametrize("n", range(20))
def test_many(n, tmp_path): assert not list(tmp_path.iterdir())
def test_last(shared): pass
"""
ROOT = Path(__file__).resolve().parents[2]


def run(folder, *words):
    (folder / "tests").mkdir(exist_ok=True)
    (folder / "tests" / "test_of_a_kind.py").write_text(TESTS)
    command = [sys.executable, "-m", "pytest", "-q", "-p", "tests.processes", "-p", "no:cacheprovider"]
    path = {"PYTHONPATH": str(ROOT), "PATH": "", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    return subprocess.run(
        [*command, "--rootdir", folder, *words, folder / "tests"],
        cwd=folder, env=path, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_every_test_is_told_once(tmp_path):
    done = run(tmp_path, "--processes", "3")
    assert done.returncode == 1, done.stderr
    assert done.stdout.splitlines()[-1].startswith("2 failed, 23 passed, 1 skipped, 1 error in "), done.stdout
    assert all(said in done.stdout for said in ("ended with status 7", "said before", "taken down")), done.stdout
    assert "never seen" not in done.stdout
    failed = re.findall(r"^(?:FAILED|ERROR) \S+::(\w+)", done.stdout, re.MULTILINE)
    assert sorted(failed) == ["test_ends_its_process", "test_fails", "test_last"]


def test_it_stops_where_asked(tmp_path):
    done = run(tmp_path, "--processes", "2", "-x")
    assert done.returncode == 1, done.stderr
    assert "!! stopping after" in done.stdout, done.stdout
