"""Acts that send a job out, or take one in: one file of it, a drawing of each part, its sheets."""

import argparse
import sys
from pathlib import Path

from parts import Refused, store
from parts.errors import Problem, did_you_mean
from parts.export import FORMATS
from parts.jobs import Searched, made, part_of
from parts.store import Line
from webapp.commands.console import folder_at, kind_of, tell, waiting, write
from webapp.commands.console.own_file import read
from webapp.commands.job.changing import tell_job
from webapp.commands.nest import asked_of, each_of, told
from webapp.job_words import plain

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
    return tell_job(store.take_in(data, name))


def files(request: argparse.Namespace) -> int:
    """Write a drawing of every line of a job; the exit status is 1 where one isn't written."""
    kind = request.format.strip().lower().lstrip(".")
    if kind not in FORMATS:
        raise Refused(
            (Problem("format", request.format, f"must be of {', '.join(FORMATS)}{did_you_mean(kind, FORMATS)}"),)
        )
    content, folder = store.job(request.job).content, folder_at(request.output)
    folder.mkdir(parents=True, exist_ok=True)
    written = [_write_line(line, kind, folder, request) for line in content.lines]
    sys.stdout.write(f"{request.output}: {sum(written)} of {len(written)} lines\n")
    return int(not all(written))


def _write_line(line: Line, kind: str, folder: Path, request: argparse.Namespace) -> bool:
    called = line.name or line.kept.part
    try:
        found = made(line.kept, store.drawing_of(line.kept))
    except Refused as refused:
        for problem in refused.problems:
            tell(f"line {line.number}: {called}: {problem.parameter}: {problem.value}: {problem.message}")
        return False
    part = part_of(found)
    if part.stopped and not request.even_so:
        stops = ", ".join(dict.fromkeys(f.rule for f in part.findings if f.severity == "stop"))
        tell(f"line {line.number}: {called}: not written: {stops}; mend what stops it, or say --even-so.")
        return False
    write(found.file(kind), str(folder / f"{_stem(line)}.{kind}"), force=request.force)
    return True


def _stem(line: Line) -> str:
    """What the file of a line is called: its number, how many, its name in signs that every system has."""
    called = plain(line.name or line.kept.part)[:_LONGEST_STEM] or "part"
    return f"{line.number:03d}-{line.quantity}x-{called}"


def sheets(request: argparse.Namespace) -> int:
    """Lay a job out on sheets, as `nest` does a table."""
    from parts.laying import laid_out  # noqa: PLC0415 - slow to load

    asked, content = asked_of(request), store.job(request.job).content
    with waiting("laying out"):
        nested = laid_out(Searched(content, store.drawings_of(content), asked), each_of(request))
    return told(nested, request)
