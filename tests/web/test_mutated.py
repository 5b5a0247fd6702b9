"""Uploads and requests taken apart at random: each is answered, none by an error of ours, in bounded time and memory.

Some in every run, 20,000 of each in a deep one. What went wrong is told with its number, by which it is made again:

    python -m tests.web.mutated uploads|requests 1 NUMBER
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.depth import first_number, several

ROOT = Path(__file__).parents[2]
RUNS = several(8, deep=20_000)
LONGEST_S = 5.0
LARGEST_MB = 512


@pytest.mark.parametrize("kind", ["uploads", "requests"])
def test_nothing_that_is_sent_ends_in_an_error_of_our_own(kind):
    done = subprocess.run(
        [sys.executable, "-m", "tests.web.mutated", kind, str(RUNS), str(1 + first_number())],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["wrong"] == [], "\n".join(found["wrong"])
    assert found["worst_s"] < LONGEST_S
    assert found["peak_mb"] < LARGEST_MB
    # every way out is taken often enough to mean something
    assert min(found["statuses"]["200"], found["statuses"]["422"]) > RUNS / 20
