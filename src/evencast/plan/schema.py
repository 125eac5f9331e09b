"""JSON Schemas of the two documents, made from their models.

They say what a document may hold once its TOML is read. Rules between the parts of a
document (names that refer to each other) are in `checks`, since a schema cannot say them.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from evencast.plan.kit import Kit
from evencast.plan.part import MM_PER_UNIT, OneOf, Part
from evencast.plan.plan import Plan

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_UNIT_NAMES = {
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
    "in": "inches",
    "ft": "feet",
}


def schemas() -> dict[str, dict[str, Any]]:
    """The JSON Schemas by document: "kit" and "plan". [draft 2020-12]"""
    return {name: _schema(model) for name, model in (("kit", Kit), ("plan", Plan))}


def _schema(model: type[Part]) -> dict[str, Any]:
    made = model.model_json_schema(schema_generator=_Schema)
    return {"$schema": DIALECT, **made}


class _Schema(GenerateJsonSchema):
    """Says units and one-of rules as the documents write them, and no null: TOML has none."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """A key that may be left out is of its one type where it is there."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """No default of null, and none that only repeats an empty table or list."""
        made = super().default_schema(schema)
        default = made.get("default")
        if default in (None, []) or isinstance(default, dict):
            made.pop("default", None)
        return made

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """Each length once per unit, and the rules of `one_of`."""
        made = super().model_schema(schema)
        part = schema["cls"]
        if issubclass(part, Part):
            rules = [rule for length in part.lengths() for rule in _units(made, length)]
            rules += [rule for one_of in part.one_of for rule in _choices(one_of)]
            if rules:
                made["allOf"] = rules
        return made


def _units(made: dict[str, Any], length: str) -> list[dict[str, Any]]:
    """The length's key in millimetres becomes one key per unit, of which one may be written."""
    key = f"{length}_mm"
    written: dict[str, Any] = {}
    for name, value in made["properties"].items():
        if name == key:
            written |= {f"{length}_{unit}": _in_unit(value, length, unit) for unit in MM_PER_UNIT}
        else:
            written[name] = value
    made["properties"] = written
    needed = key in made.get("required", [])
    if needed:
        made["required"].remove(key)
        if not made["required"]:
            del made["required"]
    return _choices(OneOf(tuple((f"{length}_{unit}",) for unit in MM_PER_UNIT), needed=needed))


def _in_unit(value: dict[str, Any], length: str, unit: str) -> dict[str, Any]:
    said = value["description"].replace("with its unit in the key", f"in {_UNIT_NAMES[unit]}")
    kept = {name: each for name, each in value.items() if name != "examples"}
    return kept | {"title": f"{length} {unit}", "description": said}


def _choices(rule: OneOf) -> list[dict[str, Any]]:
    """No two choices together; all keys of a choice; one of them, where one is needed."""
    keys = [key for choice in rule.choices for key in choice]
    if rule.needed and len(keys) == len(rule.choices):
        return [{"oneOf": [{"required": [key]} for key in keys]}]
    apart: list[dict[str, Any]] = [
        {"not": {"required": [one, other]}}
        for first, second in combinations(rule.choices, 2)
        for one in first
        for other in second
    ]
    whole = [
        {"dependentRequired": {key: [other for other in choice if other != key] for key in choice}}
        for choice in rule.choices
        if len(choice) > 1
    ]
    some = [{"anyOf": [{"required": [key]} for key in keys]}] if rule.needed else []
    return some + apart + whole
