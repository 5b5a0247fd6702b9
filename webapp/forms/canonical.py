"""What a sent form asks for, as the shortest address that draws the same.

A form sends every field, touched or not. A field that still shows its default says nothing, so the
address leaves it out; and where the working units are changed, bare numbers keep the units they were
typed in, so that the part stays as large as it is.
"""

from collections.abc import Iterator, Mapping
from typing import cast

from parts.errors import UnitsError
from parts.spec import Spec, Template, Value, default_of
from parts.units import Units, format_length, parse_length
from webapp.forms.for_table import COMPENSATE

TYPED_IN = "typed_in"
"""The field of the form that says which working units it was shown in."""


def units_of(value: str | None) -> Units:
    """Return the working units a value stands for; mm where it stands for none."""
    return "in" if value and value.strip().lower() == "in" else "mm"


def shown(spec: Spec, value: Value, units: Units) -> str:
    """Return the text of a field at its default: a length as it is said in working units, to three decimals.

    It stands for the default itself, not for what it would be read as: 13.78 in for 350 mm.
    """
    if spec.kind != "length":
        return spec.text(value, units)
    return format_length(cast(float, value), units).removesuffix(units).strip()


def shortest(template: Template, sent: Mapping[str, str]) -> dict[str, str]:
    """Return the values of a sent form that an address has to say."""
    was = units_of(sent.get(TYPED_IN))
    now = units_of(sent.get("units", was))
    return dict(_said(template, sent, was, now))


def _said(template: Template, sent: Mapping[str, str], was: Units, now: Units) -> Iterator[tuple[str, str]]:
    specs = template.parameters.specs()
    for name, given in sent.items():
        spec = specs.get(name)
        if (
            name == TYPED_IN
            or (name == COMPENSATE and not given)
            or (spec and given.strip() == shown(spec, default_of(spec), was))
        ):
            continue
        yield name, _kept(given, was, now) if spec and spec.kind == "length" else given


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
