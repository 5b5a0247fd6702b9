"""Writes the documents that come from the code: `.venv/bin/python docs/build.py`.

`templates.md` and what is in `templates/` are made from the templates' own declarations, `rules.md` from the rules'
docstrings, the pictures in `rules/` from the drawings in `examples/`, and `static/faces.svg` from the faces; a test
holds every file against this.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from docs import faces_picture, rules_page, templates_page

HERE = Path(__file__).parent
FOLDERS = ("rules", "templates")
"""What is in these is made, all of it."""


def files() -> dict[str, str]:
    """Return the text of every file that is made, by its path within `docs`."""
    return {**templates_page.files(), **rules_page.files(), **faces_picture.files()}


def main() -> None:
    """Write the files, and take away those of rules and templates that are gone."""
    made = files()
    for folder in FOLDERS:
        (HERE / folder).mkdir(exist_ok=True)
        for old in (HERE / folder).iterdir():
            if f"{folder}/{old.name}" not in made:
                old.unlink()
    for name, text in made.items():
        (HERE / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
