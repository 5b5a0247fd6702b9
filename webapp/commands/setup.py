"""`platewright setup`: the set-up sheet of a part, for whoever stands at the table."""

import argparse

import parts
from parts.export import SET_UP_FORMATS
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


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("slug", metavar="SLUG", help="the template, as `list` names it")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="as for `draw`")
    command.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="pdf to print, or json, by its ending; - for stdout"
    )
    command.add_argument("--format", choices=SET_UP_FORMATS, help="the format, whatever the file's ending")
    command.add_argument("--even-so", action="store_true", help="write the sheet despite a stop finding")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Write the sheet unless something stops the part, and return the exit status."""
    if request.output == STANDARD_STREAM and not request.format:
        raise parts.Refused((parts.Problem("output", request.output, "say which with --format."),))
    kind = request.format or kind_of(request.output, SET_UP_FORMATS)
    part = parts.draw(request.slug, **{**usual_values(), **values_of(request.values)})
    for row in part.record.rows:
        tell(f"{row.first.severity}: {row.first.rule}: {row.first.message} {row.first.remedy} {row.rest}".rstrip())
    for caution in part.cautions:
        tell(f"caution: {caution}")
    if not part.stopped or request.even_so:
        write(part.set_up(kind), request.output, force=request.force)
    else:
        tell(f"{request.output}: not written; mend what stops it, or say --even-so.")
    return int(part.stopped)
