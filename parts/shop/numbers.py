"""The shop's own numbers over the built-in ones, loaded, and one sentence on what is wrong with them.

*Built-in* numbers are `parts/data/materials.toml`, `processes.toml` and `bending.toml`. The *shop's own file* has
the same entries, any few of them. It is the file that the environment variable `PLATEWRIGHT_SHOP` names, else
`shop.toml` in the user's configuration folder, if there.
"""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

import platformdirs
from pydantic import ValidationError
from pydantic_core import ErrorDetails

from parts.data import UnknownEntry, parse, read, said
from parts.errors import DataError
from parts.shop.schema import ShopData, UsualData
from parts.shop.tree import ALIASES, BUILT_IN, as_table, own_over_builtin

VARIABLE = "PLATEWRIGHT_SHOP"

_Path: TypeAlias = tuple[str, ...]


class Edition(NamedTuple):
    """Which state of the shop's own file numbers are from: the key of every cache over them.

    `inode` tells two files apart that took each other's place within one tick of the file system's clock. `text` is
    what is in the file where that is on another machine, and None where it is read from here.
    """

    path: str
    modified_ns: int
    size: int
    inode: int = 0
    text: str | None = None


BUILT_IN_EDITION = Edition("", 0, 0)
"""Where there is no file of the shop's own."""


class Slip(NamedTuple):
    """One thing wrong with a shop's file: where, under the built-in names, and the sentence on it."""

    entry: tuple[int | str, ...]
    sentence: str


_held: ContextVar[Edition | None] = ContextVar("held", default=None)
_trouble: ContextVar[str] = ContextVar("trouble", default="")


@contextmanager
def held() -> Iterator[None]:
    """Take the shop's own file within as it is now: all numbers of one part are of one state, and it is looked at once.

    Raises:
        DataError: as by `edition`.
    """
    token = _held.set(edition())
    try:
        yield
    finally:
        _held.reset(token)


def carried() -> Edition:
    """Return the shop's own file as it is now with what is in it, for other machines to draw by.

    Raises:
        DataError: as by `edition`, or the file is unusable.
    """
    at = edition()
    load(at)
    return at._replace(text=Path(at.path).read_text("utf-8-sig")) if at.path else at


@contextmanager
def held_as(at: Edition) -> Iterator[None]:
    """Take the numbers of another machine within, as it carried them here."""
    token = _held.set(at)
    try:
        yield
    finally:
        _held.reset(token)


@contextmanager
def held_or_built_in() -> Iterator[str]:
    """The same for who has to go on whatever is wrong with the file: then the built-in numbers are taken within.

    Gives the sentence that says so, which is `trouble` within; nothing where all is well.
    """
    at, sentence = _usable()
    held_at, told = _held.set(at), _trouble.set(sentence)
    try:
        yield sentence
    finally:
        _trouble.reset(told)
        _held.reset(held_at)


def trouble() -> str:
    """Return the sentence on why the built-in numbers are taken, nothing where the shop's own can be."""
    return _trouble.get()


def _usable() -> tuple[Edition, str]:
    try:
        at = edition()
        load(at)
    except DataError as error:
        return BUILT_IN_EDITION, f"{error} Until it is mended, all is drawn and judged by the built-in numbers."
    return at, ""


def edition() -> Edition:
    """Return the present state of the shop's own file; costs one look at the file system unless it is `held`.

    Raises:
        DataError: the file that `PLATEWRIGHT_SHOP` names isn't there.
    """
    if (now := _held.get()) is not None:
        return now
    named, where = os.environ.get(VARIABLE, ""), path()
    try:
        state = os.stat(where)  # noqa: PTH116 - half the cost of Path.stat, and paid on every request
    except FileNotFoundError:
        if not named:
            return BUILT_IN_EDITION
        raise DataError(f"{VARIABLE} names {named}, which isn't there; name a file or unset it.") from None
    except (OSError, ValueError) as error:
        raise DataError(f"{where} can't be looked at ({error}); put a readable TOML file there.") from None
    return Edition(where, state.st_mtime_ns, state.st_size, state.st_ino)


def path() -> str:
    """Return where the shop's own file is, or would be."""
    return os.environ.get(VARIABLE, "") or _usual_path(os.environ.get("HOME"), os.environ.get("XDG_CONFIG_HOME"))


@lru_cache(maxsize=4)
def _usual_path(home: str | None, config_home: str | None) -> str:
    """Return where the file is kept unless named; the arguments, on which it depends, are the cache's key."""
    return str(platformdirs.user_config_path("platewright") / "shop.toml")


