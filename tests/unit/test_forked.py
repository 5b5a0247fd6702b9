"""Processes forked and kept running: started again when they end, and ended with the first, however that ends."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.web.served import wait_for

CODE = """
import time
from functools import partial
from parts.workers import keep_running
keep_running([partial(time.sleep, 1000), partial(time.sleep, 1000)])
"""


@pytest.fixture
def first():
    with subprocess.Popen([sys.executable, "-c", CODE], stderr=subprocess.PIPE) as process:
        wait_for(lambda: len(children(process)) == 2)
        yield process
        process.kill()


def children(process):
    return [int(each) for each in Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()]


def is_running(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.parametrize("sign", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT], ids=lambda sign: sign.name)
def test_all_end_with_the_first(first, sign):
    left = children(first)
    first.send_signal(sign)
    first.wait(60)
    wait_for(lambda: not any(map(is_running, left)))


def test_one_that_ends_is_started_again(first):
    before = children(first)
    os.kill(before[0], signal.SIGKILL)
    wait_for(lambda: len(set(children(first)) - {before[0]}) == 2)
    assert before[1] in children(first)
    first.terminate()
    assert b"A process of the page ended (signal 9); another is started." in first.communicate(timeout=60)[1]
