"""Given: the words of a command, what it reads, and what it says beside what was asked for."""

import argparse
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

import parts
from parts.finding import FindingRow
from parts.shop import usual

STANDARD_STREAM = "-"
EPILOG = "Lengths are text as a shop writes it: 100, 3/16, '1-1/2 in', '2ft 3in', 16ga. A bare number is in units=."
LARGEST_FILE = 1_000_000
"""Bytes of a file of measurements."""


def whole_number(text: str) -> int:
    """Return the whole number that a word is; digits are 0 to 9, and nothing stands between them.

    Raises:
        ArgumentTypeError: if it is none.
    """
    if not (text.isascii() and text.isdecimal()):
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number")
    return int(text)


def usual_values() -> dict[str, str]:
    """Return what the shop's own file says that a drawing is begun with, `[usual]`; a value that is given goes over it.

    Raises:
        DataError: the shop's own file is unusable.
    """
    return {name: text for name, text in usual().model_dump().items() if text}


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


def text_of(file: str) -> str:
    """Return a file's text, or standard input's.

    Raises:
        Refused: if it can't be read, isn't text, or is larger than any file of measurements.
    """
    try:
        with sys.stdin.buffer if file == STANDARD_STREAM else Path(file).open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
        if len(data) > LARGEST_FILE:
            raise parts.Refused((parts.Problem("file", file, "is too large for measurements: over 1 MB."),))
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise parts.Refused((parts.Problem("file", file, "isn't text in UTF-8."),)) from error
    except OSError as error:
        raise parts.Refused((parts.Problem("file", file, f"can't be read: {error.strerror or error}."),)) from error


def tell_found(rows: Iterable[FindingRow]) -> None:
    """Say what was found of a part, those alike as one."""
    for row in rows:
        tell(f"{row.first.severity}: {row.first.rule}: {row.first.message} {row.first.remedy} {row.rest}".rstrip())


def tell(line: str) -> None:
    """Say something beside what was asked for: to standard error."""
    sys.stderr.write(f"{line}\n")
