"""From the model's complaints to problems a person can mend."""

from __future__ import annotations

import datetime
import json
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from evencast.errors import Problem, nearest
from evencast.plan.part import FAULT, MM_PER_UNIT, Part
from evencast.plan.place import Loc, place, quoted
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import listed

Complaint = Mapping[str, Any]
Words = tuple[str, str]


def problems_of(
    error: ValidationError, *, model: type[Part], data: object, where: str
) -> list[Problem]:
    """One problem for each complaint, in the order of the model's keys."""
    complaints = [dict(each) for each in error.errors(include_url=False)]
    return [
        Problem("error", place(where, data, _shown(each)), *_words(each, model))
        for each in complaints
        if not _only_follows(each, complaints)
    ]


def part_in(annotation: object) -> type[Part] | None:
    """The kind of table that a key holds, alone or in a list; None where it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation if issubclass(annotation, Part) else None
    return next(filter(None, map(part_in, get_args(annotation))), None)


def is_list(annotation: object) -> bool:
    """Whether a key holds a list."""
    return get_origin(annotation) is tuple or any(map(is_list, get_args(annotation)))


def field_at(model: type[Part], loc: Loc) -> FieldInfo | None:
    """The key of the model that a place names, or the list it is an entry of."""
    found: FieldInfo | None = None
    inside: type[Part] | None = model
    for step in loc:
        if isinstance(step, str):
            found = inside.model_fields.get(step) if inside else None
            inside = part_in(found.annotation) if found else None
    return found


def _shown(complaint: Complaint) -> Loc:
    """The place of a complaint; a length that is missing has no unit yet."""
    *before, last = complaint["loc"] or ("",)
    if complaint["type"] == "missing" and isinstance(last, str):
        return (*before, last.removesuffix("_mm"))
    loc: Loc = complaint["loc"]
    return loc


def _only_follows(complaint: Complaint, complaints: Sequence[Complaint]) -> bool:
    """Whether a list is called too short only because its entries were not understood."""
    loc = complaint["loc"]
    return complaint["type"] == "too_short" and any(
        len(each["loc"]) > len(loc) and each["loc"][: len(loc)] == loc for each in complaints
    )


def _words(complaint: Complaint, model: type[Part]) -> Words:
    if complaint["type"] == FAULT:
        return complaint["ctx"]["message"], complaint["ctx"]["remedy"]
    field = field_at(model, complaint["loc"])
    say = _SAY.get(complaint["type"], _cannot_be_used)
    return say(complaint, field)


def _missing(complaint: Complaint, field: FieldInfo | None) -> Words:
    key = str(complaint["loc"][-1])
    length = key.removesuffix("_mm")
    if key != length:
        units = listed([f"{length}_{unit}" for unit in MM_PER_UNIT], "or")
        return f'"{length}" is missing', f"Write it with its unit: {units}."
    return f'"{key}" is missing', _remedy(complaint, field)


def _should_be(what: str) -> Callable[[Complaint, FieldInfo | None], Words]:
    def say(complaint: Complaint, field: FieldInfo | None) -> Words:
        value = _said(complaint["input"])
        return f"{_subject(complaint)} is {value} and should be {what}", _remedy(complaint, field)

    return say


def _not_known(complaint: Complaint, field: FieldInfo | None) -> Words:
    value = complaint["input"]
    return f"{_subject(complaint)} is {_said(value)}, which is not one of the choices", _choice(
        value, _choices(field.annotation if field else None)
    )


def _bound(words: str, key: str) -> Callable[[Complaint, FieldInfo | None], Words]:
    def say(complaint: Complaint, field: FieldInfo | None) -> Words:
        limit = f"{words} {complaint['ctx'][key]:g}"
        number = f"a number {limit}" if words in ("above", "below") else f"a number of {limit}"
        example = _example(complaint, field)
        return (
            f"{_subject(complaint)} is {_said(complaint['input'])} and should be {limit}",
            f"Write {number}{', as in ' + example if example else ''}.",
        )

    return say


def _empty(complaint: Complaint, field: FieldInfo | None) -> Words:
    return f"{_subject(complaint)} is empty", _remedy(complaint, field)


def _unknown_key(complaint: Complaint, field: FieldInfo | None) -> Words:
    """Only the roles of tolerances are a closed list."""
    key = str(complaint["loc"][-1])
    return f"{quoted(key)} is not a role of a light", _choice(key, list(DEFAULT_ALLOWED))


def _cannot_be_used(complaint: Complaint, field: FieldInfo | None) -> Words:
    return (
        f"{_subject(complaint)} is {_said(complaint['input'])}, which cannot be used here",
        _remedy(complaint, field),
    )


_SAY: Mapping[str, Callable[[Complaint, FieldInfo | None], Words]] = {
    "missing": _missing,
    "float_type": _should_be("a number"),
    "finite_number": _should_be("a finite number"),
    "int_type": _should_be("a whole number"),
    "string_type": _should_be("text"),
    "tuple_type": _should_be("a list"),
    "model_type": _should_be("a table"),
    "dict_type": _should_be("a table"),
    "literal_error": _not_known,
    "greater_than": _bound("above", "gt"),
    "greater_than_equal": _bound("at least", "ge"),
    "less_than": _bound("below", "lt"),
    "less_than_equal": _bound("at most", "le"),
    "string_too_short": _empty,
    "string_pattern_mismatch": _empty,
    "too_short": _empty,
    "extra_forbidden": _unknown_key,
}


def _subject(complaint: Complaint) -> str:
    """ "mired", or entry 2 of "moves"."""
    *before, last = complaint["loc"] or ("this document",)
    return f'entry {last + 1} of "{before[-1]}"' if isinstance(last, int) else quoted(last)


def _said(value: object) -> str:
    """A value as a person would name it."""
    if isinstance(value, str):
        return f"the text {quoted(value)}"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return "a huge number" if 10**15 < abs(value) < math.inf else f"{value:.10g}"
    names: tuple[tuple[type, str], ...] = (
        (dict, "a table"),
        (list, "a list"),
        (datetime.date, "a date"),
        (datetime.time, "a time of day"),
    )
    return next((name for kind, name in names if isinstance(value, kind)), "something else")


def _remedy(complaint: Complaint, field: FieldInfo | None) -> str:
    choices = _choices(field.annotation if field else None)
    if choices and complaint["type"] not in ("tuple_type", "model_type"):
        return _choice(complaint["input"], choices)
    key = next((str(step) for step in reversed(complaint["loc"]) if isinstance(step, str)), "")
    if field and not field.examples and part_in(field.annotation) and is_list(field.annotation):
        heading = ".".join(str(step) for step in complaint["loc"] if isinstance(step, str))
        return f"Write [[{heading}]], in double brackets, above each one."
    if complaint["type"] == "model_type" and isinstance(complaint["input"], list):
        return f"Write [{key}], in single brackets, once."
    example = _example(complaint, field)
    return f"Write it as in {example}." if example else f"Write [{key}] above what belongs to it."


def _choice(value: object, choices: list[str]) -> str:
    close = nearest(value, choices, most=1) if isinstance(value, str) else []
    meant = f'Did you mean "{close[0]}"? ' if close else ""
    return f"{meant}Accepted: {', '.join(choices)}."


def _choices(annotation: object) -> list[str]:
    """The values that a key accepts by name, where it accepts only those."""
    if get_origin(annotation) is Literal:
        return [str(value) for value in get_args(annotation)]
    return [choice for each in get_args(annotation) for choice in _choices(each)]


def _example(complaint: Complaint, field: FieldInfo | None) -> str:
    """The field's example as it would be written in a document."""
    if field is None or not field.examples:
        return ""
    key = next(step for step in reversed(complaint["loc"]) if isinstance(step, str))
    return f"{key} = {written(field.examples[0])}"


def written(value: object) -> str:
    """A value as TOML, on one line."""
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {written(each)}" for key, each in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(written, value)) + "]"
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return json.dumps(value, ensure_ascii=False)
