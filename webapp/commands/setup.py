"""`platewright setup`: the set-up sheet of a part, or of a drawing of one's own, for whoever stands at the table."""

import argparse
from collections.abc import Sequence
from pathlib import Path

import parts
from parts.cutting import PROCESSES
from parts.export import SET_UP_FORMATS
from webapp.commands.console import (
    EPILOG,
    STANDARD_STREAM,
    declare_force,
    kind_of,
    own_file,
    tell,
    tell_found,
    usual_values,
    write,
)

_ENDINGS = (".dxf", ".svg")
_OPTIONS = ("thickness", "material", "process", "units", "tolerance", "dpi", "strokes")
_OF_FILES = {
    "thickness": "of a drawing of your own, which doesn't tell it",
    "material": "such as mild-steel, which it is unless said",
    "process": f"{', '.join(PROCESSES)}; the first unless said",
    "units": "mm or in, where a drawing doesn't say",
    "tolerance": "heal a drawing up to this",
    "dpi": "pixels of an SVG to the inch",
    "strokes": "what is cut of an SVG's strokes: outline, middle or auto",
}


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("slug", metavar="SLUG", help="the template, as `list` names it; or a DXF or SVG of your own")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="as for `draw`")
    for name in _OPTIONS:
        command.add_argument(f"--{name}", metavar=name[0].upper(), help=_OF_FILES[name])
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
    values = own_file.stated(request, _OPTIONS)
    if Path(request.slug).suffix.lower() in _ENDINGS:
        checked = parts.check(*own_file.read(request.slug), **values)
        return _hand_over(request, kind, checked, checked.part, [request.slug])
    part = parts.draw(request.slug, **{**usual_values(), **values})
    return _hand_over(request, kind, part, part)


def _hand_over(
    request: argparse.Namespace,
    kind: str,
    made: "parts.Part | parts.Checked",
    part: parts.Part,
    read: Sequence[str] = (),
) -> int:
    """Say what was found, and write the sheet unless something stops the part."""
    tell_found(part.record.rows)
    for caution in part.cautions:
        tell(f"caution: {caution}")
    if not part.stopped or request.even_so:
        write(made.set_up(kind), request.output, read, force=request.force)
    else:
        tell(f"{request.output}: not written; mend what stops it, or say --even-so.")
    return int(part.stopped)
