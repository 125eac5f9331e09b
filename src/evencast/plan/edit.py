"""Changing one value of a document and leaving every other byte as the person wrote it."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Item

from evencast.errors import EvencastError
from evencast.plan.place import quoted
from evencast.plan.syntax import parsed, split_mark

Path = Sequence[str | int]
Value = str | bool | int | float | Sequence[str | bool | int | float]


def with_value(text: str, path: Path, value: Value, *, where: str) -> str:
    """The document with one value set, as text.

    path    : keys from the top; an entry of a list by its name or its number from 0, as in
              ("light", "window left", "aim", "mired")
    value   : replaces what is there, its remark kept; a new key goes last in its table
    Raises  EvencastError where the table is not there, or where the change would touch
            anything else
    """
    before = parsed(text, where=where)
    if not isinstance(before, dict):
        raise EvencastError(before.message, where=before.where, remedy=before.remedy)
    expected = copy.deepcopy(before)
    _table(expected, path, where=where)[path[-1]] = value
    changed = _rewritten(text, path, value, where=where)
    if _comparable(parsed(changed, where=where)) != _comparable(expected):
        raise EvencastError(
            "this value cannot be changed without touching others",
            where=_said(where, path),
            remedy="Change it by hand, in a text editor.",
        )
    return changed


def _rewritten(text: str, path: Path, value: Value, *, where: str) -> str:
    mark, body = split_mark(text)
    try:
        document = tomlkit.parse(body)
        table = _table(document, path, where=where)
        table[path[-1]] = value if path[-1] in table else _ending_as(body, value)
    except TOMLKitError as error:
        raise EvencastError(
            f"this document cannot be rewritten: {error}",
            where=where,
            remedy="Change it by hand, in a text editor.",
        ) from error
    return mark + document.as_string()


def _ending_as(body: str, value: Value) -> Item:
    """The value of a new line that ends as the others do."""
    item = tomlkit.item(value)
    if "\r\n" in body:
        item.trivia.trail = "\r\n"
    return item


def _comparable(value: object) -> object:
    """The same for what documents say alike, also where they say nan."""
    if isinstance(value, Mapping):
        return {key: _comparable(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_comparable(each) for each in value]
    return ("float", float(value).hex()) if isinstance(value, float) else (type(value), value)


def _table(document: Any, path: Path, *, where: str) -> Any:
    """The table that holds the last key of a path."""
    table = document
    for depth, step in enumerate(path[:-1], start=1):
        try:
            table = table[_index(table, step) if isinstance(table, list) else step]
        except LookupError:
            table = None
        if not isinstance(table, dict | list):
            raise EvencastError(
                "there is no such table",
                where=_said(where, path[:depth]),
                remedy="Name a table that the document has.",
            )
    return table


def _index(entries: list[Any], step: str | int) -> int:
    if isinstance(step, int):
        return step
    names = [entry.get("name") if isinstance(entry, dict) else None for entry in entries]
    if step not in names:
        raise LookupError(step)
    return names.index(step)


def _said(where: str, path: Path) -> str:
    return f"{where}, {' '.join(quoted(str(step)) for step in path)}"
