"""The solver of strips, run as a program of its own: what it is given as a line of JSON, its answers as lines of JSON.

It stands alone, so that it starts at once, and in its own process, since what it can't do ends it: a panic of the
library is no exception that a program could go on from. It ends once its standard input is closed.
"""

import json
import os
import sys
import threading
from typing import Any

_EACH_S = 0.1
_UNFINISHED = ("ExplInfeas", "ExplImproving")
"""Kinds of answers in which pieces still lie on each other."""


def main() -> None:
    """Solve what standard input asks for, and write every shorter strip to standard output."""
    asked = json.loads(sys.stdin.readline())
    threading.Thread(target=_end_with_input, daemon=True).start()
    import spyrrow  # noqa: PLC0415 - which isn't there on every system

    items = [
        spyrrow.Item(str(key), [tuple(corner) for corner in ring], count, turns)
        for key, (ring, count, turns) in enumerate(asked["items"])
    ]
    instance = spyrrow.StripPackingInstance("", asked["height"], items)
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=asked["seconds"], num_workers=1, seed=asked["seed"]
    )
    found, is_done = spyrrow.ProgressQueue(), threading.Event()
    telling = threading.Thread(target=_tell, args=(found, is_done))
    telling.start()
    try:
        instance.solve(config, found)
    finally:
        is_done.set()
        telling.join()


def _end_with_input() -> None:
    sys.stdin.read()
    os._exit(0)


def _tell(found: Any, is_done: threading.Event) -> None:  # noqa: ANN401 - the library's own queue
    shortest = float("inf")
    last = False
    while not last:
        last = is_done.wait(_EACH_S)
        whole = [each for kind, each in found.drain() if not str(kind).endswith(_UNFINISHED)]
        best = min(whole, key=lambda each: each.width, default=None)
        if best is not None and best.width < shortest:
            shortest = best.width
            placed = [(int(each.id), each.rotation, *each.translation) for each in best.placed_items]
            sys.stdout.write(json.dumps({"length": best.width, "placed": placed}) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
