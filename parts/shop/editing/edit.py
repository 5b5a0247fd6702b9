"""Changes to the text of a shop's own file that leave the rest as it was written: comments, order, unknown entries.

What comes out is read again as plain TOML and held against the same change made to the plain tree, so that nothing else
can have moved.
"""

import tomllib
from collections.abc import Callable, Iterable, Iterator, Sequence
from difflib import SequenceMatcher
from typing import Any

import tomlkit
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Comment, InlineTable, Item, Table

from parts.data import parse
from parts.errors import DataError
from parts.shop.editing.change import Change, EntryValue, TomlRow, changed, pruned
from parts.shop.tree import ALIASES

_MARK = "\ufeff"
"""The byte order mark that some editors put before a file."""


def edited(text: str, changes: Iterable[Change]) -> str:
    """Return the text of a shop's file with changes made and all else as it was.

    Raises:
        DataError: the text is no TOML, or is written so that an entry can't be changed in place.
    """
    body = text.removeprefix(_MARK)
    ends = "\r\n" if body.count("\r\n") == body.count("\n") > 0 else "\n"
    body = body.replace(ends, "\n")
    for change in changes:
        body = _edited(body, change)
    return text[: len(text) - len(text.removeprefix(_MARK))] + body.replace("\n", ends)


def _edited(text: str, change: Change) -> str:
    wanted = changed(parse(text, "the file"), (change,))
    for way in (_in_place, _whole_rows, _at_the_end):
        try:
            out = way(text, change)
            if pruned(tomllib.loads(out)) == wanted:
                return out
        except (TOMLKitError, ValueError, LookupError, TypeError, AttributeError, RecursionError):
            continue
    entry = ".".join(change.entry)
    raise DataError(f"{entry} can't be changed here without disturbing what stands around it; change it by hand.")


def _in_place(text: str, change: Change) -> str:
    return _turned(text, change, _set_rows)


def _whole_rows(text: str, change: Change) -> str:
    return _turned(text, change, lambda table, rows: _put(table, "rows", "rows", _array(rows)))


def _at_the_end(text: str, change: Change) -> str:
    """A table that isn't there yet comes last, so that no comment ends up above a table it isn't about."""
    if change.value is None:
        return text
    lines = tomlkit.document()
    lines.add(change.key or change.name, _item(change.value))
    header = ".".join(tomlkit.key(word).as_string() for word in change.table)
    gap = "" if not text.strip() else "\n" if text.endswith("\n") else "\n\n"
    return f"{text}{gap}[{header}]\n{lines.as_string()}"


def _turned(text: str, change: Change, set_rows: Callable[[Table | InlineTable, Sequence[TomlRow]], None]) -> str:
    """Change the table where it stands."""
    document = tomlkit.parse(text)
    path = [*_tables(document, change.table)]
    if not path:
        raise KeyError(change.table)
    holder, key, table = path[0]
    for candidate in path:  # a table may be written in pieces: the one that has the entry
        if any(ALIASES.get(k, k) == change.name for k in candidate[2]):
            holder, key, table = candidate
    old = next((k for k in table if ALIASES.get(k, k) == change.name), "")
    if change.value is None:
        if old:
            table.remove(old)
        _tidy(holder, key, table)
    elif isinstance(change.value, Sequence) and not isinstance(change.value, str) and old:
        set_rows(table, change.value)
    else:
        _put(table, old, change.key or change.name, _item(change.value))
    return document.as_string()


def _tables(inside: Container, path: tuple[str, ...]) -> Iterator[tuple[Container, str, Table | InlineTable]]:
    """Yield each piece of the table at a path, with what holds it and its key there."""
    for key, item in inside.body:
        if key is None or key.key != path[0] or not isinstance(item, Table | InlineTable):
            continue
        if len(path) == 1:
            yield inside, key.key, item
        else:
            yield from _tables(item.value, path[1:])


def _put(table: Table | InlineTable, old: str, key: str, item: Item) -> None:
    """Set an entry: in the place of the old one, keeping the comment beside it, else after the last entry."""
    body = table.value
    plain = [k for k, of in body.body if k is not None and not isinstance(of, Table | AoT)]
    # tomlkit places what is new after comments that are about the next table, so its places are said here
    if old:
        body._replace(old, key, item)
    elif isinstance(table, InlineTable) or not body.body:
        table.append(key, item)
    elif plain:
        body._insert_after(plain[-1], key, item)
    else:
        body._insert_at(0, key, item)


def _tidy(holder: Container, key: str, table: Table | InlineTable) -> None:
    """Take off a source without numbers, then a table without entries, unless a comment stands in it."""
    if set(table) == {"source"}:
        table.remove("source")
    commented = any(isinstance(item, Comment) for _, item in table.value.body)
    pieces = sum(1 for k, _ in holder.body if k is not None and k.key == key)
    if not len(table) and not commented and pieces == 1:
        holder.remove(key)


def _set_rows(table: Table | InlineTable, rows: Sequence[TomlRow]) -> None:
    """Change rows one by one, so that comments beside the others stay."""
    held: Any = table["rows"]
    if not isinstance(held, Array | AoT):
        raise TypeError("rows are no list")
    before = held.unwrap()
    steps = SequenceMatcher(None, _names(before), _names(rows), autojunk=False).get_opcodes()
    for _, old_from, old_to, new_from, new_to in reversed(steps):
        both = min(old_to - old_from, new_to - new_from)
        for at in reversed(range(old_from + both, old_to)):
            del held[at]
        for offset, row in enumerate(rows[new_from + both : new_to]):
            held.insert(old_from + both + offset, _row(row, held))
        for offset in range(both):
            if before[old_from + offset] != rows[new_from + offset]:
                held[old_from + offset] = _row(rows[new_from + offset], held)


def _names(rows: Iterable[TomlRow]) -> list[str]:
    """What a row goes by: its thickness, as written."""
    return [repr(next((row[key] for key in row if key.startswith("thickness")), "")) for row in rows]


def _row(row: TomlRow, held: Array | AoT) -> Any:  # noqa: ANN401 - tomlkit takes the two kinds of rows differently
    if isinstance(held, AoT):
        return dict(row)
    pairs = ", ".join(f"{tomlkit.key(key).as_string()} = {tomlkit.item(of).as_string()}" for key, of in row.items())
    return tomlkit.value(f"{{ {pairs} }}")


def _array(rows: Sequence[TomlRow]) -> Array:
    out = tomlkit.array()
    for row in rows:
        out.append(_row(row, out))
    return out.multiline(True)


def _item(value: EntryValue) -> Item:
    if isinstance(value, Sequence) and not isinstance(value, str):
        return _array(value)
    return tomlkit.item(value)
