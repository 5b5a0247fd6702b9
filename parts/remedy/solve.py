"""Solving: the smallest change of a part's parameters after which a rule finds nothing more to mend."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import TypeAlias

from parts.errors import UnitsError
from parts.finding import Finding
from parts.remedy.along import Judge, LineSearch
from parts.remedy.coupled import coupled
from parts.remedy.judge import Redrawn, harms, least_off, left, lost, moves_holes, shortfall, tallies
from parts.remedy.probe import NUDGE, Probe, in_mm, probes, serious, within
from parts.remedy.steps import beyond, point, steps
from parts.remedy.trials import Changes, Trials
from parts.remedy.words import further, near, nearest, smaller, without
from parts.spec import Moves, ReadingContext, Spec, Value
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import Units, thinner_plates

OWN_WORD_MM = 2.0
"""What the change counts that the rule itself proposes: drilling a hole comes before widening it by more than this."""
MOST_LINES = 8
"""Numbers looked along for one rule, the smallest change expected first."""
HALF_AS_FAR = 0.5
"""Of the change that a rate asks for: a number that can't go so far would have to do twice what it does at first."""
TWO_FROM = 4
"""First changes from which a second is looked for."""
OF_BOLTS = ("edge-distance", "bolt-spacing", "hole-to-thickness")
"""Rules about bolt holes: a smaller bolt is asked about before a hole is moved, or lost."""

FREEST_FIRST: tuple[Moves, ...] = ("free", "care", "never")
Rank: TypeAlias = tuple[int, int, int, int, float]
"""What is lost, how freely the least free of the changes may be made, how many they are, their tier, and their cost."""


@dataclass(frozen=True)
class Outcome:
    """Changes, what is seen after them, how many places of the rule are left, and how dear they are."""

    changes: Changes
    sight: Redrawn
    left: int
    rank: Rank


@dataclass(frozen=True)
class Goal:
    """At most `enough` places of a rule left, with the changes `beside` kept, which count `cost` already."""

    rule: str
    beside: Changes = field(default_factory=dict)
    cost: float = 0.0
    enough: int = 0


