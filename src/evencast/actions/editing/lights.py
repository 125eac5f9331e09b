"""Lights of a plan: added, duplicated, renamed, removed, with all that names them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from evencast.actions.editing.document import (
    PLAN,
    Data,
    addition,
    at_place,
    changed,
    entries,
    is_name,
    is_named,
    named,
    opened,
)
from evencast.actions.editing.words import say_value
from evencast.errors import EvencastError
from evencast.plan.edit import Path
from evencast.plan.place import free_name, quoted
from evencast.quantities import listed
from evencast.results.editing import Edited, Entry

LIGHTS: Path = ("light",)


@dataclass(frozen=True, slots=True)
class Mention:
    """A place of a plan that names a light.

    path : of an entry of a list about it, or of the key that holds its name
    said : in words
    """

    sort: Literal["spot", "setup", "like", "behind", "card"]
    path: Path
    said: str

    @property
    def name_path(self) -> Path:
        """Of the key that holds its name."""
        return (*self.path, "name") if self.sort in ("spot", "setup") else self.path


def add_light(text: str, light: Entry | Mapping[str, Any]) -> Edited:
    """The plan with one light more, behind those it has.

    light : as `typed_light` understood it; or its keys as a plan has them, with a name
    Raises  EvencastError where the entry still asks for something; DocumentErrors where the plan
            would not take it
    """
    if isinstance(light, Entry):
        if light.asks:
            raise EvencastError(
                f"the line leaves something open: {light.asks[0].question}",
                where=f"light {quoted(light.name)}",
                remedy=_remedy(light),
            )
        light = {"name": light.name, **light.keys}
    data = opened(PLAN, text)
    edited, problems = changed(PLAN, text, [addition(data, LIGHTS, light)])
    name = str(light.get("name", ""))
    keys = {key: value for key, value in light.items() if key != "name"}
    return Edited(edited, f"{name} added: {say_value('light', keys)}", name, problems)


def _remedy(entry: Entry) -> str:
    accepted = entry.asks[0].accepted
    return f"Accepted: {listed(accepted, 'or')}." if accepted else "Change the line."


def duplicate_light(text: str, name: str) -> Edited:
    """The plan with another light like one of its own, under a name of its own. What spots and
    set-ups say of the first is not said of the second."""
    data = opened(PLAN, text)
    _, light = named(PLAN, data, LIGHTS, name, what="light")
    there = [entry.get("name") for _, entry in _tables(entries(data, LIGHTS))]
    new = free_name(str(light["name"]), [each for each in there if isinstance(each, str)])
    edited, problems = changed(PLAN, text, [addition(data, LIGHTS, light | {"name": new})])
    said = f"{new} added, a duplicate of {light['name']}"
    left = {each.sort for each in mentions(data, name)} & {"spot", "setup"}
    if left:
        places = listed([{"spot": "spots", "setup": "set-ups"}[each] for each in sorted(left)])
        said += f"; the {places} were not duplicated"
    return Edited(edited, said, new, problems)


def rename_light(text: str, name: str, new: str) -> Edited:
    """The plan with a light called otherwise, everywhere it is named.

    Raises  EvencastError where nothing is written; DocumentErrors where another is called so
    """
    new = " ".join(new.split())
    data = opened(PLAN, text)
    path, light = named(PLAN, data, LIGHTS, name, what="light")
    if not new:
        raise EvencastError(
            "the new name is empty",
            where=f"light {quoted(name)}",
            remedy='Write one, as in "window left".',
        )
    there = mentions(data, name)
    changes = [((*path, "name"), new), *((each.name_path, new) for each in there)]
    edited, problems = changed(PLAN, text, changes)
    said = f"{light['name']} is called {new}"
    said += f", also in {_places(there)}" if there else ""
    return Edited(edited, said, new, problems)


def _places(there: list[Mention]) -> str:
    return listed(list(dict.fromkeys(each.said for each in there)))


def remove_light(text: str, name: str, *, also: bool = False) -> Edited:
    """The plan without a light.

    also : with all that names it: what spots and set-ups say of it, aims that are like it, and
           what is behind it
    Raises  EvencastError with all that names it, unless it is taken along; and where the camera's
            card is taken under it, which nothing can stand in for
    """
    data = opened(PLAN, text)
    path, light = named(PLAN, data, LIGHTS, name, what="light")
    there = mentions(data, name)
    card = [each for each in there if each.sort == "card"]
    if there and (card or not also):
        naming = card if also else there
        raise EvencastError(
            f"{light['name']} is named by {_places(naming)}",
            where=f"light {quoted(str(light['name']))}",
            remedy="Let the card be taken under another light first, or fix the balance."
            if card
            else "Take all that along, or change it first.",
        )
    gone = [path, *(_whole(data, each) for each in there)]
    by_place = sorted(gone, key=lambda each: tuple(map(_rank, each)), reverse=True)
    edited, problems = changed(PLAN, text, [(each, None) for each in by_place])
    said = f"{light['name']} removed"
    said += f", also from {_places(there)}" if there else ""
    return Edited(edited, said, None, problems)


def _whole(data: Data, mention: Mention) -> Path:
    """What is taken away with a light; an aim that says nothing else with its key."""
    if mention.sort != "like":
        return mention.path
    aim = mention.path[:-1]
    return mention.path if len(at_place(data, aim)) > 1 else aim


def _rank(step: str | int) -> tuple[str, int]:
    """Numbers in their order, so that of one list the last goes first."""
    return ("", step) if isinstance(step, int) else (step, 0)


def mentions(data: Data, name: str) -> list[Mention]:
    """Every place of a plan, but for the light itself, that names it."""
    found = [
        Mention("spot", path, said)
        for path, said, entry in _inside(data, "spot", "spot")
        if is_named(entry, name)
    ]
    found += [
        Mention("setup", path, said)
        for path, said, entry in _inside(data, "setup", "set-up")
        if is_named(entry, name)
    ]
    everywhere: list[tuple[Path, str, Data]] = [
        (("light", number), _called(entry, number), entry)
        for number, entry in _tables(entries(data, LIGHTS))
    ]
    everywhere += [
        (path, f"{entry.get('name')} in {said}", entry)
        for path, said, entry in _inside(data, "setup", "set-up")
    ]
    for path, said, entry in everywhere:
        aim = entry.get("aim")
        if isinstance(aim, dict) and is_name(aim.get("like"), name):
            found.append(Mention("like", (*path, "aim", "like"), f"the aim of {said}"))
        if is_name(entry.get("behind"), name):
            found.append(Mention("behind", (*path, "behind"), f"what {said} is behind"))
    balance = _table(_table(data.get("camera")).get("balance"))
    if is_name(balance.get("from_card_under"), name):
        card = ("camera", "balance", "from_card_under")
        found.append(Mention("card", card, "the camera's balance, from a card under it"))
    return found


def _inside(data: Data, list_name: str, word: str) -> Iterator[tuple[Path, str, Data]]:
    """What each spot or set-up says of lights: its path, where in words, the entry."""
    for number, outer in _tables(entries(data, (list_name,))):
        said = f"the {word} {quoted(_called(outer, number))}"
        for inner, entry in _tables(entries(data, (list_name, number, "light"))):
            yield (list_name, number, "light", inner), said, entry


def _called(entry: Data, number: str | int) -> str:
    return str(entry.get("name", number))


def _tables(there: list[Data]) -> Iterator[tuple[int, Data]]:
    return ((number, each) for number, each in enumerate(there) if isinstance(each, dict))


def _table(value: Any) -> Data:
    return value if isinstance(value, dict) else {}
