"""Measurements written as the TOML file that `parts.truing.file` reads."""

import json
from collections.abc import Iterable, Mapping


def write(
    machine: Mapping[str, object],
    readings: Iterable[Mapping[str, object]],
    piece: Mapping[str, object] | None = None,
    units: str = "",
) -> str:
    """Return the file's text: the units, a table of the machine, of the piece, of each reading; none that is empty."""
    blocks = [f'units = "{units}"\n'] if units else []
    blocks += [table_of("[machine]", machine)] if machine else []
    blocks += [table_of("[piece]", piece)] if piece else []
    return "\n".join([*blocks, *(table_of("[[reading]]", reading) for reading in readings)])


def table_of(head: str, entries: Mapping[str, object]) -> str:
    """Return one table of the file: its head, and an entry a line."""
    return "\n".join([head, *(f"{key} = {_value(value)}" for key, value in entries.items())]) + "\n"


def _value(value: object) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return repr(value)
    return _text(str(value))


def _text(text: str) -> str:
    """A basic string: quoted as in JSON, which escapes all that TOML 1.0 wants escaped but DEL."""
    return json.dumps(text.encode("utf-8", "replace").decode("utf-8"), ensure_ascii=False).replace("\x7f", "\\u007f")
