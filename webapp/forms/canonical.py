"""What a sent form asks for, as the shortest address that draws the same.

A form sends every field, touched or not. A field that still shows its default says nothing, so the
address leaves it out; and where the working units are changed, bare numbers keep the units they were
typed in, so that the part stays as large as it is.
"""

from collections.abc import Iterator, Mapping
from typing import cast

from parts.errors import UnitsError
from parts.spec import BY_DIAMETER, ReadingContext, Spec, Template, Value, applies, default_of
from parts.units import Units, exact_number, parse_length, units_of
from webapp.forms.for_table import COMPENSATE

TYPED_IN = "typed_in"
"""The field of the form that says which working units it was shown in."""


def shown(spec: Spec, value: Value, units: Units) -> str:
    """Return the text of a field at its default: a length as it is said in working units, exact in either.

    A length that these units don't say exactly, as a bed in the other ones, has its own unit.
    """
    return exact_number(cast(float, value), units) if spec.kind == "length" else spec.text(value, units)


def shortest(template: Template, sent: Mapping[str, str]) -> dict[str, str]:
    """Return the values of a sent form that an address has to say."""
    was = units_of(sent.get(TYPED_IN))
    now = units_of(sent.get("units", was))
    if was == now:
        return dict(_said(template, sent, was, now))
    return _without_defaults(template, dict(_said(template, _whole(template, sent, was), was, now)), now)


def in_units(template: Template, given: Mapping[str, str], now: Units) -> dict[str, str]:
    """Return the values of an address that draws the same part as another one in other working units.

    What that one leaves out is said where it isn't what is left out in these units.
    """
    return shortest(template, {**given, "units": now, TYPED_IN: units_of(given.get("units"))})


def _whole(template: Template, given: Mapping[str, str], units: Units) -> dict[str, str]:
    """The values with those that are left out, as they are shown; a diameter that is given leaves no bolt."""
    specs = template.parameters.specs()
    left_open = {spec.name for spec in specs.values() if spec.is_bolt and spec.diameter in given}
    every = {name: shown(spec, default_of(spec, units), units) for name, spec in specs.items() if name not in left_open}
    return {**every, **given}


def _said(template: Template, sent: Mapping[str, str], was: Units, now: Units) -> Iterator[tuple[str, str]]:
    specs = template.parameters.specs()
    values = {} if was == now else _readable(specs, sent, was)
    for name, given in sent.items():
        spec = specs.get(name)
        if name == TYPED_IN or (name == COMPENSATE and not given):
            continue
        if spec and given.strip() == shown(spec, default_of(spec, was), was):
            differs = was != now and default_of(spec, was) != default_of(spec, now)
            if not differs or not applies(name, specs, values):
                continue
        yield name, _kept(given, was, now) if spec and spec.kind == "length" else given


def _readable(specs: Mapping[str, Spec], sent: Mapping[str, str], units: Units) -> Mapping[str, Value]:
    """The values as far as they can be read, to tell what applies."""
    values: dict[str, Value] = {spec.name: BY_DIAMETER for spec in specs.values() if spec.is_bolt}
    for name, spec in specs.items():
        try:
            values |= {name: spec.read(sent[name], ReadingContext(units))} if name in sent else {}
        except UnitsError:
            continue
    return values


def _without_defaults(template: Template, said: Mapping[str, str], now: Units) -> dict[str, str]:
    """The values without those that are the defaults of these units, which came back to where they were."""
    specs = template.parameters.specs()
    diameters = {spec.diameter for spec in specs.values()}  # one that is given says that no bolt sets the hole

    def is_default(name: str, text: str) -> bool:
        spec = specs.get(name)
        if spec is None or name in diameters or name == "units" or (spec.is_bolt and spec.diameter in said):
            return False
        try:
            return spec.kind in ("length", "choice", "text") and spec.read(text, ReadingContext(now)) == default_of(
                spec, now
            )
        except UnitsError:
            return False

    return {name: text for name, text in said.items() if not is_default(name, text)}


def _kept(text: str, was: Units, now: Units) -> str:
    """The text with its unit where it would mean something else in the units that hold now."""
    if was == now:
        return text
    try:
        means = {units: parse_length(text, bare=units) for units in (was, now)}
        if means[was] == means[now] or parse_length(f"{text} {was}", bare=now) != means[was]:
            return text
    except UnitsError:
        return text
    return f"{text.strip()} {was}"
