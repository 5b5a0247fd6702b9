"""The presets of a template as links: one tap, and the part is on the page.

What belongs to the shop and not to the part (its process, working units, bed, sheet and file) stays as it was asked
for, unless the preset says otherwise.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from parts.part import address
from parts.spec import FILE, Parameters, Template, Value
from parts.templates import template as find
from webapp.forms import units_of

SHOWN = 6
"""How many presets stand open on the page; the others are folded."""

KEPT = ("process", *(name for name, spec in Parameters.specs().items() if spec.group == FILE))
"""What a preset leaves as it was asked for."""


@dataclass(frozen=True, slots=True)
class PresetLink:
    """A preset's name, its address, and whether it is the part that is drawn."""

    name: str
    address: str
    is_drawn: bool


def presets(
    template: Template, given: Mapping[str, str], drawn: Mapping[str, Value]
) -> tuple[Sequence[PresetLink], Sequence[PresetLink]]:
    """Return a template's presets: those shown, and those folded.

    Args:
        template: the template.
        given: what was asked for, as text.
        drawn: the values that are drawn.
    """
    kept = {name: given[name] for name in KEPT if name in given}
    every = [_link(template, name, values, kept, drawn) for name, values in _values(template.slug)]
    shown = SHOWN if len(every) > SHOWN + 1 else len(every)  # a fold for one takes as much room as the one
    return every[:shown], every[shown:]


def _link(
    template: Template,
    name: str,
    values: Mapping[str, Value],
    kept: Mapping[str, str],
    drawn: Mapping[str, Value],
) -> PresetLink:
    specs = template.parameters.specs()
    units = units_of(str(values.get("units", kept.get("units"))))
    texts = {other: specs[other].text(value, units) for other, value in values.items()}
    own = [other for other in specs if other not in KEPT or other in values]
    is_drawn = bool(drawn) and all(drawn[other] == values.get(other, specs[other].default) for other in own)
    return PresetLink(name, address(template.slug, {**kept, **texts}), is_drawn)


@cache
def _values(slug: str) -> tuple[tuple[str, Mapping[str, Value]], ...]:
    """What each preset of a template sets, in mm and degrees, with what follows from it: a diameter leaves no bolt."""
    template = find(slug)
    specs = template.parameters.specs()
    found = []
    for preset in template.presets:
        values = template.parameters.read_singly(preset.values)
        changed = {name for name in specs if name not in KEPT and getattr(values, name) != specs[name].default}
        names = [name for name in specs if name in changed or name in preset.values]
        found.append((preset.name, {name: getattr(values, name) for name in names}))
    return tuple(found)
