"""The remedies of a part: links that take them, and the same for programs."""

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, request

import parts
from parts.part import Part
from parts.remedy import Remedy, rules_to_mend
from parts.templates import template as find
from webapp.forms import COMPENSATE, WAS, Before, Link, values_of
from webapp.openapi import Change, Remedies, RemedyAnswer, RemedyLink

bp = Blueprint("remedies", __name__)


@bp.get("/parts/<slug>/remedies.json")
def solved(slug: str) -> dict[str, Any]:
    """Answer with the change that mends what each rule found, solved for the part in the address."""
    asked = values_of(request.args)
    specs = find(slug).parameters.specs()
    part = parts.draw(slug, **{name: text for name, text in asked.items() if name not in (WAS, COMPENSATE)})
    before = Before.read(slug, specs, asked, part.record.parameters)
    remedies = [_described(remedy, before.taking(remedy, text_of(remedy))) for remedy in part.remedies]
    return Remedies(remedies=remedies, without=_without(part)).model_dump()


def links(part: Part, before: Before) -> Mapping[str, Link | None]:
    """Return, for each rule with something to mend, the link that takes its remedy; None where it has none."""
    taking = {remedy.rule: before.taking(remedy, text_of(remedy)) for remedy in part.remedies}
    return {rule: taking.get(rule) for rule in rules_to_mend(part.findings)}


def text_of(remedy: Remedy) -> str:
    """Return what a remedy changes, as the page says it: `Lamp centres up: 155 → 149 mm`."""
    return "; ".join(f"{change.title}: {change.brief}" for change in remedy.changes)


def _without(part: Part) -> list[str]:
    have = {remedy.rule for remedy in part.remedies}
    return [rule for rule in rules_to_mend(part.findings) if rule not in have]


def _described(remedy: Remedy, link: Link) -> RemedyAnswer:
    changes = [
        Change(parameter=c.name, label=c.label, before=c.before, after=c.after, old=c.old, new=c.new)
        for c in remedy.changes
    ]
    said = RemedyLink(text=link.text, values=dict(link.changes))
    return RemedyAnswer(rule=remedy.rule, sentence=remedy.sentence, changes=changes, address=link.address, link=said)
