"""Set-ups of a plan: added, and what was rigged and read in them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import (
    PLAN,
    Data,
    addition,
    changed,
    entries,
    is_named,
    named,
    opened,
)
from evencast.actions.editing.forms import length_name, table_of
from evencast.actions.editing.words import say_change, say_value
from evencast.actions.entry.reading import typed_reading
from evencast.errors import EvencastError
from evencast.plan.edit import Path
from evencast.plan.place import quoted
from evencast.plan.setup import Hung, Read, Rigged
from evencast.results.editing import Edited

SETUPS: Path = ("setup",)


def add_setup(text: str, name: str, *, copy_of: str | None = None) -> Edited:
    """The plan with one set-up more, empty or as another is: what differs there, what is planned
    and what is rigged. What was read there is not copied: it was read then.

    Raises  EvencastError where the set-up to copy is not there; DocumentErrors where another is
            called so
    """
    data = opened(PLAN, text)
    setup: Data = {"name": " ".join(name.split())}
    said = f"set-up {setup['name']} added"
    if copy_of is not None:
        _, other = named(PLAN, data, SETUPS, copy_of, what="set-up")
        lights = [_unread(each) for each in other.get("light", []) if isinstance(each, dict)]
        setup = other | setup
        if "light" in other:
            setup["light"] = lights
        said += f", a copy of {other['name']} without what was read"
    edited, problems = changed(PLAN, text, [addition(data, SETUPS, setup)])
    return Edited(edited, said, setup["name"], problems)


def _unread(light: Data) -> Data:
    return {key: value for key, value in light.items() if key != "read"}


def note_rigged(text: str, setup: str, light: str, rigged: Mapping[str, Any]) -> Edited:
    """The plan with what really hangs on a light in a set-up.

    rigged : keys as a set-up has them, each as a form's text or as it is; None or "" takes a key
             away, and {} says that it hangs as planned. What is not said stays as it was noted,
             and where nothing was noted yet, as it was planned
    Raises  EvencastError for what cannot be read; DocumentErrors for what the plan would not take
    """
    data = opened(PLAN, text)
    place, at, name, entry = _of_light(data, setup, light)
    old = entry.get("rigged")
    where = f"set-up {quoted(setup)}, light {quoted(name)}, rigged"
    given = table_of(Rigged, (), rigged, where=where)
    empty = [key for key, each in rigged.items() if each is None or not str(each).strip()]
    before = old if isinstance(old, dict) else _as_planned(entry)
    stems = {length_name(key) for key in (*given, *empty)}
    new = {key: value for key, value in before.items() if length_name(key) not in stems} | given
    edited, problems = changed(PLAN, text, [_noted(place, entry, name, "rigged", new)])
    if old is None and not rigged:
        said = f"{name}: rigged as planned"
    else:
        said = f"{name}: {say_change('rigged', old, new)}"
    return Edited(edited, f"{said} ({at})", name, problems)


def _as_planned(entry: Data) -> Data:
    planned = entry.get("planned")
    hung = planned if isinstance(planned, dict) else {}
    return {key: value for key, value in hung.items() if key in Hung.model_fields}


def note_read(
    text: str, setup: str, light: str, read: str | Mapping[str, Any], *, now: str | None = None
) -> Edited:
    """The plan with what the meter or the camera said of a light as it hangs in a set-up. A new
    reading stands in place of the one before, which its history keeps.

    read : one typed line, "5480 K 0.001 f/4 16:20 thin cloud A014C003"; or keys as a set-up has
           them, each as a form's text or as it is
    now  : "2031-05-04T16:31+02:00", for a reading that says no time, or one without its day
    Raises  EvencastError for what cannot be read; DocumentErrors for what the plan would not take
    """
    data = opened(PLAN, text)
    place, at, name, entry = _of_light(data, setup, light)
    if isinstance(read, str):
        keys = typed_reading(read, now=now).keys
    else:
        keys = read_keys(read, now=now, where=f"set-up {quoted(setup)}, light {quoted(name)}, read")
    old = entry.get("read")
    edited, problems = changed(PLAN, text, [_noted(place, entry, name, "read", keys)])
    said = f"{name} read: {say_value('read', keys)}"
    said += f", before: {say_value('read', old)}" if isinstance(old, dict) else ""
    return Edited(edited, f"{said} ({at})", name, problems)


def read_keys(read: Mapping[str, Any], *, now: str | None, where: str) -> dict[str, Any]:
    """Keys of a reading from a form's fields."""
    keys = table_of(Read, (), read, where=where)
    if now is not None and "time" not in keys:
        keys["time"] = now
    return keys


def _of_light(data: Data, setup: str, light: str) -> tuple[Path, str, str, Data]:
    """Where a set-up speaks of a light, the names of both, and what it says so far."""
    at, there = named(PLAN, data, SETUPS, setup, what="set-up")
    _, own = named(PLAN, data, ("light",), light, what="light")
    every = entries(data, (*at, "light"))
    for number, entry in enumerate(every):
        if is_named(entry, light):
            return (*at, "light", number), str(there["name"]), str(own["name"]), entry
    return (*at, "light", len(every)), str(there["name"]), str(own["name"]), {}


def _noted(place: Path, entry: Data, name: str, key: str, table: Data) -> tuple[Path, Any]:
    """The change that writes what was rigged or read."""
    if not table and key == "read":
        raise EvencastError(
            "nothing was read",
            where=f"light {quoted(name)}",
            remedy="Write what the meter says, as in 5480 K 0.001 f/4.",
        )
    return ((*place, key), table) if entry else (place, {"name": name, key: table})
