"""What is asked for is loaded, and no more: outside libraries and rooms of our own, in a process that did one thing."""

import subprocess
import sys

import pytest

from tests.depth import DEEP

WEB = {"flask", "jinja2", "waitress", "werkzeug", "ssl", "webapp.app", "webapp.pages", "webapp.forms", "webapp.openapi"}
SLOW = {"cadquery", "OCP", "ezdxf", "reportlab", "sqlalchemy", "tomlkit"}
READERS = {"tinycss2"}  # of what someone sends: the page that checks it has it at hand
COMMANDS = {"webapp.commands.check", "webapp.commands.history", "webapp.commands.serve", "webapp.commands.true"}


def loaded(tmp_path, code, among):
    """Which of the modules are there after a piece of code ran in a process of its own."""
    out = tmp_path / "loaded.txt"
    told = f"{code}\nimport sys\nopen({str(out)!r}, 'w').write('\\n'.join(sys.modules))"
    subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    return among & set(out.read_text().splitlines())


def command(*words):
    return f"from webapp.cli import main\nassert main({list(words)!r}) == 0"


def test_drawing_at_the_command_line(tmp_path):
    code = command("draw", "gusset-triangle", "-o", str(tmp_path / "g.dxf"))
    assert loaded(tmp_path, code, WEB | SLOW | COMMANDS | READERS) == set()


@pytest.mark.parametrize("words", [["list"], ["history"]], ids=" ".join)
def test_the_other_commands(tmp_path, words):
    found = loaded(tmp_path, command(*words), WEB | SLOW | COMMANDS | READERS)
    assert found == {f"webapp.commands.{words[0]}"} & COMMANDS


def test_the_pages(tmp_path):
    """One after the other in one process: what none of them all loads, each alone doesn't.

    The whole list, which draws every template, in a deep run only.
    """
    gusset = "/parts/gusset-triangle"
    addresses = ["/" if DEEP else "/?q=gusset", gusset, "/shop", "/true", "/true/history", "/check", f"{gusset}.svg"]
    asked = f"assert all(client.get(each).status_code == 200 for each in {addresses!r})"
    code = f"from webapp import create_app\nclient = create_app().test_client()\n{asked}"
    assert loaded(tmp_path, code, SLOW | COMMANDS | {"waitress"}) == set()


def test_what_is_needed_is_seen_here(tmp_path):
    """The same reading finds what does load."""
    pdf = command("draw", "gusset-triangle", "-o", str(tmp_path / "g.pdf"))
    database = "from parts.truing.history import database"
    assert loaded(tmp_path, f"{pdf}\n{database}", SLOW) == {"reportlab", "sqlalchemy"}
