"""The map in DEVELOPERS.md is the tree, and its walks go through the rooms in the order they say."""

import io
import re
import sys
from pathlib import Path

import pytest

import parts
from tests.unit.test_layers import LAYER, WEB_LAYER
from webapp import create_app

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
WALKS = dict(re.findall(r"^- \*\*(.+?)\*\*(.*?)(?=\n- |\n\n)", TEXT.split("## Three walks")[1], flags=re.M | re.S))
UNSAID = {"__init__.py", "__main__.py"}
"""Modules that every package has."""


def lines():
    """Each line of the map as a path, and what it is said to be for."""
    (block,) = re.findall(r"```text\n(parts/.*?)```", TEXT, flags=re.S)
    above: list[str] = []
    for line in block.splitlines():
        indent, name, said = re.fullmatch(r"( *)(\S+) +(.*)", line).groups()
        above[len(indent) // 2 :] = [name.rstrip("/")]
        yield "/".join(above) + ("/" if name.endswith("/") else ""), said


MAP = dict(lines())


def test_every_line_of_the_map_is_in_the_tree_and_says_something():
    assert len(MAP) == len(list(lines()))
    assert [path for path in MAP if not (ROOT / path).exists() or (ROOT / path).is_dir() != path.endswith("/")] == []
    assert [path for path, said in MAP.items() if len(said.split()) < 2] == []


@pytest.mark.parametrize("top", ["parts", "webapp"])
def test_every_room_and_module_of_the_spine_is_on_the_map(top):
    here = {path.name for path in (ROOT / top).glob("*.py")} - UNSAID
    rooms = {f"{path.parent.name}/" for path in (ROOT / top).glob("*/*.py")}
    rooms |= {"templates/"}
    assert {path for path in MAP if re.fullmatch(rf"{top}/[^/]+/?", path)} == {f"{top}/{name}" for name in here | rooms}


@pytest.mark.parametrize(("top", "layer"), [("parts", LAYER), ("webapp", WEB_LAYER)])
def test_the_map_is_in_the_order_of_imports(top, layer):
    rooms = [match[1] for path in MAP if (match := re.fullmatch(rf"{top}/(\w+)(?:/|\.py)", path))]
    ranks = [layer[room] for room in rooms if (top, room) != ("webapp", "templates")]
    assert ranks == sorted(ranks)


def test_where_the_map_shows_what_is_in_a_room_it_shows_all_of_it():
    shown = {path.rsplit("/", 2)[0] for path in MAP if re.fullmatch(r"parts/\w+/\w+/", path)}
    for room in shown:
        inner = {f"{path.parent.relative_to(ROOT).as_posix()}/" for path in (ROOT / room).glob("*/__init__.py")}
        assert {path for path in MAP if path.startswith(f"{room}/") and path != f"{room}/"} == inner


def test_every_folder_of_tests_is_on_the_map():
    folders = {f"tests/{path.parent.name}/" for path in (ROOT / "tests").glob("*/*.*") if path.suffix != ".pyc"}
    assert {path for path in MAP if path.startswith("tests/")} - {"tests/"} == folders


def test_every_module_and_package_at_the_top_is_on_the_map():
    modules = {path.name for path in ROOT.glob("*.py")}
    packages = {f"{path.parent.name}/" for path in ROOT.glob("*/__init__.py")}
    assert modules | packages <= {path for path in MAP if "/" not in path.rstrip("/")}


def passed_through(do):
    """The rooms whose functions are called, in the order of the first; what is loaded only once, is before."""
    do()
    rooms: dict[str, None] = {}

    def note(frame, event, _):
        path = Path(frame.f_code.co_filename)
        if event == "call" and path.is_relative_to(ROOT):
            rooms.setdefault("/".join(path.relative_to(ROOT).with_suffix("").parts[:2]))

    sys.setprofile(note)
    try:
        do()
    finally:
        sys.setprofile(None)
    return list(rooms)


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def asked(client, walk):
    """What a walk is started by: the address in it, or a file sent there."""
    (address,) = re.findall(r"`(/[^`]+)`", WALKS[walk])
    if "sent to" not in WALKS[walk]:
        return lambda: client.get(address)
    drawing = parts.draw("gusset-triangle").to_dxf().encode()
    return lambda: client.post(address, data={"file": (io.BytesIO(drawing), "theirs.dxf"), "thickness": "6 mm"})


@pytest.mark.parametrize("walk", WALKS)
def test_a_walk_goes_through_its_rooms_in_their_order(walk, client):
    named = re.findall(r"`((?:parts|webapp)/\w+)`", WALKS[walk])
    assert len(named) >= 5
    go = asked(client, walk)
    assert go().status_code == 200
    rooms = passed_through(go)
    assert [room for room in rooms if room in named] == named, rooms


def test_there_are_the_three_walks_and_a_remedy_is_found_on_one(client):
    assert list(WALKS) == ["A dimension typed to DXF", "A finding to its remedy", "Someone's DXF to a verdict"]
    assert asked(client, "A finding to its remedy")().json["remedies"]
    assert asked(client, "Someone's DXF to a verdict")().json["findings"] == []
