"""Changing values of a document and leaving every other byte as the person wrote it.

Only the keys below one heading go through the TOML library, which may rewrite what stands between
tables; the rest of the text is carried over as it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable, Null, SingleKey, Whitespace

from evencast.errors import EvencastError
from evencast.plan.digits import Written
from evencast.plan.place import quoted
from evencast.plan.sections import Place, Section, sections
from evencast.plan.syntax import parsed, split_mark

Path = Sequence[str | int]
Value = str | bool | int | float | Sequence["Value"] | Mapping[str, "Value"]
Changes = Sequence[tuple[Path, Value | None]]

INDENT = "  "
"""Before the heading of a list's first entry, beside that of the table that it belongs to."""


def with_values(text: str, changes: Changes, *, where: str) -> str:
    """The document with values set, as text; a value that is there already is left as written.

    changes : paths and values, one after the other. A path has the keys from the top, an entry of
              a list by its name or its number from 0, as in ("light", "window left", "aim",
              "mired"); the number after the last adds an entry. A value replaces what is there,
              its remark kept; a new key goes last in its table; None takes the key away
    Raises  EvencastError where a table is not there, or where a change would touch anything else
    """
    mark, body = split_mark(text)
    for path, value in changes:
        body = _with_value(body, path, value, where=where)
    return mark + body


def _with_value(body: str, path: Path, value: Value | None, *, where: str) -> str:
    read = parsed(body, where=where)
    if not isinstance(read, dict):
        raise EvencastError(read.message, where=read.where, remedy=read.remedy)
    expected = _copied(read)
    table, place = _found(expected, path, where=where)
    if _holds(table, place[-1], value):
        return body
    every = sections(body)
    headed = any(_is_below(each.place, place) for each in every)
    if value is None and headed:
        return _without(body, every, expected, place, where=where)
    if isinstance(value, Mapping) and any(each.place == place for each in every):
        old = table[place[-1]]  # below a heading of its own: key by key, so that remarks stay
        changes = [((*place, key), value.get(key)) for key in {**old, **value}]
        return with_values(body, changes, where=where)
    if headed:  # a list whose entries have headings, or a table that is to be something else
        return _with_value(
            _without(body, every, expected, place, where=where), place, value, where=where
        )
    _set(table, place[-1], value)
    try:
        changed = _rewritten(body, every, place, value)
    except (TOMLKitError, LookupError, TypeError):
        _refuse(_said(where, path))
    if _comparable(parsed(changed, where=where)) != _comparable(expected):
        _refuse(_said(where, path))
    return changed


def _without(body: str, every: list[Section], expected: Any, place: Place, *, where: str) -> str:
    """The text without the headings of a table or of a list's entry, and all below them; with
    each goes the remark right above it."""
    ends = [0, *(each.end for each in every)]
    kept, changed = 0, ""
    for section, before in zip(every, ends, strict=False):
        if _is_below(section.place, place):
            changed += body[kept : _begin(body, section, after=max(before, kept))]
            kept = section.end
    changed += body[kept:]
    _drop(expected, place, every)
    if _comparable(parsed(changed, where=where)) != _comparable(expected):
        _refuse(_said(where, place))
    return changed


def _begin(body: str, section: Section, *, after: int) -> int:
    """Where a section begins with its heading, the remark right above that, and a blank line."""
    lines = body[after : section.begin].splitlines(keepends=True)
    begin = section.begin - len(lines.pop())
    while lines and lines[-1].strip().startswith("#"):
        begin -= len(lines.pop())
    while lines and not lines[-1].strip():
        begin -= len(lines.pop())
    return begin


def _drop(table: Any, place: Place, every: list[Section]) -> None:
    """Takes away what is at a place, and what is there by its heading alone: an empty list, and
    a table that only those headings name."""
    holders = [table]
    for step in place[:-1]:
        holders.append(holders[-1][step])
    del holders.pop()[place[-1]]
    for depth in range(len(place) - 1, 0, -1):
        outer = place[:depth]
        if holders[-1][outer[-1]] or any(each.place == outer for each in every):
            return
        del holders.pop()[outer[-1]]


def _refuse(where: str) -> NoReturn:
    raise EvencastError(
        "this cannot be changed without touching more",
        where=where,
        remedy="Change it by hand, in a text editor.",
    ) from None


def _holds(table: Any, key: str | int, value: Value | None) -> bool:
    """Whether a value is there already, or gone already."""
    there = key < len(table) if isinstance(key, int) else key in table
    if not there or value is None:
        return there == (value is not None)
    return _comparable(table[key]) == _comparable(value)


def _set(table: Any, key: str | int, value: Value | None) -> None:
    if value is None:
        del table[key]
    elif isinstance(table, list) and key == len(table):
        table.append(value)
    else:
        table[key] = value


def _rewritten(body: str, every: list[Section], place: Place, value: Value | None) -> str:
    """The text with one change in it."""
    above = [each for each in every if each.place != place and _is_below(place, each.place)]
    section = max(above, key=lambda each: len(each.place))
    written, ending = body[section.begin : section.end], _ending(body)
    open_end = ending if written and not written.endswith("\n") else ""
    keys = tomlkit.parse(written + open_end)
    rest = place[len(section.place) :]
    holder, key = _inside(keys, rest[:-1]), rest[-1]
    outer = _inside(keys, rest[:-2]) if holder is None and len(rest) > 2 else None
    if outer is not None and value is not None:  # the first entry of a list inside braces
        holder, key, value = outer, rest[-2], [value]
    if holder is None:
        return _with_heading(body, every, place, value)
    _put(holder, key, value, indent=_indent(keys, section), ending=ending)
    begins = section.begin == 0 or body[section.begin - 1] == "\n"
    return (
        body[: section.begin]
        + ("" if begins else ending)
        + keys.as_string().removesuffix(open_end)
        + body[section.end :]
    )


