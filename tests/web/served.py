"""The page as `platewright serve` serves it, in a process of its own, and plain requests to it."""

import http.client
import os
import re
import signal
import subprocess
import sys
import threading
import time
from contextlib import contextmanager, suppress
from pathlib import Path

from werkzeug.serving import make_server

from webapp import create_app

ROOT = Path(__file__).parents[2]
LONGEST_S = 300.0
"""Whatever is waited for comes, however busy the machine is."""


class Served:
    """A server at `port`."""

    def __init__(self, process, port):
        self.process, self.port = process, port

    def ask(self, method, path, body=None, headers=None):
        """The answer to a request with its whole text: status, headers, bytes."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=LONGEST_S)
        try:
            connection.request(method, path, body, headers or {})
            answer = connection.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            connection.close()

    def below(self):
        """The processes that it started, and those that these started, where the system tells."""
        parents = {}
        for status in Path("/proc").glob("[0-9]*/status"):
            with suppress(OSError):  # it has ended
                parents[int(status.parent.name)] = int(re.search(r"^PPid:\s*(\d+)", status.read_text(), re.M)[1])
        found = [self.process.pid]
        for pid in found:
            found += [child for child, parent in parents.items() if parent == pid]
        return found[1:]

    def workers(self):
        """The numbers of its workers' processes."""
        return [pid for pid in self.below() if b"parts.workers.child" in _command(pid)]

    def end(self, by=signal.SIGINT):
        """End it as Ctrl-C does, or by another signal, and return its status."""
        self.process.send_signal(by)
        return self.process.wait(LONGEST_S)


def _command(pid):
    with suppress(OSError):
        return Path(f"/proc/{pid}/cmdline").read_bytes()
    return b""


@contextmanager
def served(*words, **environment):
    """Serve the page within."""
    process = subprocess.Popen(
        [sys.executable, "-m", "webapp", "serve", "--no-browser", "--port", "0", *words],
        cwd=ROOT, stdout=subprocess.PIPE, text=True, env={**os.environ, **environment}, preexec_fn=_take_interrupts,
    )  # fmt: skip
    try:
        yield Served(process, int(re.search(r":(\d+)/", process.stdout.readline())[1]))
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


@contextmanager
def here(**settings):
    """Serve the page from this process within, without workers, and give its address."""
    server = make_server("127.0.0.1", 0, create_app(settings), threaded=True)
    thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def _take_interrupts():
    """What starts tests in the background may have told them not to heed Ctrl-C, and their children with them."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def wait_for(what, longest_s=LONGEST_S):
    """Wait until something holds."""
    until = time.monotonic() + longest_s
    while not what():
        assert time.monotonic() < until
        time.sleep(0.01)


def form(data, **fields):
    """A drawing with the fields of its form as a body, and the header that says so."""
    pieces = [f'--x\r\nContent-Disposition: form-data; name="{n}"\r\n\r\n{v}\r\n'.encode() for n, v in fields.items()]
    head = b'--x\r\nContent-Disposition: form-data; name="file"; filename="plate.dxf"\r\n\r\n'
    return b"".join((*pieces, head, data, b"\r\n--x--\r\n")), {"Content-Type": "multipart/form-data; boundary=x"}
