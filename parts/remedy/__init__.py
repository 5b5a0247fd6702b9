"""Remedies that apply themselves: for each rule that found something to mend, the smallest change that mends it.

mends   after the change no `stop` or `warn` of that rule is left, and no rule, this one included, has more
        findings than before, a graver one, or one further off its limit; of notes only the number counts
smallest, in this order:
        1. the fewest holes, openings and pieces lost, best none
        2. of bolt holes too near an edge or each other, a smaller bolt, before a hole is moved
        3. the parameters that move most freely: what mates with something else only where nothing freer mends
        4. one parameter before two
        5. numbers, and what the rule itself proposes, before counts, bolt sizes, choices and flags
        6. the least change in mm. What alters the size of an opening counts one and a half times, what alters the
           overall size four times; an angle by what it moves at half the diagonal; the rule's own proposal as 2 mm

What changes a parameter that is never changed by itself, or takes something from the part, asks: it says what it does
to the part next to it, and is taken only by whoever chooses it. Rules take turns: each has its part of the redraws,
and those still without a remedy then share what is left over.

Where nothing else mends a rule, it is asked whether the part may be of the next thinner plate that does; then, whether
all that may be left out and is at fault may go at once.

Stock, process, bed and file are what the shop has; else they change only where a rule proposes it. A number is probed
by a small change; the rate at which the findings follow says where their limit is reached; there it is tried, on
values a shop would say, and brought back to the nearest that does. Every remedy is a value that was drawn and
checked, whatever led to it. The number of redraws is bounded; what is known not to do counts without being drawn.
"""

from collections.abc import Mapping, Sequence

from parts.finding import Finding
from parts.remedy.cost import Cost, CostItem
from parts.remedy.judge import Redrawn, is_serious
from parts.remedy.mating import question
from parts.remedy.record import ParameterChange, Remedy, titled
from parts.remedy.solve import Outcome, Search
from parts.remedy.trials import Redraw, Trials
from parts.spec import Parameters, Spec, Value
from parts.units import Units

__all__ = [
    "Cost",
    "CostItem",
    "ParameterChange",
    "Redraw",
    "Redrawn",
    "Remedy",
    "is_serious",
    "rules_to_mend",
    "solved",
    "titled",
]

REDRAWS = 150
"""The most redraws for all remedies of one part."""


def rules_to_mend(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Return the rules with a `stop` or a `warn`, in the order of their findings."""
    return tuple(dict.fromkeys(finding.rule for finding in findings if is_serious(finding)))


def solved(
    specs: Mapping[str, Spec],
    values: Mapping[str, Value],
    sight: Redrawn,
    redraw: Redraw,
    units: Units,
    became: Mapping[str, Value] | None = None,
) -> tuple[Remedy, ...]:
    """Return the remedy of each rule that has one, in the order of the findings.

    Args:
        specs: every parameter as declared.
        values: the value of each, in mm and degrees.
        sight: the part as drawn with them.
        redraw: draws the part with other values, in the same form.
        units: those the shop works in.
        became: what values of 0 became that the template fills in.
    """
    every = tuple(finding for found in sight.found.values() for finding in found)
    rules = rules_to_mend(every)
    if not rules:
        return ()
    search = Search(
        Trials(redraw, values, sight, REDRAWS, became), _changeable(specs, every), units, specs.get("thickness")
    )
    found = _in_turns(search, rules)
    rest = [rule for rule in rules if rule not in found]
    found |= _in_turns(search, rest)  # what the others left over
    return tuple(_worded(rule, found[rule], search, specs) for rule in rules if rule in found)


def _in_turns(search: Search, rules: Sequence[str]) -> dict[str, Outcome]:
    """The best outcome of each rule that has one, each looked for with its part of the redraws that are left."""
    found = {}
    for turns, rule in zip(range(len(rules), 0, -1), rules, strict=True):
        search.trials.turn(turns)
        if outcome := search.best(rule):
            found[rule] = outcome
    return found


def _changeable(specs: Mapping[str, Spec], findings: tuple[Finding, ...]) -> Mapping[str, Spec]:
    """The template's own parameters, and what a rule proposes to change."""
    common = Parameters.specs().keys() - {name for finding in findings for name, _ in finding.changes}
    return {name: spec for name, spec in specs.items() if name not in common}


def _worded(rule: str, outcome: Outcome, search: Search, specs: Mapping[str, Spec]) -> Remedy:
    before, units = search.trials.sight, search.units
    values = search.trials.values
    changes = tuple(_change(specs[name], values[name], new, units) for name, new in outcome.changes.items())
    now, then = before.measured(), outcome.sight.measured()
    return Remedy(
        rule,
        changes,
        asks=question(changes, specs, before, outcome.sight),
        with_care=tuple(change.name for change in changes if specs[change.name].moves == "care"),
        cost=Cost(now, then, units) if now and then else None,
    )


def _change(spec: Spec, old: Value, new: Value, units: Units) -> ParameterChange:
    said, texts = ((say(old, units), say(new, units)) for say in (spec.say, spec.text))
    return ParameterChange(spec.name, spec.label, spec.group, *said, *texts)
