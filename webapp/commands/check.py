"""`platewright check`: the rules over a drawing of someone's own; the findings are what was asked for."""

import argparse
import shlex
import sys
from collections.abc import Iterator

import parts
from parts import Checked, Problem, Refused
from parts.checking import FORMATS
from parts.cutting import PROCESSES
from parts.finding import Finding, FindingRow
from parts.read import ROLES, LayerRow, shown
from parts.spec import taken_for
from webapp.commands.console import EPILOG, allow, declare_force, kind_of, own_file, tell, write
from webapp.wording import healed_up_to

_MOST_LAYERS = 40
_OPTIONS = ("thickness", "material", "process", "units", "tolerance", "dpi", "strokes")


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = EPILOG
    command.add_argument("file", metavar="FILE", help="the drawing, DXF or SVG; - for stdin")
    command.add_argument("values", nargs="*", metavar="name=value", help="such as small_holes=drill bed_x=4ft")
    command.add_argument("--thickness", metavar="T", help="needed; bare, it is in the drawing's units")
    command.add_argument("--material", metavar="M", help="such as mild-steel, which it is unless said")
    command.add_argument("--process", metavar="P", help=f"{', '.join(PROCESSES)}; the first unless said")
    command.add_argument("--units", metavar="U", help="mm or in, where the drawing doesn't say")
    command.add_argument("--tolerance", metavar="L", help="heal up to this; 0.1 mm unless said, at most kerf / 3")
    command.add_argument("--dpi", metavar="N", help="pixels of an SVG to the inch; 96 unless said")
    command.add_argument(
        "--strokes", metavar="HOW",
        help="what is cut of an SVG's strokes: outline, middle, or auto, by their width, which it is unless said",
    )  # fmt: skip
    command.add_argument(
        "--layer", action="append", default=[], metavar="NAME=ROLE",
        help=f"what the lines on a layer are, whatever its name: {', '.join(ROLES)}; may be given again",
    )  # fmt: skip
    command.add_argument(
        "--outline", action="append", default=[], metavar="BOX=ROLE",
        help="cut one closed outline or leave it aside, by its box as --json tells it; may be given again",
    )  # fmt: skip
    command.add_argument("--json", action="store_true", help="findings and all else as JSON, lengths in mm")
    command.add_argument("-o", "--output", metavar="FILE", help="write the healed drawing; its ending says the format")
    command.add_argument("--even-so", action="store_true", help="write it despite a stop finding")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Check a file and return the exit status; the healed drawing is written where that is asked for."""
    kind = kind_of(request.output, FORMATS) if request.output else ""
    if kind:
        allow(request.output, [request.file], force=request.force)
    checked = _checked(request)
    if request.json:
        sys.stdout.write(checked.to_json())
    else:
        sys.stdout.writelines(f"{line}\n" for line in report(checked))
    for line in (*_how_to_choose(checked), *(f"caution: {caution}" for caution in checked.part.cautions)):
        tell(line)
    for routine in checked.part.routine:
        tell(f"routine: {routine.message} {routine.remedy}")
    if kind:
        _hand_over(checked, kind, request)
    return int(checked.stopped)


def report(checked: Checked) -> Iterator[str]:
    """Yield what the drawing is, what was healed in it, and its findings, a line each."""
    record = checked.part.record
    if checked.closed:
        rest = "; what doesn't close is left out of this" if checked.open else ""
        yield f"{record.template.title}: {own_file.measures(checked.part)}{rest}"
    else:
        yield f"{record.template.title}: no outline closes"
    yield from (_layer(row) for row in checked.account.layers[:_MOST_LAYERS] if checked.account.is_choice)
    yield from (f"healed: {sentence}" for sentence in checked.healed)
    yield from (_said(checked, row) for row in record.rows)
    if not record.findings:
        yield "no findings"
    yield f"verdict: {checked.verdict.line[0].lower()}{checked.verdict.line[1:]}"
    yield f"healed up to: {healed_up_to(checked.tolerance_mm, record.job)}"


def _layer(row: LayerRow) -> str:
    """A layer with its colour, how much is on it, and what it is taken for."""
    colour = f" ({row.colour_name})" if row.colour_name else ""
    closed = f", {row.cut:,} outline{'' if row.cut == 1 else 's'} cut" if row.cut else ""
    aside = f", {row.aside + row.marked:,} closed not cut" if row.aside + row.marked else ""
    return f"layer: {shown(row.name) or 'without a name'}{colour}: {row.role}, {row.count:,} drawn{closed}{aside}"


def _said(checked: Checked, row: FindingRow) -> str:
    finding, rest = row.first, f" {row.rest}" if row.rest else ""
    said = f"{finding.message} {finding.remedy}{_how_to_take(finding)}"
    place = f" ({where})" if (where := checked.place(finding)) else ""
    return f"{finding.severity}: {finding.rule}: {said}{place}{rest}"


def _how_to_take(finding: Finding) -> str:
    """How to say here what a finding proposes."""
    said = [
        f"--{name} {text}" if name in (*_OPTIONS, "outline") else f"{name}={text}" for name, text in finding.changes
    ]
    return f" Try {' '.join(said)}." if said else ""


def _checked(request: argparse.Namespace) -> Checked:
    values = own_file.stated(request, _OPTIONS)
    try:
        checked = parts.check(*own_file.read(request.file), layers=request.layer, outlines=request.outline, **values)
    except Refused as refused:
        raise Refused(tuple(_how_to_say(problem, values) for problem in refused.problems)) from refused
    for name, sentence in taken_for(values, checked.part.record.parameters):
        tell(f"{name}: {sentence}")
    return checked


def _how_to_choose(checked: Checked) -> Iterator[str]:
    """How to say what a layer is, where something on it was left aside by its name."""
    if asked := [row for row in checked.account.layers if row.is_asked]:
        name, guess = asked[0].name, asked[0].guess
        otherwise = "leaves it out" if guess == "aside" else "leaves it as it is"
        cut, left = (shlex.quote(f"{name}={role}") for role in ("cut", guess))
        yield f"--layer {cut} cuts what is closed on it, {left} {otherwise}."


def _how_to_say(problem: Problem, values: dict[str, str]) -> Problem:
    """The problem; where the file doesn't say its units, with how to say them here."""
    if problem.parameter == "units" and "units" not in values:
        return Problem(problem.parameter, problem.value, f"{problem.message} Say mm or in with --units.")
    return problem


def _hand_over(checked: Checked, kind: str, request: argparse.Namespace) -> None:
    if kind != "json" and not checked.closed:
        tell(f"{request.output}: not written; no outline closes.")
    elif checked.stopped and not request.even_so:
        tell(f"{request.output}: not written; mend what stops it, or say --even-so.")
    else:
        write(checked.file(kind), request.output, [request.file], force=request.force)
