"""What holds for every test: the built-in numbers, unless a test writes a shop's own file."""

import gc
import itertools
import os

import pytest

from parts.shop import numbers as shop
from parts.truing import history
from tests import depth
from webapp.pages.catalogue import kept

NUMBERS = itertools.count(1)

depth.load_profile()
# what is shared stays: to look through it again and again takes a twentieth of a run
gc.set_threshold(200_000, 20, 100)


def pytest_configure(config):
    depth.asked = config.getoption("keyword", "")


def pytest_collection_finish():
    """Take what is loaded by now out of the collector's sight: it stays, and to look through it again costs most."""
    gc.collect()
    gc.freeze()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers():
    """One process more than there are cores: a browser, a server or another program is waited for in many tests."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """See `tests.together`, which only a run in several processes loads."""
    from tests.together import Together

    return Together(config, log)


@pytest.fixture(scope="session", autouse=True)
def no_own_numbers(tmp_path_factory):
    """An empty file of the shop's own, for servers started by tests too: a person's own changes no test."""
    path = tmp_path_factory.mktemp("shop") / "shop.toml"
    path.touch()
    base = tmp_path_factory.getbasetemp()
    together = base.parent if os.environ.get("PYTEST_XDIST_WORKER") else base
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(shop.VARIABLE, str(path))
        patch.setenv(kept.VARIABLE, str(together / "cache"))
        yield path


@pytest.fixture(scope="session")
def no_histories(tmp_path_factory):
    """A folder for histories, each of a name of its own."""
    return tmp_path_factory.mktemp("histories")


@pytest.fixture
def own_file(tmp_path, monkeypatch):
    """The path of a shop's own file for one test to write; empty, and named by the environment."""
    path = tmp_path / "shop.toml"
    path.touch()
    monkeypatch.setenv(shop.VARIABLE, str(path))
    return path


@pytest.fixture(autouse=True)
def own_history(no_histories, monkeypatch):
    """The path of a history for one test, which isn't there yet; nor is its folder."""
    path = no_histories / str(next(NUMBERS)) / "history.sqlite"
    monkeypatch.setenv(history.VARIABLE, str(path))
    return path
