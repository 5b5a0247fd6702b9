"""Every command and block of the documents is run as it is written, in a copy of the tree as it is fetched.

Python runs in a process of its own, from the copy, and so does `./platewright list`; any other command of `platewright`
is called in this one, in the copy's folder. What comes to the same words again is run once.
"""

import importlib
import os
import re
import shutil
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path
from urllib.request import urlopen

import ezdxf
import pytest

import parts
from parts import store
from parts.export import FORMATS
from parts.shop.numbers import VARIABLE as SHOP
from parts.truing import compensation, history, true_table
from parts.truing.bend import true_bend
from tests import processes
from tests.depth import DEEP
from tests.documents import PAGES, ROOT, addresses, blocks, commands, copied, patterns
from tests.unit.truing.test_document import sheets_filled_in
from webapp import cli

PYTHON = Path(sys.executable)
LANGUAGES = {"sh", "console", "python", "toml", "text"}


def names(page):
    return page.relative_to(ROOT).as_posix()


def run(tree, *words, **more):
    environment = {**os.environ, "PYTHONPATH": str(tree)}
    return subprocess.run(words, cwd=tree, env=environment, capture_output=True, text=True, check=False, **more)


def run_here(capsys, *words):
    """As `run` of `platewright` with these words, without the time that a process takes to start."""
    capsys.readouterr()
    try:
        status = cli.main(words)
    except SystemExit as ended:
        status = ended.code
    return subprocess.CompletedProcess(words, status, *capsys.readouterr())


def as_installed(words):
    """The words as they are run here, where what start.py would bring is there."""
    if words[0] in ("platewright", "./platewright"):
        return [str(PYTHON), "-m", "webapp", *words[1:]]
    if words[:2] == ["python3", "start.py"]:
        return [str(PYTHON), "-m", "webapp", *words[2:]]
    if words[0].startswith(".venv/bin/"):
        return [str(PYTHON.with_name(Path(words[0]).name)), *words[1:]]
    return words


def served(tree, words):
    """Serve on a free port, ask for what a search finds, and end it; in an everyday run only without options."""
    asked = words[words.index("serve") :] if "serve" in words else ["serve"]
    if DEEP or len(asked) == 1:
        _serve(tree, *as_installed(words), *([] if "serve" in words else ["serve"]), "--no-browser", "--port", "0")
    else:
        cli._parsers(["serve"])[0].parse_args(asked)


@cache
def _serve(tree, *words):
    server = subprocess.Popen(words, cwd=tree, stdout=subprocess.PIPE, text=True)
    try:
        address = re.search(r"http://\S+", server.stdout.readline())[0]
        assert urlopen(f"{address}?q=gusset").status == 200
    finally:
        server.terminate()
        server.wait()
        server.stdout.close()


def collected(tree, words):
    """Let pytest take the words; what paths they name is there."""
    given = words[words.index("pytest" if "pytest" in words else "test") + 1 :]
    if "--processes" in given:  # an option of our own, which a run without our hooks doesn't know
        at = given.index("--processes")
        assert processes.number_of(given[at + 1]) >= 1
        del given[at : at + 2]
    paths = [word for word in given if word.split("/")[0] == "tests"]
    assert [path for path in paths if not (tree / path).exists()] == []
    _taken(*(word for word in given if word not in paths and word not in ("--deep", "-q")))


@cache
def _taken(*options):
    """Have pytest read the options and load what they name, as it does before it collects; it ends at a wrong one."""
    pytest.Config.fromdictargs({}, ["-c", str(ROOT / "pyproject.toml"), "--noconftest", *options])


def measured(tree, words):
    """Measure in a deep run, at a port that must be free; else see that what would do so takes slugs of templates."""
    *_, module, slug = words
    if DEEP:
        told = run(tree, *as_installed(words))
        assert told.returncode == 0, told.stderr
    assert slug in parts.templates()
    with pytest.raises(SystemExit, match=f"python -m {module} SLUG"):
        importlib.import_module(module).main(["no-template"])


