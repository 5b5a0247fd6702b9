"""The command `platewright`: the same calls as the page, from a shell.

Exit status: 0 done, 1 a `stop` finding, 2 the request is wrong. What is asked for goes to standard output;
findings, cautions and refusals go to standard error.
"""

import argparse
import json
import os
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NoReturn

import parts
from parts import shop
from parts.cutting import PROCESSES
from parts.export import FORMATS
from parts.shop import ShopData, parse, read, read_file, set_in
from parts.spec import Condition, Spec
from webapp.apply import applying, found
from webapp.check_command import check
from webapp.compensated import compensated
from webapp.history_command import add_history
from webapp.serve import serve
from webapp.sheet_command import add_sheet
from webapp.true_command import true
from webapp.typed import default_of
from webapp.words import STANDARD_STREAM, tell, values_of, write

EPILOG = "Lengths are text as a shop writes it: 100, 3/16, '1-1/2 in', '2ft 3in', 16ga. A bare number is in units=."


_OPTION, _MINUS = re.compile(r"--(?!tape)[a-z][a-z-]*"), re.compile(r"-[\d.]")  # a tape has several lengths
_WANTING = re.compile(r"argument (?:.*/)?(-\S+): expected (?:at least )?one argument")


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a request in one sentence, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        if wanting := _WANTING.fullmatch(message):
            message = f"{wanting[1]} wants a value after it, and none that begins with a minus"
        self.exit(2, f"{self.prog}: {message}. See {self.prog} --help.\n")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    try:
        return _run(_parser(), argv)
    except (parts.Refused, parts.UnknownTemplate) as refused:
        for problem in refused.problems:
            tell(": ".join(filter(None, (problem.parameter, problem.value, problem.message))))
    except parts.PartsError as error:
        tell(str(error))
    except BrokenPipeError:  # whoever read the output has had enough, as `head` has
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        tell(f"{error.filename or 'output'}: can't be written: {error.strerror or error}.")
    return 2


def _run(parser: argparse.ArgumentParser, argv: Sequence[str] | None) -> int:
    request, rest = parser.parse_known_args(list(_joined(sys.argv[1:] if argv is None else argv)))
    late = [word for word in rest if "=" in word and not word.startswith("-")]
    if "values" not in request or len(late) < len(rest):
        wrong = " ".join(word for word in rest if word not in late or "values" not in request)
        if wrong:
            parser.error(f"{wrong} isn't understood here")
    else:
        request.values = [*request.values, *late]  # values may stand after the options too
    status = int(request.run(request))
    sys.stdout.flush()
    return status


def _joined(words: Sequence[str]) -> Iterator[str]:
    """Yield the words with a value such as -1/4 joined to its option, which would be taken for an option itself."""
    waiting = ""
    for word in words:
        if waiting and _MINUS.match(word):
            yield f"{waiting}={word}"
            waiting = ""
            continue
        if waiting:
            yield waiting
        waiting = word if _OPTION.fullmatch(word) else ""
        if not waiting:
            yield word
    if waiting:
        yield waiting


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="platewright", description="Sheet and plate parts, drawn exactly and checked before cutting.")
    parser.add_argument("--version", action="version", version=f"platewright {parts.VERSION}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND", dest="command")
    listing = commands.add_parser("list", help="the templates and their parameters")
    listing.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    listing.set_defaults(run=_list)
    drawing = commands.add_parser("draw", help="one part, as a file", epilog=EPILOG)
    drawing.add_argument("slug", metavar="SLUG", help="the template, as `list` names it")
    drawing.add_argument("values", nargs="*", default=[], metavar="name=value", help="such as leg_a=4in thickness=16ga")
    drawing.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="its ending says the format; - for stdout"
    )
    drawing.add_argument("--format", choices=FORMATS, help="the format, whatever the file's ending")
    drawing.add_argument(
        "--apply",
        action="append",
        default=[],
        metavar="RULE",
        help="take the remedy for what this rule finds; may be given again; `all` takes every one",
    )
    drawing.add_argument(
        "--compensate",
        metavar="FILE",
        help="draw it the other way off for one table: its measurements or accepted errors, TOML, as `true` reads",
    )
    drawing.add_argument("--even-so", action="store_true", help="write the file despite a stop finding")
    drawing.set_defaults(run=_draw)
    _add_check(commands.add_parser("check", help="the rules over a DXF or SVG of your own", epilog=EPILOG))
    _add_true(commands.add_parser("true", help="the errors of a table from a measured piece, and what to change"))
    add_sheet(commands.add_parser("sheet", help="where a test piece is measured: to print, or to fill in for `true`"))
    add_history(commands.add_parser("history", help="what was measured of each table over time"))
    serving = commands.add_parser("serve", help="the web page")
    serving.add_argument("--host", default="127.0.0.1", help="the address to listen on (%(default)s)")
    serving.add_argument("--port", type=int, default=8765, help="the port to listen on (%(default)s)")
    serving.add_argument("--no-browser", action="store_true", help="don't open the browser")
    serving.add_argument(
        "--shop-edits",
        action="store_true",
        help="let other machines change the shop's own numbers, if --host lets them in",
    )
    serving.set_defaults(run=_serve)
    numbers = commands.add_parser("shop", help="the shop's own numbers: where they are, what is set")
    numbers.add_argument("--check", metavar="FILE", help="say what is wrong with a file of numbers, and change nothing")
    numbers.set_defaults(run=_shop)
    return parser


