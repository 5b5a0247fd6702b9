"""The search of the catalogue: by name and by what the shop calls a part, a slip of the pen allowed for."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

import parts
from parts.spec import Template
from parts.templates import family_title

LONGEST_SEARCH = 80
MOST_WORDS = 12
FEWEST_LETTERS = 4
"""Of a word that a slip of the pen is allowed for, or that may stand inside another."""

_JOINING = frozenset(["a", "an", "and", "for", "from", "of", "on", "the", "to", "with"])
"""Words that say nothing of what a part is."""

_OF_A_GUESS, _SAME = 1e-4, 1e-9
"""What a size or a guess counts for beside a word; sums that differ by less are the same."""

ALIKE = 0.8
"""How alike two words are, as difflib counts it, for one to stand for the other."""


@dataclass(frozen=True, slots=True)
class SearchResult:
    """What a search led to; `unmet` are the words that none of the templates goes by."""

    templates: Sequence[Template]
    unmet: Sequence[str] = ()


def search(sought: str) -> SearchResult:
    """Return the templates that go by every word of a search: by families, what is called so before what goes by it.

    Where none goes by every word, those whose words say most of what a part is: a drip tray is a tray.
    """
    said = re.findall(r"[^\s,;/-]+", sought.lower()[:LONGEST_SEARCH])[:MOST_WORDS]
    words = [word for word in said if word not in _JOINING] or said
    every = parts.templates()
    if not words:
        return SearchResult([*every.values()])
    slugs_of = {word: _known(word) for word in words}
    says = dict.fromkeys(every, 0.0)
    for word, slugs in slugs_of.items():
        for slug in slugs:
            says[slug] += _says(word) / len(slugs)
    most = max(says.values())
    best = [template for slug, template in every.items() if most and says[slug] > most - _SAME]
    met = {template.slug for template in best}
    return SearchResult(_in_order(best, words), [word for word, slugs in slugs_of.items() if not slugs & met])


def _says(word: str) -> float:
    """How much a word says of what a part is: next to nothing where it is a size, or is only spelled much like one."""
    names = frozenset().union(*_vocabulary().values())
    return 1.0 if word.isalpha() and any(name.startswith(word) for name in names) else _OF_A_GUESS


def _in_order(found: Sequence[Template], words: Sequence[str]) -> list[Template]:
    """Sort templates by how their titles go with the words, families whole."""

    def rank(template: Template) -> int:
        title = template.title.lower().split()
        if sorted(title) == sorted(words):
            return 0
        return 1 if all(any(name.startswith(word) for name in title) for word in words) else 2

    first: dict[str, int] = {}
    for template in found:
        first[template.family] = min(rank(template), first.get(template.family, 2))
    families = sorted(first, key=lambda family: first[family])
    return sorted(found, key=lambda template: (families.index(template.family), rank(template)))


def _known(word: str) -> frozenset[str]:
    """The slugs of the templates that go by a word, or by every piece of one that runs letters and numbers together."""
    if slugs := _going_by(word):
        return slugs
    pieces = re.findall(r"\d+|[^\W\d_]+", word)
    return frozenset.intersection(*map(_going_by, pieces)) if len(pieces) > 1 else slugs


def suggestions() -> list[str]:
    """Return a few of a shop's words, one of each family, to show what can be searched for."""
    first: dict[str, str] = {}
    for template in parts.templates().values():
        if template.words:
            first.setdefault(template.family, template.words[0])
    return list(dict.fromkeys(first.values()))


def _going_by(word: str) -> frozenset[str]:
    """The slugs of the templates that go by one word.

    The plainest sense that any template fits is the one meant: what begins with it; else what has it inside a word
    (`plate` in baseplate); else what is spelled much like it.
    """
    # a letter is the shape of a part, `l bracket`, before it is the beginning of a word
    senses = [lambda other: other == word] if len(word) == 1 else []
    senses += [lambda other: other.startswith(word)]
    if len(word) >= FEWEST_LETTERS:
        every = frozenset().union(*_vocabulary().values())
        close = set(get_close_matches(word, every, n=12, cutoff=ALIKE))
        senses += [lambda other: word in other, lambda other: other in close]
    for fits in senses:
        if found := frozenset(slug for slug, words in _vocabulary().items() if any(map(fits, words))):
            return found
    return frozenset()


@cache
def _vocabulary() -> dict[str, frozenset[str]]:
    """The words of each template by its slug."""
    return {
        slug: frozenset(re.findall(r"[^\s,;:.()/-]+", " ".join(_texts(template)).lower()))
        for slug, template in parts.templates().items()
    }


def _texts(template: Template) -> tuple[str, ...]:
    names = (preset.name for preset in template.presets)
    return (template.slug, template.title, template.summary, family_title(template.family), *template.words, *names)
