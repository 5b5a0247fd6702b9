"""The command `platewright`: the same calls as the page, from a shell."""

import argparse
import json
import sys
import threading
import webbrowser
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import parts
from parts.parameter import Spec
from parts.part import Part

FORMATS = ("dxf", "svg", "pdf", "step", "json")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status: 0 done, 1 a `stop` finding, 2 the request is wrong."""
    request = _parser().parse_args(argv)
    try:
        return int(request.run(request))
    except parts.Refused as refused:
        for problem in refused.problems:
            print(f"{problem.parameter}: {problem.value}: {problem.message}", file=sys.stderr)
    except (parts.PartsError, OSError) as error:
        print(error, file=sys.stderr)
    return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="platewright", description="Sheet and plate parts, drawn and checked.")
    parser.add_argument("--version", action="version", version=f"platewright {parts.VERSION}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    listing = commands.add_parser("list", help="the templates and their parameters")
    listing.add_argument("--json", action="store_true", help="as JSON, lengths in mm")
    listing.set_defaults(run=_list)
    drawing = commands.add_parser("draw", help="one part, as a file")
    drawing.add_argument("slug", help="the template, as `list` names it")
    drawing.add_argument("values", nargs="*", metavar="name=value", help="such as leg_a=4in thickness=16ga")
    drawing.add_argument("-o", "--output", required=True, help="the file; its ending says the format; - for stdout")
    drawing.add_argument("--format", choices=FORMATS, help="the format, where the file's ending doesn't say it")
    drawing.add_argument("--even-so", action="store_true", help="write the file despite a stop finding")
    drawing.set_defaults(run=_draw)
    serving = commands.add_parser("serve", help="the web page")
    serving.add_argument("--host", default="127.0.0.1")
    serving.add_argument("--port", type=int, default=8765)
    serving.add_argument("--no-browser", action="store_true", help="don't open the browser")
    serving.set_defaults(run=_serve)
    return parser


def _list(request: argparse.Namespace) -> int:
    if request.json:
        print(json.dumps([described(slug) for slug in parts.templates()], indent=2))
        return 0
    for template in parts.templates().values():
        print(f"{template.slug}: {template.title}. {template.summary}")
        for spec in template.parameters.specs().values():
            print(f"    {spec.name:<16} {spec.label} [{spec.say(spec.default)}]")
    return 0


def described(slug: str) -> dict[str, Any]:
    """Return a template as `list --json` describes it."""
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
    kind = request.format or Path(request.output).suffix.lstrip(".").lower()
    if kind not in FORMATS:
        raise parts.Refused((_wrong_format(request.output),))
    part = parts.draw(request.slug, **_values(request.values))
    stopped = False
    for finding in part.findings:
        stopped = stopped or finding.severity == "stop"
        print(f"{finding.severity}: {finding.rule}: {finding.message} {finding.remedy}", file=sys.stderr)
    if not stopped or request.even_so:
        _write(part, kind, request.output)
    return int(stopped)


def _wrong_format(output: str) -> parts.Problem:
    endings = ", ".join(f".{kind}" for kind in FORMATS)
    return parts.Problem("output", output, f"must end in one of {endings}, or say --format.")


def _values(pairs: Sequence[str]) -> dict[str, str]:
    """The values of `name=value` words, each name given once."""
    values: dict[str, str] = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals:
            raise parts.Refused((parts.Problem(name, "", "must be written name=value."),))
        if name in values:
            raise parts.Refused((parts.Problem(name, value, "is given twice; give it once."),))
        values[name] = value
    return values


def _write(part: Part, kind: str, output: str) -> None:
    data = getattr(part, f"to_{kind}")()
    raw = data.encode() if isinstance(data, str) else data
    if output == "-":
        sys.stdout.buffer.write(raw)
    else:
        Path(output).write_bytes(raw)


def _serve(request: argparse.Namespace) -> int:
    import waitress  # noqa: PLC0415 - the other commands need neither

    from webapp import create_app  # noqa: PLC0415

    address = f"http://{request.host}:{request.port}/"
    try:
        server = waitress.create_server(create_app(), host=request.host, port=request.port, threads=8)
    except OSError as error:
        print(f"Can't listen on {address} ({error.strerror}); choose another --port.", file=sys.stderr)
        return 2
    print(f"Platewright is at {address} (Ctrl-C ends it).", flush=True)
    if not request.no_browser:
        threading.Timer(0.3, webbrowser.open, [address]).start()
    try:
        server.run()
    except KeyboardInterrupt:
        server.close()
    return 0
