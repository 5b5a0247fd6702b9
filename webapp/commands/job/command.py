"""What `platewright job` does, by its first word."""

import argparse

from parts.store import LONGEST_REFERENCE, TURNS, VARIABLE
from webapp.commands.console import EPILOG, declare_force, whole_number
from webapp.commands.job import changing, reading, sending
from webapp.commands.nest import declare_sheets

_ACTS = (
    ("list", "the jobs, those changed last first", reading.listed),
    ("show", "a job: its parts, what they come to, what was found", reading.shown),
    ("history", "every change of a job", reading.history),
    ("begin", "a job of a name", changing.begin),
    ("add", "a part to a job", changing.add),
    ("set", "how many of a line, what it is called, how it may lie", changing.set_line),
    ("remove", "a line from a job", changing.remove),
    ("rename", "a job", changing.rename),
    ("undo", "the last change of a job", changing.undo),
    ("redo", "what was undone last", changing.redo),
    ("back", "a job to what it was at a revision", changing.back),
    ("archive", "a job, or --resume it", changing.archive),
    ("duplicate", "a job", changing.duplicate),
    ("export", "a job as one file", sending.export),
    ("import", "a job that a file holds", sending.take_in),
    ("files", "a drawing of every part of a job", sending.files),
    ("sheets", "a job laid out on sheets", sending.sheets),
)


def declare(command: argparse.ArgumentParser) -> None:
    """Say what the command is given."""
    command.epilog = f"Jobs are kept beside the shop's own numbers, or where {VARIABLE} says, as for the page."
    acts = command.add_subparsers(required=True, metavar="ACT", dest="act")
    for name, summary, run in _ACTS:
        act = acts.add_parser(name, help=summary)
        act.set_defaults(run=run)
        if name not in ("list", "begin", "import"):
            act.add_argument("job", metavar="N", type=whole_number, help="the job's number, as `job list` has it")
        if name in _GIVEN:
            _GIVEN[name](act)


def _list(act: argparse.ArgumentParser) -> None:
    act.add_argument("words", nargs="*", metavar="WORD", help="those in which every word stands")
    act.add_argument("--archived", action="store_true", help="those that are put aside")
    _as_json(act)


def _begin(act: argparse.ArgumentParser) -> None:
    act.add_argument("name", metavar="NAME")
    act.add_argument("--reference", default="", help=f"the customer's, up to {LONGEST_REFERENCE} characters")


def _rename(act: argparse.ArgumentParser) -> None:
    act.add_argument("name", metavar="NAME")
    act.add_argument("--reference", help="the customer's; as it is unless said")


def _add(act: argparse.ArgumentParser) -> None:
    act.epilog = EPILOG
    act.add_argument("slug", metavar="PART", help="a template, as `list` names it; a saved part's name; a DXF or SVG")
    act.add_argument("values", nargs="*", default=[], metavar="name=value", help="such as leg_a=4in thickness=16ga")
    act.add_argument("--quantity", default="1", metavar="N", help="how many; 1 unless said")
    act.add_argument("--name", default="", help="what the shop calls it")


def _line(act: argparse.ArgumentParser) -> None:
    act.add_argument("line", metavar="LINE", type=whole_number, help="the line's number, as `job show` has it")


def _set(act: argparse.ArgumentParser) -> None:
    _line(act)
    act.add_argument("--quantity", metavar="N", help="how many")
    act.add_argument("--name", help="what the shop calls it")
    act.add_argument("--turns", choices=TURNS, help="how it may lie on a sheet")
    act.add_argument("--mirror", choices=("yes", "no"), help="whether it is alike on both faces")


def _back(act: argparse.ArgumentParser) -> None:
    act.add_argument("revision", metavar="REVISION", type=whole_number, help="as `job history` has it")


def _archive(act: argparse.ArgumentParser) -> None:
    act.add_argument("--resume", action="store_true", help="take it up again")


def _export(act: argparse.ArgumentParser) -> None:
    act.add_argument("-o", "--output", required=True, metavar="FILE", help="a .json; - for stdout")
    declare_force(act)


def _import(act: argparse.ArgumentParser) -> None:
    act.add_argument("file", metavar="FILE", help="what `job export` or the page wrote; - for stdin")


def _files(act: argparse.ArgumentParser) -> None:
    act.add_argument("-o", "--output", required=True, metavar="FOLDER", help="made where it isn't there")
    act.add_argument("--format", default="dxf", metavar="KIND", help="dxf unless said")
    act.add_argument("--even-so", action="store_true", help="write files despite a stop finding")
    declare_force(act)


def _as_json(act: argparse.ArgumentParser) -> None:
    act.add_argument("--json", action="store_true", help="as JSON, lengths in mm")


_GIVEN = {
    "list": _list, "show": _as_json, "begin": _begin, "add": _add, "set": _set, "remove": _line, "rename": _rename,
    "back": _back, "archive": _archive, "export": _export, "import": _import, "files": _files,
    "sheets": declare_sheets,
}  # fmt: skip
