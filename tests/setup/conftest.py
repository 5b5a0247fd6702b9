"""A tree as it is fetched, as it is set up, and a package server."""

import fcntl
import json

import pytest

from tests.setup.package_server import LOCKED, serving
from tests.setup.trees import (
    PAGE,
    TESTS,
    bare_copy,
    copy_of,
    let_copy,
    make_tree,
    modules_of,
    pretend_installed,
    start,
)


@pytest.fixture
def tree(tmp_path):
    """A copy of the scripts in a tree of its own, nothing installed."""
    return make_tree(tmp_path / "a tree")


@pytest.fixture
def script(tree, monkeypatch):
    """The copy of start.py."""
    return modules_of(tree, monkeypatch)


@pytest.fixture
def kept(script):
    """The copy of setup_environment.py that this copy of start.py uses."""
    return script.kept


@pytest.fixture
def kept_in(monkeypatch):
    """A function that gives the copy of setup_environment.py in a tree."""
    return lambda root: modules_of(root, monkeypatch).kept


@pytest.fixture
def ready(tree, kept):
    """The same tree as an install leaves it, without the seconds an install takes."""
    pretend_installed(kept, kept.VENV)
    kept.write_stamp(kept.VENV, kept.stamp_for(kept.VENV, TESTS))
    return tree


@pytest.fixture(scope="session")
def first_start(tmp_path_factory):
    """A tree that start.py itself has set up, with a package from a server, and what it said; one for all workers."""
    shared = tmp_path_factory.getbasetemp() / "made"
    shared.mkdir(exist_ok=True)
    root, told = shared / "a tree", shared / "told.json"
    with (shared / "busy").open("w") as busy:
        fcntl.flock(busy, fcntl.LOCK_EX)
        if not told.exists():
            make_tree(root)
            (root / PAGE).write_text(LOCKED)
            with serving() as server:
                done = start(root, "list", **server.variables)
            assert done.returncode == 0, done.stderr
            told.write_text(json.dumps([done.stdout, done.stderr]))
    return root, *json.loads(told.read_text())


@pytest.fixture(scope="session")
def bare(first_start, tmp_path_factory):
    """The environment of that tree without what was installed in it."""
    return bare_copy(first_start[0] / ".venv", tmp_path_factory.mktemp("bare") / ".venv")


@pytest.fixture
def installed(first_start, tmp_path):
    """A copy of that tree, elsewhere than it was made, its pip borrowed from there."""
    return copy_of(first_start[0], tmp_path / "another tree")


@pytest.fixture
def quick_venv(installed, bare, kept_in):
    """The copy of setup_environment.py there, which has a new environment without the seconds that `venv` takes."""
    let_copy(installed, bare)
    return kept_in(installed)


@pytest.fixture
def server():
    with serving() as one:
        yield one