@lru_cache(maxsize=4)
def load(at: Edition) -> ShopData:
    """Return every number, the shop's own over the built-in.

    Raises:
        DataError: the shop's own file can't be read, or holds something unusable.
    """
    found = checked(_own(at))
    if isinstance(found, ShopData):
        return found
    raise DataError(f"{at.path or BUILT_IN}: {found[0].sentence}.")


def _own(at: Edition) -> dict[str, Any]:
    if at.text is not None:
        return parse(at.text, at.path)
    return read(Path(at.path)) if at.path else {}


def usual() -> UsualData:
    """Return what this shop works with as a rule.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return load(edition()).usual


def built_in() -> ShopData:
    """Return every number as it is without a shop's own file."""
    return load(BUILT_IN_EDITION)


def checked(own: dict[str, Any]) -> ShopData | tuple[Slip, ...]:
    """Return every number with a shop's own tree over the built-in ones, or all that is wrong with it, in its order.

    One thing wrong can hide others: an unknown entry, all else in its table. So what is wrong is taken out, and what
    is left looked at again, until there is nothing new.
    """
    found: list[tuple[_Path, Slip]] = []
    seen, left = _looked_at(own), own
    while not isinstance(seen, ShopData):
        gone = [path for path, _ in found]
        new = [(_path_of(one, own), one) for one in seen if not _follows(one)]
        new = [(path, one) for path, one in new if not any(_are_one(path, other) for other in gone)]
        if not new:
            break
        found += ((path, Slip(one["loc"], said(one, own, ALIASES))) for path, one in new)
        for path, _ in new:
            left = _without(left, path)
        seen = _looked_at(left)
    if isinstance(seen, ShopData) and not found:
        return seen
    told = [slip for _, slip in sorted(found, key=lambda each: _place(each[0], own))]
    return tuple(told) or (Slip((), "the file holds a number too long or tables too deep to be read"),)


def _looked_at(own: dict[str, Any]) -> ShopData | list[ErrorDetails]:
    """The numbers, or what is seen to be wrong at once; nothing where that is too much to be read."""
    try:
        return ShopData.model_validate(own_over_builtin(own))
    except ValidationError as error:
        return error.errors()
    except (OverflowError, RecursionError):
        return []


def _follows(one: ErrorDetails) -> bool:
    """Tell whether a fault is that of others: a list is too short for its rows being wrong."""
    return one["type"] == "too_short" and bool(one["input"])


def _path_of(one: ErrorDetails, own: Mapping[str, Any]) -> _Path:
    """Where in a shop's own tree one thing is wrong, as far down as the tree goes; of a row, its whole series."""
    lost = one.get("ctx", {}).get("error")
    table: object = own
    path: list[str] = []
    for key in (*one["loc"], *(lost.path if isinstance(lost, UnknownEntry) else ())):
        name = next((k for k in as_table(table) if k == key or ALIASES.get(k) == key), None)
        if name is None:
            break
        path.append(name)
        table = as_table(table)[name]
    return tuple(path[:-1] if path[-1:] == ["rows"] else path)


def _are_one(a: _Path, b: _Path) -> bool:
    """Tell whether two places are the same, or one lies in the other: what is told of one may follow from the other."""
    shared = min(len(a), len(b))
    return a[:shared] == b[:shared]


def _without(table: dict[str, Any], path: _Path) -> dict[str, Any]:
    """The tree without what stands at a path; without anything where the path is none."""
    if not path:
        return {}
    first, rest = path[0], path[1:]
    kept = {key: value for key, value in table.items() if key != first}
    return {**kept, first: _without(table[first], rest)} if rest and first in table else kept


def _place(path: _Path, own: Mapping[str, Any]) -> tuple[int, ...]:
    """Where a path stands in the tree, to sort by."""
    if not path:
        return ()
    return (list(own).index(path[0]), *_place(path[1:], as_table(own[path[0]])))


@lru_cache(maxsize=4)
def own_entries(at: Edition) -> frozenset[_Path]:
    """Return the path of every number that a state of the shop's own file sets, under the built-in names.

    Raises:
        DataError: the file can't be read.
    """
    return frozenset(_entries(read(Path(at.path)) if at.path else {}))


def _entries(table: Mapping[str, Any], above: _Path = ()) -> Iterator[_Path]:
    for key, value in table.items():
        path = (*above, ALIASES.get(key, key))
        yield from _entries(value, path) if isinstance(value, dict) else (path,)
