"""Our sources, read once for all tests that look through them."""

import ast
from functools import cache
from pathlib import Path


@cache
def parsed(path: Path) -> ast.Module:
    """The tree of a module."""
    return ast.parse(path.read_text("utf-8"))
