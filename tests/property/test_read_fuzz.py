"""Files taken apart at random: each is read, or refused in one sentence, in bounded time and memory.

A few hundred in every run. The long run, with all the heavy files of test_read_limits.py:

    READ_FUZZ=10000 python -m pytest tests/property/test_read_fuzz.py tests/unit/test_read_limits.py
"""

import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = os.environ.get("READ_FUZZ", "300")
SEED = os.environ.get("READ_FUZZ_SEED", "1")
LONGEST_S = 5.0
LARGEST_MB = 512


def test_a_mutated_file_never_crashes_the_reader():
    done = subprocess.run(
        [sys.executable, "-m", "tests.property.read_fuzz", RUNS, SEED],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["crashes"] == [], "\n".join((done.stdout, *found["crashes"]))
    assert found["worst_s"] < LONGEST_S
    assert found["peak_mb"] < LARGEST_MB
    # both ways out are taken often enough to mean something
    assert min(found["read"], found["refused"]) > int(RUNS) / 5
