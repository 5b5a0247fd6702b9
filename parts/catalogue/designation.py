"""Designations in a search: a motor's frame, a pipe's nominal size, whatever a preset or a choice is called by.

designation  a word with its number, NEMA 23, DN 50; of a preset it is in its name, of a choice it is the choice
A designation that several presets bear stands for none of them.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from parts.catalogue.reading import Said
from parts.spec import Preset, Template
from parts.units import Units

_TOKEN = re.compile(r"[0-9]+[a-z]\b|[0-9]+(?:[ -][0-9]+)?/[0-9]+|[0-9]+-[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+|[^\W\d_]+")
_NAMING = re.compile(r"\b([A-Za-z]+) ?(?=[0-9])|\b([A-Z]{2,}|[0-9]+[A-Z])\b")
"""A word that a number follows, or in capitals, or a number with a letter to it."""
_COMMON = frozenset(["in", "a", "to", "of", "with", "by", "on", "for", "and", "mm", "the"])


@dataclass(frozen=True, slots=True)
class Designation:
    """The values it stands for, in words, and the sizes of the search that are part of it; or why for none."""

    values: Mapping[str, str]
    words: str = ""
    used: frozenset[str] = frozenset()
    trouble: str = ""

    def has(self, size: str) -> bool:
        """Tell whether a size was read as part of it: the 2 of NPS 2, with a unit or not."""
        return bool(self.used & _tokens(size))


def designated(template: Template, said: Said, units: Units = "mm") -> Designation:
    """Return what a designation in a search stands for; no values where there is none, or it isn't the only one.

    Bare lengths among them are in the `units` that are worked in.
    """
    tokens = _tokens(said.text)
    for spec in template.parameters.specs().values():
        for choice in spec.choices if spec.kind == "choice" and not spec.is_bolt else ():
            parts = _tokens(choice)
            if parts <= tokens and any(map(str.isalpha, parts)) and any(map(_is_number, parts)):
                return Designation({spec.name: choice}, choice, frozenset(parts))
    return _of_presets(template, said.text, units)


def _of_presets(template: Template, text: str, units: Units) -> Designation:
    tokens = _tokens(text)
    common = {preset: _in_common(preset, tokens) for preset in template.presets}
    most = max(map(len, common.values()), default=0)
    best = [preset for preset, shared in common.items() if shared and len(shared) == most]
    if len(best) > 1:  # of the chains that bear a number 40, not the one of 40 teeth
        best = [preset for preset in best if _pairs(text) & _pairs(preset.name.lower())] or best
    if len(best) == 1:
        values = best[0].values_in(units, template.parameters)
        return Designation(values, f"as {best[0].name_in(units)}", common[best[0]])
    naming = frozenset(word for preset in template.presets for word in _naming(preset))
    for word, number in sorted(_pairs(text)):
        if word in naming:
            why = f"it may be {best[0].name} or {best[1].name}" if best else "no preset is called so"
            return Designation({}, "", frozenset([number]), f"{word.upper()} {number} isn't filled in: {why}")
    return Designation({})


def _in_common(preset: Preset, tokens: frozenset[str]) -> frozenset[str]:
    """What a search says of a preset's name: nothing unless a naming word is among it, and a number."""
    shared = (_tokens(preset.name) & tokens) - _COMMON
    return shared if shared & _naming(preset) and any(map(_is_number, shared)) else frozenset()


def _pairs(text: str) -> frozenset[tuple[str, str]]:
    """The words before a number, each with that."""
    return frozenset(re.findall(r"\b([a-z]+) ?([0-9]+)\b", text))


def _naming(preset: Preset) -> frozenset[str]:
    """The words of a preset's name that stand in capitals, or before a number."""
    return frozenset((before or alone).lower() for before, alone in _NAMING.findall(preset.name)) - _COMMON


def _tokens(text: str) -> frozenset[str]:
    return frozenset(
        _TOKEN.findall(text.lower().replace("-", " ") if not re.search("[0-9]-[0-9]", text) else text.lower())
    )


def _is_number(token: str) -> bool:
    return token[0].isdigit() or token[0] == "."
