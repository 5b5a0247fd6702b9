"""`platewright boltup`: whether two parts bolt up, how surely, and what would make it safe."""

import argparse
import sys
from pathlib import Path

from parts.boltup import EXAMPLES
from parts.mating import BESIDE, NAMES, BoltUp, Side, assumptions, bolt_up, cautions, lines
from webapp.commands.console import EPILOG, tell, text_of, values_of
from webapp.commands.console.own_file import read

_ENDINGS = (".dxf", ".svg", ".pdf", ".json", ".step")


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    said = "; ".join(f"{name}: {what}" for name, what in NAMES.items())
    command.epilog = f"{said}. Also {', '.join(BESIDE)}, of either part. {EPILOG}"
    part = "a template with its values, 'plate-base?bolt=M12'; a DXF, SVG or file of Platewright's; or a bolt pattern, "
    command.add_argument("a", metavar="A", help=part + ", ".join(f"'{each}'" for each in EXAMPLES))
    command.add_argument("b", metavar="B", help="the same of what it is bolted to")
    command.add_argument("values", nargs="*", default=[], metavar="name=value", help="such as bolt=M10 lie=drawn")
    command.add_argument("--table", metavar="FILE", help="readings of the table that cuts both, as for `true`")
    command.add_argument("--table-b", metavar="FILE", help="those of the table that cuts B, where it is another")
    command.add_argument("--json", action="store_true", help="all of it as JSON, lengths in mm")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Say whether the parts bolt up; the exit status is 1 where that isn't as sure as is wanted."""
    table = text_of(request.table) if request.table else ""
    other = text_of(request.table_b) if request.table_b else table
    values = values_of(request.values)
    found = bolt_up(_side(request.a, table), _side(request.b, other), values)
    if request.json:
        sys.stdout.write(found.to_json())
    else:
        sys.stdout.writelines(f"{line}\n" for line in report(found))
    for caution in cautions(found):
        tell(f"caution: {caution}")
    return int(not found.is_safe)


def report(found: BoltUp) -> list[str]:
    """Return what is said of two parts, a line each."""
    titles = (f"A: {found.a.title}", f"B: {found.b.title}")
    return [*titles, *lines(found), *(f"assumed: {each}" for each in assumptions(found))]


def _side(text: str, table: str) -> Side:
    if text == "-" or Path(text).suffix.lower() in _ENDINGS:
        data, name = read(text)
        return Side(name, data, table)
    return Side(text, table=table)
