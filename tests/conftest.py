"""What holds for every test: the built-in numbers, unless a test writes a shop's own file."""

import gc
import itertools
import signal

import pytest

from parts import store
from parts.shop import numbers as shop
from parts.truing import history
from tests import depth
from tests.processes import pytest_addoption, pytest_runtestloop  # noqa: F401 - hooks
from webapp.pages.catalogue import kept

NUMBERS = itertools.count(1)

depth.load_profile()
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:  # as of what a shell runs behind it: what tests start would, too
    signal.signal(signal.SIGINT, signal.default_int_handler)
# what is shared stays: to look through it again and again takes a twentieth of a run
gc.set_threshold(200_000, 20, 100)


def pytest_configure(config):
    depth.asked = config.getoption("keyword", "")


def pytest_collection_finish():
    """Take what is loaded by now out of the collector's sight: it stays, and to look through it again costs most."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def no_own_numbers(tmp_path_factory):
    """An empty file of the shop's own, for servers started by tests too: a person's own changes no test."""
    path = tmp_path_factory.mktemp("shop") / "shop.toml"
    path.touch()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(shop.VARIABLE, str(path))
        patch.setenv(kept.VARIABLE, str(tmp_path_factory.getbasetemp() / "cache"))
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


@pytest.fixture(autouse=True)
def own_store(no_histories, monkeypatch):
    """The path of a store of jobs for one test, which isn't there yet; nor is its folder."""
    path = no_histories / str(next(NUMBERS)) / "jobs.sqlite"
    monkeypatch.setenv(store.VARIABLE, str(path))
    return path
