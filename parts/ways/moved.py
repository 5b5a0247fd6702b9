"""A parameter at fault moved until it isn't, where no sentence advises how far: searched by trying."""

from collections.abc import Iterable, Mapping

from parts.errors import Refused, Way
from parts.spec import Parameters, Spec, Template, Value, default_of, own_way, trying
from parts.units import units_of


def moved(template: Template, asked: Mapping[str, str], name: str) -> Way:
    """Return the nearest value of a parameter that isn't at fault: a size or a number, a word, else its default."""
    spec = template.parameters.specs().get(name)
    if spec is None:
        return {}
    try:
        return _searched(template.parameters.read_singly(asked), spec)
    except Refused:  # there is nothing to move from: something can't be read, or no process cuts it
        return _default(spec, asked)


def alone(template: Template, asked: Mapping[str, str], name: str) -> Way:
    """Return the nearest size or number of a parameter with which nothing at all is wrong; nothing where none is.

    A value past the limits of its own is moved inside them before.
    """
    spec, clipped = template.parameters.specs()[name], dict[str, str]()
    if spec.kind not in ("length", "count"):
        return {}
    try:
        clipped = _clipped(template, asked)
        parameters = template.parameters.read_singly({**asked, **clipped})
        advice = own_way(parameters, name, wholly=True)
    except Refused:
        return {}
    return {**clipped, **advice.way} if advice else {}


def together(ways: Iterable[Way]) -> Way:
    """Return several ways as one; of a parameter in two of them the earlier holds."""
    return {name: text for way in reversed([*ways]) for name, text in way.items()}


def _clipped(template: Template, asked: Mapping[str, str]) -> dict[str, str]:
    """The nearest values of those that can't be read, or lie past their limits."""
    try:
        template.parameters.read_singly(asked)
    except Refused as refused:
        specs = template.parameters.specs()
        known = [problem for problem in refused.problems if problem.parameter in specs]
        return dict(together(p.ways[0] if p.ways else _default(specs[p.parameter], asked) for p in known))
    return {}


def default_text(spec: Spec, asked: Mapping[str, str]) -> str:
    """Return the default of a parameter in the working units that values are asked for in, as text."""
    units = units_of(asked.get("units"))
    return spec.text(default_of(spec, units), units)


def _default(spec: Spec, asked: Mapping[str, str]) -> Way:
    return {spec.name: default_text(spec, asked)}


def _searched(parameters: Parameters, spec: Spec) -> Way:
    if spec.kind in ("length", "count"):
        advice = own_way(parameters, spec.name)
        return advice.way if advice else {}
    if spec.kind in ("choice", "flag"):
        return _other_word(parameters, spec)
    return {spec.name: spec.text(default_of(spec, parameters.units), parameters.units)}


def _other_word(parameters: Parameters, spec: Spec) -> Way:
    """The nearest choice with which nothing new is at fault."""
    now = getattr(parameters, spec.name)
    words: list[Value] = [not now] if spec.kind == "flag" else [*spec.choices]
    at = words.index(now) if now in words else 0
    with trying(worded=False):
        known = parameters.tried().faults() - {spec.name}
        for word in sorted(words, key=lambda word: abs(words.index(word) - at)):
            if word != now and not parameters.tried(**{spec.name: word}).problem(known):
                return {spec.name: spec.text(word)}
    return {}
