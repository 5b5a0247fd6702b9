"""A found template filled in with the sizes that were said: which goes where, and what of it would be refused.

first sizes  the lengths a template is asked for by, as it declares them
What isn't told for certain is left out and said: a form is never filled with what it would refuse.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from parts.catalogue.designation import Designation, designated
from parts.catalogue.reading import Said, is_decimal_inches
from parts.catalogue.shop_words import normal
from parts.catalogue.stock import material_of
from parts.errors import PartsError, Refused, UnitsError
from parts.spec import ReadingContext, Spec, Template, applies, drawn, trying
from parts.units import MM_PER_IN, Units, with_unit

_THICKEST_LONE_MM = MM_PER_IN
"""Up to this a third size, or a fraction alone, is a thickness."""
_WRITTEN = frozenset(["number", "address", "letter", "digit"])
"""Beside these a whole number is what stands on a sign."""
_COUNTS = ("holes", "bolts")
_OF: Mapping[str, tuple[str, ...]] = {
    "hole": ("hole", "hole_a", "first_hole"),
    "bore": ("bore", "middle", "hole"),
    "outside": ("od", "pipe_od", "main_od", "tube", "rail", "diameter", "size", "tip"),
    "shaft": ("bore", "shaft", "middle"),
    "axle": ("tube", "axle"),
    "long": ("long", "overall_width", "overall", "leg_a", "width", "size_x"),
    "wide": ("width", "overall_width", "flange_a"),
    "high": ("height", "overall_height", "high", "leg_b", "flange_b"),
    "radius": ("corner_radius", "radius", "bend_radius"),
    "teeth": ("teeth",),
}
"""The parameter that a size goes to by the word beside it: the first of these that a template has."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Values for a form as its address has them, what they are in words, and what was left out, each a sentence."""

    values: Mapping[str, str]
    sentence: str = ""
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Piece:
    """Values that go together, in words."""

    words: str
    values: Mapping[str, str]


def fill(template: Template, said: Said, usual: Units = "mm", named: Mapping[str, str] | None = None) -> Filled:
    """Return what of the sizes goes into the form of a template; nothing that it would refuse.

    Args:
        template: the template.
        said: the search.
        usual: the units that are worked in: the form's, unless they are mm and the sizes speak of inches.
        named: values of what it draws by its name.
    """
    designation = designated(template, said, usual)
    told = _Told(template, said, designation, usual)
    taken = _taken(told, designation, named)
    if taken.lost and not said.units and not designation.values:  # a sign of 24 x 12 isn't one in mm
        other = _Told(template, said, designation, "mm" if told.units == "in" else "in")
        better = _taken(other, designation, named)
        if len(better.lost) < len(taken.lost):
            told, taken = other, better
    units = told.form_units(usual, designation)
    values = {name: text for piece in taken.kept for name, text in piece.values.items()}
    lost = [f"{piece.words} isn't filled in: {taken.why}" for piece in taken.lost]
    lost += [designation.trouble] if designation.trouble else []
    shown = values if designation.values and units == "mm" else _in_working_units(values, units)
    return Filled(shown, ", ".join(piece.words for piece in taken.kept), (*lost, *told.unplaced))


@dataclass(frozen=True, slots=True)
class _Taken:
    """The pieces that a template draws, those it doesn't, and why."""

    kept: Sequence[_Piece]
    lost: Sequence[_Piece]
    why: str


def _taken(told: "_Told", designation: Designation, named: Mapping[str, str] | None) -> _Taken:
    pieces = [_Piece(" ".join(named.values()), named)] if named else []
    pieces += [_Piece(designation.words, designation.values)] if designation.values else []
    pieces += told.pieces()
    units = told.form_units(told.usual, designation)
    kept, why = _accepted(told.template, pieces, units)
    turned = [told.turned(piece) for piece in pieces]
    if turned != pieces and not any(piece.values.keys() == told.sizes.keys() for piece in kept):
        kept_turned, why_turned = _accepted(told.template, turned, units)
        if len(kept_turned) > len(kept):  # a flat bar of 2 x 12 is 12 long
            pieces, kept, why = turned, kept_turned, why_turned
    return _Taken(kept, [piece for piece in pieces if piece not in kept], why)


def _in_working_units(values: Mapping[str, str], units: Units) -> Mapping[str, str]:
    """The values as a form in these working units has them: bare where they are in those."""
    bare = {name: text.removesuffix(f" {units}") for name, text in values.items()}
    return {**bare, "units": units} if bare and units == "in" else bare


