"""A tree as it is fetched, as it is set up, and a package server."""

import shutil

import pytest

from tests.setup.package_server import LOCKED, serving
from tests.setup.trees import PAGE, TESTS, copy_of, make_tree, modules_of, pretend_installed, start


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
    """A tree that start.py itself has set up, with one package from a server, and what it said."""
    root = make_tree(tmp_path_factory.mktemp("made") / "a tree")
    (root / PAGE).write_text(LOCKED)
    with serving() as server:
        done = start(root, "list", **server.variables)
    assert done.returncode == 0, done.stderr
    return root, done


@pytest.fixture
def installed(first_start, tmp_path):
    """A copy of that tree, elsewhere than it was made, its pip borrowed from there."""
    return copy_of(first_start[0], tmp_path / "another tree")


@pytest.fixture
def quick_venv(installed, kept_in, monkeypatch):
    """The copy of setup_environment.py there, which has a new environment without the seconds that `venv` takes."""
    kept = kept_in(installed)
    really = kept.run_logged

    def run(command, total=0):
        if "pip" in command:
            really(command, total)
            return
        copy_of(kept.VENV, kept.NEW)
        for path in (kept.NEW / kept.STAMP, *kept.NEW.glob("lib/*/site-packages/shop_bell*")):
            shutil.rmtree(path) if path.is_dir() else path.unlink()

    monkeypatch.setattr(kept, "run_logged", run)
    return kept


@pytest.fixture
def server():
    with serving() as one:
        yield one
