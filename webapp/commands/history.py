"""`platewright history`: what was measured of each table over time, as text or CSV; and CSV taken in."""

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from parts import Problem, Refused
from parts.truing import COVERAGE, Estimate, Words, history
from parts.truing.history import Entry
from parts.units import Units
from webapp.commands.console import declare_force, tell, write
from webapp.wording import TITLES, said_of


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.add_argument("--machine", metavar="NAME", default="", help="of this table alone")
    command.add_argument("--units", choices=("mm", "in"), help="what the list speaks in; each entry's own unless said")
    way = command.add_mutually_exclusive_group()
    way.add_argument("--csv", metavar="FILE", help="write the entries as CSV; - for stdout")
    way.add_argument("--load", metavar="FILE", help="take in the entries of such a CSV; nothing is overwritten")
    declare_force(command)
    command.set_defaults(run=run)


def run(request: argparse.Namespace) -> int:
    """Print, write or take in entries and return the exit status."""
    if request.load is not None:
        if request.machine:
            raise Refused((Problem("machine", request.machine, "doesn't go with --load, which takes every entry."),))
        count = history.take_in(history.read_csv(_text_of(request.load)))
        tell(f"{count} new entr{'y' if count == 1 else 'ies'} in {history.kept_at()}.")
        return 0
    known = history.entries(request.machine)
    if request.machine and not known:
        raise Refused((Problem("machine", request.machine, "nothing is kept of a table of this name."),))
    if request.csv is not None:
        write(history.write_csv(known).encode("utf-8"), request.csv, [history.kept_at()], force=request.force)
    else:
        sys.stdout.writelines(f"{line}\n" for line in lines(known, request.units))
    return 0


def lines(known: Sequence[Entry], units: Units | None = None) -> Iterator[str]:
    """Yield the entries for a person, by table."""
    yield history.kept_at()
    if not known:
        yield "    nothing is kept yet"
    taken = history.accepted(known)
    in_force = {entry.number for entry in history.in_force(known)}
    for machine in dict.fromkeys(entry.machine for entry in known):
        yield f"{machine}:"
        for entry in known:
            if entry.machine == machine:
                standing = "" if entry.number in in_force or entry.what == "acceptance" else " (corrected since)"
                accepted = " (accepted)" if taken.get(machine) == entry else ""
                yield f"    {entry.number:>4}  {entry.entered[:10]}  {_said(entry, units)}{standing}{accepted}"


def _said(entry: Entry, units: Units | None) -> str:
    if entry.what == "acceptance":
        return f"the errors of entry {entry.refers_to} accepted"
    units = units or entry.units
    words, found = Words(units), entry.report(units).solution.estimates
    return "; ".join(f"{TITLES[name]} {_interval(name, each, words)}" for name, each in found.items())


def _interval(name: str, error: Estimate, words: Words) -> str:
    margin = said_of(name, COVERAGE * error.standard_uncertainty, words, sign=False)
    return f"{said_of(name, error.value, words)} ± {margin}"


def _text_of(file: str) -> str:
    try:
        return Path(file).read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        raise Refused((Problem("load", file, "isn't text in UTF-8."),)) from error
    except OSError as error:
        raise Refused((Problem("load", file, f"can't be read: {error.strerror or error}."),)) from error
