"""The remedies of a part: links that take them, and the same for programs."""

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

from flask import Blueprint, request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

import parts
from parts.cutting import Measures
from parts.part import Part
from parts.remedy import Cost, Remedy, rules_to_mend
from parts.templates import template as find
from webapp.forms import COMPENSATE, JOB_LINE, WAS, Before, Link, own_font, values_of
from webapp.openapi import Change, Costed, CostOfRemedy, Remedies, RemedyAnswer, RemedyLink, refusal
from webapp.pages.part.ways import way_links
from webapp.workers import CHECKS, apart, has_overrun

bp = Blueprint("remedies", __name__)


@dataclass(frozen=True, slots=True)
class Offer:
    """What the page offers for a rule: the link that takes it, what it asks before, and what it costs."""

    link: Link
    asks: str
    cost: str


@bp.get("/parts/<slug>/remedies.json")
def solved(slug: str) -> ResponseReturnValue:
    """Answer with the change that mends what each rule found, solved for the part in the address; or the ways on."""
    return _solved(slug, request.args)


@bp.post("/parts/<slug>/remedies.json")
@apart(CHECKS, most=own_font.LARGEST_REQUEST)
def solved_in_own_font(slug: str) -> ResponseReturnValue:
    """Answer the same in the font that is sent with the request, which isn't kept."""
    if has_overrun():
        raise parts.Refused((parts.Problem(own_font.FONT, "", own_font.OVERRUN),))
    with own_font.lent(own_font.sent()) as args:
        return _solved(slug, args)


def _solved(slug: str, args: "MultiDict[str, str]") -> ResponseReturnValue:
    asked = values_of(args)
    specs = find(slug).parameters.specs()
    try:
        part = parts.draw(
            slug, **{name: text for name, text in asked.items() if name not in (WAS, COMPENSATE, JOB_LINE)}
        )
    except parts.Refused as refused:
        return _ways_on(slug, asked, refused.problems), HTTPStatus.UNPROCESSABLE_ENTITY
    before = Before.read(slug, specs, asked, part.record.parameters)
    remedies, questions = (
        [_described(remedy, before.taking(remedy, text_of(remedy))) for remedy in some]
        for some in (part.remedies, part.questions)
    )
    short = list(part.solution.cut_short)
    return Remedies(remedies=remedies, questions=questions, without=_without(part), cut_short=short).model_dump()


def _ways_on(slug: str, asked: Mapping[str, str], problems: tuple[parts.Problem, ...]) -> dict[str, Any]:
    template = find(slug)
    given = {name: text for name, text in asked.items() if name in template.parameters.specs()}
    links = way_links(template, given, problems)
    return refusal(problems, (RemedyLink(text=link.text, values=dict(link.changes)) for link in links))


def offers(part: Part, before: Before) -> Mapping[str, Offer | None]:
    """Return, for each rule with something to mend, what is offered; None where there is nothing."""
    taking = {remedy.rule: _offer(remedy, before) for remedy in part.solved}
    return {rule: taking.get(rule) for rule in rules_to_mend(part.findings)}


def text_of(remedy: Remedy) -> str:
    """Return what a remedy changes, as the page says it: `Lamp centres up: 155 → 149 mm`."""
    return "; ".join(f"{change.title}: {change.brief}" for change in remedy.changes)


def asks_of(remedy: Remedy) -> str:
    """Return what is asked before a remedy is taken, as a sentence; empty where it may be taken unasked."""
    return f"{remedy.asks[:1].upper()}{remedy.asks[1:]}." if remedy.asks else ""


def cost_of(remedy: Remedy) -> str:
    """Return what a remedy costs, and what is to be looked at before, as a sentence."""
    care = "Look first whether anything hangs on it; " if remedy.with_care else ""
    said = f"{care}{remedy.cost.sentence}." if remedy.cost else ""
    return f"{said[:1].upper()}{said[1:]}"


def _offer(remedy: Remedy, before: Before) -> Offer:
    return Offer(before.taking(remedy, text_of(remedy)), asks_of(remedy), cost_of(remedy))


def _without(part: Part) -> list[str]:
    have = {remedy.rule for remedy in part.remedies}
    return [rule for rule in rules_to_mend(part.findings) if rule not in have]


def _described(remedy: Remedy, link: Link) -> RemedyAnswer:
    changes = [
        Change(parameter=c.name, label=c.label, before=c.before, after=c.after, old=c.old, new=c.new)
        for c in remedy.changes
    ]
    said = RemedyLink(text=link.text, values=dict(link.changes))
    return RemedyAnswer(
        rule=remedy.rule,
        sentence=remedy.sentence,
        changes=changes,
        asks=asks_of(remedy),
        care=list(remedy.with_care),
        cost=_costed(remedy.cost, cost_of(remedy)) if remedy.cost else None,
        address=link.address,
        link=said,
    )


def _costed(cost: Cost, sentence: str) -> CostOfRemedy:
    return CostOfRemedy(sentence=sentence, before=_numbers(cost.before), after=_numbers(cost.after))


def _numbers(of: Measures) -> Costed:
    return Costed(**{name: getattr(of, name) for name in Costed.model_fields})
