"""How long the address of a file takes over HTTP, from a real server on this machine.

    python -m pytest tests/bench/test_http.py --benchmark-only -s

The server runs as a person starts it, in a process of its own; each address is asked for 400 times over two
connections at once. Printed is p95 in ms beside the p95 of /healthz in the same run.
"""

import http.client
import subprocess
import sys
import threading
import time
from contextlib import closing
from statistics import quantiles

import pytest

REQUESTS, CONNECTIONS = 400, 2
PORT = 8797
ADDRESSES = ["/healthz", *(f"/parts/{slug}.{kind}" for slug in ("gusset-triangle", "plate-bumper", "silhouette-leaf")
                           for kind in ("svg", "json", "dxf"))]  # fmt: skip


@pytest.fixture(scope="module")
def server():
    with subprocess.Popen([sys.executable, "-m", "webapp", "serve", "--no-browser", "--port", str(PORT)]) as process:
        for _ in range(100):
            with closing(http.client.HTTPConnection("127.0.0.1", PORT)) as connection:
                try:
                    asked("/healthz", connection)
                    break
                except OSError:
                    time.sleep(0.1)
        yield
        process.terminate()


def asked(address, connection):
    connection.request("GET", address)
    answer = connection.getresponse()
    answer.read()
    assert answer.status == 200


def p95_ms(address):
    times = []

    def ask():
        connection = http.client.HTTPConnection("127.0.0.1", PORT)
        for i in range(REQUESTS // CONNECTIONS):
            began = time.perf_counter()
            asked(f"{address}{'' if address == '/healthz' else f'?thickness={3 + i % 7}'}", connection)
            times.append(time.perf_counter() - began)
        connection.close()

    threads = [threading.Thread(target=ask) for _ in range(CONNECTIONS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return 1000 * quantiles(times, n=20)[-1]


def test_p95_of_the_files(server, benchmark):
    figures = benchmark.pedantic(lambda: {address: p95_ms(address) for address in ADDRESSES}, rounds=1)
    for address, figure in figures.items():
        print(f"{address:<40} p95 {figure:6.2f} ms")  # noqa: T201 - a benchmark is read