def held(tree, words):
    """Measure in a deep run; else see that it knows what to ask a server for."""
    if DEEP:
        told = run(tree, *as_installed(words))
        assert told.returncode == 0, told.stdout + told.stderr
    address, typed = next(importlib.import_module(words[-1]).asked(1))
    assert re.match(r"/parts/[a-z-]+\?", address)
    assert f"&{typed}=" in address


def files_there(tree, words):
    """See that the files it reads or writes are there."""
    files = [word for word in words if word.endswith((".toml", ".lock"))]
    assert files
    assert [file for file in files if not (tree / file).exists()] == []


def helped(tree, words):
    """Ask what the command is given."""
    told = run(tree, *as_installed(words), "--help")
    assert told.returncode == 0, told.stderr


BOUNDED = {
    r"python3 start\.py|platewright serve.*": (served, "serves for ever"),
    r"python3 start\.py test.*|\.venv/bin/python -m pytest .*": (collected, "runs tests, this one maybe among them"),
    r"\.venv/bin/python -m tests\.bench\.(keys|last_key) .*": (measured, "tells how quick this machine is now"),
    r"\.venv/bin/python -m tests\.bench\.memory": (held, "draws 5,000 parts, for a quarter of an hour"),
    r"\.venv/bin/python -m tests\.bench\.(load|rows)": (helped, "tells how quick this machine is now, in minutes"),
    r"(echo cadquery \| )?uv pip compile .*": (files_there, "asks a package server"),
    r"pip install \.": (lambda tree, _: files_there(tree, ["pyproject.toml"]), "installs; tests/setup does so"),
    r"\.venv/bin/(mypy|ruff .*)": (helped, "looks through the whole tree; `start.py test` runs it first"),
    r"\.venv/bin/python docs/pictures\.py": (
        lambda tree, _: files_there(tree, ["pyproject.toml"]), "wants a browser; tests/browser/test_pictures.py runs it"
    ),
    r"platewright (check|trace|true)": (helped, "names the command within a sentence, which wants a file"),
}  # fmt: skip
"""Commands that aren't run as they are written: what is done instead, and why."""


def theirs_dxf(tree):
    drawing = parts.draw("gusset-triangle", thickness="1/4 in", process="laser").to_dxf()
    (tree / "theirs.dxf").write_text(drawing, encoding="utf-8")


def on_their_layers(tree):
    """A plate with a hole, and a line that measures it, on layers as others call them."""
    drawing = ezdxf.new(units=ezdxf.units.MM)
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 0), (120, 0), (120, 80), (0, 80)], close=True, dxfattribs={"layer": "BORDER"})
    space.add_circle((60, 40), 10, dxfattribs={"layer": "0"})
    space.add_line((0, -10), (120, -10), dxfattribs={"layer": "DIM"})
    drawing.saveas(tree / "theirs.dxf")


def fernhollow_toml(tree):
    (tree / "fernhollow.toml").write_text(blocks(ROOT / "docs" / "truing.md")[1].text, encoding="utf-8")


def filled_in(tree):
    for name, text in sheets_filled_in():
        assert (tree / f"{name}.toml").exists()
        (tree / f"{name}.toml").write_text(text, encoding="utf-8")


def entered(_):
    history.keep("Fernhollow table", blocks(ROOT / "docs" / "truing.md")[1].text)


def fernhollow_bend_toml(tree):
    (text,) = (block.text for block in blocks(ROOT / "docs" / "test-bend.md") if block.language == "toml")
    (tree / "fernhollow-bend.toml").write_text(text, encoding="utf-8")


MADE = ("rules", "templates", "rules.md", "templates.md")
"""What of the documents is made."""


def unmade(tree):
    for path in (tree / "docs" / name for name in MADE):
        shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)


