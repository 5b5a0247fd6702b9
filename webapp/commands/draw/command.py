"""What `platewright draw` is given, and what it does."""

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import parts
from parts.export import FORMATS, form_of_solid, shows, title_block
from parts.spec import taken_for
from parts.templates import template
from webapp.commands.console import (
    EPILOG,
    STANDARD_STREAM,
    declare_force,
    kind_of,
    tell,
    usual_values,
    values_of,
    write,
)
from webapp.commands.draw.apply import applying, found
from webapp.commands.draw.compensated import compensated
from webapp.commands.draw.own_font import own_font

EVERY_PIECE = "all"


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("slug", metavar="SLUG", help="the template, as `list` names it")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="such as leg_a=4in thickness=16ga")
    command.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="its ending says the format; - for stdout"
    )
    command.add_argument("--format", choices=FORMATS, help="the format, whatever the file's ending")
    command.add_argument(
        "--apply",
        action="append",
        default=[],
        metavar="RULE",
        help="take the remedy for what this rule finds; may be given again; `all` takes every one that changes nothing "
        "that mates; RULE:NAME takes one that changes the parameter NAME, which does",
    )
    command.add_argument(
        "--compensate",
        metavar="FILE",
        help="draw it the other way off for one table: its measurements or accepted errors, TOML, as `true` reads",
    )
    command.add_argument(
        "--piece", metavar="NAME", help="one piece of a set or a box; `all` writes each, its name after the file's"
    )
    command.add_argument("--even-so", action="store_true", help="write the file despite a stop finding")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Draw the part, write it unless something stops it, and return the exit status."""
    values, specs = {**usual_values(), **values_of(request.values)}, template(request.slug).parameters.specs()
    form, beside = form_of_solid.taken_out(request.slug, values), _Beside.taken_out(request.slug, values)
    with own_font(values, specs) as drawn:
        return _drawn(request, drawn, form, beside)


class _Beside(NamedTuple):
    """What is said beside a part's values: what the file shows, and what its title block says."""

    shown: str
    title: Mapping[str, str]

    @classmethod
    def taken_out(cls, slug: str, values: dict[str, str]) -> "_Beside":
        return cls(shows.shown_by(slug, values), title_block.taken_out(slug, values))


def _drawn(request: argparse.Namespace, values: Mapping[str, str], form: str, beside: _Beside) -> int:
    kind, output = _format(request.output, request.format), request.output
    part, applied = applying(parts.draw(request.slug, **values), request.apply)
    part = part.showing(beside.shown).titled(beside.title)
    for name, sentence in taken_for(values, part.record.parameters):
        tell(f"{name}: {sentence}")
    for line in (*applied, *found(part)):
        tell(line)
    for caution in part.cautions:
        tell(f"caution: {caution}")
    for routine in part.routine:
        tell(f"routine: {routine.message} {routine.remedy}")
    if request.piece == EVERY_PIECE and part.pieces:
        each = [(form_of_solid.in_form(part.piece(name), form), _named_for(name, output)) for name in part.pieces]
        return max(_written(request, piece, kind, to) for piece, to in each)
    one = part.piece(request.piece) if request.piece else part
    return _written(request, form_of_solid.in_form(one, form), kind, output)


def _named_for(piece: str, output: str) -> str:
    """The file of a piece: the file's name with that of the piece."""
    if output == STANDARD_STREAM:
        raise parts.Refused((parts.Problem("output", output, "has room for one piece: name a file."),))
    path = Path(output)
    return str(path.with_name(f"{path.stem}_{piece.replace(' ', '-')}{path.suffix}"))


def _written(request: argparse.Namespace, part: parts.Part, kind: str, output: str) -> int:
    """Write a part unless something stops it, and return the exit status."""
    stopped = part.stopped
    if request.compensate is not None:
        part, output = compensated(part, request.compensate, output)
    if not stopped or request.even_so:
        write(part.file(kind), output, [request.compensate] if request.compensate else [], force=request.force)
    else:
        tell(f"{output}: not written; mend what stops it, or say --even-so.")
    return int(stopped)


def _format(output: str, asked: str | None) -> str:
    """The format of a file: the one asked for, else the one its ending says."""
    if output == STANDARD_STREAM and not asked:
        raise parts.Refused((parts.Problem("output", output, "say which with --format."),))
    return asked or kind_of(output, FORMATS)
