"""Jobs for workers, by name: what ends well, and each way in which one doesn't."""

import os
import re
import sys
import time

import numpy as np


def job(name):
    """Do a job, or try to."""
    return JOBS[name]()


def works_for_ever():
    """Never come to an end."""
    while True:
        pass


def _takes_all_memory():
    taken = []
    while True:
        taken.append(bytearray(10_000_000))


JOBS = {
    "pid": os.getpid,
    "sleeps": lambda: time.sleep(60),
    "works for ever": works_for_ever,
    "one long step": lambda: re.match("(a+)+$", "a" * 40 + "b"),
    "takes all memory": _takes_all_memory,
    "takes much memory at once": lambda: np.ones(10**9),
    "ends": lambda: os._exit(3),
    "prints": lambda: sys.stdout.write("to nobody\n") and None,
    "breaks": lambda: 1 / 0,
}
