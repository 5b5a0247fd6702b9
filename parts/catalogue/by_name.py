"""What templates draw by its name, a symbol or a country.

It is looked for where nothing goes by a word of a search, or where the words say such a template too: `arrow sign`.
Else what a template goes by comes before what is only drawn by its name.
"""

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from parts.catalogue.reading import Said
from parts.catalogue.shop_words import fillers, normal
from parts.catalogue.vocabulary import vocabulary
from parts.templates import templates

_LITTLE = ("a", "an", "of", "the")
"""Words that no name hangs on."""


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
        left = [word for word in typed if normal(word) not in vocabulary().weights[slug]]
        is_asked = template.named and (unknown or len(left) < len(typed))
        for passed_over in (
            (_LITTLE, fillers()) if is_asked else ()
        ):  # New Mexico isn't Mexico, though `new` says little
            name = [word for word in left if normal(word) not in passed_over]
            if name and template.named and (found := template.named(" ".join(name))):
                values[slug] = found
                words |= set(map(normal, name))
                break
    return ByName(values, frozenset(words))