class Search:
    """The search over one part. What a trial has shown for one rule is not drawn again for the next.

    It goes by levels: what isn't as free is looked at only where nothing freer mends the rule. `level` is the one at
    hand, 0 the freest; `at_hand` are its parameters.
    """

    def __init__(self, trials: Trials, specs: Mapping[str, Spec], units: Units, thickness: Spec | None) -> None:
        self.trials, self.specs, self.units = trials, specs, units
        self._thickness = {thickness.name: thickness} if thickness else {}
        self.before = tallies(trials.sight)
        self.level = 0
        self._probes: dict[int, list[Probe]] = {}

    def best(self, rule: str) -> Outcome | None:
        """Return the best change that leaves nothing of a rule to mend, if one is found; `rank` is least."""
        found: list[Outcome] = []
        for self.level in range(len(FREEST_FIRST)):
            mating = FREEST_FIRST[self.level] == "never"
            if mating and rule in OF_BOLTS and (asked := self._smaller_bolt(rule)):
                return asked
            if mating and any(outcome.rank[0] == 0 for outcome in found):
                break
            for stage in self._stages(found):
                found += stage(rule)
                if settled := [outcome for outcome in found if self._is_settled(rule, outcome)]:
                    return min(settled, key=lambda outcome: outcome.rank)
        return min(found, key=lambda outcome: outcome.rank, default=None)

    def _is_settled(self, rule: str, outcome: Outcome) -> bool:
        """Whether nothing better need be looked for: nothing is lost, nor, before a smaller bolt is tried, moved."""
        if outcome.rank[0]:
            return False
        is_last = FREEST_FIRST[self.level] == "never" or rule not in OF_BOLTS
        return is_last or not moves_holes(self.trials.sight.profile, outcome.sight.profile)

    def _smaller_bolt(self, rule: str) -> Outcome | None:
        """What the largest of the smaller bolts does that mends a rule about their holes, if nothing is lost by it."""
        for spec in self.specs.values():
            for far, size in smaller(spec, self.trials.values[spec.name]):
                outcome = self.outcome(rule, {spec.name: size}, 1, float(far))
                if outcome and outcome.rank[0] == 0:
                    return outcome
        return None

    def _stages(self, found: Sequence[Outcome]) -> Iterator[Callable[[str], Iterator[Outcome]]]:
        """Yield the ways of looking, the cheapest first, in sight of what they have found.

        Of what mates one change is asked for, not two at once, and the first that does is enough to ask about.
        """
        mating = FREEST_FIRST[self.level] == "never"
        yield from (self._numbers, self._words)
        if mating and found:
            return
        yield from (self._backward, self._scans)
        if not mating:
            yield from (self._pairs, self._coupled)
        yield self._further
        if mating:
            yield from (self._plates, self._left_out)

    @property
    def at_hand(self) -> Mapping[str, Spec]:
        """The parameters of this level."""
        return {name: spec for name, spec in self.specs.items() if spec.moves == FREEST_FIRST[self.level]}

    def probes(self) -> list[Probe]:
        """Return a probe of every number of this level, drawn when first asked for, in nobody's turn."""
        if self.level not in self._probes:
            rules = tuple(rule for rule, found in self.before.items() if found.serious)
            with self.trials.beside_turns():
                self._probes[self.level] = probes(self.trials, self.at_hand, self.trials.sight, {}, rules)
        return self._probes[self.level]

    def probes_so_far(self) -> list[Probe]:
        """Return a probe of every number of this level and the freer ones."""
        return [probe for level in sorted(self._probes) if level <= self.level for probe in self._probes[level]]

    def freedom(self, changes: Changes) -> int:
        """Return the level of the least free of what is changed."""
        return max(FREEST_FIRST.index({**self._thickness, **self.specs}[name].moves) for name in changes)

    def outcome(self, rule: str, changes: Changes, tier: int, cost: float, enough: int = 0) -> Outcome | None:
        """Return what comes of changes; None where they are refused, do harm, or leave more than `enough` places."""
        sight = self.trials.glance(changes)
        remaining = left(rule, self.before, sight, enough) if sight else None
        if sight is None or remaining is None or harms(rule, self.before, sight):
            return None
        gone = lost(self.trials.sight.profile, sight.profile)
        rank = gone, self.freedom(changes), len(changes), tier, cost
        return Outcome(changes, sight, remaining, rank)

    def _numbers(self, rule: str) -> Iterator[Outcome]:
        """Yield what the rule proposes, then what each number does that moves all its findings, nearest first."""
        yield from self._proposed(rule)
        yield from self._aimed(Goal(rule), self.trials.sight, self.probes())

    def _aimed(self, goal: Goal, sight: Redrawn, probed: Iterable[Probe]) -> Iterator[Outcome]:
        """Yield what comes of aiming at all findings, until what is found is less than the next can be."""
        least = float("inf")
        aims = sorted(self._aims(goal.rule, sight, probed), key=lambda aim: aim[0])
        for cost, probe, change in aims[:MOST_LINES]:
            if cost > least:
                break
            if outcome := self._reached(goal, probe, change):
                yield outcome
                if outcome.rank[0] == 0:
                    least = min(least, outcome.rank[-1] - goal.cost)

    def _aims(self, rule: str, sight: Redrawn, probed: Iterable[Probe]) -> Iterator[tuple[float, Probe, float]]:
        """Yield each number that would bring all findings to their limits, by what change, and what that counts."""
        found = serious(rule, sight)
        for probe in probed:
            wants = probe.wants(found)
            changes = [want for want in wants if want is not None]
            if not changes or len(changes) < len(wants):
                continue
            if min(changes) > 0 or max(changes) < 0:
                change = max(changes, key=abs)
                yield self._cost(probe, change), probe, change

    def _cost(self, probe: Probe, change: float) -> float:
        value = self.trials.start(probe.spec.name)
        return probe.weight * in_mm(probe.spec, change, value, self.trials.sight)

    def _reached(self, goal: Goal, probe: Probe, change: float) -> Outcome | None:
        """The nearest value of a number that reaches a goal, looked for at a change from its present one.

        Where another limit comes after the one aimed at, its value is looked for next, once.
        """
        near = self._sought(goal, probe, change, lambda line: line.nearest(line.start + change))
        if near or not (more := self._second(goal, probe, change)):
            return near
        return self._sought(goal, probe, change, lambda line: line.nearest(line.start + change + more))

    def _second(self, goal: Goal, probe: Probe, change: float) -> float:
        """How much more is wanted by the findings left after a change, at the same rate; 0 if they are no nearer."""
        name = probe.spec.name
        value = self.trials.start(name) + change
        sight = self.trials.see({**goal.beside, name: value}) if within(probe.spec, value) else None
        before = max(map(shortfall, serious(goal.rule, probe.base)), default=0.0)
        after = max(map(shortfall, serious(goal.rule, sight)), default=0.0) if sight else 0.0
        return change * after / before if LIMIT_SLACK_MM < after < before else 0.0

    def _sought(
        self, goal: Goal, probe: Probe, towards: float, seek: Callable[[LineSearch], float | None]
    ) -> Outcome | None:
        name, start = probe.spec.name, self.trials.start(probe.spec.name)

        def come(value: float) -> Outcome | None:
            cost = goal.cost + self._cost(probe, value - start)
            return self.outcome(goal.rule, {**goal.beside, name: value}, 0, cost, goal.enough)

        def seen(value: float) -> Redrawn | None:
            return self.trials.glance({**goal.beside, name: value})

        def meets(value: float) -> bool:
            sight = seen(value)
            return sight is not None and left(goal.rule, self.before, sight, goal.enough) is not None

        def off(value: float) -> float:
            sight = seen(value)
            return least_off(goal.rule, sight, goal.enough) if sight else 0.0

        judge = Judge(
            meets=meets,
            does=lambda value: come(value) is not None,
            off=off,
            pass_over=lambda value: self.trials.pass_over({**goal.beside, name: value}),
        )
        reach = in_mm(probe.spec, 1.0, start, self.trials.sight)
        value = seek(LineSearch(probe.spec, start, 1 if towards > 0 else -1, self.units, judge, reach))
        return None if value is None else come(value)

    def _proposed(self, rule: str) -> Iterator[Outcome]:
        """Yield what the rule's own findings say to change."""
        texts = {name: text for finding in serious(rule, self.trials.sight) for name, text in finding.changes}
        try:
            changes = {name: self.specs[name].read(text, ReadingContext(self.units)) for name, text in texts.items()}
        except (KeyError, UnitsError):
            return
        if changes and self.freedom(changes) == self.level and (outcome := self.outcome(rule, changes, 0, OWN_WORD_MM)):
            yield outcome

    def _words(self, rule: str) -> Iterator[Outcome]:
        """Yield what another count, bolt size or choice does."""
        for spec in self.at_hand.values():
            for far, value in near(spec, self.trials.values[spec.name]):
                if outcome := self.outcome(rule, {spec.name: value}, 1, float(far)):
                    yield outcome

    def _backward(self, rule: str) -> Iterator[Outcome]:
        """Yield what each number does that moves the findings only when it is made less: of two limits the nearer one.

        A square as large in X as in Y is no smaller for being shorter in one until it fits.
        """
        found = serious(rule, self.trials.sight)
        still = {p.spec.name: p.spec for p in self.probes() if p.by > 0 and not any(p.wants(found)) and p.weight > 1}
        back = probes(self.trials, still, self.trials.sight, {}, (rule,), (-NUDGE,))
        yield from self._aimed(Goal(rule), self.trials.sight, back)

    def _further(self, rule: str) -> Iterator[Outcome]:
        """Yield what a count or a bolt size does that lies beyond the neighbours of the present one."""
        for spec in self.at_hand.values():

            def come(value: Value, far: int, name: str = spec.name) -> Outcome | None:
                return self.outcome(rule, {name: value}, 1, float(far))

            for far, value in further(spec, self.trials.values[spec.name], lambda v, f: come(v, f) is not None):
                if outcome := come(value, far):
                    yield outcome

    def _plates(self, rule: str) -> Iterator[Outcome]:
        """Yield what the thickest of the thinner plates does that mends a rule, all else staying as it is."""
        for name in self._thickness:
            plates = thinner_plates(float(self.trials.values[name]), self.units)

            def come(thickness: Value, far: int, name: str = name) -> Outcome | None:
                return self.outcome(rule, {name: thickness}, 1, float(far))

            with self.trials.beside_turns():
                far = nearest(plates, lambda thickness, far: come(thickness, far) is not None)
                outcome = come(plates[far - 1], far) if far else None
            if outcome:
                yield outcome

    def _left_out(self, rule: str) -> Iterator[Outcome]:
        """Yield what comes of leaving out all that may be left out and is at fault: the last thing to ask."""
        gone: dict[str, Value] = {}
        fewer = self.before[rule].serious - 1
        with self.trials.beside_turns():
            for spec in self.specs.values():
                none = without(spec)
                if none is None or none == self.trials.values[spec.name]:
                    continue
                if self.outcome(rule, {spec.name: none}, 1, 0.0, fewer):
                    gone[spec.name] = none
            outcome = self.outcome(rule, gone, 1, float(len(gone))) if gone else None
        if outcome:
            yield outcome

    def _scans(self, rule: str) -> Iterator[Outcome]:
        """Yield what is found along each number that may change all findings, where the rate led to nothing.

        Both ways where nobody knows which; else the way that the rate says, if its limits leave half as far to go.
        """
        step = max(0.5, self.before[rule].worst / 16)
        found = serious(rule, self.trials.sight)
        for probe in self.probes():
            if not _may_change_all(probe, found):
                continue
            for direction in self._ways(probe, found):
                if outcome := self._sought(Goal(rule), probe, direction, lambda line: line.doubling(step)):
                    yield outcome

    def _ways(self, probe: Probe, found: Sequence[Finding]) -> Iterator[int]:
        """Yield the directions in which a number is looked along."""
        wants = [want for want in probe.wants(found) if want is not None]
        start = self.trials.start(probe.spec.name)
        for direction in (1, -1):
            wanted = [want for want in wants if want * direction > 0]
            if not wants or (wanted and within(probe.spec, start + max(wanted, key=abs) * HALF_AS_FAR)):
                yield direction

    def _pairs(self, rule: str) -> Iterator[Outcome]:
        """Yield what two numbers do together, the first for some of the findings, the second for the rest.

        One of them at least is of this level: freer ones have been tried with each other.
        """
        if not self.probes():
            return
        firsts = sorted(self._partial(rule), key=lambda outcome: (outcome.rank[0], outcome.left, outcome.rank[-1]))
        for first in firsts[:TWO_FROM]:
            others = self._others_for(serious(rule, first.sight), first.changes)
            again = probes(self.trials, others, first.sight, first.changes, (rule,))
            outcomes = list(self._aimed(Goal(rule, first.changes, first.rank[-1]), first.sight, again))
            yield from outcomes
            if outcomes:
                return

    def _coupled(self, rule: str) -> Iterator[Outcome]:
        """Yield what two numbers do that must move together, where neither is any good by itself."""
        found = serious(rule, self.trials.sight)
        for first, change, second, then in islice(coupled(self.probes_so_far(), found), MOST_LINES):
            name, start = first.spec.name, self.trials.start(first.spec.name)
            step = steps(first.spec, self.units)[0]
            value = point(beyond(start + change, step, 1 if change > 0 else -1), step)
            if within(first.spec, value):
                goal = Goal(rule, {name: value}, self._cost(first, value - start))
                if outcome := self._reached(goal, second, then):
                    yield outcome

    def _others_for(self, rest: Sequence[Finding], changes: Changes) -> Mapping[str, Spec]:
        """The numbers that may move all that a first change leaves.

        What neither that change nor a number moves, the number doesn't move beside the change either; what moves
        something of the rest alone is passed over.
        """
        others = {}
        every = self.probes_so_far() if self.freedom(changes) == self.level else self.probes()
        for probe in every:
            wants = [want is not None for want in probe.wants(rest)]
            if probe.spec.name not in changes and wants and all(wants):
                others[probe.spec.name] = probe.spec
            elif probe.spec.name not in changes and any(wants):
                self.trials.pass_over({**changes, probe.spec.name: self.trials.start(probe.spec.name) + NUDGE})
        return others

    def _partial(self, rule: str) -> Iterator[Outcome]:
        """Yield what each number does that moves some of the findings, where it leaves fewer."""
        found = serious(rule, self.trials.sight)
        goal = Goal(rule, enough=self.before[rule].serious - 1)
        aims = []
        for probe in self.probes_so_far():
            changes = [want for want in probe.wants(found) if want is not None]
            for way in ([c for c in changes if c > 0], [c for c in changes if c < 0]):
                if way:
                    change = max(way, key=abs)
                    aims.append((-len(way), self._cost(probe, change), probe.spec.name, probe, change))
        for _, _, _, probe, change in sorted(aims)[:MOST_LINES]:
            if outcome := self._reached(goal, probe, change) or self._nearer(rule, probe, change):
                yield outcome

    def _nearer(self, rule: str, probe: Probe, change: float) -> Outcome | None:
        """What a change of a number does that leaves as many places, but none as far off: another limit comes first."""
        before = self.before[rule]
        start = self.trials.start(probe.spec.name)
        step = steps(probe.spec, self.units)[0]
        value = point(beyond(start + change, step, 1 if change > 0 else -1), step)
        if not within(probe.spec, value):
            return None
        outcome = self.outcome(rule, {probe.spec.name: value}, 0, self._cost(probe, value - start), before.serious)
        if outcome and outcome.sight.tally(rule).worst < before.worst - LIMIT_SLACK_MM:
            return outcome
        return None


def _may_change_all(probe: Probe, found: Sequence[Finding]) -> bool:
    """Tell whether a number changes every finding that measures something; of the rest nobody knows."""
    return all(
        want is not None for want, one in zip(probe.wants(found), found, strict=True) if one.measured is not None
    )
