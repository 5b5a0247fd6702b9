"""`platewright trace`: a picture, an SVG or a DXF as a held, smoothed outline, checked and written to a file."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

import parts
from parts import Problem, Refused, Traced
from parts.cutting import PROCESSES
from parts.errors import did_you_mean
from parts.spec import taken_for
from parts.tracing import ENDINGS, FORMATS, LARGEST_BYTES, MOUNTS
from parts.units import format_mass, format_rough
from webapp.commands.console import (
    EPILOG,
    STANDARD_STREAM,
    allow,
    declare_force,
    tell,
    usual_values,
    values_of,
    write,
)

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
    kind = _format(request.output) if request.output else ""
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
    yield f"{record.template.title}: {_measures(traced)}"
    yield from (f"traced: {sentence}" for sentence in traced.said)
    for row in record.rows:
        finding, rest = row.first, f" {row.rest}" if row.rest else ""
        yield f"{finding.severity}: {finding.rule}: {finding.message} {finding.remedy}{rest}"
    if not record.findings:
        yield "no findings"
    yield f"verdict: {traced.verdict.line[0].lower()}{traced.verdict.line[1:]}"


def _measures(traced: Traced) -> str:
    part, say = traced.part, traced.part.record.job.say
    m, cut = part.measures, part.record.job.cut
    counted = f"{m.pierces} pierce{'' if m.pierces == 1 else 's'}"
    return (
        f"{part.record.size}, {part.record.material_title.lower()} {say(cut.thickness_mm)} thick, {cut.title.lower()}, "
        f"{counted}, cut length {format_rough(m.cut_length_mm, part.record.units)}, {format_mass(m.mass_kg)}"
    )


def _traced(request: argparse.Namespace) -> Traced:
    values = values_of(request.values)
    for name in _OPTIONS:
        given = getattr(request, name)
        if given is not None and name in values:
            both = Problem(name, f"{given}, {values[name]}", f"is given more than once; leave out {name}= or --{name}.")
            raise Refused((both,))
        if given is not None:
            values[name] = given
    values = {**{name: text for name, text in usual_values().items() if name != "thickness"}, **values}
    traced = parts.trace(*_read(request.file), **values)
    for name, sentence in taken_for(values, traced.part.record.parameters):
        tell(f"{name}: {sentence}")
    return traced


def _read(file: str) -> tuple[bytes, str]:
    if file == STANDARD_STREAM:
        return sys.stdin.buffer.read(LARGEST_BYTES + 1), "standard input"
    try:
        with Path(file).open("rb") as opened:
            return opened.read(LARGEST_BYTES + 1), file
    except OSError as error:
        raise Refused((Problem("file", file, f"can't be read: {error.strerror or error}."),)) from error


def _format(output: str) -> str:
    kind = Path(output).suffix.lstrip(".").lower()
    if kind in FORMATS:
        return kind
    endings = ", ".join(f".{known}" for known in FORMATS)
    raise Refused((Problem("output", output, f"must end in one of {endings}{did_you_mean(kind, FORMATS)}"),))
