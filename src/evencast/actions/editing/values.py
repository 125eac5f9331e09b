"""One value of a plan or a kit, set or taken away."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import (
    PLAN,
    Data,
    Sort,
    addition,
    at_place,
    changed,
    named,
    opened,
)
from evencast.actions.editing.forms import is_length, length_name, length_of, table_of, value_of
from evencast.actions.editing.words import key_at, say_change
from evencast.errors import EvencastError
from evencast.plan.edit import Path
from evencast.plan.part import MM_PER_UNIT
from evencast.plan.place import place
from evencast.results.editing import Edited

WHAT = {"light": "light", "setup": "set-up", "spot": "spot", "circuit": "circuit"}
WHAT |= {"look": "look", "filter": "filter", "swap": "swap"}


def set_value(text: str, path: Path, value: Any, *, sort: Sort = PLAN) -> Edited:
    """The document with one value set, or taken away.

    path  : keys from the top, entries of lists by name or number, as in ("light", "key", "level",
            "lux"); a length with its unit, or without where the value has one
    value : a form's text, read as what the model takes there ("3 m", "2,5", "half CTB; ND 0.3");
            or the value itself; None or an empty text takes the key away
    Raises  EvencastError naming the field, for what cannot be read so; DocumentErrors with every
            problem the document would have
    """
    changes, said, name = change_of(sort, opened(sort, text), path, value)
    edited, problems = changed(sort, text, changes)
    return Edited(edited, said, name, problems)


def change_of(
    sort: Sort, data: Data, path: Path, value: Any
) -> tuple[list[tuple[Path, Any]], str, str | None]:
    """The changes that set one value, what they are in words, and the name of what they change.

    Raises  EvencastError naming the field, for what cannot be read so
    """
    place_, missing = _numbered(sort, data, path)
    where = place(sort.where, data, place_)
    key, old, gone = _old(sort, data, place_)
    changes: list[tuple[Path, Any]] = []
    if value is None or (isinstance(value, str) and not value.strip()):
        new = None
        changes += [((*place_[:-1], each), None) for each in gone]
    else:
        if isinstance(value, str) and is_length(sort.model, place_):
            key, new = length_of(value, key, where=where)
        else:
            new = value_of(sort.model, place_, value, where=where)
        changes += [((*place_[:-1], each), None) for each in gone if each != key]
        changes.append(_wrapped(data, (*place_[:-1], key), new, missing))
    old_key = key_at(place_, gone[0] if gone else key)
    change = say_change(key_at(place_, key), old, new, old_key=old_key)
    return changes, _said(data, place_, change, missing), _name(data, place_)


def add_entry(text: str, path: Path, keys: Mapping[str, Any], *, sort: Sort = PLAN) -> Edited:
    """The document with one entry more in a list, such as a circuit, a spot or a look.

    path : of the list: ("circuit",), ("light", "bench lamp", "swap")
    keys : of the entry, each as a form's text or as it is
    """
    data = opened(sort, text)
    at, _ = _numbered(sort, data, path)
    entry = table_of(sort.model, at, keys, where=place(sort.where, data, at))
    edited, problems = changed(sort, text, [addition(data, at, entry)])
    name = entry.get("name")
    what = f"{_what(path[-1])} {name}" if name is not None else str(path[-1])
    said = _said(data, at, f"{what} added", None)
    return Edited(edited, said, None if name is None else str(name), problems)


def remove_entry(text: str, path: Path, *, sort: Sort = PLAN) -> Edited:
    """The document without an entry of a list; see `remove_light` and `remove_filter` for those.

    path : with the entry's name or number last
    Raises  DocumentErrors where something still names it
    """
    data = opened(sort, text)
    at, _ = _numbered(sort, data, path)
    edited, problems = changed(sort, text, [(at, None)])
    return Edited(edited, f"{_what(path[-2])} {path[-1]} removed", None, problems)


def _numbered(sort: Sort, data: Data, path: Path) -> tuple[tuple[str | int, ...], str | None]:
    """The path with numbers for names, and the name of a light that its list lacks.

    Of a set-up's or spot's lights one may be named that it does not speak of yet.
    """
    done: tuple[str | int, ...] = ()
    for at, step in enumerate(path):
        inside = at_place(data, done)
        if at and isinstance(step, str) and (isinstance(inside, list) or _is_list(path, at)):
            there = inside if isinstance(inside, list) else []
            inner = path[at - 1] == "light" and at > 1
            try:
                done = tuple(named(sort, data, done, step, what=_what(path[at - 1]))[0])
            except EvencastError:
                if not inner:
                    raise
                return (*done, len(there), *path[at + 1 :]), step
        else:
            done = (*done, step)
    return done, None


def _is_list(path: Path, at: int) -> bool:
    """Whether a name is asked of a list that the document has not yet."""
    return path[at - 1] in WHAT and at < len(path) - 1 and not isinstance(path[at], int)


def _what(step: str | int) -> str:
    return WHAT.get(str(step), "entry")


def _old(sort: Sort, data: Data, path: tuple[str | int, ...]) -> tuple[str, Any, list[str]]:
    """The key as it is written, what it holds, and every key that goes with it."""
    key, table = str(path[-1]), at_place(data, path[:-1])
    table = table if isinstance(table, dict) else {}
    if not is_length(sort.model, path):
        return key, table.get(key), [key] if key in table else []
    names = [f"{length_name(key)}_{unit}" for unit in MM_PER_UNIT]
    there = [each for each in names if each in table]
    if key == length_name(key) and there:
        key = there[0]
    return key, table.get(there[0]) if there else None, there


def _wrapped(data: Data, path: Path, value: Any, missing: str | None) -> tuple[Path, Any]:
    """The change, with tables round the value as far as the document has none there."""
    depth = len(path) - 1
    while depth and not isinstance(at_place(data, path[:depth]), dict):
        depth -= 1
    if depth < len(path) - 1 and isinstance(path[depth + 1], int):
        depth += 1  # the next entry of a list
    for step in reversed(path[depth + 1 :]):
        value = {step: value}
    if missing is not None:
        value = {"name": missing} | value
    return path[: depth + 1], value


def _said(data: Data, path: Path, change: str, missing: str | None) -> str:
    names = [] if missing is None else [missing]
    names += [
        str(entry["name"])
        for depth in range(len(path) - 1, 0, -1)
        for entry in (at_place(data, path[:depth]),)
        if isinstance(entry, dict) and "name" in entry
    ]
    tables = [str(each) for each in path[:-1] if isinstance(each, str) and each not in WHAT]
    said = " ".join([*tables, change])
    return f"{', '.join(names)}: {said}" if names else said


def _name(data: Data, path: Path) -> str | None:
    entry = at_place(data, path[:2])
    return str(entry["name"]) if isinstance(entry, dict) and "name" in entry else None
