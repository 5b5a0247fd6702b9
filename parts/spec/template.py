"""How a template declares itself: a parametric drawing of one kind of part."""

import re
import sys
import textwrap
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import Refused
from parts.profile import Profile
from parts.spec.assembly import Companion, Standing
from parts.spec.bend_strips import BendStrips
from parts.spec.parameter import Value
from parts.spec.parameters import Parameters
from parts.spec.places import MeasuringPlace, letter, lettered
from parts.spec.preset import Preset
from parts.units import Units


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of a template's part: the words that ask for it, what makes it that, the lengths it is asked for by."""

    words: frozenset[str]
    values: Mapping[str, str]
    sizes: tuple[str, ...]


@dataclass(frozen=True)
class Template:
    """A parametric drawing: its slug and words, its parameters, and the outline they make.

    `summary` is one line for the catalogue, `words` what else a shop calls the part, `cautions` what
    can hurt someone, each a sentence. `set_of` is the family it stands with in the catalogue where that isn't
    the slug's first word. `readings` are the places where a test piece is measured, in the frame of its outline, in the
    order in which they are taken; None for what isn't there to be measured. `bend_test` says what is asked of the
    strips of a test bend. `asked` says what a process asks of some parameters at their present values, a sentence
    for each, to stand beside its field. `sizes` are the lengths by which a shop asks for it, `4 x 6`, in that order,
    where those aren't its first two: () for one that isn't asked for so. `by_bolt` tells that a fraction alone is its
    bolt, as for a washer, not its thickness. `sketch` draws roughly, with its dimensions,
    what takes long to draw, to be looked at while someone types: nothing is measured of it, and no file made. It gives
    None where values are seen not to go together. `assembly` says where the pieces of a set stand once it is put
    together, `companions` which of them are cut of other plate, by other templates: these have no outside loop here.
    `named` has the values that draw what is called so, a symbol or a country; none where nothing is. `kinds` are those
    that a shop asks for by other words and sizes.
    """

    slug: str
    title: str
    parameters: type[Parameters]
    outline: Callable[[Any], Profile]
    summary: str = ""
    cautions: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    presets: tuple[Preset, ...] = ()
    set_of: str = ""
    readings: Callable[[Any], Iterable[MeasuringPlace]] | None = None
    bend_test: Callable[[Any], BendStrips] | None = None
    asked: Callable[[Mapping[str, Value], Cut, Units], Mapping[str, str]] | None = None
    sizes: tuple[str, ...] | None = None
    by_bolt: bool = False
    sketch: Callable[[Any], Profile | None] | None = None
    assembly: Callable[[Any], Iterable[Standing]] | None = None
    companions: Callable[[Any], Iterable[Companion]] | None = None
    named: Callable[[str], Mapping[str, str]] | None = None
    kinds: tuple[Kind, ...] = ()

    @property
    def family(self) -> str:
        """The kind of part: the slug's first word, unless said otherwise."""
        return self.set_of or self.slug.split("-", 1)[0]

    @property
    def brief(self) -> str:
        """The summary as far as its first pause after a few words: `Ties a corner flat`."""
        return re.split(r"(?<=.{12})[:;,.]", self.summary, maxsplit=1)[0]

    @property
    def first_sizes(self) -> tuple[str, ...]:
        """The lengths by which a shop asks for it, in its order."""
        return tuple(self.letters)[:2] if self.sizes is None else self.sizes

    def kind_of(self, words: Iterable[str]) -> Kind | None:
        """Return the kind that some words ask for, None where none is asked for."""
        asked = frozenset(words)
        return next((kind for kind in self.kinds if kind.words & asked), None)

    @property
    def drawing(self) -> str:
        """The picture in characters from the docstring of the template's module: its indented lines."""
        text = sys.modules[self.parameters.__module__].__doc__ or ""
        lines = text.splitlines()[1:]
        return textwrap.dedent("\n".join(line for line in lines if not line or line.startswith("    "))).strip("\n")

    @cached_property
    def letters(self) -> Mapping[str, str]:
        """The letter of each of the template's own lengths that a drawing may show: A to Z, then AA, AB."""
        common, specs = Parameters.specs(), self.parameters.specs()
        own = [n for n, spec in specs.items() if spec.kind == "length" and spec.is_drawn and n not in common]
        return {name: letter(i) for i, name in enumerate(own)}

    def asked_of(self, values: Mapping[str, Value], units: Units) -> Mapping[str, str]:
        """Return what the process asks of parameters, a sentence for each; nothing where it can't cut the stock."""
        if not self.asked:
            return {}
        given = {name: values.get(name, spec.default) for name, spec in self.parameters.specs().items()}
        try:
            cut = cut_for(str(given["process"]), str(given["material"]), float(given["thickness"]))
        except Refused:
            return {}
        return self.asked(given, cut, units)

    def places(self, parameters: Parameters) -> tuple[MeasuringPlace, ...]:
        """Return where a part of these parameters is measured, with letters; nothing for what isn't a test piece."""
        return tuple(lettered(self.readings(parameters))) if self.readings else ()