class _Told:
    """The sizes of a search beside the parameters of one template; each text with its unit."""

    def __init__(self, template: Template, said: Said, designation: Designation, usual: Units) -> None:
        self.template, self.said, self.usual = template, said, usual
        self.specs = template.parameters.specs()
        self.unplaced: list[str] = []
        self.kind = template.kind_of(said.words.split())
        self.first_sizes = self.kind.sizes if self.kind else template.first_sizes
        by, lone = ([text for text in texts if not designation.has(text)] for texts in (said.by, said.lone))
        self.units: Units = self._units(by or lone)
        self.thickness, self.bolt, self.text = said.thickness, said.bolt, ""
        self.sizes = self._sizes(by, lone)

    def form_units(self, usual: Units, designation: Designation) -> Units:
        """The units that a form with these values works in."""
        return "in" if usual == "in" or (self.units == "in" and not designation.values) else "mm"

    def pieces(self) -> Iterator[_Piece]:
        """Yield what goes where: sizes, thickness, material, bolt, number of holes."""
        if self.kind:
            yield _Piece(" ".join(self.kind.values.values()), self.kind.values)
        if self.sizes:
            values = {name: self._with_unit(text) for name, text in self.sizes.items()}
            words = self._in_words([*self.sizes.values()])
            (first, *others) = self.sizes
            yield _Piece(words if others else f"{self.specs[first].label} {words}", values)
        if self.thickness:
            thickness = self._with_unit(self.thickness)
            yield _Piece(f"{thickness} thick", {"thickness": thickness})
        if self.text:
            yield _Piece(self.text, {"text": self.text})
        for word in self.said.words.split():
            if material := material_of(word):
                yield _Piece(material.replace("-", " "), {"material": material})
        yield from self._bolts()
        yield from self._count()
        yield from self._of()

    def turned(self, piece: _Piece) -> _Piece:
        """Return the piece of two sizes with the other first; any other as it is."""
        if len(self.sizes) != 2 or piece.values.keys() != self.sizes.keys():
            return piece
        texts = [*self.sizes.values()][::-1]
        values = {name: self._with_unit(text) for name, text in zip(self.sizes, texts, strict=True)}
        return _Piece(self._in_words(texts), values)

    def _sizes(self, by: Sequence[str], lone: Sequence[str]) -> dict[str, str]:
        """The first sizes by their names; what may be the thickness is taken for it."""
        names, given = self.first_sizes, [*by]
        if len(given) > 2 and not self.thickness and self._is_thin(given, names):
            self.thickness = given.pop()
        elif len(given) > max(2, len(names)) and not self.thickness and self._is_thin(given[::-1], names):
            self.thickness = given.pop(0)  # 1/4 x 2 x 12 of flat bar
        for text in lone:
            if self._is_words(text):
                self.text = text
            elif self.template.by_bolt and not self.bolt and "/" in text:
                self.bolt = text.removesuffix("in").rstrip(' "')
            elif not self.thickness and self._is_plate(text, beside=bool(by)):
                self.thickness = text
            else:
                given.append(text)
        if len(names) == 1 and len(given) == 2 and given[0] == given[1]:
            given.pop()
        self.unplaced += [
            f"{self._with_unit(text)} isn't filled in: it isn't clear for what" for text in given[len(names) :]
        ]
        return dict(zip(names, given, strict=False))

    def _is_words(self, text: str) -> bool:
        """Whether a number is one to be written: that of a house."""
        said = {normal(word) for word in self.said.words.split()}
        return not self.text and text.isdigit() and bool(said & _WRITTEN) and "text" in self.specs

    def _is_thin(self, given: Sequence[str], names: Sequence[str]) -> bool:
        *sides, last = (self._mm(text) for text in given)
        return last <= _THICKEST_LONE_MM and (len(given) > len(names) or last < min(sides) / 2)

    def _is_plate(self, text: str, *, beside: bool) -> bool:
        """Whether a size alone is a plate's: a fraction of an inch, or what no first size could be."""
        mm = self._mm(text)
        names = self.first_sizes
        small = ("/" in text or is_decimal_inches(text)) and mm < _THICKEST_LONE_MM
        too_small = not beside and bool(names) and not self._fits(self.specs[names[0]], text, self.units)
        return (
            (small or beside or too_small)
            and mm <= _THICKEST_LONE_MM
            and self._fits(self.specs["thickness"], text, self.units)
        )

    def _units(self, texts: Sequence[str]) -> Units:
        """The units of bare sizes: those in which they are within the limits, the usual ones if they are in both."""
        ways: tuple[Units, ...] = ("in", "mm") if (self.said.units or self.usual) == "in" else ("mm", "in")
        pairs = [*zip(self.first_sizes, texts, strict=False)]
        pairs += [(name, text) for what, text in self.said.of if (name := self._name_of(what))]
        for units in ways:
            if all(self._fits(self.specs[name], text, units) for name, text in pairs):
                return units
        return ways[0]

    def _fits(self, spec: Spec, text: str, units: Units) -> bool:
        try:
            spec.read(text, ReadingContext(units))
        except UnitsError:
            return False
        return True

    def _mm(self, text: str) -> float:
        try:
            return float(Spec("", "length", "", 0, "").read(text, ReadingContext(self.units)))
        except UnitsError:
            return float("inf")

    def _bolts(self) -> Iterator[_Piece]:
        bolts = [spec for spec in self.specs.values() if spec.is_bolt]
        chosen = [spec for spec in bolts if spec.name == "bolt"] or bolts
        if not self.bolt:
            return
        words = self.bolt if self.bolt.startswith("M") else f"{self.bolt} bolt"
        try:
            values = {spec.name: str(spec.read(self.bolt, ReadingContext(self.units))) for spec in chosen}
        except UnitsError:
            values = {}
        if values and any(applies(name, self.specs, {}) for name in values):
            yield _Piece(words, values)
        else:
            self.unplaced.append(f"{words} isn't filled in: no holes for it as the part comes")

    def _count(self) -> Iterator[_Piece]:
        if not self.said.count:
            return
        names = [name for name in _COUNTS if name in self.specs and self.specs[name].kind == "count"]
        if names:
            yield _Piece(f"{self.said.count} holes", {names[0]: self.said.count})
        else:
            self.unplaced.append(f"{self.said.count} holes isn't filled in: it isn't clear where")

    def _of(self) -> Iterator[_Piece]:
        """Yield the sizes that say of what they are."""
        for what, text in self.said.of:
            name = self._name_of(what, beside=self.sizes)
            given = text if what in ("teeth", "angle") else self._with_unit(text)
            if name:
                yield _Piece(f"{self.specs[name].label} {given}", {name: given})
            else:
                self.unplaced.append(f"{given} isn't filled in: it isn't clear for what")

    def _name_of(self, what: str, beside: Collection[str] = ()) -> str:
        """The parameter that a size goes to by what it says it is of, '' where there is none but those `beside`."""
        angles = (name for name, spec in self.specs.items() if spec.kind == "angle")
        names = angles if what == "angle" else (name for name in _OF[what] if name in self.specs)
        return next((name for name in names if name not in beside), "")

    def _in_words(self, texts: Sequence[str]) -> str:
        """`4 by 6 in`: the unit once, where it is the same."""
        bare = [text.removesuffix(self.units).strip() for text in texts]
        plain = all(not text.strip("0123456789./- ") for text in bare)
        return with_unit(" by ".join(bare), self.units) if plain else " by ".join(map(self._with_unit, texts))

    def _with_unit(self, text: str) -> str:
        """A bare number with the working units; a unit apart by a blank."""
        bare = text.removesuffix(self.units).strip()
        return with_unit(bare, self.units) if bare.replace(".", "", 1).isdigit() else text


def _accepted(template: Template, pieces: Sequence[_Piece], units: Units) -> tuple[Sequence[_Piece], str]:
    """Return the most of the pieces that the template draws, the first kept first, and why not the others."""
    why = ""
    for many in range(len(pieces), 0, -1):
        for some in combinations(pieces, many):
            values = {name: text for piece in some for name, text in piece.values.items()}
            refused = _refused(template, {"units": units, **values})
            if not refused:
                return some, why
            why = why or refused
    return (), why


def _refused(template: Template, values: Mapping[str, str]) -> str:
    """Say why values would be refused; '' where they are drawn."""
    specs = template.parameters.specs()
    try:
        with trying():
            drawn(template, template.parameters.read(values))
    except Refused as refused:
        first = refused.problems[0]
        label = specs[first.parameter].label if first.parameter in specs else first.parameter
        return f"{label} {first.value} {first.message}".rstrip(".")
    except PartsError as error:
        return str(error).rstrip(".")
    return ""
