"""A server of PostgreSQL of a test's own, where its programs are on this machine."""

import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

ACCOUNT = "postgres"
"""The server refuses to be run by root, who runs it as this."""


def is_there():
    """Whether the programs are."""
    return bool(shutil.which("initdb") and shutil.which("postgres"))


@contextmanager
def served():
    """Yield the address of a new, empty database; it is gone afterwards."""
    user = ACCOUNT if os.geteuid() == 0 else None
    folder = Path(tempfile.mkdtemp(prefix="platewright-database-"))
    if user:
        shutil.chown(folder, user)
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    as_it = {"user": user, "cwd": folder, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    subprocess.run(["initdb", "-D", folder / "data", "-U", "platewright", "--auth=trust"], check=True, **as_it)
    said = ["-p", str(port), "-c", "listen_addresses=127.0.0.1", "-c", "unix_socket_directories="]
    server = subprocess.Popen(["postgres", "-D", folder / "data", *said], **as_it)
    try:
        wait_for(port)
        yield f"postgresql+pg8000://platewright@127.0.0.1:{port}/postgres"
    finally:
        server.send_signal(signal.SIGINT)  # a fast shutdown: it waits for no one who is connected
        server.wait(60)
        shutil.rmtree(folder, ignore_errors=True)


def wait_for(port):
    """Until the server takes connections."""
    for _ in range(300):
        try:
            import pg8000.dbapi

            pg8000.dbapi.connect("platewright", host="127.0.0.1", port=port, database="postgres").close()
        except (OSError, pg8000.dbapi.Error):
            time.sleep(0.1)
        else:
            return
    raise TimeoutError("the database doesn't start")
