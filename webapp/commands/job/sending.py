"""Acts that send a job out, or take one in: one file of it, a drawing of each part, its sheets."""

import argparse
import sys
from pathlib import Path

from parts import Refused, store
from parts.checking import Checked
from parts.errors import Problem, did_you_mean
from parts.export import FORMATS
from parts.jobs import Searched, laid_out, made
from parts.store import Line
from webapp.commands.console import kind_of, tell, waiting, write
from webapp.commands.console.own_file import read
from webapp.commands.nest import asked_of, told

_LONGEST_STEM = 60


def export(request: argparse.Namespace) -> int:
    """Write a job as one file."""
    if request.output != "-":
        kind_of(request.output, ("json",))
    write(store.export(request.job), request.output, force=request.force)
    return 0


def take_in(request: argparse.Namespace) -> int:
    """Begin a job that a file holds."""
    data, name = read(request.file, store.LARGEST_JOB + 1)
    job = store.take_in(data, name)
    sys.stdout.write(f"job {job.number}: {job.content.name}, revision {job.revision.number}\n")
    return 0


def files(request: argparse.Namespace) -> int:
    """Write a drawing of every line of a job; the exit status is 1 where one isn't written."""
    kind = request.format.strip().lower().lstrip(".")
    if kind not in FORMATS:
        raise Refused(
            (Problem("format", request.format, f"must be of {', '.join(FORMATS)}{did_you_mean(kind, FORMATS)}"),)
        )
    content, folder = store.job(request.job).content, Path(request.output)
    if folder.exists() and not folder.is_dir():
        raise Refused((Problem("output", request.output, "is a file; name a folder, made where it isn't there."),))
    folder.mkdir(parents=True, exist_ok=True)
    written = [_write_line(line, kind, folder, request) for line in content.lines]
    sys.stdout.write(f"{request.output}: {sum(written)} of {len(written)} lines\n")
    return int(not all(written))


def _write_line(line: Line, kind: str, folder: Path, request: argparse.Namespace) -> bool:
    called = line.name or line.kept.part
    try:
        found = made(line.kept, store.file(line.kept.drawing) if line.kept.drawing else b"")
    except Refused as refused:
        for problem in refused.problems:
            tell(f"line {line.number}: {called}: {problem.parameter}: {problem.value}: {problem.message}")
        return False
    part = found.part if isinstance(found, Checked) else found
    if part.stopped and not request.even_so:
        stops = ", ".join(dict.fromkeys(f.rule for f in part.findings if f.severity == "stop"))
        tell(f"line {line.number}: {called}: not written: {stops}; mend what stops it, or say --even-so.")
        return False
    write(found.file(kind), str(folder / f"{_stem(line)}.{kind}"), force=request.force)
    return True


def _stem(line: Line) -> str:
    """What the file of a line is called: its number, how many, its name in signs that every system has."""
    plain = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in line.name or line.kept.part)
    return f"{line.number:03d}-{line.quantity}x-{plain.strip('-')[:_LONGEST_STEM] or 'part'}"


def sheets(request: argparse.Namespace) -> int:
    """Lay a job out on sheets, as `nest` does a table."""
    asked, content = asked_of(request), store.job(request.job).content
    digests = {line.kept.drawing for line in content.lines if line.kept.drawing}
    with waiting("laying out"):
        nested = laid_out(Searched(content, {digest: store.file(digest) for digest in digests}, asked))
    return told(nested, request)
