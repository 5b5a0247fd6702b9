"""`platewright serve`: the web page, served to one shop by waitress."""

import argparse
import contextlib
import ctypes
import errno
import gc
import logging
import os
import select
import socket
import sys
import threading
import webbrowser
from collections.abc import Mapping
from typing import Any

from parts.store import VARIABLE
from webapp.commands.console import whole_number

THREADS = 24
"""Enough for those who wait for a worker, and some for everyone else."""
MOST_CONNECTIONS = 1000
"""Of which most may be half sent, or idle, at no cost but this."""
COLLECT_AFTER = (10_000, 20, 50)
"""How many objects are made before they are looked through for circles, and how many such rounds: pages make many."""
LARGE, _M_MMAP_THRESHOLD = 128 * 1024, -3
"""Bytes from which what is freed goes back to the system at once; by itself the C library comes to keep 32 MB of it."""
HEAPS, _M_ARENA_MAX = 2, -8
"""Heaps of the C library, which by itself gives nearly every thread one: what was freed there no other thread uses."""
LONGEST_SILENCE_S = 20
"""Of a connection, after which it is closed: half a request, or none."""
MOST_SENT = 64_000_000
"""Bytes of a request; the page itself refuses well below this, in a sentence of its own."""
PORTS = range(65536)
FIRST_PART = "/parts/gusset-triangle?holes_a=1&hole=5mm"
"""A part with a finding: whoever opens the first part would wait half a second longer, for what all pages share."""
_EVERYWHERE = {"0.0.0.0": "127.0.0.1", "::": "::1"}  # noqa: S104 - only asked for by whoever gives --host


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--host", default="127.0.0.1", help="the address to listen on (%(default)s)")
    command.add_argument("--port", type=whole_number, default=8765, help="the port to listen on (%(default)s)")
    command.add_argument("--no-browser", action="store_true", help="don't open the browser")
    command.add_argument(
        "--shop-edits",
        action="store_true",
        help="let other machines change the shop's own numbers, if --host lets them in",
    )
    command.add_argument(
        "--name", action="append", default=[], metavar="NAME",
        help="another name by which this machine is asked for; an address in numbers and localhost need none",
    )  # fmt: skip
    command.add_argument(
        "--store", metavar="URL",
        help="where jobs are kept: a path, or a database such as postgresql+pg8000://user@host/name",
    )  # fmt: skip
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Serve as asked and return the exit status."""
    if request.store:
        os.environ[VARIABLE] = request.store  # as for the workers, who have it of this process
    settings = {"SHARED_SHOP_EDITS": request.shop_edits, "NAMES": tuple(request.name)}
    return serve(request.host, request.port, settings, browser=not request.no_browser)


def serve(host: str, port: int, settings: Mapping[str, Any], *, browser: bool) -> int:
    """Serve until interrupted and return the exit status: 2 where the address can't be had.

    `settings` are those of `webapp.forms.own_site`, but for the host.
    """
    from waitress import create_server  # noqa: PLC0415 - no other command needs it, nor flask

    from webapp import create_app, workers  # noqa: PLC0415

    if port not in PORTS:
        return _refuse(f"--port: {port}: must be from 0 to {PORTS[-1]}.")
    _give_back()
    logging.basicConfig(format="%(levelname)s: %(message)s")
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:  # opened here, because waitress leaves its own socket open where the address can't be had
        listening = socket.create_server((host, port), family=family)
    except (OSError, UnicodeError) as error:
        return _refuse(_why_not(host, port, error))
    pools = workers.pools()
    app = create_app({**settings, "LISTENS_ON": host, workers.POOLS: pools})
    server = create_server(
        app, sockets=[listening], threads=THREADS, ident="platewright", max_request_body_size=MOST_SENT,
        connection_limit=MOST_CONNECTIONS, channel_timeout=LONGEST_SILENCE_S, cleanup_interval=LONGEST_SILENCE_S // 4,
        asyncore_use_poll=hasattr(select, "poll"),
        channel_request_lookahead=1,  # else who has gone is only seen once the answer is made
    )  # fmt: skip
    address = address_of(host, listening.getsockname()[1])
    sys.stdout.write(f"Platewright is at {address} (Ctrl-C ends it).\n")
    sys.stdout.flush()
    if browser:  # the port is bound: the browser's question waits in line until the server runs
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    try:
        with app.test_request_context("/check", base_url=address):
            workers.warm(pools)
        app.test_client().get("/", base_url=address)  # its pictures take most of a second, while no one waits beside it
        threading.Thread(
            target=app.test_client().get, args=(FIRST_PART,), kwargs={"base_url": address}, daemon=True
        ).start()
        _run(server)
    except KeyboardInterrupt:
        pass
    finally:
        server.close()
        workers.close(pools)
    return 0


def address_of(host: str, port: int) -> str:
    """Return the address to open in a browser on this machine."""
    name = _EVERYWHERE.get(host, host)
    return f"http://[{name}]:{port}/" if ":" in name else f"http://{name}:{port}/"


def _give_back() -> None:
    """Have the C library give back what is freed, where it can be told so; else it holds twice as much."""
    with contextlib.suppress(AttributeError, OSError, TypeError):
        for which, value in ((_M_ARENA_MAX, HEAPS), (_M_MMAP_THRESHOLD, LARGE)):
            ctypes.CDLL(None).mallopt(which, value)


def _run(server: Any) -> None:  # noqa: ANN401 - waitress says nothing of its types
    gc.freeze()  # what is loaded stays: a collection needn't go through it again and again while pages are made
    gc.set_threshold(*COLLECT_AFTER)
    server.run()


def _why_not(host: str, port: int, error: Exception) -> str:
    if getattr(error, "errno", None) == errno.EADDRINUSE:
        return (
            f"Port {port} of {host} is taken: Platewright may already be at {address_of(host, port)}. "
            f"To have another beside it, choose another port: --port {port + 1 if port + 1 in PORTS else port - 1}."
        )
    reason = getattr(error, "strerror", None) or str(error)
    return f"Can't listen on {host}, port {port}: {reason}. Choose another with --port or --host."


def _refuse(sentence: str) -> int:
    sys.stderr.write(f"{sentence}\n")
    return 2
