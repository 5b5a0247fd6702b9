"""`platewright numbers`: every number that findings rest on: what it is for, of what kind it is, where it is from."""

import argparse
import json
from collections.abc import Iterator

from parts.numbers import HEADINGS, Number, row_of
from parts.units import with_unit
from webapp.wording import CHOICES, as_data, asked_for, counted


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--rule", default="", metavar="RULE", help="those that a rule reads, such as bridge-width")
    command.add_argument("--kind", default="", metavar="KIND", help=f"those of a kind: {', '.join(CHOICES['kind'])}")
    command.add_argument("--process", default="", metavar="P", help="those that hold for a process, such as laser")
    command.add_argument("--json", action="store_true", help="as JSON")
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print the numbers and return the exit status."""
    asked = asked_for({"rule": request.rule, "kind": request.kind, "process": request.process})
    if request.json:
        print(json.dumps(as_data(asked), indent=2, ensure_ascii=False))
        return 0
    for number in asked:
        print(*_lines(number), sep="\n")
    print(f"{counted(asked)}.")
    return 0


def _lines(number: Number) -> Iterator[str]:
    """A number on a line, and below it what it is for and where it is from."""
    told = dict(zip(HEADINGS, row_of(number), strict=True))
    at = f" ({told['holds at']})" if told["holds at"] else ""
    yield f"{told['number']}{at} = {with_unit(told['value'], told['unit'])}".rstrip()
    yield f"    {told['used for']}; read by {told['rules'] or 'no rule'}"
    source = number.source.removeprefix(number.kind).removeprefix(": ")
    yield f"    {number.kind}{f': {source}' if source else ''}"
