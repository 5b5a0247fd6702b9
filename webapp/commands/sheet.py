"""`platewright sheet`: the measuring sheet of a test piece, to print or to fill in."""

import argparse
from pathlib import Path

from parts import Problem, Refused, draw
from webapp.commands.console import STANDARD_STREAM, declare_force, usual_values, values_of, write

FORMATS = ("pdf", "toml", "svg")


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("slug", metavar="SLUG", help="the test piece, such as square-test or gauge-kerf-comb")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="as it was drawn, such as steps=6")
    command.add_argument(
        "-o", "--output", required=True, metavar="FILE",
        help="pdf to print, toml to fill in for `true`, or svg, by its ending; - for stdout",
    )  # fmt: skip
    command.add_argument("--format", choices=FORMATS, help="the format, whatever the file's ending")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Write the sheet and return the exit status."""
    kind = request.format or Path(request.output).suffix.lstrip(".").lower()
    if kind not in FORMATS:
        endings = ", ".join(f".{known}" for known in FORMATS)
        message = "say which with --format." if request.output == STANDARD_STREAM else f"must end in one of {endings}."
        raise Refused((Problem("output", request.output, message),))
    sheet = draw(request.slug, **{**usual_values(), **values_of(request.values)}).measuring_sheet()
    text = sheet.to_toml() if kind == "toml" else sheet.to_svg()
    write(sheet.to_pdf() if kind == "pdf" else text.encode("utf-8"), request.output, force=request.force)
    return 0
