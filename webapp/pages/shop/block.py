"""A table of the shop's single numbers as the page shows it."""

from collections.abc import Mapping, Sequence
from typing import Any

from parts.data import kind_of
from parts.shop import as_table, builtin
from parts.units import Units, with_unit
from webapp.pages.shop.fields import Field, TableBlock, choices_of, options, said, unit_of


def shown_block(
    block: TableBlock, units: Units, typed: Mapping[str, str], texts: Mapping[str, str], messages: Mapping[str, str]
) -> Mapping[str, object]:
    """Return a table of single numbers for the page: each field with the built-in number, and the table's source.

    Args:
        block: the table.
        units: the units that the page speaks.
        typed: what each field shows.
        texts: what each field showed before anything was typed.
        messages: what is wrong with a field.
    """
    tree = builtin()
    for word in block.table:
        tree = as_table(tree.get(word))
    rows = [
        {
            "id": field.id,
            "label": field.label,
            "text": typed.get(field.id, ""),
            "unit": unit_of(field.kind, units),
            "builtin": _builtin(field, tree, units),
            "is_number": not field.unless,
            "is_own": bool(texts.get(field.id)),
            "kind": _kind(_source_of(tree, field.name)) if field.table == block.table and field.name in tree else "",
            "message": messages.get(field.id, ""),
            "is_words": field.kind == "words",
            "options": options(field, typed.get(field.id, "")),
        }
        for field in block.fields
    ]
    is_open = any(row["is_own"] or row["message"] for row in rows)
    return {
        "title": block.title,
        "about": block.about,
        "rows": rows,
        "source": _sources_said(block, tree),
        "is_folded": block.is_folded,
        "open": is_open,
        "holds": _holds(rows),
        "is_own": any(row["is_own"] for row in rows),
    }


def _kind(source: str) -> str:
    """The kind of a source; nothing where a number has none, since it is of the page."""
    return kind_of(source) if source else ""


def _source_of(tree: Mapping[str, Any], name: str) -> str:
    """Where a built-in number is from: by itself, or with all of its table."""
    return str(as_table(tree.get("sources")).get(name) or tree.get("source", ""))


def _sources_said(block: TableBlock, tree: Mapping[str, Any]) -> str:
    """Where the built-in numbers of a block are from, one by one where each has its own source."""
    if "sources" not in tree:
        return str(tree.get("source", ""))
    fields = [field for field in block.fields if field.kind != "words"]
    return "; ".join(f"{field.label}: {_source_of(tree, field.name)}" for field in fields)


def _builtin(field: Field, tree: Mapping[str, Any], units: Units) -> str:
    """What holds of a field without the shop's own entry, in words."""
    if field.unless or field.kind == "words" or not tree:
        return field.unless
    word = tree[field.name]
    return choices_of(field).get(str(word)) or said(word, field.kind, units)


def _holds(rows: Sequence[Mapping[str, Any]]) -> str:
    """What a folded table amounts to: `1.5 times the thickness, never under 3 mm, 2.5 times the kerf`."""
    words = []
    for row in rows:
        value = with_unit(row["text"], row["unit"]) if _is_bare(row["text"]) else row["text"] or row["builtin"]
        if row["unit"] == "times":
            words.append(f"{value.removesuffix('times').strip()} {row['label'].lower()}")
        elif not row["is_words"]:
            words.append(f"{row['label'].lower()} {value}" if row["label"] != "Thickness" else value)
    return ", ".join(words)


def _is_bare(text: str) -> bool:
    return text.isascii() and text.replace(".", "", 1).isdecimal()
