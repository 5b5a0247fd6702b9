"""A tree as it is fetched, as it is set up, and a package server."""

import shutil

import pytest

from tests.setup.package_server import LOCKED, serving
from tests.setup.trees import PAGE, TESTS, make_tree, modules_of, pretend_installed, start


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
def made(tmp_path_factory):
    """A tree that start.py itself has set up, with one package from a server: copy it."""
    root = make_tree(tmp_path_factory.mktemp("made") / "a tree")
    (root / PAGE).write_text(LOCKED)
    with serving() as server:
        done = start(root, "list", **server.variables)
    assert done.returncode == 0, done.stderr
    return root


@pytest.fixture
def installed(made, tmp_path):
    """A copy of it, elsewhere than it was made."""
    return shutil.copytree(made, tmp_path / "another tree", symlinks=True)


@pytest.fixture
def server():
    with serving() as one:
        yield one
