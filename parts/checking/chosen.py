"""Chosen: what is said of layers and outlines, as text: `BORDER=cut`, `0,0,210,297=aside`."""

from collections.abc import Iterable, Mapping
from typing import TypeVar

from parts.errors import Problem, Refused
from parts.geometry import Box
from parts.read import ROLES, Role, shown
from parts.units import parse_number

LAYER, OUTLINE = "layer", "outline"
"""What a choice is called: an option of the command, a field of the form."""
_T = TypeVar("_T")
_OUTLINE_ROLES = {"cut": True, "aside": False}


def layer_roles(texts: Iterable[str]) -> dict[str, Role]:
    """Return the role of each layer, from texts like `NAME=cut`; the name may hold further equals signs.

    Raises:
        Refused: if one isn't written so, or a layer is given two roles; the problem's parameter is `layer`.
    """
    return _read(LAYER, texts, {role: role for role in ROLES}, f"NAME=ROLE, the role {_either(ROLES)}")


def outline_boxes(texts: Iterable[str]) -> dict[Box, bool]:
    """Return whether each outline is cut, by its box, from texts like `0,0,210,297=aside`.

    Raises:
        Refused: if one isn't written so, or an outline is both; the problem's parameter is `outline`.
    """
    wanted = "LEFT,LOW,RIGHT,HIGH=ROLE in the drawing's own units, the role cut or aside"
    chosen = _read(OUTLINE, texts, _OUTLINE_ROLES, wanted)
    return {_box(text, wanted): cut for text, cut in chosen.items()}


def _read(kind: str, texts: Iterable[str], roles: Mapping[str, _T], wanted: str) -> dict[str, _T]:
    found: dict[str, _T] = {}
    problems = []
    for text in texts:
        name, equals, said = text.rpartition("=")
        role = roles.get(said.strip().lower())
        if not equals or role is None:
            problems.append(Problem(kind, shown(text), f"must be written {wanted}."))
        elif found.setdefault(name, role) != role:
            problems.append(Problem(kind, shown(text), "is given another role before; give it one."))
    if problems:
        raise Refused(tuple(problems))
    return found


def _box(text: str, wanted: str) -> Box:
    try:
        left, low, right, high = map(parse_number, text.split(","))
    except ValueError:  # UnitsError is one
        raise Refused((Problem(OUTLINE, shown(text), f"must be written {wanted}."),)) from None
    return left, low, right, high


def _either(names: Iterable[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} or {last}"
