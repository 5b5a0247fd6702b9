"""The template of DEVELOPERS.md, or another text in its place, put into the library for one test."""

import importlib
import re
import sys
from contextlib import contextmanager
from pathlib import Path

import parts
from parts.catalogue import spelling, vocabulary
from webapp.pages.catalogue import kept, thumbnails
from webapp.pages.part import presets

library = importlib.import_module("parts.templates")
family = importlib.import_module("parts.templates.plate")
ROOT = Path(__file__).parents[1]
SLUG = "plate-drawbar"
NAME = "parts.templates.plate.drawbar"
CACHES = (
    *(library.modules, library.template, library.templates, library.broken, library.as_it_comes),
    *(thumbnails.thumbnail, thumbnails._scale, kept.key, kept.read, vocabulary, spelling.meanings, presets._presets),
)


def block():
    """The Python in the chapter on adding a template."""
    chapter = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## Adding a template")[1].split("\n## ")[0]
    (found,) = re.findall(r"```python\n(.*?)```", chapter, flags=re.S)
    return found


@contextmanager
def added(text, folder, monkeypatch):
    """The library with a module `plate/drawbar.py` of this text in a second folder; afterwards as it was."""
    before = list(parts.templates())
    (folder / "drawbar.py").write_text(text, encoding="utf-8")
    with monkeypatch.context() as patch:
        patch.setattr(family, "__path__", [*family.__path__, str(folder)])
        _forget()
        yield
    _forget()
    sys.modules.pop(NAME, None)
    vars(family).pop("drawbar", None)
    assert list(parts.templates()) == before


def _forget():
    importlib.invalidate_caches()
    for cached in CACHES:
        cached.cache_clear()
