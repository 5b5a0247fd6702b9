"""Whether a template is declared rightly: looked over when it is loaded, so that a slip is told by name.

What only drawing shows is looked over there: the style of a dimension when it is made, the loops by `drawn`.
"""

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import cast, get_args

from parts.errors import DeclarationError, UnitsError
from parts.spec.condition import Condition, conditions
from parts.spec.parameter import Moves, Spec, spec_of
from parts.spec.parameters import Parameters
from parts.spec.preset import Preset, parted
from parts.spec.template import Template
from parts.units import format_length


def checked(slug: str, declared: object) -> Template:
    """Return what a template's module holds as `TEMPLATE`, if it is one rightly declared.

    Raises:
        DeclarationError: it isn't; the sentence names the template, and the field or parameter at fault.
    """
    if not isinstance(declared, Template):
        raise DeclarationError(slug, "TEMPLATE", "must be a Template")
    for field, message in _faults(slug, declared):
        raise DeclarationError(slug, field, message)
    return declared


def _faults(slug: str, of: Template) -> Iterator[tuple[str, str]]:
    """What is wrong, as field and message; whoever goes on asking may meet what follows from the first."""
    if of.slug != slug:
        yield "slug", f"is {of.slug!r}, and the file is that of {slug!r}"
    yield from _fields(of)
    yield from _names(of.parameters)
    specs = of.parameters.specs()
    for spec in specs.values():
        yield from ((spec.name, message) for message in (*_default(spec), *_moves(spec), *_when(spec, specs)))
    yield from _labels(specs)
    yield from _sizes(of, specs)
    yield from _presets(of.presets, specs)


def _fields(of: Template) -> Iterator[tuple[str, str]]:
    """The declaration's own fields: of a text alone, Python would take each letter for an entry."""
    if not of.title:
        yield "title", "is empty"
    parameters: object = of.parameters
    if not (isinstance(parameters, type) and issubclass(parameters, Parameters)):
        yield "parameters", "must be a subclass of Parameters"
    for field, kind in (("words", str), ("cautions", str), ("presets", Preset)):
        given = getattr(of, field)
        if not isinstance(given, tuple) or not all(isinstance(one, kind) for one in given):
            yield field, f"must be a tuple of {kind.__name__}, such as (a, b), or (a,) for one; it is {given!r:.60}"


def _names(parameters: type[Parameters]) -> Iterator[tuple[str, str]]:
    """What names other parameters: `when`, `shared_when`, `leading`, and the diameter beside a bolt."""
    every = {name: spec_of(name, field) for name, field in parameters.model_fields.items()}
    named = [(f"{name}: when", one.parameter) for name, spec in every.items() for one in spec.when]
    named += [(f"{name}: diameter", spec.diameter) for name, spec in every.items() if spec.is_bolt]
    named += [("leading", name) for name in parameters.leading]
    for name, declared in parameters.shared_conditions().items():
        named += [("shared_when", name), *((f"shared_when of {name}", one.parameter) for one in conditions(declared))]
    yield from ((field, f"names {name!r}, which is no parameter of it") for field, name in named if name not in every)


def _default(spec: Spec) -> Iterator[str]:
    if spec.minimum is not None and spec.maximum is not None:
        if not spec.minimum <= float(spec.default) <= spec.maximum:
            yield f"its default {spec.default!r} lies outside its limits, {spec.minimum:g} to {spec.maximum:g}"
        yield from _inch_default(spec)
    elif spec.kind == "choice" and spec.default not in spec.choices:
        yield f"its default {spec.default!r} isn't one of its choices: {', '.join(spec.choices)}"
    elif spec.kind == "text" and not _may_be(spec, str(spec.default)):
        yield f"its default {spec.default!r} is longer than it may be, or has characters that it may not have"


def _inch_default(spec: Spec) -> Iterator[str]:
    try:
        inches = float(spec.default_in("in"))
    except UnitsError as error:
        yield f"its default in inches can't be read: {error}"
        return
    if not cast(float, spec.minimum) <= inches <= cast(float, spec.maximum):
        said = format_length(inches, "in")
        yield f"its default in inches, {said}, lies outside its limits, {spec.minimum:g} to {spec.maximum:g}"


def _moves(spec: Spec) -> Iterator[str]:
    known = get_args(Moves)
    if spec.moves not in known:
        yield f"its moves {spec.moves!r} is none of {', '.join(known)}"


def _may_be(spec: Spec, text: str) -> bool:
    return len(text) <= spec.longest and (not spec.characters or set(text) <= set(spec.characters))


def _when(spec: Spec, specs: Mapping[str, Spec]) -> Iterator[str]:
    for one in spec.when:
        if message := _condition(one, specs[one.parameter]):
            yield f"its when {message}"


def _condition(one: Condition, other: Spec) -> str:
    """What keeps a condition from ever holding, in words; nothing where it can."""
    unknown = [value for value in one.values if value not in other.choices]
    if unknown and other.kind == "choice":
        return f"has {unknown[0]!r}, which isn't a choice of {other.name}: {', '.join(other.choices)}"
    if one.values and other.kind != "choice":
        return f"has words for {other.name}, which isn't a choice"
    if one.least > 1 and (other.kind != "count" or one.least > (other.maximum or 0)):
        return f"has {one.least} for {other.name}, which is never that many"
    return ""


def _sizes(of: Template, specs: Mapping[str, Spec]) -> Iterator[tuple[str, str]]:
    """Sizes to ask for it by that aren't lengths of it."""
    given: object = of.sizes
    if not isinstance(given, tuple | None):
        yield "sizes", f"must be a tuple of names, such as (a, b), or (a,) for one; it is {given!r:.60}"
        return
    for name in of.first_sizes:
        if name not in specs or specs[name].kind != "length":
            yield "sizes", f"names {name!r}, which is no length of it"


def _labels(specs: Mapping[str, Spec]) -> Iterator[tuple[str, str]]:
    """Two rows of one name under one heading, which nobody could tell apart."""
    seen = sorted(specs.values(), key=_heading)
    for (group, label), alike in groupby(seen, key=_heading):
        names = [spec.name for spec in alike]
        if len(names) > 1:
            yield names[1], f"is called “{label}” in “{group}”, and so is {names[0]}"


def _heading(spec: Spec) -> tuple[str, str]:
    return spec.group, spec.label


def _presets(presets: tuple[Preset, ...], specs: Mapping[str, Spec]) -> Iterator[tuple[str, str]]:
    for preset in presets:
        for word in parted(f"{preset.words} {preset.inches}"):
            name, equals, _ = word.partition("=")
            if not equals:
                yield "presets", f"“{preset.name}” has {word!r}, which isn't name=value"
            elif name not in specs:
                yield "presets", f"“{preset.name}” sets {name!r}, which is no parameter of it"
