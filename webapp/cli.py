"""The command `platewright`: the same calls as the page, from a shell.

Exit status: 0 done, 1 a `stop` finding, 2 the request is wrong. What is asked for goes to standard output;
findings, cautions and refusals go to standard error.
"""

import argparse
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

import parts
from parts.parameter import Spec
from parts.part import FORMATS, Part
from webapp.apply import applying, found
from webapp.serve import serve

STANDARD_OUTPUT = "-"
EPILOG = "Lengths are text as a shop writes it: 100, 3/16, '1-1/2 in', '2ft 3in', 16ga. A bare number is in units=."


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a request in one sentence, without the whole usage."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message}. See {self.prog} --help.\n")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    try:
        return _run(_parser(), argv)
    except (parts.Refused, parts.UnknownTemplate) as refused:
        for problem in refused.problems:
            _tell(f"{problem.parameter}: {problem.value}: {problem.message}")
    except parts.PartsError as error:
        _tell(str(error))
    except BrokenPipeError:  # whoever read the output has had enough, as `head` has
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        _tell(f"{error.filename or 'output'}: can't be written: {error.strerror or error}.")
    return 2


def _run(parser: argparse.ArgumentParser, argv: Sequence[str] | None) -> int:
    request, rest = parser.parse_known_args(argv)
    late = [word for word in rest if "=" in word and not word.startswith("-")]
    if "values" not in request or len(late) < len(rest):
        wrong = " ".join(word for word in rest if word not in late or "values" not in request)
        if wrong:
            parser.error(f"{wrong} isn't understood here")
    else:
        request.values += late  # values may stand after the options too
    status = int(request.run(request))
    sys.stdout.flush()
    return status


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="platewright", description="Sheet and plate parts, drawn exactly and checked before cutting.")
    parser.add_argument("--version", action="version", version=f"platewright {parts.VERSION}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND", dest="command")
    listing = commands.add_parser("list", help="the templates and their parameters")
    listing.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    listing.set_defaults(run=_list)
    drawing = commands.add_parser("draw", help="one part, as a file", epilog=EPILOG)
    drawing.add_argument("slug", metavar="SLUG", help="the template, as `list` names it")
    drawing.add_argument("values", nargs="*", metavar="name=value", help="such as leg_a=4in thickness=16ga")
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
    drawing.add_argument("--even-so", action="store_true", help="write the file despite a stop finding")
    drawing.set_defaults(run=_draw)
    serving = commands.add_parser("serve", help="the web page")
    serving.add_argument("--host", default="127.0.0.1", help="the address to listen on (%(default)s)")
    serving.add_argument("--port", type=int, default=8765, help="the port to listen on (%(default)s)")
    serving.add_argument("--no-browser", action="store_true", help="don't open the browser")
    serving.set_defaults(run=lambda request: serve(request.host, request.port, browser=not request.no_browser))
    return parser


def _list(request: argparse.Namespace) -> int:
    if request.json:
        print(json.dumps([described(slug) for slug in parts.templates()], indent=2))
        return 0
    for template in parts.templates().values():
        print(f"{template.slug}: {template.title}. {template.summary}")
        for spec in template.parameters.specs().values():
            limits = f" ({spec.limits()})" if spec.limits() and not spec.is_bolt else ""
            print(f"    {spec.name:<16} {spec.label}: {spec.say(spec.default)}{limits}")
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
        "default": spec.default,
        "minimum": spec.minimum,
        "maximum": spec.maximum,
        "choices": list(spec.choices) or None,
        "unit": spec.unit,
        "help": f"{spec.label}. {spec.help}".strip(),
    }


def _draw(request: argparse.Namespace) -> int:
    kind = _format(request.output, request.format)
    part, applied = applying(parts.draw(request.slug, **_values(request.values)), request.apply)
    for line in (*applied, *found(part)):
        _tell(line)
    for caution in part.cautions:
        _tell(f"caution: {caution}")
    stopped = any(finding.severity == "stop" for finding in part.findings)
    if not stopped or request.even_so:
        _write(part, kind, request.output)
    else:
        _tell(f"{request.output}: not written; mend what stops it, or say --even-so.")
    return int(stopped)


def _format(output: str, asked: str | None) -> str:
    """The format of a file: the one asked for, else the one its ending says."""
    kind = asked or Path(output).suffix.lstrip(".").lower()
    if kind in FORMATS:
        return kind
    endings = ", ".join(f".{known}" for known in FORMATS)
    message = "say which with --format." if output == STANDARD_OUTPUT else f"must end in one of {endings}."
    raise parts.Refused((parts.Problem("output", output, message),))


def _values(pairs: Sequence[str]) -> dict[str, str]:
    """The values of `name=value` words, each name given once."""
    values: dict[str, str] = {}
    problems = []
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals:
            problems.append(parts.Problem(name, "", "must be written name=value."))
        elif name in values:
            problems.append(parts.Problem(name, f"{values[name]}, {value}", "is given more than once; give it once."))
        else:
            values[name] = value
    if problems:
        raise parts.Refused(tuple(problems))
    return values


def _write(part: Part, kind: str, output: str) -> None:
    raw = part.file(kind)
    if output == STANDARD_OUTPUT:
        sys.stdout.buffer.write(raw)
    else:
        Path(output).write_bytes(raw)


def _tell(line: str) -> None:
    print(line, file=sys.stderr)
