"""What `platewright serve` is given, and that it serves so."""

import argparse
import logging
import os
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from parts.store import VARIABLE
from webapp.commands.console import whole_number
from webapp.commands.serve.listening import (
    ANY_PROXY,
    PORTS,
    address_of,
    give_back,
    listen,
    why_not,
)
from webapp.commands.serve.proxied import proxy_of
from webapp.commands.serve.served import Served

if TYPE_CHECKING:
    from parts.workers import Pool

MOST_PROCESSES = 64


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--host", default="127.0.0.1", help="the address to listen on (%(default)s)")
    command.add_argument("--port", type=whole_number, default=8765, help="the port to listen on (%(default)s)")
    command.add_argument("--no-browser", action="store_true", help="don't open the browser")
    command.add_argument(
        "--processes", type=whole_number, metavar="N",
        help="that answer; 1 unless said, and one a core where --host or --proxy lets others in",
    )  # fmt: skip
    command.add_argument(
        "--proxy", metavar="ADDRESS",
        help=f"of the proxy before it, whose X-Forwarded headers are believed; {ANY_PROXY} where only it can ask",
    )  # fmt: skip
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
    """Serve until interrupted and return the exit status: 2 where it can't be as asked."""
    from webapp.forms import own_site  # noqa: PLC0415 - no other command needs flask

    if request.store:
        os.environ[VARIABLE] = request.store  # as for the workers, who have it of this process
    proxy = proxy_of(request.proxy)
    settings = {
        "LISTENS_ON": request.host,
        "SHARED_SHOP_EDITS": request.shop_edits,
        "NAMES": tuple(request.name),
        "PROXIED": bool(proxy),
    }
    if request.port not in PORTS:
        return _refuse(f"--port: {request.port}: must be from 0 to {PORTS[-1]}.")
    forks = hasattr(os, "fork")
    processes = request.processes
    if processes is None:
        processes = (os.cpu_count() or 1) if forks and own_site.is_shared_by(settings) else 1
    if not 1 <= processes <= (MOST_PROCESSES if forks else 1):
        most = f"1 to {MOST_PROCESSES}; one a core is best, {os.cpu_count()} here" if forks else "1 on this system"
        return _refuse(f"--processes: {processes}: must be {most}.")
    try:
        listening = listen(request.host, request.port)
    except (OSError, UnicodeError) as error:
        return _refuse(why_not(request.host, request.port, error))
    give_back()
    logging.basicConfig(format="%(levelname)s: %(message)s")
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # that some wait for a moment is no fault to be told
    _serve(listening, settings, proxy, processes, browser=not request.no_browser)
    return 0


def _serve(listening: socket.socket, settings: Mapping[str, Any], proxy: str, processes: int, *, browser: bool) -> None:
    from webapp import create_app, workers  # noqa: PLC0415

    address = address_of(settings["LISTENS_ON"], listening.getsockname()[1])

    def served_by(pools: Mapping[str, Any]) -> Served:
        served = Served(create_app({**settings, workers.POOLS: pools}), listening, address, proxy)
        sys.stdout.write(f"Platewright is at {address} (Ctrl-C ends it).\n")
        sys.stdout.flush()
        if browser:  # the port is bound: the browser's question waits in line until it is answered
            _open(address)
        return served

    signal.signal(signal.SIGTERM, signal.default_int_handler)  # as the first process of a container heeds no other
    if processes > 1:
        from webapp.commands.serve.several import serve_by_several  # noqa: PLC0415 - one process needs none of it

        serve_by_several(served_by, processes)
    else:
        pools = workers.pools()
        _by_this_one(served_by(pools), pools)


def _open(address: str) -> None:
    """Open a browser by a process of its own: threads of this one would be amiss in those forked from it."""
    quiet = subprocess.DEVNULL
    words = [sys.executable, "-m", "webbrowser", address]
    subprocess.Popen(words, stdin=quiet, stdout=quiet, stderr=quiet)  # noqa: S603 - our own address


def _by_this_one(served: Served, pools: Mapping[str, "Pool"]) -> None:
    """Answer by this process, with workers of its own."""
    from webapp import workers  # noqa: PLC0415

    try:
        with served.app.test_request_context("/check", base_url=served.address):
            workers.warm(pools)
        served.load()
        threading.Thread(target=served.load_first_part, daemon=True).start()
        served.answer()
    except KeyboardInterrupt:
        pass
    finally:
        workers.close(pools)


def _refuse(sentence: str) -> int:
    sys.stderr.write(f"{sentence}\n")
    return 2
