"""Changes of a plan's set-ups and spots that are made of several: text in, text out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import PLAN, addition, changed, named, opened
from evencast.actions.editing.fields import Refused
from evencast.actions.resolve import balance_aim
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.plan.edit import Path
from evencast.plan.place import folded
from evencast.results.editing import Edited
from evencast.web.pages.plan_job_forms import given_at_spot
from evencast.web.plan_edits import with_setup

WHITE_DUV = 5e-6


def keep_balance(text: str, setup: str, label: str) -> Edited:
    """The plan with the balance of a set-up set, as a page was dragged to it.

    label : "4300K", "4300K+0.002"
    """
    if not label:
        raise EvencastError(
            "the page stands at the set-up's own balance",
            where="balance",
            remedy="Move the balance first, then keep it.",
        )
    aim = balance_aim(label)
    kelvin, plus, duv = label.casefold().removesuffix("k").partition("k")
    del plus
    if not aim.mired or aim.mired <= 0:
        raise EvencastError(
            "that has no colour temperature", where="balance", remedy="Keep one such as 4300K."
        )
    text, setup = with_setup(text, setup)
    data = opened(PLAN, text)
    path, entry = named(PLAN, data, ("setup",), setup, what="set-up")
    cct = float(kelvin)
    changes: list[tuple[Path, Any]] = [
        ((*path, "balance_k"), int(cct) if cct == int(cct) else cct),
        ((*path, "balance_duv"), float(duv) if duv else None),
    ]
    edited, problems = changed(PLAN, text, changes)
    old = entry.get("balance_k")
    before = "" if old is None else f"{old:g} K -> "
    return Edited(edited, f"balance of {setup}: {before}{cct:g} K", setup, problems)


def set_spot(
    text: str,
    name: str,
    keys: Mapping[str, str],
    gives: Mapping[str, str],
    lights: Mapping[str, str],
) -> Edited:
    """The plan with a spot as its form has it.

    name   : until now; "" for a new one
    gives  : by light: what it gives there, in the words of the form; "" for nothing
    lights : by field of the form: its light
    Raises  Refused with what is wrong at every field
    """
    given, wrong = dict[str, dict[str, Any]](), dict[str, str]()
    for field, light in lights.items():
        if not gives[light].strip():
            continue
        try:
            given[light] = given_at_spot(gives[light])
        except EvencastError as error:
            wrong[field] = f"{error.what}. {error.remedy}"
    new_name = " ".join(keys.get("name", "").split())
    if not new_name:
        wrong["name"] = "A spot needs a name. Write what it is called, as in her left cheek."
    if wrong:
        raise Refused(PLAN.where, wrong, [])
    data = opened(PLAN, text)
    spot = {"name": new_name, "role": keys.get("role", "")}
    listed = [{"name": light, **keys_of} for light, keys_of in given.items()]
    changes: list[tuple[Path, Any]]
    if name:
        path, entry = named(PLAN, data, ("spot",), name, what="spot")
        kept = _kept(entry, given, lights)
        changes = [((*path, key), value) for key, value in spot.items()]
        changes.append(((*path, "light"), kept or None))
        said = f"spot {name}: what lights give there"
        said += f"; it is called {new_name}" if new_name != name else ""
    else:
        changes = [addition(data, ("spot",), spot | ({"light": listed} if listed else {}))]
        said = f"spot {new_name} added"
    return _checked(text, changes, said, new_name)


def _kept(
    entry: Mapping[str, Any], given: Mapping[str, Mapping[str, Any]], lights: Mapping[str, str]
) -> list[dict[str, Any]]:
    """What the spot says of each light then; of lights that say the same what stands there."""
    names = {folded(each): each for each in lights.values()}
    made, said = [], set()
    for old in entry.get("light", []):
        own = names.get(folded(str(old.get("name", ""))))
        if own is None:
            made.append(dict(old))
        elif own in given:
            same = all(old.get(key) == value for key, value in given[own].items())
            made.append(dict(old) if same else {"name": old["name"], **given[own]})
            said.add(own)
    return made + [{"name": each, **keys} for each, keys in given.items() if each not in said]


def _checked(text: str, changes: list[tuple[Path, Any]], said: str, name: str) -> Edited:
    try:
        edited, problems = changed(PLAN, text, changes)
    except DocumentErrors as error:
        at, others = dict[str, str](), list[Problem]()
        for each in error.problems:
            key = next((k for k in ("name", "role") if each.where.endswith(f".{k}")), None)
            if key is None:
                others.append(each)
            else:
                at[key] = f"{each.message}. {each.remedy}"
        raise Refused(PLAN.where, at, others) from None
    return Edited(edited, said, name, problems)
