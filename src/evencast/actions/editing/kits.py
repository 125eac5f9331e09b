"""Filters of a kit: added, counted, removed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import (
    KIT,
    PLAN,
    Data,
    addition,
    changed,
    entries,
    named,
    opened,
)
from evencast.actions.editing.fields import set_fields
from evencast.actions.editing.forms import table_of
from evencast.actions.editing.words import say_value
from evencast.errors import EvencastError
from evencast.plan.edit import Path
from evencast.plan.kit import KitFilter
from evencast.plan.place import folded, quoted
from evencast.quantities import listed
from evencast.results.editing import Edited

FILTERS: Path = ("filter",)
KNOWN = ("generic", "spectrum", "kelvin", "xyy")


def add_filter(text: str, keys: Mapping[str, Any]) -> Edited:
    """The kit with one filter more.

    keys : as a kit has them, each as a form's text or as it is: name, role, and one of generic
           (the name of a built-in one), spectrum (a file of its bundle), kelvin (declared from_k,
           to_k, stops) and xyy; stock and a note where there are
    Raises  EvencastError for what cannot be read; DocumentErrors with every problem of it
    """
    data = opened(KIT, text)
    entry = table_of(KitFilter, (), keys, where=f"filter {quoted(str(keys.get('name', '')))}")
    edited, problems = changed(KIT, text, [addition(data, FILTERS, entry)])
    name = str(entry["name"])
    said = ", ".join(f"{key} {say_value(key, entry[key])}" for key in KNOWN if key in entry)
    return Edited(edited, f"filter {name} added: {said}", name, problems)


def add_stock(text: str, name: str, stock: Mapping[str, Any]) -> Edited:
    """The kit with another entry of stock for a filter.

    stock : form, width, length, count and id, each as a form's text or as it is
    """
    data = opened(KIT, text)
    path, entry = named(KIT, data, FILTERS, name, what="filter")
    new = table_of(KitFilter, ("stock",), stock, where=f"filter {quoted(name)}, stock")
    change = addition(data, (*path, "stock"), new)
    edited, problems = changed(KIT, text, [change])
    said = f"{entry['name']}: {_say_pieces(new, new.get('count', 1))} added"
    return Edited(edited, said, str(entry["name"]), problems)


def count_stock(text: str, name: str, step: int, *, number: int = 0) -> Edited:
    """The kit with so many pieces more (+) or fewer of one entry of a filter's stock.

    number : of the entry, from 0
    Raises  EvencastError where there is no such entry, and where fewer than none would be left
    """
    data = opened(KIT, text)
    path, entry = named(KIT, data, FILTERS, name, what="filter")
    there = entries(data, (*path, "stock"))
    if not 0 <= number < len(there):
        raise EvencastError(
            f"it has no entry {number + 1} of stock to count",
            where=f"filter {quoted(name)}",
            remedy="Add what is at hand first: form, width, length and count.",
        )
    count = there[number].get("count", 1)
    new = count + step
    if new < 0:
        raise EvencastError(
            f"{count} are at hand, and {-step} cannot be taken away",
            where=f"filter {quoted(name)}",
            remedy=f"Take away at most {count}.",
        )
    edited, problems = changed(KIT, text, [((*path, "stock", number, "count"), new)])
    said = f"{entry['name']}: {_say_pieces(there[number], count)} -> {new}"
    return Edited(edited, said, str(entry["name"]), problems)


def _say_pieces(stock: Data, count: int) -> str:
    form = f"{stock.get('form', 'piece')}{'s' if count != 1 else ''}"
    sizes = [
        say_value(key, value)
        for stem in ("width_", "length_")
        for key, value in stock.items()
        if key.startswith(stem)
    ]
    return f"{count} {form} of {' x '.join(sizes)}" if sizes else f"{count} {form}"


def remove_filter(text: str, name: str, plans: Mapping[str, str]) -> Edited:
    """The kit without a filter.

    plans : names and texts of the plans that use the kit
    Raises  EvencastError with every place that names it, as long as one does
    """
    data = opened(KIT, text)
    path, entry = named(KIT, data, FILTERS, name, what="filter")
    _refuse_named(
        str(entry["name"]),
        plans,
        "Hang something else there first; or count its stock down to 0, which keeps it from being "
        "hung again.",
    )
    edited, problems = changed(KIT, text, [(path, None)])
    return Edited(edited, f"filter {entry['name']} removed", None, problems)


def edit_filter(
    text: str, name: str, fields: Mapping[str, str], plans: Mapping[str, str]
) -> Edited:
    """The kit with what is known of a filter changed.

    fields : keys of the filter as a form holds them, such as "name", "note", "kelvin.to_k"
    plans  : as for `remove_filter`: a name that one of them has stays
    Raises  Refused with what is wrong at every field; EvencastError with every place that names it
    """
    data = opened(KIT, text)
    path, entry = named(KIT, data, FILTERS, name, what="filter")
    new = fields.get("name", name)
    if folded(new) != folded(name):
        _refuse_named(str(entry["name"]), plans, "Name it otherwise there first.")
    return set_fields(text, path, fields, sort=KIT)


def _refuse_named(name: str, plans: Mapping[str, str], remedy: str) -> None:
    there = [each for plan, written in plans.items() for each in _hung(plan, written, name)]
    if there:
        raise EvencastError(
            f"{name} is named by {listed(list(dict.fromkeys(there)))}",
            where=f"filter {quoted(name)}",
            remedy=remedy,
        )


def _hung(plan: str, text: str, name: str) -> list[str]:
    """Where a plan names a filter: as frost, as planned, as rigged."""
    data = opened(PLAN, text)
    lights = [(plan, each) for each in entries(data, ("light",)) if isinstance(each, dict)]
    lights += [
        (f"set-up {quoted(str(setup.get('name')))} of {plan}", each)
        for setup in entries(data, ("setup",))
        if isinstance(setup, dict)
        for each in setup.get("light", [])
        if isinstance(each, dict)
    ]
    return [
        f"{each.get('name')} in {where}"
        for where, each in lights
        if any(folded(str(sheet)) == folded(name) for sheet in _sheets(each))
    ]


def _sheets(light: Data) -> list[Any]:
    hung = [light.get(key) for key in ("planned", "rigged")]
    lists = [light.get("frost"), *(each.get("filters") for each in hung if isinstance(each, dict))]
    return [sheet for each in lists if isinstance(each, list) for sheet in each]
