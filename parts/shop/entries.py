"""What the tables of a shop's file are made of: bounds that catch a slip, a source, words that are known."""

from collections.abc import Iterable
from typing import Annotated

from pydantic import AfterValidator, Field

from parts.data import OWN, Table, Text, UnknownEntry, suggestion
from parts.shop.tree import ALIASES
from parts.shop.words import Ambiguous, taken_for
from parts.units import Millimetres

# 300 mm is where ISO 9013:2017 ends; the other bounds catch a slipped unit or point, not a good machine.
Thickness = Annotated[Millimetres, Field(gt=0, le=300)]


Travel = Annotated[Millimetres, Field(ge=100, le=50_000)]


class Strict(Table):
    """A table of a shop's file, where an entry may go by another name."""

    other_names = ALIASES


class Signed(Strict):
    """A table whose numbers share one source: the shop's own file, where it names none."""

    source: Text = OWN


def or_none(least: float) -> AfterValidator:
    """Accept 0, which leaves it to the built-in tables, or at least so much."""

    def checked(value: float) -> float:
        if 0 < value < least:
            raise ValueError(f"it must be 0, or at least {least:g}")
        return value

    return AfterValidator(checked)


def _suggested(where: str, name: str, known: tuple[str, ...]) -> str:
    """What a name that isn't known may have been meant to be: by a shop's word, or by its spelling."""
    if where not in ("processes", "materials") and not where.endswith(".not_cut_by"):
        return suggestion(name, known)
    try:
        meant = taken_for("material" if where == "materials" else "process", name, known)
    except Ambiguous as error:
        return f"accepted: {', '.join(error.choices)}"
    return f"did you mean {meant}" if meant else suggestion(name, known)


def in_our_spelling(said: object, words: Iterable[str]) -> object:
    """A word in the spelling it has here, whatever its letters' case; any other as it is, to be refused."""
    return next((word for word in words if word.lower() == str(said).strip().lower()), said)


def one_of(entry: str, name: str, known: tuple[str, ...]) -> None:
    """Refuse a process or material that isn't known, with what it may have been meant to be."""
    if name and name not in known:
        raise ValueError(
            f"has {entry} {name!r}: {_suggested('processes' if 'process' in entry else 'materials', name, known)}"
        )


def all_known(where: str, names: Iterable[str], known: tuple[str, ...], hint: str = "") -> None:
    """Refuse the first of these names that isn't known, as the entry `where` has it."""
    for name in names:
        if name not in known:
            path = (*where.split("."), name)
            raise UnknownEntry(f"has no entry {'.'.join(path)}: {_suggested(where, name, known)}{hint}", path)
