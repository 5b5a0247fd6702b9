"""An install that is really interrupted, while a package server keeps it waiting: what was there works on."""

import fcntl
import os
import signal
import subprocess
import sys

import pytest

from tests.setup.package_server import LOCKED
from tests.setup.trees import SOLIDS, TESTS, let_copy, start


@pytest.fixture
def installing(installed, bare, server):
    """A start of the tests whose install waits for a download that doesn't come, and its tree."""
    let_copy(installed, bare)
    assert start(installed, "list").returncode == 0
    for lock in (SOLIDS, TESTS):
        (installed / lock).write_text(LOCKED + "# and more\n")
    server.where, server.how = "file", "hang"
    variables = {**os.environ, **server.variables, "PIP_DEFAULT_TIMEOUT": "60"}
    command = [sys.executable, str(installed / "start.py"), "test", "--version"]
    with subprocess.Popen(command, cwd=installed, env=variables, stderr=subprocess.PIPE, text=True) as process:
        assert server.asked.wait(60)
        yield process, installed
        process.kill()


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGKILL], ids=lambda sign: sign.name)
def test_an_interrupted_install_leaves_what_was_there(installing, server, sign):
    process, tree = installing
    assert (tree / ".venv.new").is_dir()
    process.send_signal(sign)
    said = process.communicate(timeout=120)[1].splitlines()[1:] if sign == signal.SIGINT else []
    assert process.wait(30) == (130 if sign == signal.SIGINT else -sign)
    assert said == (["Stopped; what was installed before is as it was."] if sign == signal.SIGINT else [])
    assert (tree / ".venv.new").exists() is (sign != signal.SIGINT)
    server.ended.set()  # a pip that outlived its start goes on, and ends when it has no one to tell
    done = start(tree, "list", PIP_NO_INDEX="1")
    assert (done.returncode, done.stderr) == (0, "")
    with (tree / ".venv.lock").open("w") as busy:
        fcntl.flock(busy, fcntl.LOCK_EX)  # held until that pip has ended
    assert start(tree, "list").returncode == 0
    assert not (tree / ".venv.new").exists()
