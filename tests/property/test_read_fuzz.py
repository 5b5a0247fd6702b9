"""Files taken apart at random: each is read, or refused in one sentence, in bounded time and memory.

Some in every run, 10,000 in a deep one. What crashed is told with its number, counted from the seed in the command:

    python -m tests.property.read_fuzz COUNT SEED
"""

import json
import subprocess
import sys
from pathlib import Path

from tests.depth import first_number, several

ROOT = Path(__file__).parents[2]
RUNS = several(10, deep=10_000)
SEED = 1 + first_number()
LONGEST_S = 5.0
LARGEST_MB = 512


def test_a_mutated_file_never_crashes_the_reader():
    done = subprocess.run(
        [sys.executable, "-m", "tests.property.read_fuzz", str(RUNS), str(SEED)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["crashes"] == [], "\n".join((done.stdout, *found["crashes"]))
    assert found["worst_s"] < LONGEST_S
    assert found["peak_mb"] < LARGEST_MB
    # both ways out are taken often enough to mean something
    assert min(found["read"], found["refused"]) >= RUNS / 10
