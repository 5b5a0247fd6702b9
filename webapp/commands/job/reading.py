"""Acts that read the store: the jobs, one of them with what it comes to, and its changes."""

import argparse
import json
import sys
from collections.abc import Iterator
from dataclasses import asdict

from parts import store
from parts.jobs import Summary, Summed, Totals, summed_up, totals
from parts.store import Job, Line
from parts.units import Units, format_both, units_of
from webapp.commands.console import usual_values
from webapp.job_words import TURNS_SAID, said, stock, sums


def listed(request: argparse.Namespace) -> int:
    """List the jobs, those changed last first."""
    rows = store.jobs(" ".join(request.words), is_archived=request.archived)
    if request.json:
        _write(json.dumps([asdict(row) for row in rows], ensure_ascii=False, indent=1))
        return 0
    for row in rows:
        reference = f", {row.reference}" if row.reference else ""
        count = f"{row.lines} line{'' if row.lines == 1 else 's'}"
        _write(f"{row.number:>5}  {row.changed[:10]}  {row.name}{reference}: {count}")
    if not rows:
        _write(
            "no job is archived" if request.archived else "no job goes by these words" if request.words else "no job"
        )
    return 0


def shown(request: argparse.Namespace) -> int:
    """Show a job; the exit status is 1 where a line can't be cut."""
    job, units = store.job(request.job), units_of(usual_values().get("units"))
    found = [(line, _summed(line, units)) for line in job.content.lines]
    every = totals([(line.quantity, each if isinstance(each, Summary) else None) for line, each in found])
    if request.json:
        _write(json.dumps(_as_data(job, found, every), ensure_ascii=False, indent=1))
    else:
        for line in (*_lines(job, found), *_sums(every, units)):
            _write(line)
    return int(any(not isinstance(each, Summary) or each.is_stopped for _, each in found))


def history(request: argparse.Namespace) -> int:
    """Show every change of a job, in their order."""
    for revision, what in said(store.revisions(request.job)):
        _write(f"{revision.number:>5}  {revision.made[:16].replace('T', ' ')}  {what}")
    return 0


def _summed(line: Line, units: Units) -> Summed:
    return summed_up(line.kept, units, store.drawing_of(line.kept))


def _lines(job: Job, found: list[tuple[Line, Summed]]) -> Iterator[str]:
    reference = f", {job.content.reference}" if job.content.reference else ""
    archived = " (archived)" if job.content.is_archived else ""
    yield f"job {job.number}: {job.content.name}{reference}, revision {job.revision.number}{archived}"
    for line, each in found:
        lies = f", {TURNS_SAID[line.turns]}{', on either face' if line.mirror else ''}"
        yield f"line {line.number}: {line.quantity} x {line.name or line.kept.part} ({line.kept.part}){lies}"
        if isinstance(each, Summary):
            yield f"    {each.title}, {each.size}, {each.material}, {format_both(each.thickness_mm)}, {each.process}"
            yield from (f"    {f.severity}: {f.rule}: {f.message} {f.remedy} {f.rest}".rstrip() for f in each.findings)
        else:
            yield from (f"    can't be drawn: {p.parameter}: {p.value}: {p.message}" for p in each)


def _sums(every: Totals, units: Units) -> Iterator[str]:
    yield from (f"{name}: {value}" for name, value in sums(every, units))
    yield from (f"stock: {what}: {count} parts, {mass}" for what, count, mass in stock(every, units))


def _as_data(job: Job, found: list[tuple[Line, Summed]], every: Totals) -> dict[str, object]:
    """A job as data: its lines with what one of each comes to, or why it can't be drawn."""
    lines = [
        {
            "line": line.number,
            "quantity": line.quantity,
            "name": line.name,
            "part": line.kept.part,
            "values": dict(line.kept.values),
            "turns": line.turns,
            "mirror": line.mirror,
            "of_one": asdict(each.of) if isinstance(each, Summary) else None,
            "findings": [asdict(finding) for finding in each.findings] if isinstance(each, Summary) else [],
            "problems": [] if isinstance(each, Summary) else [[p.parameter, p.value, p.message] for p in each],
        }
        for line, each in found
    ]
    content = job.content
    return {
        "job": job.number,
        "name": content.name,
        "reference": content.reference,
        "revision": job.revision.number,
        "is_archived": content.is_archived,
        "lines": lines,
        "totals": asdict(every),
    }


def _write(line: str) -> None:
    sys.stdout.write(f"{line}\n")
