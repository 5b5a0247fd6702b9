"""Platewright as a package: what is built without a network serves the page, from a folder outside the checkout.

An everyday run builds it by way of an sdist, a deep run without that too.
"""

import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from tests.depth import DEEP
from tests.setup.trees import ROOT

ASK = """
import sys
from pathlib import Path
import parts, webapp
assert Path(parts.__file__).is_relative_to(sys.argv[1]) and Path(webapp.__file__).is_relative_to(sys.argv[1])
client = webapp.create_app().test_client()
for address in sys.argv[2:]:
    answer = client.get(address)
    assert (answer.status_code, bool(answer.data)) == (200, True), (address, answer.status_code)
print(client.get("/healthz").json["version"], len(parts.templates()))
"""
SHIPPED = ("parts", "webapp", "static")
PLAIN = ("pyproject.toml", "setup.py", "README.md", "LICENSE")
BUILD = "import sys; from setuptools import build_meta; getattr(build_meta, sys.argv[1])(sys.argv[2])"
WAYS = ("sdist", "wheel") if DEEP else ("sdist",)


def build(source, kind, target):
    """Build a wheel or an sdist of a tree, as pip does without isolation, and return the file."""
    command = [sys.executable, "-c", BUILD, f"build_{kind}", str(target)]
    run = subprocess.run(command, cwd=source, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    (built,) = target.iterdir()
    return built


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """The wheel of the sdist of a copy of this tree, and its wheel without that, by way."""
    folder = tmp_path_factory.mktemp("build")
    source = folder / "source"
    for name in SHIPPED:
        shutil.copytree(ROOT / name, source / name)
    for name in PLAIN:
        shutil.copy(ROOT / name, source)
    sdist = build(source, "sdist", folder / "unpacked")
    with tarfile.open(sdist) as archive:
        archive.extractall(folder / "unpacked", filter="data")
    sdist.unlink()
    (unpacked,) = (folder / "unpacked").iterdir()
    return {way: build(unpacked if way == "sdist" else source, "wheel", folder / way) for way in WAYS}


def contents(wheel):
    """All that is in a wheel, but what is said there of itself."""
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist() if ".dist-info/" not in name}


@pytest.mark.parametrize("way", WAYS)
def test_all_that_the_tree_ships_is_in_as_it_is(built, way):
    paths = [path for name in SHIPPED for path in (ROOT / name).rglob("*") if path.is_file() and path.suffix != ".pyc"]
    wanted = {path.relative_to(ROOT).as_posix(): path.read_bytes() for path in paths}
    wanted = {f"webapp/{name}" if name.startswith("static/") else name: data for name, data in wanted.items()}
    assert len(wanted) > 300
    found = contents(built[way])
    assert set(found) == set(wanted)
    assert [name for name, data in wanted.items() if found[name] != data] == []


def test_an_installation_serves_page_style_script_and_type(built, tmp_path):
    """Of the wheel by way of an sdist, the longer one; of the list only what a search finds, as each is drawn."""
    target, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    elsewhere.mkdir()
    pip = [sys.executable, "-m", "pip", "install", "--no-deps", "--no-index", "--no-compile", "--target", str(target)]
    subprocess.run([*pip, str(built["sdist"])], check=True, capture_output=True)
    static = [f"/static/{path.relative_to(ROOT / 'static').as_posix()}" for path in (ROOT / "static").rglob("*.*")]
    pages = ["/?q=gusset", "/openapi.json", *(f"/parts/gusset-triangle{ending}" for ending in ("", ".dxf", ".pdf"))]
    command = [sys.executable, "-P", "-c", ASK, str(target), *pages, *static]
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    environment["PYTHONPATH"] = str(target)
    run = subprocess.run(command, cwd=elsewhere, env=environment, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    version, count = run.stdout.split()
    assert f'version = "{version}"' in (ROOT / "pyproject.toml").read_text()
    assert int(count) > 60
    scripts = [Path(path).name for path in (target / "bin").iterdir()]
    assert scripts == ["platewright"]
