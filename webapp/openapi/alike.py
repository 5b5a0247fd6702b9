"""What is said of a template's parameters, and which of it is the same for those that every part has."""

from collections.abc import Iterable, Mapping
from typing import TypeAlias

from parts.spec import Parameters, Spec, Template
from webapp.openapi.answer import Json

Alike: TypeAlias = Mapping[str, Json]
"""By the name of a parameter that every part has, the entries of its schema that all templates have alike."""

LIMITS = {"length": "x-mm", "angle": "x-degrees", "count": "x-count", "number": "x-number"}
"""By the kind of a parameter, the name of its least and most."""


def alike(templates: Iterable[Template]) -> Alike:
    """Return what all templates declare alike of the parameters that every part has."""
    every = [described_of(template) for template in templates]
    return {name: _shared([each[name] for each in every]) for name in Parameters.specs()}


def described_of(template: Template) -> Json:
    """Return the parameters of a template by name, each as it is described."""
    return {name: described(spec) for name, spec in template.parameters.specs().items()}


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


def _shared(schemas: Iterable[Json]) -> Json:
    first, *rest = schemas
    return {key: value for key, value in first.items() if all(each.get(key) == value for each in rest)}
