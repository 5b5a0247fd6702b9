"""The commands of `platewright`, one module or folder each, imported when it is asked for."""

import argparse
from importlib import import_module

from webapp.commands.console import tell

COMMANDS = {
    "list": "the templates and their parameters",
    "draw": "one part, as a file",
    "check": "the rules over a DXF or SVG of your own",
    "pack": "everything that goes with a part, in a ZIP with a page of contents",
    "open": "what a file that Platewright wrote is of, and whether it was edited since",
    "trace": "a picture or drawn shapes of your own as an outline that holds together",
    "batch": "a part for every row of a table, with a report of what was found",
    "nest": "what a table orders, laid out on sheets",
    "offcut": "off-cuts of sheets: put into the store, listed, taken out",
    "job": "jobs that are kept: their parts, sums and sheets, each change a revision",
    "true": "the errors of a table from a measured piece, and what to change",
    "sheet": "where a test piece is measured: to print, or to fill in for `true`",
    "boltup": "whether two parts bolt up: the chance, the worst hole, what makes it safe",
    "setup": "the set-up sheet of a part: to print, or to read at the table",
    "history": "what was measured of each table over time",
    "serve": "the web page",
    "shop": "the shop's own numbers: where they are, what is set",
    "numbers": "every number that findings rest on, and where it is from",
}
"""What each does, by its name, which is its module's too."""


def declare(name: str, command: argparse.ArgumentParser) -> None:
    """Let a command say what it is given, and what runs it."""
    import_module(f"{__name__}.{name}").declare(command)


__all__ = ["COMMANDS", "declare", "tell"]
