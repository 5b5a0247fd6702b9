"""What every model of an answer is: its fields as they stand in the JSON, and its place among the components."""

from collections.abc import Iterable
from typing import Any, TypeAlias, cast

from pydantic import BaseModel, ConfigDict, RootModel
from pydantic.json_schema import GenerateJsonSchema, models_json_schema

Json: TypeAlias = dict[str, Any]


AT = "#/components/schemas/{model}"


class Answer(BaseModel):
    """An answer, or a piece of one; what it doesn't name, it doesn't hold."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Point(RootModel[tuple[float, float]]):
    """A place: x to the right, y up, from the lower left of the part."""


def components(models: Iterable[type[Answer]]) -> Json:
    """Return the schemas of models by their names, with those of what they hold."""
    asked = list(models)
    _, found = models_json_schema([(model, "validation") for model in asked], ref_template=AT, schema_generator=_Schema)
    every = cast(Json, _plain(found["$defs"]))
    more = {
        model.__name__: model.__base__.__name__ for model in asked if model.__base__ and model.__base__ is not Answer
    }
    return every | {name: _beyond(every[name], base, every[base]) for name, base in more.items()}


def _beyond(schema: Json, base: str, of_base: Json) -> Json:
    """A schema by what it has beyond another, which it is all of."""
    own = {name: each for name, each in schema["properties"].items() if name not in of_base["properties"]}
    required = [name for name in schema.get("required", ()) if name in own]
    ref = {"$ref": AT.format(model=base)}
    return {"description": schema["description"], "allOf": [ref], "properties": own, "required": required}


class _Schema(GenerateJsonSchema):
    """The names of fields are their titles."""

    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ANN401 - pydantic's own unions
        return False


def _plain(schema: Any) -> Any:  # noqa: ANN401 - any JSON
    """A schema without what its names say already, and without a promise that an answer never grows."""
    if isinstance(schema, list):
        return [_plain(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    dropped = (("title", str), ("additionalProperties", bool), ("discriminator", dict))
    kept = {k: v for k, v in schema.items() if not any(k == name and isinstance(v, kind) for name, kind in dropped)}
    return _or_null({key: _plain(value) for key, value in kept.items()})


def _or_null(schema: Json) -> Json:
    """A schema with `null` among its types, where it is a plain type or null."""
    every = schema.get("anyOf", [])
    if len(every) == 2 and every[1] == {"type": "null"} and every[0].keys() == {"type"}:
        return {key: value for key, value in schema.items() if key != "anyOf"} | {"type": [every[0]["type"], "null"]}
    return schema