def made_as_here(tree):
    """See that the documents made in a tree are those that are here, and none of them is left of what is gone."""
    here, there = ({path.relative_to(top): path.read_text("utf-8") for name in MADE for path in within(top / name)}
                   for top in (ROOT / "docs", tree / "docs"))  # fmt: skip
    assert len(there) > 100
    assert here.keys() == there.keys(), "run: python docs/build.py"
    assert [name for name, text in here.items() if there[name] != text] == [], "run: python docs/build.py"


def within(path):
    return sorted(path.iterdir()) if path.is_dir() else [path]


GIVEN = {
    "docs/build.py": unmade,
    "fernhollow-bend.toml": fernhollow_bend_toml,
    "theirs.dxf": theirs_dxf,
    "--layer BORDER=cut": on_their_layers,
    "fernhollow.toml": fernhollow_toml,
    "frame.toml targets.toml comb.toml": filled_in,
    "history --machine": entered,
}
"""What the reader has by then, where a command has these words: a drawing, the file shown, the sheets with readings."""


LEFT = {"docs/build.py": made_as_here}
"""What a command leaves in the tree: documents made in it are those that are there."""


@pytest.fixture(scope="module")
def tree(tmp_path_factory):
    return copied(tmp_path_factory.mktemp("fetched") / "platewright")


@pytest.mark.parametrize("page", PAGES, ids=names)
def test_the_commands_of_a_page_run_one_after_the_other(page, tree, monkeypatch, capsys):
    monkeypatch.chdir(tree)
    for command in dict.fromkeys(commands(page)):
        if command.is_pattern:
            continue
        instead = [of for pattern, (of, _) in BOUNDED.items() if re.fullmatch(pattern, command.line)]
        if instead:
            instead[0](tree, command.words)
            continue
        for words, give in GIVEN.items():
            if words in command.line:
                give(tree)
        told = _told(command.words, tree, capsys)
        assert told.returncode == 0, f"{command.line}\n{told.stdout}{told.stderr}"
        assert told.stdout == command.prints or not command.prints
        for words, check in LEFT.items():
            if words in command.line:
                check(tree)


def _told(words, tree, capsys):
    """What a command tells."""
    name, *others = words
    here = name == "platewright" or (name == "./platewright" and others[:1] != ["list"])
    return run_here(capsys, *others) if here else run(tree, *as_installed(words))


def test_each_bounded_command_is_in_a_page():
    shown = [command.line for page in PAGES for command in commands(page)]
    assert [pattern for pattern in BOUNDED if not any(re.fullmatch(pattern, line) for line in shown)] == []
    assert [words for words in (*GIVEN, *LEFT) if not any(words in line for line in shown)] == []


@pytest.mark.parametrize("page", PAGES, ids=names)
def test_the_python_of_a_page_runs(page, tree):
    fernhollow_toml(tree)
    for block in blocks(page):
        if block.language == "python":
            told = run(tree, str(PYTHON), "-W", "error", "-c", block.text)
            assert told.returncode == 0, told.stderr


def test_the_toml_is_what_it_is_said_to_be(own_file, capsys):
    shown = {names(page): [b.text for b in blocks(page) if b.language == "toml"] for page in PAGES}
    readings, accepted = shown.pop("docs/truing.md")
    assert len(true_table(readings).solution.readings) == len(tomllib.loads(readings)["reading"])
    assert compensation(accepted).label == "Fernhollow table"
    (strips,) = shown.pop("docs/test-bend.md")
    assert len(true_bend(tomllib.loads(strips)).test.strips) == 2
    (numbers,) = shown.pop("docs/shop-data.md")
    own_file.write_text(numbers, encoding="utf-8")
    assert os.environ[SHOP] == str(own_file)
    assert cli.main(["shop", "--check", str(own_file)]) == 0
    (rates,) = shown.pop("docs/set-up.md")
    own_file.write_text(rates, encoding="utf-8")
    assert cli.main(["shop", "--check", str(own_file)]) == 0
    assert not any(shown.values())


