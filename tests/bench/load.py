"""What the page bears: many clients at once, with one process and with two, and how long they wait.

    python -m tests.bench.load [--clients 50] [--seconds 60] [--processes 1 2]

Each client asks for a page, a file or a layout's drawing in turn over a connection of its own, as soon as it is
answered. Printed are requests a second, the errors, and how many ms the middle, the 95th and the 99th of a hundred
waited. Answers other than 200 count as errors, but for 503 where workers are asked: it says when to come again.
"""

import argparse
import http.client
import itertools
import threading
import time
from collections import Counter
from statistics import quantiles

from tests.web.served import form, served
from tests.web.test_check import PLATE

ADDRESSES = (
    "/parts/gusset-triangle?leg_a={}",
    "/parts/gusset-triangle.dxf?leg_a={}",
    "/parts/plate-base.svg?width={}",
    "/parts/bracket-flat-l?thickness=6&leg_a={}",
    "/parts/plate-base.pdf?width={}",
    "/check.json",
    "/?q=gusset",
    "/healthz",
)


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
            else:
                connection.request("GET", address.format(100 + turn % 90))
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
    with served("--processes", str(processes)) as page:
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
             if status != 200 and (address, status) != ("/check.json", 503)}  # fmt: skip
    busy = told["/check.json", 503]
    cuts = [1000 * cut for cut in quantiles(waits, n=100)]
    print(  # noqa: T201 - a benchmark is read
        f"{processes} processes, {clients} clients, {seconds} s: {len(waits) / seconds:.0f} requests/s, "
        f"p50 {cuts[49]:.0f} ms, p95 {cuts[94]:.0f} ms, p99 {cuts[98]:.0f} ms; "
        f"{busy} told to come again, errors: {wrong or 'none'}"
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
