"""The search: templates in the order in which they fit what was typed, best first.

term      a typed word, with the known words it may stand for
evidence  how well a term goes with a template, from 0 to about 1: the weight of the word there, or the name of a kind
          that it is part of
score     the evidence of all terms, rare words counting more, and a little for how much of the title was said
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from parts.catalogue.by_name import named
from parts.catalogue.reading import Said, read
from parts.catalogue.shop_words import fillers
from parts.catalogue.spelling import meanings, nearest
from parts.catalogue.stock import material_of
from parts.catalogue.vocabulary import Vocabulary, vocabulary, words_in
from parts.spec import Template
from parts.templates import templates

_KIND, _LONG_KIND, _EACH_MORE = 1.05, 1.25, 0.08
"""What the name of a kind counts for: of one word, of two, and for each word beyond."""
_OTHER_WORD = 0.75
"""What another word for the same counts for beside the word itself."""
_WHOLE_NAME, _WHOLE_WORD, _TITLE_SAID, _SAME_HEAD = 0.3, 0.15, 0.12, 0.08
_SHOWN, _LEAST, _FEW = 0.5, 0.25, 3
"""Of the best score, from which on a template is shown, and from which on where fewer than a few would be."""
_LONGEST_KIND = 4
_BY_NAME, _NAMED_TOO = 1.2, 0.35
"""What the name of something that a template draws by name counts: where nothing else goes by it, and where some do."""
_NAMED_BESIDE = 0.9
"""The same, of the best score, where another word says what the thing is: the Texas of a Texas sign."""
MOST_WORDS = 12

Meanings = tuple[tuple[tuple[str, ...], float], ...]


@dataclass(frozen=True, slots=True)
class Found:
    """What a search led to, best first.

    `unmet` are words that nothing goes by, `read_as` those that were taken for others, with these. `is_near` tells that
    nothing fits, and that what is shown is only near. `named` has by slug the values of what a template draws by name.
    """

    templates: Sequence[Template]
    said: Said
    unmet: Sequence[str] = ()
    read_as: Sequence[tuple[str, str]] = ()
    is_near: bool = False
    named: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


def find(sought: str) -> Found:
    """Return the templates that go by what was typed, best first; all of them for nothing typed.

    Raises:
        DataError: the file of shop words can't be used.
    """
    said = read(sought)
    typed = words_in(said.words)[:MOST_WORDS]
    typed = [word for word in typed if word not in fillers() and not material_of(word)] or typed
    if not typed:
        return Found([*templates().values()], said)
    terms = {word: meanings(word) for word in typed}
    unknown = {word for word, meant in terms.items() if _is_slip(word, meant) or not _says_any(word, meant, said)}
    unknown -= _in_kinds(typed)
    by_name = named(said, unknown)
    terms = {word: () if word in by_name.words & unknown else meant for word, meant in terms.items()}
    is_near = not by_name and not any(terms.values())
    if is_near:
        terms = {word: nearest(word) for word in typed}
    scores = _scores(typed, terms, said)
    is_whole = len(typed) > 1 and by_name.words >= set(typed) and tuple(typed) not in vocabulary().kinds
    is_of_it = is_whole or typed[-1] in by_name.words or not any(terms.values())
    beside = _NAMED_BESIDE * max(scores.values(), default=0.0)
    worth = _NAMED_TOO if not is_whole and not by_name.words & unknown else _BY_NAME if is_of_it else beside
    scores |= {slug: worth + scores.get(slug, 0.0) for slug in by_name.values}
    best = max(scores.values(), default=0.0)
    names, whole = vocabulary().names, tuple(typed)
    ranked = sorted(scores, key=lambda slug: -scores[slug])
    fit = [slug for slug in ranked if scores[slug] >= _SHOWN * best or whole in names[slug] or slug in by_name.values]
    order = fit + [slug for slug in ranked[:_FEW] if slug not in fit and scores[slug] >= _LEAST * best]
    unmet = [word for word in typed if not terms[word] and word not in by_name.words]
    found = [templates()[slug] for slug in order]
    return Found(found, said, unmet, [*_read_as(terms)], is_near, by_name.values)


def _says_any(word: str, meant: Meanings, said: Said) -> bool:
    """Whether any template goes by a word alone: what is only a part of a name may be the name of something else."""
    return bool(_scores([word], {word: meant}, said))


def _in_kinds(typed: Sequence[str]) -> frozenset[str]:
    """The words of a search that together are what a kind is called: a compass rose is a star."""
    spans = (
        tuple(typed[at : at + long]) for long in range(2, _LONGEST_KIND + 1) for at in range(len(typed) + 1 - long)
    )
    return frozenset(word for span in spans if span in vocabulary().kinds for word in span)


def _read_as(terms: Mapping[str, Meanings]) -> Iterator[tuple[str, str]]:
    """Yield each word that was taken for another than it begins."""
    for word, meant in terms.items():
        if (meant and len(meant[0][0]) == 1 and not meant[0][0][0].startswith(word[:3])) or _is_slip(word, meant):
            yield word, " or ".join(" ".join(words) for words, _ in meant)


def _is_slip(word: str, meant: Meanings) -> bool:
    return bool(meant) and meant[0][1] < 0.8


def _scores(typed: Sequence[str], terms: Mapping[str, Meanings], said: Said) -> dict[str, float]:
    """Score every template that any term goes with."""
    words = vocabulary()
    spelled = _as_known(typed, terms)
    kinds = dict(_of_kinds(spelled, words))
    rarities = {word: max((_rarity(one, words) for one, _ in meant), default=0.0) for word, meant in terms.items()}
    whole = sum(rarities.values())
    scores = {}
    for slug, weights in words.weights.items():
        got = sum(
            rarities[word] * max(_by_word(meant, weights, words), kinds.get((slug, word), 0.0))
            for word, meant in terms.items()
        )
        if whole and got:
            scores[slug] = got / whole + _by_title(spelled, slug, words) + said.sizes_fit(templates()[slug])
    return scores


def _as_known(typed: Sequence[str], terms: Mapping[str, Meanings]) -> list[tuple[str, str]]:
    """The terms as the first known words that they stand for, each beside the word that was typed."""
    return [(known, word) for word in typed for known in (terms[word][0][0] if terms[word] else ())]


def _rarity(known: Sequence[str], words: Vocabulary) -> float:
    others = (word for other in words.same.get(tuple(known), ()) for word in other)
    own = [words.rarity[word] for word in known if word in words.rarity]
    return max(own or [words.rarity.get(word, 0.0) for word in others], default=0.0)


def _by_word(meant: Meanings, weights: Mapping[str, float], words: Vocabulary) -> float:
    """The evidence of one term by the words of a template: the best of what it may stand for."""
    return max((quality * _weight(known, weights, words) for known, quality in meant), default=0.0)


def _weight(known: Sequence[str], weights: Mapping[str, float], words: Vocabulary) -> float:
    own = min(weights.get(word, 0.0) for word in known)
    others = words.same.get(tuple(known), ())
    return max([own, *(_OTHER_WORD * min(weights.get(word, 0.0) for word in other) for other in others)])


def _of_kinds(spelled: Sequence[tuple[str, str]], words: Vocabulary) -> Iterator[tuple[tuple[str, str], float]]:
    """Yield the evidence of each term that is part of a name of a kind, for each template meant."""
    found: dict[tuple[str, str], float] = {}
    for long in range(1, _LONGEST_KIND + 1):
        for at in range(len(spelled) - long + 1):
            span = spelled[at : at + long]
            for slug, factor in _meant(tuple(known for known, _ in span), words):
                worth = _KIND if long == 1 else _LONG_KIND + _EACH_MORE * (long - 2)
                for _, word in span:
                    found[slug, word] = max(found.get((slug, word), 0.0), worth * factor)
    yield from found.items()


def _meant(phrase: tuple[str, ...], words: Vocabulary) -> Iterator[tuple[str, float]]:
    yield from ((slug, 1.0) for slug in words.kinds.get(phrase, ()))
    for other in words.same.get(phrase, ()):
        yield from ((slug, _OTHER_WORD) for slug in words.kinds.get(other, ()))


def _by_title(spelled: Sequence[tuple[str, str]], slug: str, words: Vocabulary) -> float:
    """What the title adds: said in full, or by its last word, which says what a thing is."""
    said = tuple(known for known, _ in spelled)
    title = words.titles[slug]
    share = sum(word in said for word in title) / len(title)
    by_name = set(said) == set(title) or slug in words.kinds.get(said, ())
    more = _WHOLE_NAME if by_name else _WHOLE_WORD if said in words.names[slug] else 0.0
    return more + _TITLE_SAID * share + (_SAME_HEAD if said and said[-1] == title[-1] else 0.0)
