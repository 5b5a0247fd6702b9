"""`platewright open`: what a file that Platewright wrote is of, and whether it was edited since."""

import argparse
import shlex
import sys
from collections.abc import Iterator
from urllib.parse import parse_qsl, urlsplit

from parts.read import LARGEST_BYTES
from parts.reopen import Reopened, reopen
from webapp.commands.console import own_file, tell


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("file", metavar="FILE", help="a DXF, SVG, PDF, STEP, PNG, GLB or JSON; - for stdin")
    command.add_argument(
        "--json", action="store_true", help="template, values, address and edits as JSON, lengths in mm"
    )
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Open a file, say what it is of, and return the exit status."""
    found = reopen(*own_file.read(request.file, LARGEST_BYTES + 1))
    if request.json:
        sys.stdout.write(found.to_json())
        return 0
    sys.stdout.writelines(f"{line}\n" for line in report(found, request.file))
    for caution in found.part.cautions:
        tell(f"caution: {caution}")
    return 0


def report(found: Reopened, path: str) -> Iterator[str]:
    """Yield what the file is of, how to draw it again, and what was edited, a line each."""
    record = found.part.record
    yield f"{record.template.title}: {own_file.measures(found.part)}"
    yield from (f"edited: {line}" if found.edited else line for line in found.said)
    if found.edited and (command := found.as_own(path)):
        yield f"as a drawing of your own: {command}"
    yield f"address: {found.address}"
    values = (f"{name}={text}" for name, text in parse_qsl(urlsplit(found.address).query, keep_blank_values=True))
    yield f"draw it again: platewright draw {shlex.join([record.template.slug, *values])} -o FILE"