def _add_check(checking: argparse.ArgumentParser) -> None:
    checking.add_argument("file", metavar="FILE", help="the drawing, DXF or SVG; - for stdin")
    checking.add_argument("values", nargs="*", metavar="name=value", help="such as small_holes=drill bed_x=4ft")
    checking.add_argument("--thickness", metavar="T", help="needed; bare, it is in the drawing's units")
    checking.add_argument("--material", metavar="M", help="such as mild-steel, which it is unless said")
    checking.add_argument("--process", metavar="P", help=f"{', '.join(PROCESSES)}; the first unless said")
    checking.add_argument("--units", metavar="U", help="mm or in, where the drawing doesn't say")
    checking.add_argument("--json", action="store_true", help="findings and all else as JSON, lengths in mm")
    checking.add_argument("-o", "--output", metavar="FILE", help="write the healed drawing; its ending says the format")
    checking.add_argument("--even-so", action="store_true", help="write it despite a stop finding")
    checking.set_defaults(run=check)


def _add_true(truing: argparse.ArgumentParser) -> None:
    truing.add_argument(
        "files", nargs="*", metavar="FILE", help="the measurements, TOML; - for stdin; of several pieces, all of them"
    )
    truing.add_argument("--json", action="store_true", help="all of it as JSON: ratios, degrees, mm")
    truing.add_argument("--units", choices=("mm", "in"), help="what the report speaks in, and bare lengths of --tape")
    truing.add_argument(
        "--tape",
        nargs="+",
        metavar="LENGTH",
        help="instead of a file: A B C of a triangle such as 4ft 3ft 5ft, or A B and both diagonals, "
        "the one from the corner in question first",
    )
    truing.add_argument("--u", metavar="LENGTH", help="how well each length of --tape is read; 0.5 mm unless said")
    truing.set_defaults(run=true)


def _serve(request: argparse.Namespace) -> int:
    return serve(request.host, request.port, browser=not request.no_browser, shared_edits=request.shop_edits)


def _shop(request: argparse.Namespace) -> int:
    if request.check is not None:
        return _check(request.check)
    file = read_file()
    own = parse(file.text, file.path)
    print(f"{file.path}{'' if file.is_there else ' (not there: every number is the built-in one)'}")
    for name, value in set_in(own):
        print(f"    {name} = {value}")
    return _tell_slips(file.path, own)


def _check(name: str) -> int:
    own = read(Path(name))
    wrong = _tell_slips(name, own)
    if not wrong:
        count = len(list(set_in(own)))
        print(f"{name}: in order; {count} entr{'y' if count == 1 else 'ies'} set.")
    return wrong


def _tell_slips(name: str, own: dict[str, Any]) -> int:
    found = shop.checked(own)
    slips = () if isinstance(found, ShopData) else found
    for slip in slips:
        tell(f"{name}: {slip.sentence}.")
    return 2 if slips else 0


def _list(request: argparse.Namespace) -> int:
    if request.json:
        print(json.dumps([described(slug) for slug in parts.templates()], indent=2))
        return 0
    for template in parts.templates().values():
        print(f"{template.slug}: {template.title}. {template.summary}")
        for spec in template.parameters.specs().values():
            limits = f" ({spec.limits()})" if spec.limits() and not spec.is_bolt else ""
            print(f"    {spec.name:<16} {spec.label}: {spec.say(default_of(spec))}{limits}")
        print()
    return 0


def described(slug: str) -> dict[str, Any]:
    """Return a template as `list --json` describes it: lengths in mm, angles in degrees."""
    template = parts.templates()[slug]
    return {
        "slug": slug,
        "family": template.family,
        "title": template.title,
        "summary": template.summary,
        "parameters": [_described(spec) for spec in template.parameters.specs().values()],
    }


def _described(spec: Spec) -> dict[str, Any]:
    return {
        "name": spec.name,
        "kind": spec.kind,
        "default": default_of(spec),
        "minimum": spec.minimum,
        "maximum": spec.maximum,
        "choices": list(spec.choices) or None,
        "unit": spec.unit,
        "help": f"{spec.label}. {spec.help}".strip(),
        "when": [{"parameter": c.parameter, "values": list(c.values) or None, "least": _least(c)} for c in spec.when],
    }


def _least(condition: Condition) -> int | None:
    """From which number on another parameter lets one apply; none where its words decide."""
    return None if condition.values else condition.least


def _draw(request: argparse.Namespace) -> int:
    kind, output = _format(request.output, request.format), request.output
    part, applied = applying(parts.draw(request.slug, **values_of(request.values)), request.apply)
    for line in (*applied, *found(part)):
        tell(line)
    for caution in part.cautions:
        tell(f"caution: {caution}")
    stopped = any(finding.severity == "stop" for finding in part.findings)
    if request.compensate is not None:
        part, output = compensated(part, request.compensate, output)
    if not stopped or request.even_so:
        write(part.file(kind), output)
    else:
        tell(f"{output}: not written; mend what stops it, or say --even-so.")
    return int(stopped)


def _format(output: str, asked: str | None) -> str:
    """The format of a file: the one asked for, else the one its ending says."""
    kind = asked or Path(output).suffix.lstrip(".").lower()
    if kind in FORMATS:
        return kind
    endings = ", ".join(f".{known}" for known in FORMATS)
    message = "say which with --format." if output == STANDARD_STREAM else f"must end in one of {endings}."
    raise parts.Refused((parts.Problem("output", output, message),))