@pytest.mark.parametrize("page", PAGES, ids=names)
def test_a_block_says_what_it_is_in(page):
    assert {block.language for block in blocks(page)} <= LANGUAGES


def test_the_pattern_of_each_command_has_its_options():
    """Both ways: what `--help` tells, and what docs/command-line.md shows."""
    shown: dict[str, set[str]] = {}
    for line in patterns(ROOT / "docs" / "command-line.md"):
        shown.setdefault(line.split()[1], set()).update(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", line))
    assert shown == {name: options(name) for name in cli.COMMANDS}


def options(name):
    """The options of a command, of two spellings the short one, but for those that each has or a sentence explains."""
    (choices,) = (action for action in cli._parsers([name])[0]._actions if action.dest == "command")
    every = [min(of.option_strings, key=len) for of in choices.choices[name]._actions if of.option_strings]
    return {*every} - {"-h"}


def test_what_the_documents_call_is_in_parts():
    for page in PAGES:
        for name in re.findall(r"`parts\.(\w+)\(?[^`/]*`", page.read_text(encoding="utf-8")):
            assert hasattr(parts, name) or (ROOT / "parts" / name).is_dir(), f"{page.name}: parts.{name}"


STANDING_FOR = {
    "SLUG": "square-test", "PROCESS": "laser", "NUMBER": "1", "NAME": "Fernhollow", "FILE": "sheet.css",
    "RULE": "slat-tip", "KIND": "memory", "TOKEN": 22 * "A",
}  # fmt: skip
CONVERTED = {"<slug>": "SLUG", "<process>": "PROCESS", "<int:number>": "NUMBER", "<path:filename>": "FILE"}
CONVERTED |= {"<token>": "TOKEN", "<name>": "NAME"}
MADE_FIRST = {"/jobs/NUMBER/sheets/NAME", "/jobs/NUMBER/layout/NAME", "/table/TOKEN", "/table/TOKEN/files.zip"}
"""Where there is nothing until it was asked for elsewhere."""


def table():
    """The table of addresses: each with what it may be asked with."""
    text = (ROOT / "docs" / "command-line.md").read_text(encoding="utf-8").split("## Addresses")[1]
    for where, methods in re.findall(r"^\| (`/.*?) \| ([A-Z, ]+) \| .* \|$", text, flags=re.M):
        plain = [re.sub(r"\?.*", "", address) for address in re.findall(r"`(/[^`]*)`", where)]
        endings = re.findall(r"\.\w+", where.partition("also")[2])
        plain += [plain[0].rpartition(".")[0] + ending for ending in endings]
        yield from ((address, method) for address in plain for method in methods.split(", "))


@pytest.mark.parametrize("page", PAGES, ids=names)
def test_the_addresses_of_a_page_are_answered(page, client):
    entered(None)
    store.begin(store.Content("Gate"))
    only_sent = {address for address, _ in table()} - {address for address, method in table() if method == "GET"}
    for shown in addresses(page):
        plain = re.sub(r"\?(\.\.\.|name=.*)$", "", shown)
        address = re.sub(r"[A-Z]+", lambda match: STANDING_FOR[match[0]], plain)
        if plain in only_sent:
            assert client.post(address).status_code in (403, 404, 422), shown  # nothing is sent with it
        elif plain in MADE_FIRST:
            assert client.get(address).status_code == 404, shown
        else:
            assert client.get(address, follow_redirects=True).status_code == 200, shown


def test_the_table_of_addresses_is_whole(client):
    """Both ways: every address that is routed with what it may be asked with, and every one in the table."""
    assert set(table()) == {pair for rule in client.application.url_map.iter_rules() for pair in routed(rule)}


def routed(rule):
    address = re.sub(r"<(?!kind).*?>", lambda match: CONVERTED[match[0]], str(rule))
    spelled = [address.replace("<kind:kind>", kind) for kind in FORMATS] if "<kind" in address else [address]
    return [(one, method) for one in spelled for method in sorted(rule.methods - {"HEAD", "OPTIONS"})]
