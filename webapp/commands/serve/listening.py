"""Where the page listens, and waitress as it answers there."""

import ctypes
import errno
import gc
import select
import socket
from contextlib import suppress
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from flask import Flask

THREADS = 96
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
ANY_PROXY = "any"
"""What is said where the proxy has no address of its own that lasts, as in a container."""
_BELIEVED = {"x-forwarded-for", "x-forwarded-host", "x-forwarded-port", "x-forwarded-proto"}
_EVERYWHERE = {"0.0.0.0": "127.0.0.1", "::": "::1"}  # noqa: S104 - only asked for by whoever gives --host


def listen(host: str, port: int) -> socket.socket:
    """Return a socket that listens, opened here because waitress leaves its own open where the address can't be had.

    Raises:
        OSError: the address can't be had.
        UnicodeError: the host is no name.
    """
    return socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)


def answer(app: "Flask", listening: socket.socket, proxy: str = "") -> None:
    """Answer what comes to a socket until interrupted.

    Args:
        app: the application.
        listening: the socket, which several processes may answer.
        proxy: the address of the proxy whose word on who asks is believed, or `ANY_PROXY`; nobody's where it is empty.
    """
    from waitress import create_server  # noqa: PLC0415 - no other command needs it

    believed: dict[str, Any] = {}
    if proxy:
        believed = {"trusted_proxy": "*" if proxy == ANY_PROXY else proxy, "trusted_proxy_headers": _BELIEVED}
    server = create_server(
        app, sockets=[listening], threads=THREADS, ident="platewright", max_request_body_size=MOST_SENT,
        connection_limit=MOST_CONNECTIONS, channel_timeout=LONGEST_SILENCE_S, cleanup_interval=LONGEST_SILENCE_S // 4,
        asyncore_use_poll=hasattr(select, "poll"),
        channel_request_lookahead=1,  # else who has gone is only seen once the answer is made
        clear_untrusted_proxy_headers=True, **believed,
    )  # fmt: skip
    try:
        server.run()
    finally:
        server.close()


def give_back() -> None:
    """Have the C library give back what is freed, where it can be told so; else it holds twice as much."""
    with suppress(AttributeError, OSError, TypeError):
        for which, value in ((_M_ARENA_MAX, HEAPS), (_M_MMAP_THRESHOLD, LARGE)):
            ctypes.CDLL(None).mallopt(which, value)


def keep_loaded() -> None:
    """Leave what is loaded out of collections, which needn't go through it again and again while pages are made."""
    gc.freeze()
    gc.set_threshold(*COLLECT_AFTER)


def address_of(host: str, port: int) -> str:
    """Return the address to open in a browser on this machine."""
    name = _EVERYWHERE.get(host, host)
    return f"http://[{name}]:{port}/" if ":" in name else f"http://{name}:{port}/"


def why_not(host: str, port: int, error: Exception) -> str:
    """Return why a host and port can't be had, and what to do."""
    if getattr(error, "errno", None) == errno.EADDRINUSE:
        return (
            f"Port {port} of {host} is taken: Platewright may already be at {address_of(host, port)}. "
            f"To have another beside it, choose another port: --port {port + 1 if port + 1 in PORTS else port - 1}."
        )
    reason = getattr(error, "strerror", None) or str(error)
    return f"Can't listen on {host}, port {port}: {reason}. Choose another with --port or --host."
