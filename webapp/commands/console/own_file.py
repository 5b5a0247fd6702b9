"""A file of someone's own, as commands that take one are given it, and what is told of the part that comes of it."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from parts import Problem, Refused
from parts.part import Part
from parts.units import format_mass, format_rough
from webapp.commands.console.given import STANDARD_STREAM, values_of


def stated(request: argparse.Namespace, options: Sequence[str]) -> dict[str, str]:
    """Return the values that a command is given, by its options or as `name=value`.

    Raises:
        Refused: if one is given both ways, or a word is no `name=value`.
    """
    values = values_of(request.values)
    for name in options:
        given = getattr(request, name)
        if given is not None and name in values:
            both = Problem(name, f"{given}, {values[name]}", f"is given more than once; leave out {name}= or --{name}.")
            raise Refused((both,))
        if given is not None:
            values[name] = given
    return values


def read(file: str, most: int = -1) -> tuple[bytes, str]:
    """Return what is in a file or on standard input, of `most` bytes if it has more, and what it is called.

    Raises:
        Refused: if it can't be read.
    """
    if file == STANDARD_STREAM:
        return sys.stdin.buffer.read(most), "standard input"
    try:
        with Path(file).open("rb") as opened:
            return opened.read(most), file
    except OSError as error:
        raise Refused((Problem("file", file, f"can't be read: {error.strerror or error}."),)) from error


def measures(part: Part) -> str:
    """Return size, stock, pierces, cut length and weight of a part in one line."""
    m, cut, units = part.measures, part.record.job.cut, part.record.units
    counted = f"{m.pierces} pierce{'' if m.pierces == 1 else 's'}"
    drilled = f", {m.drill_centres} to drill" if m.drill_centres else ""
    thick = part.record.job.say(cut.thickness_mm)
    return (
        f"{part.record.size}, {part.record.material_title.lower()} {thick} thick, {cut.title.lower()}, "
        f"{counted}{drilled}, cut length {format_rough(m.cut_length_mm, units)}, {format_mass(m.mass_kg, units)}"
    )
