"""An install that is really interrupted, while a package server keeps it waiting: what was there works on."""

import os
import signal
import subprocess
import sys

import pytest

from tests.setup.package_server import LOCKED
from tests.setup.trees import SOLIDS, TESTS, start


@pytest.fixture
def installing(installed, server):
    """A start of the tests whose install waits for a download that doesn't come, and its tree."""
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


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL], ids=lambda sign: sign.name)
def test_an_interrupted_install_leaves_what_was_there(installing, server, sign):
    process, tree = installing
    assert (tree / ".venv.new").is_dir()
    process.send_signal(sign)
    said = process.communicate(timeout=30)[1].splitlines()[1:] if sign == signal.SIGINT else []
    assert process.wait(30) == (130 if sign == signal.SIGINT else -sign)
    assert said == (["Stopped; what was installed before is as it was."] if sign == signal.SIGINT else [])
    assert (tree / ".venv.new").exists() is (sign != signal.SIGINT)
    server.where = ""  # lets a pip that outlived its start go on
    server.ended.set()
    done = start(tree, "list", PIP_NO_INDEX="1")
    assert (done.returncode, done.stderr) == (0, "")


def test_a_failed_install_is_made_good_by_the_next_start(installing, server):
    process, tree = installing
    process.send_signal(signal.SIGINT)
    process.communicate(timeout=30)
    server.where = ""
    done = start(tree, "draw", "-o", "x.step", **server.variables)
    assert (done.returncode, done.stderr.splitlines()[-1]) == (0, "Installed.")
    assert not (tree / ".venv.new").exists()
    assert not (tree / ".venv.old").exists()
