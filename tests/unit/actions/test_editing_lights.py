from __future__ import annotations

import difflib
import tomllib
from typing import Any

import pytest

from evencast import tables
from evencast.actions.editing.lights import (
    add_light,
    duplicate_light,
    mentions,
    remove_light,
    rename_light,
)
from evencast.actions.entry import typed_light
from evencast.errors import DocumentErrors, EvencastError

DEMO = tables.demo_documents()["plan.toml"]
SETUP = """
[[setup]]
name = "dusk"
  [[setup.light]]
  name = "north window"
  planned = { filters = ["half CTB"] }   # by hand
  [[setup.light]]
  name = "edge panel"
  aim = { like = "North Window", stops = -1 }
"""
PLAN = DEMO + SETUP


def says(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


def names(text: str) -> list[str]:
    return [each["name"] for each in says(text)["light"]]


def lost(before: str, after: str) -> list[str]:
    """Lines that are gone."""
    told = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line[2:] for line in told if line.startswith("- ") and line[2:].strip()]


def test_a_typed_light_is_added_behind_the_others() -> None:
    """Nothing else changes, and the history says what it is."""
    entry = typed_light("tungsten 300, 2 m, spot, background, -1 stop", plan=PLAN)
    edited = add_light(PLAN, entry)
    assert lost(PLAN, edited.text) == []
    assert names(edited.text) == [*names(PLAN), "tungsten 300"]
    assert says(edited.text)["light"][-1] == {"name": "tungsten 300", **entry.keys}
    assert edited.said == (
        "tungsten 300 added: role background, builtin tungsten 3200 K, 1 stop under, 300 W, "
        "focus spot, distance 2 m, 300 W"
    )
    assert [each.where for each in edited.problems] == ['the plan, light "tungsten 300".circuit']


def test_an_entry_that_asks_is_not_added() -> None:
    """The error has the question and what answers it."""
    with pytest.raises(EvencastError) as raised:
        add_light(PLAN, typed_light("650", plan=PLAN))
    assert raised.value.what == 'the line leaves something open: "650": of what?'
    assert raised.value.remedy == "Accepted: 650 W or 650 lux."


def test_keys_that_the_plan_would_not_take_are_all_told() -> None:
    """Every problem at once, each with its place."""
    keys = {"name": "a", "role": "kye", "builtin": "nothing", "aim": {"like": "nobody"}}
    with pytest.raises(DocumentErrors) as raised:
        add_light(PLAN, keys)
    assert [each.where for each in raised.value.problems] == [
        'the plan, light "a".role',
        'the plan, light "a".aim.like',
        'the plan, light "a".builtin',
    ]


def test_a_duplicate_has_a_name_of_its_own_and_the_same_keys() -> None:
    """Twice over; what spots and set-ups say is not said of it, and the history says so."""
    once = duplicate_light(PLAN, "EDGE panel")
    assert once.said == (
        "edge panel 2 added, a duplicate of edge panel; the set-ups and spots were not duplicated"
    )
    twice = duplicate_light(once.text, "edge panel")
    lights = {each["name"]: each for each in says(twice.text)["light"]}
    assert lights["edge panel 3"] == lights["edge panel"] | {"name": "edge panel 3"}
    assert lost(PLAN, twice.text) == []
    assert duplicate_light(PLAN, "stair tubes").said.endswith("the spots were not duplicated")


def test_a_new_name_is_followed_wherever_the_old_one_stood() -> None:
    """Spots, set-ups, aims that are like it, views behind it; nothing else changes a byte."""
    edited = rename_light(PLAN, "North  window", "  big   window ")
    assert edited.name == "big window"
    assert edited.text == PLAN.replace("north window", "big window").replace(
        "North Window", "big window"
    )
    assert edited.said == (
        'north window is called big window, also in the spot "his face, key side", the spot "his '
        'face, window side", the set-up "dusk", what garden is behind and the aim of edge panel '
        'in the set-up "dusk"'
    )


def test_a_card_under_a_light_follows_its_name() -> None:
    """The balance names it too."""
    balance = 'balance = { from_card_under = "key Fresnel" }'
    text = DEMO.replace("balance = { low_k = 2800, high_k = 6500, step_k = 100 }", balance)
    renamed = rename_light(text, "key Fresnel", "key").text
    assert says(renamed)["camera"]["balance"] == {"from_card_under": "key"}
    for also in (False, True):
        with pytest.raises(EvencastError) as raised:
            remove_light(text, "key Fresnel", also=also)
        assert "the camera's balance, from a card under it" in raised.value.what
        assert raised.value.remedy == (
            "Let the card be taken under another light first, or fix the balance."
        )


@pytest.mark.parametrize("new", ["", " ", "garden", "GARDEN"])
def test_a_name_that_cannot_be_is_refused(new: str) -> None:
    """Nothing, or what another light is called."""
    with pytest.raises(EvencastError):
        rename_light(PLAN, "north window", new)


def test_a_light_that_is_named_is_not_removed() -> None:
    """Unless all that names it goes with it; the error lists it."""
    with pytest.raises(EvencastError) as raised:
        remove_light(PLAN, "north window")
    assert raised.value.what == (
        'north window is named by the spot "his face, key side", the spot "his face, window '
        'side", the set-up "dusk", what garden is behind and the aim of edge panel in the set-up '
        '"dusk"'
    )
    assert raised.value.remedy == "Take all that along, or change it first."


def test_a_light_is_removed_with_all_that_names_it() -> None:
    """An aim keeps what it says beside; every other line stays."""
    edited = remove_light(PLAN, "north window", also=True)
    after = says(edited.text)
    assert "north window" not in edited.text.casefold()
    assert mentions(after, "north window") == []
    assert after["setup"][0]["light"] == [{"name": "edge panel", "aim": {"stops": -1}}]
    assert "behind" not in after["light"][1]
    gone = lost(PLAN, edited.text)
    assert all(
        line in gone
        for line in ('behind = "north window"', 'role = "fill"', "minutes = { filter = 12 }")
    )
    assert len(gone) == 16


def test_lights_that_nothing_names_go_one_after_the_other() -> None:
    """Down to a plan without a light, and the last leaves no empty list behind."""
    text = DEMO
    for name in names(DEMO):
        text = remove_light(text, name, also=True).text
    assert "light" not in says(text)
    added = add_light(text, typed_light("tungsten 650 3 m", plan=text))
    assert names(added.text) == ["tungsten 650"]


def test_a_light_that_is_not_there_is_answered_with_those_that_are() -> None:
    """By name."""
    with pytest.raises(EvencastError) as raised:
        duplicate_light(PLAN, "moon")
    assert raised.value.what == 'no light is called "moon"'
    assert raised.value.remedy.startswith('Name one of these: "key Fresnel", "north window", ')
