"""The locks: every package pinned, each lock in the next, nothing forgotten."""

import re
from itertools import pairwise

import pytest

from tests.setup.trees import CLUSTER, PAGE, ROOT, SOLIDS, TESTS

LOCKS = [PAGE, SOLIDS, CLUSTER, TESTS]


def packages(lock):
    """The packages of a lock, with the markers that say where each is wanted."""
    return [line.rstrip(" \\") for line in (ROOT / lock).read_text().splitlines() if line[:1].isalnum()]


@pytest.mark.parametrize("lock", LOCKS)
def test_lock_pins_every_package_with_hashes_and_names_no_place(lock):
    text = (ROOT / lock).read_text()
    entries = re.split(r"\n(?=\w)", text.strip())
    assert len(entries) == len(packages(lock)) > 20
    for entry in entries:
        assert re.match(r"[a-z0-9-]+==[^ ]+( ; [^\\]+)? \\\n    --hash=sha256:[0-9a-f]{64}", entry)
    assert not re.search(r"://|--index|--find-links|^ *#", text, re.MULTILINE)


@pytest.mark.parametrize(("smaller", "larger"), list(pairwise(LOCKS)))
def test_a_lock_holds_the_one_before_it(smaller, larger):
    pins = [{line.split(" ;")[0] for line in packages(lock)} for lock in (smaller, larger)]
    assert pins[0] < pins[1]


def test_the_page_lock_has_nothing_that_only_solids_need():
    assert not {"cadquery", "cadquery-ocp", "vtk", "casadi"} & {line.split("==")[0] for line in packages(PAGE)}


def test_lock_holds_what_the_project_asks_for():
    asked = re.findall(r'^    "([a-z0-9-]+)[>=]', (ROOT / "pyproject.toml").read_text(), re.MULTILINE)
    assert set(asked) <= {line.split("==")[0] for line in packages(TESTS)}
    assert len(asked) > 15
