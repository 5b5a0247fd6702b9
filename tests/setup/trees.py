"""Trees with a copy of the set-up script, locks that ask for little, and a stand-in for the command line."""

import importlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE, SOLIDS = "requirements.lock", "requirements-solids.lock"
CLUSTER, TESTS = "requirements-cluster.lock", "requirements-test.lock"
SCRIPTS = ("start.py", "setup_environment.py", "setup_troubles.py", "platewright")
REPORTER = """
import json, os, sys
from pathlib import Path

def main():
    Path("said.txt").write_text("relative to the person's folder")
    note = os.environ["PLATEWRIGHT_SOLIDS"]
    why = Path(note).read_text() if Path(note).exists() else None
    about = {"words": sys.argv, "cwd": os.getcwd(), "python": sys.prefix, "path": sys.path, "solids": why}
    print(json.dumps(about), flush=True)
    if sys.argv[1:2] == ["serve"]:
        sys.stdin.read()
    return int(sys.argv[2]) if sys.argv[1:2] == ["end"] else None
"""

MAKES = """
import shutil, sys, time
from pathlib import Path

if __name__ == "__main__":
    while (Path(__file__).parent / "waits").exists():
        time.sleep(0.01)
    shutil.copytree({made!r}, sys.argv[-1], symlinks=True)
"""
"""Stands for `venv` in a tree: copies what that made elsewhere, once nothing called `waits` is in the tree."""


def make_tree(root):
    (root / "webapp").mkdir(parents=True)
    for name in SCRIPTS:
        shutil.copy(ROOT / name, root)
    (root / "webapp" / "__init__.py").touch()
    (root / "webapp" / "cli.py").write_text(REPORTER)
    for lock in (PAGE, SOLIDS, CLUSTER, TESTS):
        (root / lock).write_text(f"# {lock}: nothing to fetch\n")
    return root


def modules_of(root, monkeypatch):
    """The copy of start.py in a tree as a module, which has the others."""
    names = ("start", "setup_environment", "setup_troubles")
    monkeypatch.setattr(sys, "path", [str(root), *sys.path])
    for name in names:
        sys.modules.pop(name, None)
    start = importlib.import_module("start")
    for name in names:
        del sys.modules[name]
    return start


def copy_of(root, target):
    """Copy an environment, or a tree that has one, but for the thousand files of pip: a link serves as well."""
    shutil.copytree(root, target, symlinks=True, ignore=shutil.ignore_patterns("pip", "setuptools", "pkg_resources"))
    for top in root.glob("**/site-packages"):
        for name in ("pip", "setuptools", "pkg_resources"):
            if (top / name).exists():
                (target / top.relative_to(root) / name).symlink_to((top / name).resolve())
    for pip in root.glob("**/bin/pip"):
        shutil.copy(pip, target / pip.relative_to(root))
    return target


def bare_copy(venv, target):
    """Copy an environment as it is before anything is installed in it."""
    copy_of(venv, target)
    for path in (target / "installed.json", *target.glob("lib/*/site-packages/shop_bell*"), target / "bin/ring-bell"):
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    return target


def let_copy(tree, bare):
    """Let environments in a tree be made without the seconds that `venv` takes, as copies of a bare one."""
    (tree / "venv.py").write_text(MAKES.format(made=str(bare)))


def pretend_installed(kept, venv):
    """An environment that has a Python, which finds its own packages, and one of them."""
    python = venv / kept.SCRIPTS / "python"
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    (venv / "pyvenv.cfg").write_text(f"home = {Path(sys.executable).resolve().parent}\n")
    package = venv / "lib/python{}.{}/site-packages/cadquery".format(*sys.version_info[:2])
    package.mkdir(parents=True)
    (package / "__init__.py").touch()


def start(tree, *words, cwd=None, python=(), **variables):
    """Run the script as a person would, from another folder than its own unless told."""
    command = [*(python or [sys.executable, str(tree / "start.py")]), *words]
    environment = {**os.environ, **variables}
    return subprocess.run(
        command, cwd=cwd or tree.parent, env=environment, stdin=subprocess.DEVNULL, capture_output=True, text=True
    )
