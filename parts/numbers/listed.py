"""Every number of the data as it is in force, found by going through the data: what is in it is listed.

What a rule reads, it names in its `NUMBERS`, by the beginning of a path without process and group: `kerf`,
`machine.slat_pitch_mm`, `rules.torch-slow`.
"""

from collections.abc import Iterable
from functools import cache, lru_cache

from parts import shop
from parts.data import FOLDER, kind_of, read
from parts.numbers.number import Number, unit_of
from parts.numbers.walk import Leaf, leaves
from parts.numbers.words import keyed, named, topic, used_for
from parts.rules import RULES

SHAPES = frozenset({"choices.toml", "fonts.toml", "inch_sizes.toml", "lettering.toml", "shop_words.toml"})
"""Files of shapes that are drawn, of sizes to choose from, and of words: nothing is judged by a number in them."""

SHARED = ("bed.", "sheet.", "machine.", "brake.", "rules.", "edge_distance.", "bolts.", "hole_making.")
"""What the numbers begin with that every process goes by."""


def every() -> tuple[Number, ...]:
    """Return every number in force, the shop's own over the built-in ones, in the order of the data.

    Raises:
        DataError: the shop's own file, or a built-in one, can't be used.
    """
    return (*_of_shop(shop.edition()), *of_files())


def told_of(numbers: Iterable[Number], rule: str = "", kind: str = "", process: str = "") -> tuple[Number, ...]:
    """Return those that a rule reads, that are of a kind, that hold for a process; empty asks for all."""
    return tuple(
        number
        for number in numbers
        if (not rule or rule in number.rules)
        and (not kind or kind == number.kind)
        and (not process or number.name.startswith((f"processes.{process}.", *SHARED)))
    )


@lru_cache(maxsize=4)
def _of_shop(at: shop.Edition) -> tuple[Number, ...]:
    own = shop.own_entries(at)
    return tuple(_number(leaf, own) for leaf in leaves(shop.load(at).model_dump(by_alias=True, exclude={"cautions"})))


@cache
def of_files() -> tuple[Number, ...]:
    """Return the numbers of the files that no shop has its own of.

    Raises:
        DataError: one of them can't be read.
    """
    return tuple(
        _number(Leaf((path.stem, *leaf.path), leaf.keys, leaf.setting, leaf.value, leaf.source), frozenset())
        for path in sorted(FOLDER.glob("*.toml"))
        if path.name not in (*shop.BUILT_IN, *SHAPES)
        for leaf in leaves(read(path))
    )


def _number(leaf: Leaf, own: frozenset[tuple[str, ...]]) -> Number:
    path = named(leaf.path)
    name = ".".join(path)
    return Number(
        name=name,
        holds_at=", ".join((*leaf.keys, *keyed(leaf.path))),
        value=leaf.value,
        unit=unit_of(".".join(leaf.path)) or unit_of(name),
        used_for=used_for(path),
        rules=read_by(topic(path)),
        kind=kind_of(leaf.source, own=leaf.path in own),
        source=leaf.source,
        setting=leaf.setting,
    )


@lru_cache(maxsize=1024)
def read_by(path: tuple[str, ...]) -> tuple[str, ...]:
    """Return the rules that read a number, by its path as they name it."""
    return tuple(rule.RULE for rule in RULES if any(names(each, path) for each in rule.NUMBERS))


def names(named: str, path: tuple[str, ...]) -> bool:
    """Tell whether what a rule names takes in a path."""
    words = tuple(named.split("."))
    return path[: len(words)] == words
