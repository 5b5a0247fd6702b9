"""What a shop calls things: `parts/data/shop_words.toml`, which anyone can extend, and a word's normal form.

normal form  a word as it is looked for: small, without the s of a plural, in the spelling that stands first
"""

from collections.abc import Iterator, Mapping
from functools import cache

from parts.data import FOLDER, Table, Text, load
from parts.errors import DataError

FILE = "shop_words.toml"
_PLURALS_IN_ES = ("sses", "shes", "ches", "xes", "zes")
_NO_PLURALS = ("ss", "us", "is", "as", "os")
_SHORTEST_PLURAL = 4


class Kind(Table):
    """A kind of part: its plain name, in words of its title or slug, and what else it is called."""

    called: tuple[Text, ...]
    is_: Text

    model_config = Table.model_config | {"alias_generator": lambda name: name.rstrip("_")}


class ShopWords(Table):
    """The file: words passed over, spellings of one word, words for one thing, and kinds of part."""

    fillers: tuple[Text, ...]
    spellings: tuple[tuple[Text, ...], ...]
    same: tuple[tuple[Text, ...], ...]
    kind: tuple[Kind, ...]


@cache
def shop_words() -> ShopWords:
    """Return the shop's words.

    Raises:
        DataError: the file can't be read, or holds something unusable; names the entry and what is accepted.
    """
    words = load(FILE, ShopWords)
    for fault in _faults(words):
        raise DataError(f"{FOLDER / FILE}: {fault}.")
    return words


def _faults(words: ShopWords) -> Iterator[str]:
    """Yield what the model can't tell: a group of one word, a kind that is called nothing, a word spelled twice."""
    for name, groups in (("spellings", words.spellings), ("same", words.same)):
        for place, group in enumerate(groups, 1):
            if len(group) < 2:
                yield f"{name} number {place} is {list(group)!r}; it must have two words at least"
    for kind in words.kind:
        if not kind.called:
            yield f"the kind {kind.is_!r} is called nothing; give it one name at least"
    seen: dict[str, str] = {}
    for word, first in ((word, group[0]) for group in words.spellings for word in group):
        if word in seen:
            yield f"{word!r} is spelled twice, as {seen[word]!r} and as {first!r}; choose one"
        seen[word] = first


def normal(word: str) -> str:
    """Return the normal form of one word; a letter stays as it is but for its spelling."""
    one = _singular(word.lower())
    return _spelled().get(one, one)


@cache
def fillers() -> frozenset[str]:
    """Return the words that say nothing of what a part is."""
    return frozenset(shop_words().fillers)


@cache
def _spelled() -> Mapping[str, str]:
    return {_singular(word): _singular(group[0]) for group in shop_words().spellings for word in group}


def _singular(word: str) -> str:
    if len(word) < _SHORTEST_PLURAL or not word.endswith("s") or word.endswith(_NO_PLURALS):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-2] if word.endswith(_PLURALS_IN_ES) else word[:-1]
