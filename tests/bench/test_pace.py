"""What the pace, the rule on it and the outline as cut cost, beside a whole draw, and how they grow.

python -m pytest tests/bench/test_pace.py --benchmark-only -s
"""

import math
import time

import pytest

import parts
from parts.cutting.as_cut import as_cut
from parts.cutting.pace import lap
from parts.cutting.process import cut_for
from parts.cutting.slowing import laps
from parts.geometry.loop import Loop
from parts.profile import Profile
from parts.rules import torch_slow
from tests.jobs import job

FEW, MANY = 2_000, 20_000
JOB = job(cut_for("laser", "mild-steel", 1.0))
WORK = {
    "laps": lambda loop: lap(loop, JOB.cut.feed_mm_s, JOB.machine),
    "torch-slow": lambda loop: list(torch_slow.check(Profile((loop,)), JOB)),
    "as cut": lambda loop: as_cut(Profile((loop,)), JOB.cut),
}


def wheel(count: int) -> Loop:
    """A wheel of fine teeth, line and arc by turns."""
    step = 2 * math.pi / count
    far = [count + 2 * (i % 2) for i in range(count)]
    return Loop.through(
        [(r * math.cos(step * i), r * math.sin(step * i), 0.1 * (i % 3 == 0)) for i, r in enumerate(far)]
    )


def taken(work) -> float:
    began = time.process_time()
    work()
    return time.process_time() - began


@pytest.mark.parametrize("what", WORK)
def test_growth_with_the_number_of_segments(benchmark, what):
    few, many = wheel(FEW), wheel(MANY)
    work = WORK[what]
    small = min(taken(lambda: work(few)) for _ in range(3))
    large = benchmark.pedantic(lambda: taken(lambda: work(many)), rounds=1)
    print(f"{what}: {1e6 * large / MANY:.1f} us a segment, {large / small / (MANY / FEW):.2f} of linear")  # noqa: T201
    assert large / small < 2 * MANY / FEW


@pytest.mark.parametrize("slug", list(parts.templates()))
def test_share_of_a_draw(benchmark, slug):
    record = parts.draw(slug).record
    each = {
        "draw": lambda: parts.draw(slug),
        "laps": lambda: laps(record.profile.boundary, record.job),
        "torch-slow": lambda: list(torch_slow.check(record.profile, record.job)),
        "as cut": lambda: as_cut(record.profile, record.job.cut),
    }
    times = benchmark.pedantic(
        lambda: {name: min(taken(work) for _ in range(9)) for name, work in each.items()}, rounds=1
    )
    print(f"{slug}: " + ", ".join(f"{name} {1000 * t:.2f} ms" for name, t in times.items()))  # noqa: T201
    assert times["laps"] + times["torch-slow"] < times["draw"]
