"""What templates draw by its name, a symbol or a country.

It is looked for where nothing goes by a word of a search, or where the words say such a template too: `arrow sign`.
Else what a template goes by comes before what is only drawn by its name.
"""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from parts.catalogue.reading import Said
from parts.catalogue.shop_words import fillers, normal
from parts.catalogue.vocabulary import STRONG, vocabulary
from parts.templates import templates

_LITTLE = ("a", "an", "of", "the")
"""Words that no name hangs on."""
_TELLING = 3
"""Letters of a word by which a name is looked for among others: the D of a D ring names nothing."""


@dataclass(frozen=True, slots=True)
class ByName:
    """The values by slug, and the words in their normal form that name it."""

    values: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    words: frozenset[str] = frozenset()

    def __bool__(self) -> bool:
        return bool(self.values)


def named(said: Said, unknown: Collection[str]) -> ByName:
    """Return what the words of a search name that templates draw by name, the words that they go by left out.

    Args:
        said: the search.
        unknown: words of it, in their normal form, that nothing goes by.
    """
    typed = re.findall(r"[^\W\d_]+", said.words.lower())
    values, words = {}, set[str]()
    for slug, template in templates().items():
        if template.named is None:
            continue
        weights = vocabulary().weights[slug]
        left = [word for word in typed if weights.get(normal(word), 0.0) < STRONG]
        whole = [typed] if len(left) == len(typed) else [left]
        for span in (*whole, *_spans(typed, unknown), *_spans(left, unknown)):
            found = template.named(" ".join(span))
            if found and (span is not typed or _is_very_name(found, typed, unknown)):
                values[slug] = found
                words |= set(map(normal, span))
                break
    return ByName(values, frozenset(words))


def _is_very_name(values: Mapping[str, str], typed: Sequence[str], unknown: Collection[str]) -> bool:
    """Whether a search is the very name of something: a house, though a house number goes by that too; or just US."""
    is_all_unknown = all(normal(word) in unknown for word in typed)
    return is_all_unknown or " ".join(typed) in {name.lower().replace("-", " ") for name in values.values()}


def _spans(typed: Sequence[str], unknown: Collection[str]) -> Iterator[list[str]]:
    """Yield what may be a name, the longest first: words beside each other, one at least of which nothing goes by.

    New Mexico isn't Mexico, though `new` says little: with the words that say little before it is without.
    """
    for passed_over in (_LITTLE, fillers()):
        left = [word for word in typed if normal(word) not in passed_over]
        for long in range(len(left), 0, -1):
            for at in range(len(left) - long + 1):
                span = left[at : at + long]
                if any(normal(word) in unknown and len(word) >= _TELLING for word in span):
                    yield span
