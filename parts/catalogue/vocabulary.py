"""How much each word says for each template: of its title and slug most, then of what a shop calls it.

weight  1 for a word of the title, less for one that stands where it says less; a template goes by a word in so far
rarity  how much a word tells templates apart: the fewer go by it, the more
"""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from parts.cached import cached_property
from parts.catalogue.shop_words import fillers, normal, shop_words
from parts.spec import Template
from parts.templates import family_title, templates

_TITLE, _VARIANT, _FAMILY_IN_SLUG = 1.0, 1.0, 0.55
_SHOP_WORD, _IN_A_PHRASE, _LATER = 0.8, 0.6, 0.01
_SUMMARY, _FAMILY, _PRESET = 0.2, 0.4, 0.1
STRONG = 0.5
"""From this weight on a template counts among those that go by a word."""


@dataclass(frozen=True)
class Vocabulary:
    """What the library goes by: by template the weights of its words, and its names word by word.

    `names` are title and shop words as sequences; `kinds` are phrases, each with the slugs of the templates it means;
    `same` the other words for each word or phrase.
    """

    weights: Mapping[str, Mapping[str, float]]
    titles: Mapping[str, tuple[str, ...]]
    names: Mapping[str, frozenset[tuple[str, ...]]]
    kinds: Mapping[tuple[str, ...], frozenset[str]]
    same: Mapping[tuple[str, ...], tuple[tuple[str, ...], ...]]
    rarity: Mapping[str, float]

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word that leads somewhere."""
        phrases = (word for phrase in (*self.kinds, *self.same) for word in phrase)
        return frozenset(self.rarity) | frozenset(phrases)


def words_in(text: str) -> list[str]:
    """Return the words of a text in their normal form, letters and numbers apart."""
    return [normal(word) for word in re.findall(r"[^\W\d_]+|[0-9]+", text.lower().replace("'s ", " "))]


def telling(text: str) -> tuple[str, ...]:
    """Return the words of a phrase without fillers; all of them where there are only fillers."""
    words = words_in(text)
    return tuple(word for word in words if word not in fillers()) or tuple(words)


@cache
def vocabulary() -> Vocabulary:
    """Return what the library goes by.

    Raises:
        DataError: the file of shop words can't be used.
    """
    every = templates()
    weights = {slug: _weights(template) for slug, template in every.items()}
    titles = {slug: telling(template.title) for slug, template in every.items()}
    phrases = {slug: frozenset(map(telling, (t.title, t.slug, *t.words))) for slug, t in every.items()}
    kinds = _kinds(every)
    return Vocabulary(weights, titles, phrases, kinds, _same(), _rarity(weights, kinds))


def _weights(template: Template) -> Mapping[str, float]:
    """The greatest weight of each word of a template."""
    found: dict[str, float] = {}
    for word, weight in _weighed(template):
        found[word] = max(weight, found.get(word, 0.0))
    return found


def _weighed(template: Template) -> Iterator[tuple[str, float]]:
    family, _, variant = template.slug.partition("-")
    yield from _each(template.title, _TITLE)
    yield from _each(variant, _VARIANT)
    yield from _each(family, _FAMILY_IN_SLUG)
    yield from _each(family_title(template.family), _FAMILY)
    yield from _each(template.summary, _SUMMARY)
    for preset in template.presets:
        yield from _each(preset.name, _PRESET)
    for place, phrase in enumerate(template.words):
        words = telling(phrase)
        yield from ((word, (_IN_A_PHRASE if len(words) > 1 else _SHOP_WORD) - _LATER * place) for word in words)


def _each(text: str, weight: float) -> Iterator[tuple[str, float]]:
    yield from ((word, weight) for word in telling(text))


def _kinds(every: Mapping[str, Template]) -> Mapping[tuple[str, ...], frozenset[str]]:
    """The templates that each name of a kind means; one whose template isn't in the library means none."""
    found: dict[tuple[str, ...], frozenset[str]] = {}
    for kind in shop_words().kind:
        meant = meant_by(kind.is_, every)
        if not meant:
            continue
        for name in (kind.is_, *kind.called):
            found[telling(name)] = found.get(telling(name), frozenset()) | meant
    return found


def meant_by(name: str, every: Mapping[str, Template]) -> frozenset[str]:
    """Return the templates whose title and slug hold every word of a plain name, the closest of them."""
    wanted = set(telling(name))
    fit = {slug: {*telling(t.title), *telling(t.slug)} for slug, t in every.items()}
    fit = {slug: words for slug, words in fit.items() if wanted <= words}
    exact = {slug for slug in fit if wanted in ({*telling(every[slug].title)}, {*telling(every[slug].slug)})}
    return frozenset(exact or fit)


def _same() -> Mapping[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for group in shop_words().same:
        forms = [telling(word) for word in group]
        for form in forms:
            found.setdefault(form, []).extend(other for other in forms if other != form)
    return {form: tuple(dict.fromkeys(others)) for form, others in found.items()}


def _rarity(
    weights: Mapping[str, Mapping[str, float]], kinds: Mapping[tuple[str, ...], Sequence[str] | frozenset[str]]
) -> Mapping[str, float]:
    going: dict[str, set[str]] = {}
    for slug, words in weights.items():
        for word, weight in words.items():
            going.setdefault(word, set()).update([slug] if weight >= STRONG else [])
    for phrase, slugs in kinds.items():
        for word in phrase:
            going.setdefault(word, set()).update(slugs)
    return {word: math.log(1 + len(weights) / max(1, len(slugs))) for word, slugs in going.items()}
