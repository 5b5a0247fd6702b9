"""Remedies at the command line: what is offered beside a finding, and what is taken when asked for.

--apply RULE              the remedy of a rule that may be taken unasked
--apply all               every one of these, one after the other
--apply RULE:NAME[,NAME]  the question of a rule: naming what it changes says that what mates with it may follow
"""

from collections.abc import Iterator, Sequence

from parts import Part, Problem, Refused
from parts.errors import nearest
from parts.remedy import Remedy, rules_to_mend
from parts.rules import RULES

EVERY = "all"
NOTHING = "applied: nothing; {}."


def applying(part: Part, asked: Sequence[str]) -> tuple[Part, list[str]]:
    """Return a part with the remedies asked for taken one after the other, each solved for the part as it then is.

    The lines say what changed and what it costs, and where `all` had nothing to take.

    Raises:
        Refused: if what is asked for is no rule, there is nothing of one to take, or what is to be taken must be asked.
    """
    lines: list[str] = []
    for word in asked:
        rule, _, named = word.partition(":")
        known = [str(module.RULE) for module in RULES]
        if rule not in (*known, EVERY):
            near = nearest(rule, (*known, EVERY))
            meant = f"did you mean {near}?" if near else f"write {', '.join(known)} or {EVERY}."
            raise _refusal(word, f"is not a rule; {meant}")
        taken = [_chosen(part, rule, named)] if named else [*_taken(part, rule)]
        if not taken and rule != EVERY:
            raise _refusal(word, _why_not(part, rule))
        if not taken:
            lines.append(NOTHING.format(_none_of_all(part)))
        for remedy, mended in taken:
            lines += _said(remedy)
            part = mended
    return part, lines


def found(part: Part) -> Iterator[str]:
    """Yield the findings, those alike in one line; the first of each rule ends with what --apply would set."""
    offers = {remedy.rule: remedy for remedy in part.solved}
    for row in part.record.rows:
        finding = row.first
        line = f"{finding.severity}: {finding.rule}: {finding.message} {finding.remedy} {row.rest}".rstrip()
        if offer := offers.pop(finding.rule, None):
            settings = " ".join(f"{name}={text}" for name, text in offer.values.items())
            asks = f"{offer.asks}: " if offer.asks else ""
            line = f"{line.removesuffix('.')}; {asks}--apply {chosen_by(offer)} would set {settings}"
            line += f" ({offer.cost.sentence})" if offer.cost else ""
        yield line


def chosen_by(remedy: Remedy) -> str:
    """Return what to write after --apply to take a remedy: its rule and, where it asks, what it changes."""
    return f"{remedy.rule}:{','.join(remedy.names)}" if remedy.asks else remedy.rule


def _said(remedy: Remedy) -> Iterator[str]:
    for change in remedy.changes:
        care = ", with care: something may hang on it" if change.name in remedy.with_care else ""
        yield f"applied: {remedy.rule}: {change.title} {change.said}{care}"
    if remedy.asks:
        yield f"asked: {remedy.rule}: {remedy.asks}"
    if remedy.cost:
        yield f"costs: {remedy.rule}: {remedy.cost.sentence}"


def _chosen(part: Part, rule: str, named: str) -> tuple[Remedy, Part]:
    """The remedy or question of a rule that changes what is named, and the part with it."""
    remedy = next((one for one in part.solved if one.rule == rule), None)
    if remedy is None or {*named.split(",")} != {*remedy.names}:
        offered = f"; it has {chosen_by(remedy)}" if remedy else ""
        raise _refusal(f"{rule}:{named}", f"is no remedy of what was found{offered}.")
    return remedy, part.mended(remedy)


def _taken(part: Part, rule: str) -> Iterator[tuple[Remedy, Part]]:
    """Yield each remedy and the part with it; each leaves fewer rules to mend, so there is an end."""
    while remedy := next((one for one in part.remedies if rule in (one.rule, EVERY)), None):
        part = part.mended(remedy)
        yield remedy, part


def _none_of_all(part: Part) -> str:
    if not rules_to_mend(part.findings):
        return "nothing found wants mending"
    if part.questions:
        return "what would mend it changes what mates with something else, and is to be chosen by itself"
    tried = ", of those that were tried: a part so rich takes long to draw" if part.solution.cut_short else ""
    return f"no change of one or two parameters mends what was found and harms nothing else{tried}"


def _why_not(part: Part, rule: str) -> str:
    if rule not in rules_to_mend(part.findings):
        return "has nothing to mend here."
    if question := next((one for one in part.questions if one.rule == rule), None):
        return f"has a remedy {question.asks}. To take it, write --apply {chosen_by(question)}."
    if rule in part.solution.cut_short:
        return "has no remedy among the changes that were tried, a few, as a part so rich takes long to draw."
    return "has no remedy that changes one or two parameters and harms nothing else; the findings say what to do."


def _refusal(word: str, message: str) -> Refused:
    return Refused((Problem("apply", word, message),))
