"""`platewright trace`: a picture, an SVG or a DXF as a held, smoothed outline, checked and written to a file."""

import argparse
import sys
from collections.abc import Iterator

import parts
from parts import Traced
from parts.cutting import PROCESSES
from parts.spec import taken_for
from parts.tracing import ENDINGS, FORMATS, LARGEST_BYTES, MOUNTS
from webapp.commands.console import EPILOG, allow, declare_force, kind_of, own_file, tell, usual_values, waiting, write

_OPTIONS = ("width", "height", "thickness", "material", "process", "units")


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("file", metavar="FILE", help=f"{', '.join(ENDINGS)}; - for stdin")
    command.add_argument(
        "values", nargs="*", metavar="name=value",
        help=f"such as mount=frame (one of {', '.join(MOUNTS)}), holes=2, threshold=40, tie=4mm",
    )  # fmt: skip
    command.add_argument("--width", metavar="L", help="of the finished piece; needed where the file says no size")
    command.add_argument("--height", metavar="L", help="in place of the width")
    command.add_argument("--thickness", metavar="T", help="needed")
    command.add_argument("--material", metavar="M", help="such as mild-steel, which it is unless said")
    command.add_argument("--process", metavar="P", help=f"{', '.join(PROCESSES)}; the first unless said")
    command.add_argument("--units", metavar="U", help="mm or in, of bare numbers and the file that is written")
    command.add_argument("--json", action="store_true", help="findings and all else as JSON, lengths in mm")
    command.add_argument("-o", "--output", metavar="FILE", help="write the part; its ending says the format")
    command.add_argument("--even-so", action="store_true", help="write it despite a stop finding")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Trace a file and return the exit status; the part is written where that is asked for."""
    kind = kind_of(request.output, FORMATS) if request.output else ""
    if kind:
        allow(request.output, [request.file], force=request.force)
    traced = _traced(request)
    if request.json:
        sys.stdout.write(traced.to_json())
    else:
        sys.stdout.writelines(f"{line}\n" for line in report(traced))
    for caution in traced.part.cautions:
        tell(f"caution: {caution}")
    for routine in traced.part.routine:
        tell(f"routine: {routine.message} {routine.remedy}")
    if kind and traced.stopped and not request.even_so:
        tell(f"{request.output}: not written; mend what stops it, or say --even-so.")
    elif kind:
        write(traced.file(kind), request.output, [request.file], force=request.force)
    return int(traced.stopped)


def report(traced: Traced) -> Iterator[str]:
    """Yield what the part is, what was done on the way, and its findings, a line each."""
    record = traced.part.record
    yield f"{record.template.title}: {own_file.measures(traced.part)}"
    yield from (f"traced: {sentence}" for sentence in traced.said)
    for row in record.rows:
        finding, rest = row.first, f" {row.rest}" if row.rest else ""
        yield f"{finding.severity}: {finding.rule}: {finding.message} {finding.remedy}{rest}"
    if not record.findings:
        yield "no findings"
    yield f"verdict: {traced.verdict.line[0].lower()}{traced.verdict.line[1:]}"


def _traced(request: argparse.Namespace) -> Traced:
    usual = {name: text for name, text in usual_values().items() if name != "thickness"}
    values = {**usual, **own_file.stated(request, _OPTIONS)}
    data, name = own_file.read(request.file, LARGEST_BYTES + 1)
    with waiting(f"tracing {name}"):
        traced = parts.trace(data, name, **values)
    for name, sentence in taken_for(values, traced.part.record.parameters):
        tell(f"{name}: {sentence}")
    return traced
