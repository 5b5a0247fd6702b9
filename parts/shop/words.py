"""Shop words: what a process or a material is called in a shop, and which of ours is meant by it.

word    as it is typed: `plasma`, `hi-def plasma`, `water jet`; `A36`, `316L`, `5052-H32`
grade   a steel by EN 10025-2, ASTM or SAE, a stainless steel by AISI or EN 10088, an aluminium alloy by its four
        digits of EN 573-3 (from memory)

A word that means more than one is refused with those it may mean; what is said here never hides a name of our own, or
one that a shop gave a material of its own.
"""

import re
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Literal, TypeAlias

from parts.errors import PartsError

Kind: TypeAlias = Literal["process", "material", "metal"]

_PROCESSES: Mapping[str, str] = {
    "air-plasma": "plasma air conventional-plasma standard-plasma shop-air-plasma plasma-torch",
    "fine-plasma": "hd hd-plasma hidef hi-def hi-def-plasma hidef-plasma high-def high-def-plasma high-definition "
    "high-definition-plasma high-density-plasma precision-plasma fine plasma-hd",
    "oxy-fuel": "oxy oxyfuel oxy-fuel-torch oxy-acetylene oxyacetylene acetylene oxy-propane oxypropane propane flame "
    "torch gas gas-torch oxy-torch flame-torch oxygen autogenous",
    "laser": "fiber fibre fiber-laser fibre-laser co2 co2-laser",
    "waterjet": "water-jet water wj awj abrasive abrasive-jet abrasive-waterjet abrasive-water-jet",
}
_MATERIALS: Mapping[str, str] = {
    "mild-steel": "steel ms mild carbon-steel low-carbon-steel plain-steel structural-steel black-steel hot-rolled "
    "cold-rolled hot-rolled-steel cold-rolled-steel hr cr hrs crs hrpo pickled-and-oiled",
    "weathering-steel": "weathering weather-steel",
    "galvanised-steel": "galv galvanised galvanized galvanized-steel galv-steel gi zinc-coated zinc-coated-steel",
    "stainless-steel": "ss stainless inox inox-steel stainless-ss",
    "aluminium": "alu al aluminum alum aluminium-alloy aluminum-alloy alloy-aluminium",
    "copper": "cu",
    "brass": "",
}
_GRADES: tuple[tuple[str, str], ...] = (
    (r"s355j\dw|s235j\dw|a588|a606|a242", "weathering-steel"),
    (r"s(185|235|275|355|420|460)(jr|j0|j2|k2|n|nl|m|ml)?(\+\w+)?|st-?(37|44|52)(-\d)?|q235|q345", "mild-steel"),
    (r"a(36|283|529|572|1008|1011|1018)(-?\d+)?|10(08|10|18|20|25|26|45)|dc01|dd11", "mild-steel"),
    (r"a653|dx51d?|g90|g60", "galvanised-steel"),
    (r"(ss)?-?(30[1-4]|309|310|316|321|410|420|430|440)(l|h|ti|c)?|1\.4\d{3}|2205|17-4", "stainless-steel"),
    (r"(aa|en-aw)?-?(1100|2024|3003|5005|5052|5083|5086|5754|6060|6061|6063|6082|7075)(-?[oht]\d*)?", "aluminium"),
    (r"c1[01]\d{1,3}", "copper"),
    (r"c2[2-8]\d{1,3}|cz1\d\d", "brass"),
)
_SEVERAL: Mapping[Kind, Mapping[str, str]] = {
    "process": {
        "thermal": "air-plasma fine-plasma oxy-fuel laser", "heat": "air-plasma fine-plasma oxy-fuel laser",
        "jet": "air-plasma fine-plasma waterjet", "beam": "laser waterjet",
    },
    "material": {
        "metal": "mild-steel stainless-steel aluminium", "plate": "mild-steel stainless-steel aluminium",
        "sheet": "mild-steel stainless-steel aluminium", "alloy": "aluminium mild-steel stainless-steel",
        "coated": "galvanised-steel mild-steel", "coated-steel": "galvanised-steel mild-steel",
        "1050": "aluminium mild-steel", "1060": "aluminium mild-steel", "bronze": "brass copper",
        "yellow-metal": "brass copper", "red-metal": "brass copper", "iron": "mild-steel weathering-steel",
    },
}  # fmt: skip
_METALS = {"mild-steel": "steel", "weathering-steel": "steel", "galvanised-steel": "steel"}
_METALS |= {"stainless-steel": "stainless"}
"""Of the groups of metals by which a piece of measurements grows, those that aren't called as the material is."""

_AROUND = re.compile(r"^(astm|aisi|sae|en|grade|type|gr)-(?=.)|-(cutter|cutting|cut|table|machine|plate|sheet)$")


class Ambiguous(PartsError, ValueError):
    """A word that means more than one: `choices` are those it may mean."""

    def __init__(self, word: str, choices: tuple[str, ...]) -> None:
        super().__init__(f"may be {', '.join(choices[:-1])} or {choices[-1]} here; say which.")
        self.word, self.choices = word, choices

    def __reduce__(self) -> tuple[type["Ambiguous"], tuple[str, tuple[str, ...]]]:
        return type(self), (self.word, self.choices)


def taken_for(kind: Kind, text: str, known: Iterable[str]) -> str | None:
    """Return which of the `known` names a shop's word stands for; the name itself is one, None where it is neither.

    Raises:
        Ambiguous: it may mean several of them.
    """
    names = {name.lower(): name for name in known}
    word = "-".join(re.split(r"[\s_\-]+", text.strip().lower()))
    bare = _AROUND.sub("", _AROUND.sub("", word))
    for each in (word, bare):
        if each in names:
            return names[each]
        if (meant := _meant(kind, each)) in names:
            return names[meant]
    several = _SEVERAL["process" if kind == "process" else "material"].get(bare, "").split()
    choices = tuple(dict.fromkeys(each for name in several if (each := _called(kind, name)) in names))
    if len(choices) > 1:
        raise Ambiguous(text, choices)
    return choices[0] if choices else None


def _called(kind: Kind, name: str) -> str:
    """A material's name, or what the group of metals is called that it is of."""
    return _METALS.get(name, name) if kind == "metal" else name


def _meant(kind: Kind, word: str) -> str:
    """The name that a word, or a grade, stands for, "" for none."""
    if kind == "process":
        return _by_word("process").get(word, "")
    found = word if word in _MATERIALS else _by_word("material").get(word, "")
    grade = found or next((name for pattern, name in _GRADES if re.fullmatch(pattern, word)), "")
    return _called(kind, grade)


@cache
def _by_word(kind: Literal["process", "material"]) -> Mapping[str, str]:
    table = _PROCESSES if kind == "process" else _MATERIALS
    return {word: name for name, words in table.items() for word in words.split()}
