"""What was changed from one version of a document to another, in things a person tells apart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evencast.actions.editing.document import Data
from evencast.actions.editing.forms import length_name
from evencast.actions.editing.words import key_at, say_change, say_key, say_value
from evencast.plan.place import folded, quoted

KEYED = ("light", "setup", "spot", "circuit", "look", "filter")
"""Lists whose entries are told apart by their names."""

UNITS: tuple[tuple[str, ...], ...] = (
    ("light", "*"),
    ("setup", "*", "light", "*"),
    ("spot", "*", "light", "*"),
    ("circuit", "*"),
    ("look", "*"),
    ("filter", "*"),
    ("camera", "balance"),
    ("tolerance", "*"),
)
"""Tables that are one thing: where two people change one of them differently, they clash."""


class Nothing:
    """Where there is no value."""

    def __repr__(self) -> str:
        return "nothing"


NOTHING = Nothing()


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that a version changed against the base.

    path     : of a value or of a whole unit, entries of keyed lists by their names
    old, new : NOTHING where there is none
    """

    path: tuple[str, ...]
    old: Any
    new: Any


def changes(before: Data, after: Data) -> list[Change]:
    """What was changed from one to the other, each in the largest unit that is one thing."""
    return _between((), before, after)


def _between(path: tuple[str, ...], before: Any, after: Any) -> list[Change]:
    if same(before, after):
        return []
    tables = isinstance(before, Mapping) and isinstance(after, Mapping)
    if tables and not _is_unit(path):
        found = []
        for key in dict.fromkeys([*before, *after]):
            old, new = before.get(key, NOTHING), after.get(key, NOTHING)
            if not path and old is NOTHING and isinstance(new, Mapping):
                old = {}  # one key of a table that was not there is added for itself
            found += _between((*path, key), old, new)
        return found
    if path and path[-1] in KEYED:
        old, new = _keyed(before), _keyed(after)
        if old is not None and new is not None:
            return _of_list(path, old, new)
    return [Change(path, before, after)]


def _of_list(path: tuple[str, ...], old: dict[str, Data], new: dict[str, Data]) -> list[Change]:
    found: list[Change] = []
    renamed = _renamed(old, new)
    for key, entry in old.items():
        if key in renamed:
            after = new[renamed[key]]
            found.append(Change((*path, str(entry["name"])), entry, after))
        else:
            found += _between((*path, str(entry["name"])), entry, new.get(key, NOTHING))
    taken = set(renamed.values())
    found += [
        Change((*path, str(entry["name"])), NOTHING, entry)
        for key, entry in new.items()
        if key not in old and key not in taken
    ]
    return found


def _renamed(old: dict[str, Data], new: dict[str, Data]) -> dict[str, str]:
    """Entries that are gone, by those that are new and say the same under another name."""
    fresh = [key for key in new if key not in old]
    found: dict[str, str] = {}
    for key in (each for each in old if each not in new):
        body = old[key] | {"name": ""}
        for other in fresh:
            if other not in found.values() and same(body, new[other] | {"name": ""}):
                found[key] = other
                break
    return found


def _keyed(value: Any) -> dict[str, Data] | None:
    """Entries of a list by their names as they are compared; None where not all have their own."""
    if value is NOTHING:
        return {}
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        return None
    names = [each.get("name") for each in value]
    if not all(isinstance(each, str) and each.strip() for each in names):
        return None
    keyed = {folded(str(each["name"])): each for each in value}
    return keyed if len(keyed) == len(value) else None


def _is_unit(path: tuple[str, ...]) -> bool:
    return any(
        len(unit) == len(path)
        and all(step in ("*", own) for step, own in zip(unit, path, strict=True))
        for unit in UNITS
    )


def same(one: Any, other: Any) -> bool:
    """Whether two values say the same; numbers by how they are written where that counts."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return getattr(one, "text", repr(one)) == getattr(other, "text", repr(other))
    return type(one) is type(other) and bool(one == other)


def differs(old: Mapping[str, Any], new: Mapping[str, Any], key: str) -> bool:
    """Whether a key says something else in two tables."""
    return not same(old.get(key, NOTHING), new.get(key, NOTHING))


def plain(value: Any) -> Any:
    """A value as an answer has it: None where there is none."""
    return None if value is NOTHING else value


def where(path: tuple[str, ...]) -> str:
    """ "light "key Fresnel"", "camera exposure index"."""
    words, at = [], 0
    while at < len(path):
        if path[at] in KEYED and at + 1 < len(path):
            word = {"setup": "set-up"}.get(path[at], path[at])
            words.append(f"{word} {quoted(path[at + 1])}")
            at += 2
        else:
            words.append(say_key(path[at]))
            at += 1
    return ", ".join(words)


def said_value(path: tuple[str, ...], value: Any) -> str:
    """What stands at a place, in words."""
    return say_value(key_at(path, path[-1]), plain(value))


def say(change: Change) -> str:
    """A change in words: what differs alone."""
    old, new = plain(change.old), plain(change.new)
    place = where(change.path)
    if new is None:
        return f"{place} removed"
    if old is None:
        body = say_value(key_at(change.path, change.path[-1]), _nameless(new))
        return f"{place} added: {body}"
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        return f"{place}: {'; '.join(_differences(change.path, old, new))}"
    outer = where(change.path[:-1])
    said = say_change(key_at(change.path, change.path[-1]), old, new)
    return f"{outer}: {said}" if outer else said


def _differences(
    path: tuple[str, ...], old: Mapping[str, Any], new: Mapping[str, Any]
) -> list[str]:
    """What differs between two tables, key by key; a length in another unit is one change."""
    units = {length_name(key): key for key in old if key not in new}
    told = []
    for key in dict.fromkeys([*old, *new]):
        before = key if key in old else units.get(length_name(key), key)
        moved = key not in new and any(length_name(each) == length_name(key) for each in new)
        if not moved and differs(old, new, key):
            at, was = key_at(path, key), key_at(path, before)
            told.append(say_change(at, old.get(before), new.get(key), old_key=was))
    return told


def _nameless(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: each for key, each in value.items() if key != "name"}
    return value