def _with_heading(body: str, every: list[Section], place: Place, value: Value | None) -> str:
    """The text with a heading more: of another entry of a list, or of a table that has had
    none, after all that belongs to the entry before, to the list's table, or to that table."""
    inside: object = value
    if isinstance(place[-1], str):
        place, inside = place[:-1], {place[-1]: value}
        after = place
    else:
        after = (*place[:-1], place[-1] - 1) if place[-1] else place[:-2]
    there = [each for each in every if _is_below(each.place, after)]
    if not isinstance(inside, Mapping) or not there:
        raise TypeError(inside)
    indent = there[0].indent + (INDENT if after and after == place[:-2] else "")
    last, ending = max(there, key=lambda each: each.end), _ending(body)
    at = len(body) if last is every[-1] else last.end
    before = body[:at] + ("" if body[:at].endswith("\n") or not at else ending)
    blank = "" if not at or before.endswith(ending * 2) else ending
    name = ".".join(_key(each) for each in place if isinstance(each, str))
    lines = [f"[[{name}]]" if isinstance(place[-1], int) else f"[{name}]"]
    lines += [f"{_key(key)} = {_written(each)}" for key, each in inside.items()]
    return before + blank + "".join(f"{indent}{line}{ending}" for line in lines) + body[at:]


def _is_below(place: Place, other: Place) -> bool:
    return place[: len(other)] == other


def _inside(keys: Any, path: Place) -> Any:
    """The table or list at a place among the keys of a section; None where it is not there."""
    for step in path:
        try:
            keys = keys[step]
        except (LookupError, TypeError):
            return None
    return keys if isinstance(keys, dict | list) else None


def _put(holder: Any, key: str | int, value: Value | None, *, indent: str, ending: str) -> None:
    if value is None:
        roomy = holder.as_string().endswith(" }")
        del holder[key]
        if isinstance(holder, InlineTable):
            _close_up(holder, roomy=roomy)
        return
    item = tomlkit.value(_written(value))
    if isinstance(key, int) and key == len(holder):
        holder.append(item)
        return
    is_new = isinstance(key, str) and key not in holder
    roomy = isinstance(holder, InlineTable) and holder.as_string().endswith(" }")
    holder[key] = item
    if is_new and isinstance(holder, InlineTable):
        item.trivia.trail = " " if roomy else ""
    elif is_new:
        item.trivia.indent, item.trivia.trail = indent, ending


def _close_up(table: InlineTable, *, roomy: bool) -> None:
    """Takes out the gap that a key leaves in braces; to be written, not to be changed further."""
    kept: list[Any] = []
    opened, spaced = True, False  # no value since the last comma; a space right before
    for key, item in table.value.body:
        text = item.as_string()
        again = (opened and text == ",") or (spaced and text.isspace())
        if key is None and (again or isinstance(item, Null)):
            continue
        opened = key is None and (opened or text == ",")
        spaced = key is None and text.isspace()
        kept.append((key, item))
    while kept and kept[-1][0] is None:
        kept.pop()
    blank = [(None, Whitespace(" "))] if roomy and kept else []
    table.value.body[:] = [*kept, *blank]


def _written(value: Value) -> str:
    """A value as it is written in a document."""
    if isinstance(value, Mapping):
        inside = ", ".join(f"{_key(key)} = {_written(each)}" for key, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_written, value))}]"
    if isinstance(value, Written):
        return value.text
    return tomlkit.item(value).as_string()


def _key(key: str) -> str:
    return SingleKey(key).as_string()


def _ending(body: str) -> str:
    return "\r\n" if "\r\n" in body else "\n"


def _indent(keys: tomlkit.TOMLDocument, section: Section) -> str:
    """White space before a new key: as before the last one, else as before the heading."""
    items = [item for key, item in keys.body if key is not None]
    return items[-1].trivia.indent if items else section.indent


def _comparable(value: object) -> object:
    """The same for what documents say alike, also where they say nan."""
    if isinstance(value, Mapping):
        return {key: _comparable(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_comparable(each) for each in value]
    return ("float", float(value).hex()) if isinstance(value, float) else (type(value), value)


def _copied(value: Any) -> Any:
    """Tables and lists of one's own, to be changed."""
    if isinstance(value, dict):
        return {key: _copied(each) for key, each in value.items()}
    return [_copied(each) for each in value] if isinstance(value, list) else value


def _found(document: Any, path: Path, *, where: str) -> tuple[Any, Place]:
    """The table or list that holds the last key of a path, and the path by numbers alone.

    A list that is not there yet is made where its first entry is asked for.
    """
    table, place = document, list[str | int]()
    for depth, step in enumerate(path, start=1):
        if list(path[depth:]) == [0] and isinstance(table, dict):
            table.setdefault(step, [])
        try:
            place.append(_index(table, step))
            inside = table if depth == len(path) else table[place[-1]]
        except LookupError:
            inside = None
        if not isinstance(inside, dict | list):
            raise EvencastError(
                "there is no such table",
                where=_said(where, path[:depth]),
                remedy="Name a table that the document has.",
            )
        table = inside
    return table, tuple(place)


def _index(table: Any, step: str | int) -> str | int:
    if isinstance(table, dict) and isinstance(step, str):
        return step
    if isinstance(step, int):
        if not isinstance(table, list) or not 0 <= step <= len(table):
            raise LookupError(step)
        return step
    names = [entry.get("name") if isinstance(entry, dict) else None for entry in table]
    if step not in names:
        raise LookupError(step)
    return names.index(step)


def _said(where: str, path: Path) -> str:
    return f"{where}, {' '.join(quoted(str(step)) for step in path)}"
