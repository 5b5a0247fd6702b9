"""The search of the catalogue: by name and by what the shop calls a part, a slip of the pen allowed for."""

import re
from collections.abc import Sequence
from difflib import get_close_matches
from functools import cache

import parts
from parts.template import Template
from parts.templates import family_title

LONGEST_SEARCH = 80
MOST_WORDS = 12
FEWEST_LETTERS = 4
"""Of a word that a slip of the pen is allowed for, or that may stand inside another."""

ALIKE = 0.8
"""How alike two words are, as difflib counts it, for one to stand for the other."""


def search(sought: str) -> Sequence[Template]:
    """Return the templates that go by every word of a search, in the order of the catalogue."""
    words = re.findall(r"[^\s,;/-]+", sought.lower()[:LONGEST_SEARCH])[:MOST_WORDS]
    found = [_going_by(word) for word in words]
    return [template for slug, template in parts.templates().items() if all(slug in slugs for slugs in found)]


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
