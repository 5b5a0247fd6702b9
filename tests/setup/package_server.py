"""A package server on this machine that gives out one package, or fails in a way it is told to."""

import hashlib
import io
import threading
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

NAME = "shop-bell"
WHEEL = "shop_bell-1-py3-none-any.whl"
_FILES = {
    "shop_bell/__init__.py": "def ring():\n    print('ding')\n",
    "shop_bell/clapper.py": "",
    "shop_bell-1.dist-info/METADATA": "Metadata-Version: 2.1\nName: shop-bell\nVersion: 1\n",
    "shop_bell-1.dist-info/WHEEL": "Wheel-Version: 1.0\nGenerator: by hand\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    "shop_bell-1.dist-info/entry_points.txt": "[console_scripts]\nring-bell = shop_bell:ring\n",
    "shop_bell-1.dist-info/RECORD": "",
}


def wheel() -> bytes:
    """Return the package as a file that pip installs."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name, text in _FILES.items():
            archive.writestr(zipfile.ZipInfo(name), text)
    return stream.getvalue()


LOCKED = f"{NAME}==1 \\\n    --hash=sha256:{hashlib.sha256(wheel()).hexdigest()}\n"


class PackageServer(ThreadingHTTPServer):
    """Where it fails: at the `index` or the `file`; how: an HTTP status, `hang` or `cut`. `asked` says what was."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Answer)
        self.where, self.how = "", ""
        self.asked = threading.Event()
        self.ended = threading.Event()

    @property
    def variables(self) -> dict[str, str]:
        """What sends pip here and nowhere else, and lets it give up soon."""
        return {
            "PIP_INDEX_URL": f"http://127.0.0.1:{self.server_port}/",
            "PIP_CONFIG_FILE": "/dev/null",
            "PIP_FIND_LINKS": "",
            "PIP_EXTRA_INDEX_URL": "",
            "PIP_NO_INDEX": "0",
            "PIP_NO_CACHE_DIR": "1",
            "PIP_RETRIES": "1",
            "PIP_DEFAULT_TIMEOUT": "1",
        }


class _Answer(BaseHTTPRequestHandler):
    server: PackageServer

    def do_GET(self) -> None:
        is_file = self.path.endswith(".whl")
        if self.server.where == ("file" if is_file else "index"):
            self._fail(self.server.how)
        elif is_file:
            self._send("application/zip", wheel())
        else:
            self._send("text/html", f'<a href="/{WHEEL}">{WHEEL}</a>'.encode())

    def _fail(self, how: str) -> None:
        self.server.asked.set()
        if how == "hang":
            self.server.ended.wait(300)
        elif how == "cut":
            self._send("text/html", b"<a", length=100_000)
        else:
            self.send_error(int(how))

    def _send(self, kind: str, body: bytes, length: int = 0) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(length or len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Say nothing: a test's output is its own."""


@contextmanager
def serving() -> Iterator[PackageServer]:
    """Give a running server, ended with the block."""
    with PackageServer() as server:
        threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
        yield server
        server.ended.set()
        server.shutdown()
