"""The same examples whatever was loaded or run before, wherever the tree lies, and whatever the environment says."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import settings

from tests import depth

ROOT = Path(__file__).parents[2]
DRAW = """
import importlib.util, json, sys
from hypothesis import given, settings, strategies as st
from tests import depth
depth.load_profile()
for path in sys.argv[1:]:
    spec = importlib.util.spec_from_file_location("of_its_own", path)
    sys.modules["of_its_own"] = module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
drawn = []
@settings(max_examples=100)
@given(st.integers(), st.floats(allow_nan=False), st.text())
def look(number, size, text):
    drawn.append([number, size, text])
look()
print(json.dumps([settings.default.max_examples, drawn]))
"""


def drawn(*paths, **variables):
    """What a profile has as its number of examples, and examples of a process that has loaded these files."""
    environment = {name: value for name, value in os.environ.items() if name != "PLATEWRIGHT_DEEP"}
    run = [sys.executable, "-c", DRAW, *map(str, paths)]
    done = subprocess.run(run, cwd=ROOT, env=environment | variables, capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def everyday():
    return drawn()


def test_what_was_loaded_before_changes_no_example(everyday, tmp_path):
    module = tmp_path / "of_its_own.py"
    module.write_text("A = 123456789\nB = 9876.54321\nC = 'a word of its own'\n")
    assert drawn(module) == everyday


def test_the_environment_changes_no_example(everyday):
    assert drawn(CI="1", PYTHONHASHSEED="7", TZ="Asia/Tokyo", LC_ALL="C") == everyday


def test_a_deep_run_tries_others_and_more(everyday):
    number, examples = drawn(PLATEWRIGHT_DEEP="1")
    assert examples != everyday[1]
    assert everyday[0] == number // depth.SHARE


def test_no_example_hangs_on_a_folder_or_on_time():
    assert settings.default.database is None
    assert settings.default.deadline is None


@pytest.mark.parametrize(("deep", "fewer"), [(3, 3), (5, 3), (96, 3), (160, 5), (200, 6)])
def test_an_everyday_run_tries_a_share(deep, fewer, monkeypatch):
    for is_deep, number in ((False, fewer), (True, deep)):
        monkeypatch.setattr(depth, "DEEP", is_deep)
        assert depth.tried(deep).max_examples == depth.several(fewer, deep) == number
