"""The ways on from a refusal: what its sentences advise, followed until the part can be drawn.

A sentence mends one parameter. So its advice is taken, and that of the sentences that are left, until there is none;
each way that is told was drawn. Where no advice leads there, what is at fault goes back to its default.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from parts import shop
from parts.cutting import title_of_choice
from parts.errors import Problem, Refused, Way
from parts.part import outlined
from parts.spec import BY_DIAMETER, FILE, ReadingContext, Template, trying
from parts.templates import template as find
from parts.units import units_of
from parts.ways.moved import alone, default_text, moved, together

MOST = 3
"""So many ways are told at most: the nearest, not every one."""
_FARTHER = 1
"""So many values more than by the nearest way may change by another."""
_SAID = 4
"""So many values of a way are said one by one; a longer line isn't read."""
_ROUNDS = 3
"""So often advice is taken on from advice; what takes more is no near way."""


@dataclass(frozen=True, slots=True)
class WayOn:
    """A way on: the values it sets, as text that reads back exactly, and what it does, as it is said."""

    changes: Way
    text: str


def ways_on(slug: str, values: Mapping[str, str], problems: Sequence[Problem]) -> tuple[WayOn, ...]:
    """Return ways on from refused values, the fewest changes first; one at least, unless nothing can be drawn.

    Args:
        slug: the template.
        values: what was asked for of its parameters, as text.
        problems: why that is refused.
    """
    template = find(slug)
    asked = {**values, **_bolts_left_open(template, values)}
    told = [p for p in problems if p.parameter in template.parameters.specs()]
    found: list[Way] = []
    is_dear = template.parameters.effort > 1
    with shop.held():
        for first in _told(told) if is_dear else _first_steps(template, asked, told):
            way = (_drawn if is_dear else _followed)(template, asked, first) if first else None
            if way and not any(_is_like(template, way, other) for other in found):
                found.append(way)
            if len(found) == (1 if is_dear else MOST):
                break
        if not found and (way := _by_defaults(template, asked, told)):
            found.append(way)
    near = min(map(len, found), default=0) + _FARTHER
    return tuple(WayOn(way, _said(template, asked, way)) for way in sorted(found, key=len) if len(way) <= near)


def _is_like(template: Template, way: Way, other: Way) -> bool:
    """Whether two ways are one to a person: the same values, or another size of the same one parameter."""
    if len(way) == 1 and way.keys() == other.keys():
        return way == other or all(template.parameters.specs()[name].kind != "choice" for name in way)
    return way == other


def _bolts_left_open(template: Template, values: Mapping[str, str]) -> dict[str, str]:
    """A hole given by its diameter, and no bolt beside it, is by diameter, also where that diameter changes."""
    bolts = (spec for spec in template.parameters.specs().values() if spec.is_bolt)
    return {spec.name: BY_DIAMETER for spec in bolts if spec.diameter in values and spec.name not in values}


def _told(problems: Sequence[Problem]) -> Iterator[Way]:
    """Yield what the problems advise first, together and alone: of what takes a second to draw no more is tried."""
    each = [problem.ways[0] for problem in problems if problem.ways]
    if len(each) > 1:
        yield together(each)
    yield from each


def _drawn(template: Template, asked: Mapping[str, str], way: Way) -> Way | None:
    """A way that is drawn as it is; else None."""
    return None if _refused(template.slug, {**asked, **way}) else way


def _first_steps(template: Template, asked: Mapping[str, str], problems: Sequence[Problem]) -> Iterator[Way]:
    """Yield what to begin with: what each problem advises first, a value that mends all by itself, the rest advised."""
    each = [problem.ways or (moved(template, asked, problem.parameter),) for problem in problems]
    yield from (ways[0] for ways in each)
    for problem in problems:
        yield alone(template, asked, problem.parameter)
    if len(each) > 1:
        yield together(ways[0] for ways in each)
    for ways in each:
        yield from ways[1:]


def _followed(template: Template, asked: Mapping[str, str], way: Way) -> Way | None:
    """A way with the advice that its values come to taken too, until they can be drawn; None where that fails."""
    for _ in range(_ROUNDS):
        problems = _refused(template.slug, {**asked, **way}, advised=True)
        if not problems:
            return way
        now = {**asked, **way}
        more = together(p.ways[0] if p.ways else moved(template, now, p.parameter) for p in problems)
        if more.items() <= way.items():
            return None
        way = {**way, **more}
    return None if _refused(template.slug, {**asked, **way}) else way


def _by_defaults(template: Template, asked: Mapping[str, str], problems: Sequence[Problem]) -> Way | None:
    """What is at fault back at its default, and what is at fault then; all but the shop's own where that fails."""
    specs, way = template.parameters.specs(), dict[str, str]()
    for _ in range(_ROUNDS):
        at_fault = {p.parameter for p in problems} & specs.keys()
        way |= {name: default_text(specs[name], asked) for name in specs if name in at_fault}
        if not (problems := _refused(template.slug, {**asked, **way})):
            return way
    every = {name: default_text(spec, asked) for name, spec in specs.items() if name in asked and spec.group != FILE}
    return None if _refused(template.slug, {**asked, **every}) else every


def _refused(slug: str, values: Mapping[str, str], *, advised: bool = False) -> tuple[Problem, ...]:
    """Why values are refused, with advice or without; nothing where they are drawn."""
    try:
        if advised:
            outlined(slug, **values)
        else:
            with trying(worded=False):
                outlined(slug, **values)
    except Refused as refused:
        return refused.problems
    return ()


def _said(template: Template, asked: Mapping[str, str], way: Way) -> str:
    """What a way does: `Snipe at the root: 84 mm; Bolts: M8`; of many values how many there are."""
    said = [f"{label}: {text}" for label, text in _labelled(template, asked, way)]
    if len(said) <= _SAID:
        return "; ".join(said)
    specs = template.parameters.specs()
    if all(text == default_text(specs[name], asked) for name, text in way.items()):
        return f"{len(said)} values back at their defaults"
    return f"{'; '.join(said[: _SAID - 1])}; and {len(said) - _SAID + 1} more values"


def _labelled(template: Template, asked: Mapping[str, str], way: Way) -> Iterator[tuple[str, str]]:
    specs, units = template.parameters.specs(), units_of(asked.get("units"))
    labels = [spec.label for spec in specs.values()]
    for name, text in way.items():
        spec = specs[name]
        said = title_of_choice(name, spec.say(spec.read(text, ReadingContext(units)), units))
        yield spec.label if labels.count(spec.label) == 1 else f"{spec.group}: {spec.label}", said
