"""The compose file: what each service is told is what the programs take, and started so by hand they work together."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
from contextlib import ExitStack, contextmanager

import pytest
import yaml

import parts
from tests import postgres
from tests.depth import DEEP
from tests.web.served import ROOT, Served, wait_for
from webapp import cli

FOLDER = ROOT / "containers"
COMPOSE = yaml.safe_load((FOLDER / "compose.yaml").read_text("utf-8"))
SERVICES = COMPOSE["services"]
IMAGE = (FOLDER / "Containerfile").read_text("utf-8")


def free_port():
    with socket.create_server(("127.0.0.1", 0)) as found:
        return found.getsockname()[1]


def spelled(text, **given):
    """A text with its variables as compose fills them in: `${NAME:-default}`, `${NAME:?why it is needed}`."""
    return re.sub(r"\$\{(\w+)(?::[-?]([^}]*))?\}", lambda found: given.get(found[1], found[2] or ""), text)


def words_of(service, ports):
    """The words of a service, on loopback and other ports."""
    said = [spelled(word, PLATEWRIGHT_NAME="cutter.fernhollow.example") for word in SERVICES[service]["command"]]
    for was, port in ports.items():
        said = [word.replace(f"={was}", f"={port}").replace(f":{was}", f":{port}") for word in said]
    return [word.replace("0.0.0.0", "127.0.0.1").replace("//scheduler", "//127.0.0.1") for word in said]


def test_every_service_is_wholly_described():
    assert set(SERVICES) == {"page", "scheduler", "worker", "database"}
    for name, service in SERVICES.items():
        assert set(service["networks"]) <= set(COMPOSE["networks"])
        assert set(service.get("depends_on", ())) <= set(SERVICES)
        assert {volume.partition(":")[0] for volume in service.get("volumes", ())} <= set(COMPOSE["volumes"])
        assert "outside" not in service["networks"] or name == "page"
        assert all(port.startswith("127.0.0.1:") for port in service.get("ports", ())), "only the proxy reaches it"
    assert COMPOSE["networks"]["inside"]["internal"]


def test_the_page_is_served_as_it_is_told(monkeypatch):
    """By the command's own words; it can't be left out that others reach it, so its numbers are read only."""
    asked = []
    monkeypatch.setattr("webapp.commands.serve.command.run", lambda request: asked.append(request) or 0)
    page = words_of("page", {})
    assert page[:2] == ["-m", "webapp"]
    assert cli.main(page[2:]) == 0
    assert (asked[0].port, asked[0].proxy, asked[0].name) == (8765, "any", ["cutter.fernhollow.example"])
    assert not asked[0].shop_edits


def test_the_image_holds_what_the_commands_need_and_what_is_named_is_there():
    assert 'ENTRYPOINT ["python"]' in IMAGE
    for copied in re.findall(r"^COPY (\S+)", IMAGE, re.MULTILINE):
        assert (ROOT / copied).exists()
        assert f"!{copied.removeprefix('./')}" in (FOLDER / "Containerfile.dockerignore").read_text("utf-8").split()
    assert "USER platewright" in IMAGE.partition("ENTRYPOINT")[0]


@contextmanager
def started(words, **environment):
    """A service's process within; it ends as an engine ends it."""
    process = subprocess.Popen([sys.executable, *words], cwd=ROOT, env={**os.environ, **environment})
    try:
        yield process
        process.send_signal(signal.SIGTERM)
        process.wait(60)
    finally:
        process.kill()
        process.wait()


@pytest.mark.skipif(not DEEP, reason="starts three services: for a deep run")
def test_started_by_hand_the_services_work_together(tmp_path):
    ports = {8765: free_port(), 8786: free_port()}
    kept = {"XDG_CONFIG_HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path), "XDG_CACHE_HOME": str(tmp_path)}
    with ExitStack() as stack:
        if postgres.is_there():  # as the page's environment in the compose file has it
            at = stack.enter_context(postgres.served())
            kept |= dict.fromkeys((name for name in SERVICES["page"]["environment"]), at)
        for name in ("scheduler", "worker"):
            stack.enter_context(started(words_of(name, ports), PYTHONPATH=str(ROOT), **kept))
        process = stack.enter_context(started(words_of("page", ports), **kept))
        page = Served(process, ports[8765])
        wait_for(lambda: answers(ports[8765]))
        host = {"Host": "cutter.fernhollow.example", "X-Forwarded-Proto": "https"}
        assert json.loads(page.ask("GET", "/healthz", headers=host)[2])["status"] == "ok"
        assert page.ask("GET", "/parts/gusset-triangle.dxf", headers=host)[0] == 200
        listed = page.ask("GET", "/jobs", headers=host)
        assert listed[0] == 200
        assert not postgres.is_there() or b"kept in postgresql" in listed[2]
        (tmp_path / "t.csv").write_text("part\nplate-washer\n", encoding="utf-8")
        words = ["batch", str(tmp_path / "t.csv"), "-o", str(tmp_path / "out"), "--scheduler"]
        assert cli.main([*words, f"tcp://127.0.0.1:{ports[8786]}"]) == 0
    assert (tmp_path / "out" / "001-plate-washer.dxf").read_bytes() == parts.draw("plate-washer").file("dxf")


def answers(port):
    try:
        socket.create_connection(("127.0.0.1", port)).close()
    except OSError:
        return False
    return True
