"""What tests cost: `python -m pytest -p tests.cost -n auto` tells the dearest functions by processor time.

Processor time of the test process and of those it has waited for, which a busy machine stretches less than a clock's.
What a function is the first to draw of `tests/library.py` counts as its own.
"""

import os
from collections import Counter
from collections.abc import Iterator

import pytest

SHOWN = 25
LAST_S = pytest.StashKey[float]()


def spent_s() -> float:
    """Processor seconds of this process and of its ended children."""
    return sum(os.times()[:4])


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    item.stash[LAST_S] = spent_s()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    report = yield
    now = spent_s()
    report.processor_s = now - item.stash[LAST_S]  # a worker hands it over with the report
    item.stash[LAST_S] = now
    return report


def pytest_terminal_summary(terminalreporter) -> None:
    cost: Counter[str] = Counter()
    for reports in terminalreporter.stats.values():
        for report in reports:
            cost[getattr(report, "nodeid", "").split("[")[0]] += getattr(report, "processor_s", 0.0)
    terminalreporter.section(f"processor time: {cost.total():.0f} s in {len(cost)} functions")
    for name, seconds in cost.most_common(SHOWN):
        terminalreporter.write_line(f"{seconds:8.2f}  {name}")
