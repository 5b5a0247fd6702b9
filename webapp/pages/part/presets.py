"""The presets of a template as links: one tap, and the part is on the page.

What belongs to the shop and not to the part (its process, working units, bed, sheet and file) stays as it was asked
for, unless the preset says otherwise; so does the material, where the shop has a usual one. Where inches are worked in,
parts of a metric standard stand after the others, folded.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

from parts.part import address
from parts.spec import FILE, Parameters, ReadingContext, Spec, Template, Value, default_of
from parts.templates import template as find
from parts.units import Units, exact_number, units_of

SHOWN = 3
"""How many presets stand open on the page; the others are folded."""

KEPT = ("process", *(name for name, spec in Parameters.specs().items() if spec.group == FILE))
"""What a preset leaves as it was asked for."""


@dataclass(frozen=True, slots=True)
class PresetLink:
    """A preset's name, its address, and whether it is the part that is drawn."""

    name: str
    address: str
    is_drawn: bool


@dataclass(frozen=True, slots=True)
class _Preset:
    """A preset in some working units: what it is called there, what its address says, and the values that it sets."""

    name: str
    texts: Mapping[str, str]
    values: Mapping[str, Value]
    is_metric: bool


def presets(
    template: Template, given: Mapping[str, str], drawn: Mapping[str, Value], shop: Mapping[str, str] | None = None
) -> tuple[Sequence[PresetLink], Sequence[PresetLink]]:
    """Return a template's presets: those shown, and those folded.

    Args:
        template: the template.
        given: what was asked for, as text.
        drawn: the values that are drawn.
        shop: what the shop has set for all its parts, as text.
    """
    stays = {name: given[name] for name in KEPT if name in given}
    stays |= {name: text for name, text in (shop or {}).items() if name == "material"}
    units = units_of(given.get("units"))
    of = sorted(_presets(template.slug, units), key=lambda preset: units == "in" and preset.is_metric)
    every = [_link(template, preset, stays, drawn) for preset in of]
    own = sum(units == "mm" or not preset.is_metric for preset in of) or len(of)
    shown = SHOWN if own > SHOWN + 1 else own  # a fold for one takes as much room as the one
    return every[:shown], every[shown:]


def _link(template: Template, preset: _Preset, stays: Mapping[str, str], drawn: Mapping[str, Value]) -> PresetLink:
    specs = template.parameters.specs()
    texts = {**stays, **preset.texts}
    units = units_of(texts.get("units"))
    known = {name: specs[name].read(text, ReadingContext()) for name, text in stays.items() if name not in KEPT}
    values = {**known, **preset.values}
    own = [name for name in specs if name not in KEPT or name in preset.values]
    is_drawn = bool(drawn) and all(drawn[name] == values.get(name, default_of(specs[name], units)) for name in own)
    return PresetLink(preset.name, address(template.slug, texts), is_drawn)


@lru_cache(maxsize=256)
def _presets(slug: str, units: Units) -> tuple[_Preset, ...]:
    """The presets of a template in working units, each with what follows from it: a diameter leaves no bolt."""
    template = find(slug)
    specs = template.parameters.specs()
    found = []
    for preset in template.presets:
        said = preset.values_in(units, template.parameters)
        spoken = units_of(said.get("units", units))
        drawn = template.parameters.read_singly({"units": spoken, **said})
        of = {name: (spec, cast(Value, getattr(drawn, name))) for name, spec in specs.items()}
        changed = {n for n, (spec, value) in of.items() if n not in KEPT and value != default_of(spec, spoken)}
        names = [name for name in specs if name in changed or name in said]
        texts = {name: _text(*of[name], said.get(name, ""), spoken) for name in names}
        values = {name: of[name][1] for name in names}
        found.append(_Preset(preset.name_in(units), texts, values, preset.is_metric))
    return tuple(found)


def _text(spec: Spec, value: Value, said: str, units: Units) -> str:
    """The text of a value: sheet by the gauge it is said by, any other length exactly."""
    if spec.is_thickness and "ga" in said:
        return said
    return exact_number(cast(float, value), units) if spec.kind == "length" else spec.text(value)
