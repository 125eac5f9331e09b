"""Saying where in a document something stands: by name where there is one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

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
            said += entry(_name(data), number=step + 1)
        else:
            said += f".{printable(step)}" if said else printable(step)
    return f"{where}, {said}" if said else where


def entry(name: str, *, number: int) -> str:
    """An entry of a list, by its name, or by its number from 1 where it has none."""
    return f" {quoted(name)}" if name else f"[{number}]"


def quoted(name: str) -> str:
    """A name in quotes, fit to print."""
    return f'"{printable(name)}"'


def listed_names(names: Iterable[str]) -> str:
    """Names in quotes, with commas between."""
    return ", ".join(quoted(each) for each in names)


def printable(text: str) -> str:
    """A text on one line of at most 60 characters, of which none commands a terminal."""
    line = "".join(each if each.isprintable() else "\ufffd" for each in " ".join(text.split()))
    return line if len(line) <= 60 else line[:57] + "..."


def folded(name: str) -> str:
    """A name as it is compared: capitals and the number of spaces make no difference."""
    return " ".join(name.casefold().split())


def free_name(name: str, taken: Iterable[str]) -> str:
    """A name that none of the others has, as they are compared: "panel", "panel 2", "panel 3"."""
    there, number, free = set(map(folded, taken)), 1, name
    while folded(free) in there:
        number += 1
        free = f"{name} {number}"
    return free


def _inside(data: object, step: str | int) -> object:
    if isinstance(step, int):
        return data[step] if isinstance(data, list | tuple) and step < len(data) else None
    return data.get(step) if isinstance(data, Mapping) else None


def _name(data: object) -> str:
    if not isinstance(data, Mapping):
        return ""
    found: list[str] = [data[key] for key in _NAMING_KEYS if isinstance(data.get(key), str)]
    return found[0].strip() if found else ""
