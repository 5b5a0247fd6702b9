"""Which way text runs: a line cut into runs of one direction, in the order in which they stand from left to right.

run      characters that follow each other and run one way, as they are typed
level    how deep runs are nested: even from left to right, odd from right to left

Source: Unicode Standard Annex 9, "Unicode Bidirectional Algorithm", without explicit embeddings and isolates, which
nobody types on a sign (rules P2, P3, W1 to W7, N1, N2, I1, I2, L1, L2).
"""

import unicodedata
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple


class Run(NamedTuple):
    """Some characters of a line, as typed, and whether they run from right to left."""

    text: str
    start: int
    right_to_left: bool


def runs(line: str) -> list[Run]:
    """Return the runs of a line from left to right."""
    if not line:
        return []
    kinds = [unicodedata.bidirectional(character) or "L" for character in line]
    strong = next((kind for kind in kinds if kind in ("L", "R", "AL")), "L")
    base = 0 if strong == "L" else 1
    levels = _levels(_resolved(kinds, base), base)
    for i in range(len(line) - 1, -1, -1):  # L1: blanks at the end stand as the line runs
        if kinds[i] != "WS":
            break
        levels[i] = base
    return _visual(line, levels)


def mirrored(character: str) -> bool:
    """Tell whether a character is drawn mirrored from right to left, such as a bracket."""
    return bool(unicodedata.mirrored(character))


def _resolved(kinds: Sequence[str], base: int) -> list[str]:
    """The kinds of characters as L, R, EN or AN: weak and neutral ones take after their neighbours."""
    made, before, strong = list(kinds), "RL"[not base], "RL"[not base]
    for i, kind in enumerate(made):  # W1 to W3
        if kind == "NSM":
            made[i] = before
        elif kind == "EN" and strong == "AL":
            made[i] = "AN"
        if kind in ("L", "R", "AL"):
            strong = kind
        before = made[i]
    made = ["R" if kind == "AL" else kind for kind in made]
    _separators(made)
    strong = "RL"[not base]
    for i, kind in enumerate(made):  # W7
        if kind in ("L", "R"):
            strong = kind
        elif kind == "EN" and strong == "L":
            made[i] = "L"
    _neutrals(made, "RL"[not base])
    return made


def _separators(kinds: list[str]) -> None:
    """W4 to W6: one separator between two numbers, and signs beside one, belong to it; others are neutral."""
    for i in range(1, len(kinds) - 1):
        around = kinds[i - 1], kinds[i + 1]
        if kinds[i] in ("ES", "CS") and around == ("EN", "EN"):
            kinds[i] = "EN"
        elif kinds[i] == "CS" and around == ("AN", "AN"):
            kinds[i] = "AN"
    start = 0
    for kind, group in groupby(list(kinds)):
        end = start + len(list(group))
        beside = {kinds[start - 1] if start else "", kinds[end] if end < len(kinds) else ""}
        if kind == "ET":
            kinds[start:end] = ["EN" if "EN" in beside else "ON"] * (end - start)
        elif kind in ("ES", "CS"):
            kinds[start:end] = ["ON"] * (end - start)
        start = end


def _neutrals(kinds: list[str], base: str) -> None:
    """N1, N2: neutral characters run as both their neighbours do, or else as the line; numbers count as R."""
    settled = {"L": "L", "R": "R", "EN": "R", "AN": "R"}
    start = 0
    for is_neutral, group in groupby([kind not in settled for kind in kinds]):
        end = start + len(list(group))
        if is_neutral:
            left = settled[kinds[start - 1]] if start else base
            right = settled[kinds[end]] if end < len(kinds) else base
            kinds[start:end] = [left if left == right else base] * (end - start)
        start = end


def _levels(kinds: Sequence[str], base: int) -> list[int]:
    """I1, I2."""
    deeper = {"L": (0, 1), "R": (1, 0), "EN": (2, 1), "AN": (2, 1)}
    return [base + deeper[kind][base] for kind in kinds]


def _visual(line: str, levels: Sequence[int]) -> list[Run]:
    """L2: from the highest level down to the lowest odd one, what is at that level or above is turned round."""
    pieces = list(_pieces(line, levels))
    for level in range(max(levels), 0, -1):
        turned: list[tuple[int, Run]] = []
        for high, group in groupby(pieces, key=lambda piece: piece[0] >= level):
            these = list(group)
            turned += reversed(these) if high else these
        pieces = turned
    return [run for _, run in pieces]


def _pieces(line: str, levels: Sequence[int]) -> Iterator[tuple[int, Run]]:
    start = 0
    for level, group in groupby(levels):
        end = start + len(list(group))
        yield level, Run(line[start:end], start, level % 2 == 1)
        start = end
