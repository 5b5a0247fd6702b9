"""Remedies at the command line: what is offered beside a finding, and what is taken when asked for."""

from collections.abc import Iterator, Sequence

from parts import Part, Problem, Refused
from parts.errors import nearest
from parts.remedy import Remedy, rules_to_mend
from parts.rules import RULES

EVERY = "all"


def applying(part: Part, asked: Sequence[str]) -> tuple[Part, list[str]]:
    """Return a part with the remedies asked for taken one after the other, each solved for the part as it then is.

    The lines say what changed.

    Raises:
        Refused: if what is asked for is no rule, or there is nothing to take.
    """
    lines: list[str] = []
    for rule in asked:
        known = [str(module.RULE) for module in RULES]
        if rule not in (*known, EVERY):
            near = nearest(rule, (*known, EVERY))
            meant = f"did you mean {near}?" if near else f"write {', '.join(known)} or {EVERY}."
            raise _refusal(rule, f"is not a rule; {meant}")
        taken = [*_taken(part, rule)]
        if not taken:
            raise _refusal(rule, _why_not(part, rule))
        for remedy, mended in taken:
            lines += (f"applied: {remedy.rule}: {change.title} {change.said}" for change in remedy.changes)
            part = mended
    return part, lines


def found(part: Part) -> Iterator[str]:
    """Yield the findings, those alike in one line; the first of each rule ends with what --apply would set."""
    offers = {remedy.rule: remedy for remedy in part.remedies}
    for row in part.record.rows:
        finding = row.first
        line = f"{finding.severity}: {finding.rule}: {finding.message} {finding.remedy} {row.rest}".rstrip()
        if offer := offers.pop(finding.rule, None):
            settings = " ".join(f"{name}={text}" for name, text in offer.values.items())
            line = f"{line.removesuffix('.')}; --apply {finding.rule} would set {settings}"
        yield line


def _taken(part: Part, rule: str) -> Iterator[tuple[Remedy, Part]]:
    """Yield each remedy and the part with it; each leaves fewer rules to mend, so there is an end."""
    while remedy := next((one for one in part.remedies if rule in (one.rule, EVERY)), None):
        part = part.mended(remedy)
        yield remedy, part


def _why_not(part: Part, rule: str) -> str:
    wanting = rules_to_mend(part.findings)
    if rule not in wanting and not (rule == EVERY and wanting):
        return "has nothing to mend here."
    return "has no remedy that changes one or two parameters and harms nothing else; the findings say what to do."


def _refusal(rule: str, message: str) -> Refused:
    return Refused((Problem("apply", rule, message),))
