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
checked, whatever led to it. The number of redraws is bounded, the less the more a redraw takes; what is known not to do
counts without being drawn. A rule for which more would have been tried is told of.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from parts.finding import Finding
from parts.profile import Profile
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
    "Solution",
    "Trials",
    "is_serious",
    "redraws_of",
    "rules_to_mend",
    "solved",
    "titled",
]

REDRAWS, LEAST_REDRAWS = 150, 4
"""The most redraws for all remedies of one part, and the least."""
_WORK = 120_000
# What all redraws of a part may take, in segments of a plain template's outline: some three seconds of a processor.


class Solution(NamedTuple):
    """The remedy of each rule that has one, in the order of the findings; the rules without for which time ran out."""

    remedies: tuple[Remedy, ...]
    cut_short: tuple[str, ...] = ()


def redraws_of(profile: Profile, effort: int) -> int:
    """Return how many redraws a part is worth whose outline takes `effort` times a plain one's to draw and check.

    It hangs on what is drawn alone, so that the same is found on any machine.
    """
    segments = sum(len(loop.segments) for loop in profile.boundary)
    return max(LEAST_REDRAWS, min(REDRAWS, _WORK // max(effort * segments, 1)))


def rules_to_mend(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Return the rules with a `stop` or a `warn`, in the order of their findings."""
    return tuple(dict.fromkeys(finding.rule for finding in findings if is_serious(finding)))


def solved(specs: Mapping[str, Spec], trials: Trials, units: Units) -> Solution:
    """Return the remedy of each rule that has one.

    Args:
        specs: every parameter as declared.
        trials: the part as drawn, and redraws of it in the same form.
        units: those the shop works in.
    """
    every = tuple(finding for found in trials.sight.found.values() for finding in found)
    rules = rules_to_mend(every)
    if not rules:
        return Solution(())
    search = Search(trials, _changeable(specs, every), units, specs.get("thickness"))
    found, short = _in_turns(search, rules)
    if rest := [rule for rule in rules if rule not in found]:
        more, short = _in_turns(search, rest)  # what the others left over
        found |= more
    worded = tuple(_worded(rule, found[rule], search, specs) for rule in rules if rule in found)
    return Solution(worded, tuple(rule for rule in short if rule not in found))


def _in_turns(search: Search, rules: Sequence[str]) -> tuple[dict[str, Outcome], list[str]]:
    """The best outcome of each rule that has one, each looked for with its part of the redraws that are left.

    And the rules whose part was used up.
    """
    found, short = {}, []
    for turns, rule in zip(range(len(rules), 0, -1), rules, strict=True):
        search.trials.turn(turns)
        if outcome := search.best(rule):
            found[rule] = outcome
        if search.trials.ran_out:
            short.append(rule)
    return found, short


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
