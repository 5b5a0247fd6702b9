"""`platewright pack`: everything that goes with a part, in a ZIP."""

import argparse

import parts
from parts.packing import packed
from parts.spec import taken_for
from parts.templates import template
from webapp.commands.console import (
    EPILOG,
    STANDARD_STREAM,
    allow,
    declare_force,
    kind_of,
    tell,
    tell_found,
    usual_values,
    values_of,
    write,
)


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("slug", metavar="SLUG", help="the template, as `list` names it")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="such as leg_a=4in thickness=16ga")
    command.add_argument("-o", "--output", required=True, metavar="FILE", help="a .zip; - for stdout")
    command.add_argument("--even-so", action="store_true", help="write it despite a stop finding")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Draw the part, pack it unless something stops it, and return the exit status."""
    output = request.output
    if output != STANDARD_STREAM:
        kind_of(output, ("zip",))
        allow(output, force=request.force)
    values = {**usual_values(), **values_of(request.values)}
    part = parts.draw(template(request.slug).slug, **values)
    for name, sentence in taken_for(values, part.record.parameters):
        tell(f"{name}: {sentence}")
    tell_found(part.record.rows)
    for caution in part.cautions:
        tell(f"caution: {caution}")
    if part.stopped and not request.even_so:
        tell(f"{output}: not written; mend what stops it, or say --even-so.")
    else:
        write(packed(part), output, force=request.force)
    return int(part.stopped)
