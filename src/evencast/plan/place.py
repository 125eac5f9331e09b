"""Saying where in a document something stands: by name where there is one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Loc = tuple[str | int, ...]

_NAMING_KEYS = ("name", "id", "illuminant")


def place(where: str, data: object, loc: Loc) -> str:
    """`kitchen.toml, light "window left".aim.mired`; nameless entries are counted from 1.

    where : name of the document
    data  : what the document holds, to look up names in
    """
    said = ""
    for step in loc:
        data = _inside(data, step)
        if isinstance(step, int):
            name = _name(data)
            said += f' "{name}"' if name else f"[{step + 1}]"
        else:
            said += f".{step}" if said else step
    return f"{where}, {said}" if said else where


def quoted(name: str) -> str:
    """A name in quotes, cut where it is too long to print."""
    return f'"{name if len(name) <= 60 else name[:57] + "..."}"'


def _inside(data: object, step: str | int) -> object:
    if isinstance(step, int):
        return data[step] if isinstance(data, list | tuple) and step < len(data) else None
    return data.get(step) if isinstance(data, Mapping) else None


def _name(entry: object) -> str | None:
    if not isinstance(entry, Mapping):
        return None
    found: list[Any] = [entry[key] for key in _NAMING_KEYS if isinstance(entry.get(key), str)]
    return " ".join(found[0].split())[:60] if found and found[0].strip() else None
