"""What the commands have in common: the words they are given, and where they write."""

import sys
from collections.abc import Sequence
from pathlib import Path

import parts

STANDARD_STREAM = "-"


def values_of(pairs: Sequence[str]) -> dict[str, str]:
    """Return the values of `name=value` words.

    Raises:
        Refused: if a word isn't written so, or a name is given twice.
    """
    values: dict[str, str] = {}
    problems = []
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals:
            problems.append(parts.Problem(name, "", "must be written name=value."))
        elif name in values:
            problems.append(parts.Problem(name, f"{values[name]}, {value}", "is given more than once; give it once."))
        else:
            values[name] = value
    if problems:
        raise parts.Refused(tuple(problems))
    return values


def write(data: bytes, output: str) -> None:
    """Write a file, or to standard output."""
    if output == STANDARD_STREAM:
        sys.stdout.buffer.write(data)
    else:
        Path(output).write_bytes(data)


def tell(line: str) -> None:
    """Say something beside what was asked for: to standard error."""
    sys.stderr.write(f"{line}\n")
