"""What kind a number is, by the words of its source: published, common practice, from memory, derived, or a shop's own.

    published        a standard, handbook, textbook or printed article that a person can get, which has this number
    common practice  what shops do; no standard behind it
    from memory      recalled, and never seen in print by whoever wrote it here
    derived          reckoned from other numbers, by a formula that is said
    yours            of the shop's own file, or typed with the part

A source says its weakest part in words: one with "from memory" in it is from memory, be a standard's name beside it.
"""

from collections.abc import Iterable
from typing import Literal, TypeAlias, get_args

Kind: TypeAlias = Literal["published", "common practice", "from memory", "derived", "yours"]

KINDS: tuple[Kind, ...] = get_args(Kind)

OWN = "shop's own file"
"""What the source of a number of the shop's own file begins with."""

COPIED = "built-in: "
"""What the source of a row begins with that was carried over into a column of the shop's own."""

REST = "; the rest "
"""What stands between the source of a table's own numbers and that of its built-in ones."""

_WEAKEST_FIRST: tuple[Kind, ...] = ("from memory", "common practice", "derived", "published", "yours")


def kind_of(source: str, *, own: bool = True) -> Kind:
    """Return the kind of a number by its source; of a table that is own in part, `own` says which of its numbers."""
    mine, _, rest = source.partition(REST)
    said = rest if rest and not own else mine
    carried = f"{OWN}: {COPIED}"
    if said.startswith(OWN) and not said.startswith(carried):
        return "yours"
    said = said.removeprefix(carried)
    return next((kind for kind in _WEAKEST_FIRST[:3] if kind in said), "published")


def weakest(kinds: Iterable[Kind]) -> Kind:
    """Return the kind of what rests on several numbers: that of the least sure of them."""
    return min(kinds, key=_WEAKEST_FIRST.index)
