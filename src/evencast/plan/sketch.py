"""What still makes sense of a document with errors, so that its other rules run all the same.

A light with a misspelt role still has a name that another light may refer to, and a level
that a spot may build on. Every key is read by itself; one that is written and cannot be read
counts as written, yet equals nothing: a number is nan, a text is empty, a list holds the
entries that can be read. So does a key that is needed and missing. A sketch is checked and
thrown away, never computed with.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from types import UnionType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import ConfigDict, TypeAdapter, ValidationError

from evencast.plan.faults import is_list, part_in
from evencast.plan.part import Part, lengths_in_mm

P = TypeVar("P", bound=Part)


def sketched(kind: type[P], data: object) -> P:
    """As much of a table as can be read; all of it where nothing is wrong with it."""
    try:
        return kind.model_validate(data)
    except ValidationError:
        table = data if isinstance(data, Mapping) else {}
    table = lengths_in_mm(kind.lengths(), dict(table), [])
    needed = {name for name, field in kind.model_fields.items() if field.is_required()}
    written = {name for name in kind.model_fields if name in table}
    values = {name: _read(kind, name, table.get(name)) for name in needed | written}
    return kind.model_construct(written, **values)


def _read(kind: type[Part], key: str, value: object) -> object:
    annotation = kind.model_fields[key].annotation
    inside = part_in(annotation)
    if inside is None:
        return _plain(kind, key, value)
    if is_list(annotation):
        return tuple(sketched(inside, each) for each in _tables(value))
    return sketched(inside, value)


def _plain(kind: type[Part], key: str, value: object) -> object:
    """A value, or a list of values without those that cannot be read."""
    try:
        return _reader(kind, key).validate_python(value)
    except ValidationError as error:
        bad = {each["loc"][0] for each in error.errors() if each["loc"]}
    if isinstance(value, list) and bad:
        return _plain(kind, key, [each for at, each in enumerate(value) if at not in bad])
    return _unread(kind.model_fields[key].annotation)


@cache
def _reader(kind: type[Part], key: str) -> TypeAdapter[Any]:
    """Reads one key as the whole table would."""
    strict = ConfigDict(strict=True, allow_inf_nan=False)
    return TypeAdapter(kind.model_fields[key].rebuild_annotation(), config=strict)


def _unread(annotation: object) -> object:
    """What stands for a value of that kind that cannot be read."""
    if annotation is bool:
        return False
    if annotation in (float, int):
        return math.nan
    if get_origin(annotation) is tuple:
        return ()
    if get_origin(annotation) in (Union, UnionType, Annotated):
        return _unread(get_args(annotation)[0])
    return ""


def _tables(value: object) -> list[Mapping[str, Any]]:
    """The tables of a list; one table with single brackets counts as a list of one."""
    entries = value if isinstance(value, list) else [value]
    return [each for each in entries if isinstance(each, Mapping)]
