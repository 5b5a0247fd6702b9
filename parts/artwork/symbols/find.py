"""Finding a symbol: by its name, or by the words that the set gives it."""

import difflib
import gzip
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

_FILE = Path(__file__).parents[2] / "data" / "symbols" / "symbols.json.gz"


@cache
def drawings() -> dict[str, Any]:
    """Return each symbol by its name: its `words`, and its `path` as SVG has it, filled in a square of 256."""
    known: dict[str, Any] = json.loads(gzip.decompress(_FILE.read_bytes()))
    return known


@cache
def symbol_names() -> tuple[str, ...]:
    """Return the names of all symbols, in their order."""
    return tuple(sorted(drawings()))


def named(words: str) -> str:
    """Return the symbol whose name words are, or the shortest that has them all in it; one or many is the same."""
    asked = [{word, word + "s", word.removesuffix("s")} for word in re.findall(r"[a-z0-9]+", words.casefold())]
    names = (name for name in symbol_names() if asked and all(ways & set(name.split("-")) for ways in asked))
    return min(names, key=lambda name: (name.count("-"), len(name), name), default="")


def called(words: str, most: int = 6) -> tuple[str, ...]:
    """Return the symbols that words call, best first; the one of that very name alone."""
    asked = re.findall(r"[a-z0-9]+", words.casefold())
    if (name := "-".join(asked)) in drawings():
        return (name,)
    ranked = sorted((rank, len(known), known) for known in symbol_names() if (rank := _rank(known, asked)) is not None)
    if ranked:
        return tuple(known for _, _, known in ranked[:most])
    return tuple(difflib.get_close_matches(name, symbol_names(), most, 0.6))


def _rank(name: str, asked: list[str]) -> int | None:
    """How far down a symbol comes: first where all words are its name's, then its words', then begin one of them."""
    of_name, given = set(name.split("-")), drawings()[name]["words"]
    every = of_name | {word for tag in given for word in re.findall(r"[a-z0-9]+", tag.casefold())}
    if not asked:
        return None
    if all(word in of_name for word in asked):
        return 0
    if all(word in every for word in asked):
        return 1
    return 2 if all(any(known.startswith(word) for known in every) for word in asked if len(word) > 2) else None
