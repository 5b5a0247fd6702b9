"""Paths in a table: a drawing beside it or in a folder there, and nowhere else."""

import re
from pathlib import Path

PATHS = (".dxf", ".svg")
"""Endings of drawings that a row may name."""
LARGEST_DRAWING = 40_000_000
"""Bytes of one drawing."""
_ABSOLUTE = re.compile(r"[/\\~]|[A-Za-z]:|\w+://")


def is_path(part: str) -> bool:
    """Tell whether what a row names is a file and no template."""
    return part.lower().endswith(PATHS) or "/" in part or "\\" in part


def path_fault(part: str, folder: Path) -> str:
    """Return why a drawing can't be taken; nothing where it can."""
    named = part.replace("\\", "/")
    if _ABSOLUTE.match(named) or ".." in named.split("/"):
        return "leads out of the table's folder; put the drawing beside the table, and name it from there."
    path = folder / named
    if not part.lower().endswith(PATHS):
        return "is no DXF or SVG, nor the name of a template."
    try:
        if not path.resolve().is_relative_to(folder.resolve()):
            return "is a link out of the table's folder; put the drawing itself beside the table."
        if not path.is_file():
            return "isn't there; a drawing is named as it is called beside the table, capitals too."
        if path.stat().st_size > LARGEST_DRAWING:
            return f"is over {LARGEST_DRAWING // 1_000_000} MB, more than is read of one drawing."
    except (OSError, ValueError) as error:
        return f"can't be read: {getattr(error, 'strerror', None) or error}."
    return ""
