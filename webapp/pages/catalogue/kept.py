"""Small drawings kept from one start to the next, since to draw them all takes seconds: in the person's cache folder.

They are of the same code, data and libraries to the byte, or they aren't read; where nothing can be written, nothing is
kept.
"""

import importlib.metadata
import importlib.util
import json
import os
from collections.abc import Mapping
from functools import cache
from hashlib import blake2b
from pathlib import Path
from tempfile import NamedTemporaryFile

import platformdirs

import parts
from parts.templates import modules

VARIABLE = "PLATEWRIGHT_CACHE"
"""The environment variable that names another folder."""
_LIBRARIES = ("numpy", "scipy", "shapely", "fonttools", "uharfbuzz")
_PREFIX = "pictures-"


def folder() -> Path:
    """Return where they are kept."""
    given = os.environ.get(VARIABLE, "").strip()
    return Path(given).expanduser() if given else platformdirs.user_cache_path("platewright")


@cache
def key() -> str:
    """Return a digest of all that the drawings hang on: code and tables in full, maps and fonts by their sizes."""
    home, found = Path(parts.__file__).parent, blake2b(digest_size=16)
    specs = [importlib.util.find_spec(name) for name in modules().values()]
    sources = {Path(spec.origin) for spec in specs if spec and spec.origin}
    sources |= {*home.rglob("*.py"), *home.rglob("*.toml"), *Path(__file__).parent.glob("*.py")}
    for path in sorted(sources):
        found.update(path.name.encode() + b"\0" + path.read_bytes())
    for path in sorted((home / "data").rglob("*")):
        found.update(f"{path.name}\0{path.stat().st_size}\0".encode())
    for name in _LIBRARIES:
        found.update(f"{name}\0{importlib.metadata.version(name)}\0".encode())
    return found.hexdigest()


@cache
def read() -> Mapping[str, str]:
    """Return what is kept, by slug; nothing where it is of another state of the tree, or damaged."""
    try:
        found = json.loads((folder() / f"{_PREFIX}{key()}.json").read_bytes())
    except (OSError, ValueError):
        return {}
    sound = isinstance(found, dict) and all(
        isinstance(text, str) and text.startswith("<svg") for text in found.values()
    )
    return found if sound else {}


def keep(pictures: Mapping[str, str]) -> None:
    """Keep these in place of any others."""
    if pictures.keys() <= read().keys():
        return
    at = folder()
    try:
        at.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile("w", dir=at, prefix=_PREFIX, suffix=".part", delete=False, encoding="utf-8") as file:
            json.dump(dict(pictures), file)
        mine = at / f"{_PREFIX}{key()}.json"
        Path(file.name).replace(mine)
        for other in at.glob(f"{_PREFIX}*.json"):
            if other != mine:
                other.unlink(missing_ok=True)
    except OSError:
        return
    read.cache_clear()
