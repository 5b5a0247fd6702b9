"""What templates declare alike: said once for a class of their parameters, and left out of each template's own.

Classes go down from what every part has: `Hung` is a `Parameters`, and says only what that doesn't. Of a parameter
that differs in its default alone, the class says all else.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from parts.spec import Parameters, Spec, Template
from webapp.openapi.answer import Json

Kind: TypeAlias = type[Parameters]
Alike: TypeAlias = Mapping[Kind, Mapping[str, Json]]
"""For each class, its parameters by name, each with the entries of its schema that all templates have alike."""

LIMITS = {"length": "x-mm", "angle": "x-degrees", "count": "x-count", "number": "x-number"}
"""By the kind of a parameter, the name of its least and most."""


def alike(templates: Iterable[Template]) -> Alike:
    """Return what templates declare alike, by each class that several of them are of, the widest class first."""
    every = [template.parameters for template in templates]
    found: dict[Kind, Mapping[str, Json]] = {}
    for kind in dict.fromkeys(kind for each in every for kind in _classes(each)):
        of_it = [each for each in every if issubclass(each, kind)]
        above = said({other: found[other] for other in found if issubclass(kind, other)})
        shared = {name: _shared([described(each.specs()[name]) for each in of_it]) for name in _declared(kind)}
        own = {name: _without(schema, above.get(name, {})) for name, schema in shared.items()}
        if len(of_it) > 1 and any(own.values()):
            found[kind] = {name: schema for name, schema in own.items() if schema}
    return found


def own_of(template: Template, shared: Alike) -> tuple[list[Kind], dict[str, Json]]:
    """Return the classes that say something of a template's parameters, and what they leave to say."""
    kinds = [kind for kind in shared if issubclass(template.parameters, kind)]
    above = said({kind: shared[kind] for kind in kinds})
    own = {name: _without(described(spec), above.get(name, {})) for name, spec in template.parameters.specs().items()}
    return kinds, {name: schema for name, schema in own.items() if schema}


def said(shared: Alike) -> dict[str, Json]:
    """Return what several classes say of each parameter together."""
    every: dict[str, Json] = {}
    for schemas in shared.values():
        for name, schema in schemas.items():
            every[name] = every.get(name, {}) | schema
    return every


def in_words(name: str) -> str:
    """Return the title that a parameter has where none is given: of leg_length `Leg length`."""
    return name.replace("_", " ").capitalize()


def described(spec: Spec) -> Json:
    """Return a parameter: what it is called unless that is its name in words, its default as text, what it accepts."""
    schema: Json = {"default": spec.text(spec.default)}
    if spec.label != in_words(spec.name):
        schema["title"] = spec.label
    if spec.help:
        schema["description"] = spec.help
    if spec.kind == "flag":
        schema["enum"] = ["on", "off"]
    if spec.choices and not spec.is_bolt:
        schema["enum"] = list(spec.choices)
    if spec.kind == "text":
        schema["maxLength"] = spec.longest
    if spec.kind in LIMITS:
        schema[LIMITS[spec.kind]] = [spec.minimum, spec.maximum]
    return schema


def _classes(parameters: Kind) -> list[Kind]:
    return [kind for kind in reversed(parameters.__mro__) if issubclass(kind, Parameters)]


def _declared(kind: Kind) -> list[str]:
    """The parameters that a class declares itself, be it anew; not those that it only inherits."""
    return [name for name in kind.specs() if name in kind.__annotations__]


def _shared(schemas: Sequence[Json]) -> Json:
    first, *rest = schemas
    return {key: value for key, value in first.items() if all(each.get(key) == value for each in rest)}


def _without(schema: Json, above: Json) -> Json:
    return {key: value for key, value in schema.items() if key not in above}
