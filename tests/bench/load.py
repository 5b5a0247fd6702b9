"""What the page bears: many clients at once, with one process and with two, and how long they wait.

    python -m tests.bench.load [--clients 50] [--seconds 60] [--processes 1 2]

Each client asks for a page, a file, a check, a job, a change of one, its layout on sheets in turn over a connection of
its own, as soon as it is answered. Printed are requests a second, the errors, and how many ms the middle, the 95th and
the 99th of a hundred waited. Every answer other than the one that is wanted counts as an error.
"""

import argparse
import http.client
import itertools
import os
import tempfile
import threading
import time
from collections import Counter
from pathlib import Path
from statistics import quantiles
from urllib.parse import urlencode

from parts import store
from parts.store import VARIABLE, Content, Kept, KeptLayout, KeptSheet, Line, Lying
from tests.web.served import form, served
from tests.web.test_check import PLATE

FORM, FROM_HERE = "application/x-www-form-urlencoded", {"Sec-Fetch-Site": "same-origin"}
CHANGE = "/jobs/1/lines"
ADDRESSES = (
    "/parts/gusset-triangle?leg_a={}",
    "/parts/gusset-triangle.dxf?leg_a={}",
    "/parts/plate-base.svg?width={}",
    "/parts/bracket-flat-l?thickness=6&leg_a={}",
    "/parts/plate-base.pdf?width={}",
    "/check.json",
    "/?q=gusset",
    "/healthz",
    "/jobs",
    "/jobs/1",
    CHANGE,
    "/jobs/1/layout",
    "/jobs/1/layout/sheet-01.dxf",
    "/jobs/1/sheets?sheet=1000x{}&time=1",
)
WANTED = {CHANGE: 303}
"""Statuses other than 200."""


def begun(folder):
    """Begin a job with a kept layout in a store of this benchmark's own, and return the store's path."""
    os.environ[VARIABLE] = str(Path(folder) / "jobs.sqlite")
    kept = [Kept(slug, (("thickness", "6"),)) for slug in ("gusset-triangle", "plate-ring", "plate-motor")]
    lines = tuple(Line(number, each, 2) for number, each in enumerate(kept, start=1))
    lying = tuple(Lying(1 + i % 3, 20 + 320 * (i % 3), 20 + 320 * (i // 3)) for i in range(6))
    layout = KeptLayout((KeptSheet(1000, 2000, lying),), "1000x2000 mm")
    store.begin(Content("Gate for the garden", "Fernhollow 12 (invented)", lines, layout=layout))
    return os.environ[VARIABLE]


def client(port, until, number, waits, statuses):
    """Ask until the time is up."""
    body, headers = form(PLATE, thickness="6")
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    for turn in itertools.count(number):
        if time.monotonic() > until:
            break
        address = ADDRESSES[turn % len(ADDRESSES)]
        start = time.monotonic()
        try:
            if address == "/check.json":
                connection.request("POST", address, body, headers)
            elif address == CHANGE:
                said = urlencode({"quantity-1": 2 + turn % 5})
                connection.request("POST", address, said, {**FROM_HERE, "Content-Type": FORM})
            else:
                connection.request("GET", address.format(1000 + turn % 90 if "sheets?" in address else 100 + turn % 90))
            answer = connection.getresponse()
            answer.read()
            statuses.append((address, answer.status))
        except (OSError, http.client.HTTPException) as error:
            statuses.append((address, type(error).__name__))
            connection.close()
        waits.append(time.monotonic() - start)
    connection.close()


def load(processes, clients, seconds):
    """Print how a page of so many processes does."""
    with (
        tempfile.TemporaryDirectory() as folder,
        served("--processes", str(processes), **{VARIABLE: begun(folder)}) as page,
    ):
        page.ask("GET", "/parts/gusset-triangle")
        until, waits, statuses = time.monotonic() + seconds, [], []
        asking = [threading.Thread(target=client, args=(page.port, until, n, waits, statuses)) for n in range(clients)]
        for thread in asking:
            thread.start()
        for thread in asking:
            thread.join()
        page.end()
    told = Counter(statuses)
    wrong = {f"{address} {status}": count for (address, status), count in told.items()
             if status != WANTED.get(address, 200)}  # fmt: skip
    cuts = [1000 * cut for cut in quantiles(waits, n=100)]
    print(  # noqa: T201 - a benchmark is read
        f"{processes} processes, {clients} clients, {seconds} s: {len(waits) / seconds:.0f} requests/s, "
        f"p50 {cuts[49]:.0f} ms, p95 {cuts[94]:.0f} ms, p99 {cuts[98]:.0f} ms; "
        f"errors: {wrong or 'none'}"
    )


def main():
    """Load the page as asked."""
    command = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    command.add_argument("--clients", type=int, default=50)
    command.add_argument("--seconds", type=int, default=60)
    command.add_argument("--processes", type=int, nargs="+", default=[1, 2])
    given = command.parse_args()
    for processes in given.processes:
        load(processes, given.clients, given.seconds)


if __name__ == "__main__":
    main()
