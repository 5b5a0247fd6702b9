"""Which known words a typed word may stand for: itself, one begun, another form, or a slip of the pen."""

from difflib import get_close_matches
from functools import cache

from parts.catalogue.vocabulary import vocabulary

_FEWEST_LETTERS = 4
"""Of a word that a slip of the pen is allowed for, or that others may be made of."""
_BEGUN = 2
"""Letters from which on a word may be the beginning of another, as while it is typed."""
_ALIKE, _NEAR = 0.8, 0.66
"""How alike two words are, as difflib counts it, for one to stand for the other; and to be shown as nearest."""
_ENDINGS = ("ing", "ed", "er", "or", "y", "al", "ment", "e", "en", "like")
_EXACT, _FORM, _BEGINNING, _SLIP, _FAR = 1.0, 0.95, 0.85, 0.7, 0.3


@cache
def meanings(word: str) -> tuple[tuple[tuple[str, ...], float], ...]:
    """Return what a word in its normal form may stand for, each as known words, with how well from 0 to 1."""
    known = vocabulary().words
    if word in known:
        return (((word,), _EXACT),)
    if len(word) < _BEGUN or not word.isalpha():
        return ()
    if forms := [one for one in _forms(word) if one in known]:
        return tuple(((one,), _FORM) for one in forms)
    if begun := sorted(one for one in known if one.startswith(word)):
        return tuple(((one,), _BEGINNING) for one in begun)
    if len(word) < _FEWEST_LETTERS:
        return ()
    if halves := _halves(word):
        return ((halves, _FORM),)
    return tuple(((one,), _SLIP) for one in _alike(word, _ALIKE))


def nearest(word: str) -> tuple[tuple[tuple[str, ...], float], ...]:
    """Return the known words that come nearest to one that stands for none."""
    return tuple(((one,), _FAR) for one in _alike(word, _NEAR)) if len(word) >= _FEWEST_LETTERS else ()


def _alike(word: str, cutoff: float) -> list[str]:
    known = sorted(one for one in vocabulary().words if len(one) >= _FEWEST_LETTERS)
    return get_close_matches(word, known, n=1, cutoff=cutoff)


def _forms(word: str) -> list[str]:
    """The word with another ending: mounting for mount, tapering for tapered."""
    stems = {word}
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= _FEWEST_LETTERS - 1:
            stem = word[: -len(ending)]
            stems |= {stem, stem[:-1]} if stem[-1:] == stem[-2:-1] else {stem}
    return sorted((stem + ending for stem in stems for ending in ("", *_ENDINGS)), key=len)


def _halves(word: str) -> tuple[str, ...]:
    """Two known words run together: baseplate."""
    known = vocabulary().words
    for at in range(len(word) - 2, 1, -1):
        if word[:at] in known and word[at:] in known and min(at, len(word) - at) >= _FEWEST_LETTERS - 1:
            return word[:at], word[at:]
    return ()
