"""The list's small drawings, kept from one start to the next."""

import pytest

from webapp.pages.catalogue import kept

PICTURES = {"gusset-triangle": "<svg>1</svg>", "plate-base": "<svg>2</svg>"}


@pytest.fixture
def folder(tmp_path, monkeypatch):
    at = tmp_path / "cache"
    monkeypatch.setenv(kept.VARIABLE, str(at))
    kept.read.cache_clear()
    yield at
    kept.read.cache_clear()


def read_anew():
    kept.read.cache_clear()
    return kept.read()


def test_what_is_kept_is_read_and_takes_the_place_of_what_was_there(folder):
    folder.mkdir()
    (folder / "pictures-0123.json").write_text("{}")
    kept.keep(PICTURES)
    assert read_anew() == PICTURES
    assert [path.name for path in folder.iterdir()] == [f"pictures-{kept.key()}.json"]


def test_of_another_state_of_the_tree_nothing_is_read(folder, monkeypatch):
    kept.keep(PICTURES)
    monkeypatch.setattr(kept, "key", lambda: "another")
    assert read_anew() == {}


@pytest.mark.parametrize(
    "damage", ['{"gusset-triangle": "<svg', "[]", '{"gusset-triangle": 7, "plate-base": "<script>"}']
)
def test_what_is_damaged_is_not_read(folder, damage):
    kept.keep(PICTURES)
    (folder / f"pictures-{kept.key()}.json").write_text(damage)
    assert read_anew() == {}


def test_where_nothing_can_be_written_nothing_is_kept(folder):
    folder.write_text("a file where the folder should be")
    kept.keep(PICTURES)
    assert read_anew() == {}
