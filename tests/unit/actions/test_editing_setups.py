from __future__ import annotations

import tomllib
from typing import Any

import pytest

from evencast import tables
from evencast.actions.editing.kits import add_filter, add_stock, count_stock, remove_filter
from evencast.actions.editing.setups import add_setup, note_read, note_rigged
from evencast.errors import DocumentErrors, EvencastError

PLAN = tables.demo_documents()["plan.toml"]
THE_KIT = tables.demo_documents()["kit.toml"]
NOW = "2031-05-04T16:31+02:00"
DUSK = """
[[setup]]
name = "dusk"
balance_k = 4300
  [[setup.light]]
  name = "key Fresnel"
  planned = { filters = ["half CTB"], dim_stops = 0.5, odd = 1 }   # by hand
"""


def light_of(text: str, setup: str, light: str) -> dict[str, Any]:
    (there,) = (each for each in tomllib.loads(text)["setup"] if each["name"] == setup)
    found: dict[str, Any] = next(each for each in there["light"] if each["name"] == light)
    return found


def test_a_set_up_is_added_empty_or_as_another_is() -> None:
    """A copy has what differs, what is planned and what is rigged, and nothing that was read."""
    empty = add_setup(PLAN, " dusk ")
    assert (empty.said, empty.name) == ("set-up dusk added", "dusk")
    assert empty.text == PLAN + '\n[[setup]]\nname = "dusk"\n'
    read = note_read(PLAN + DUSK, "dusk", "key Fresnel", "5480 f/4", now=NOW).text
    copy = add_setup(read, "night", copy_of="DUSK")
    assert copy.said == "set-up night added, a copy of dusk without what was read"
    first, second = tomllib.loads(copy.text)["setup"]
    (light,) = first["light"]
    assert light.pop("read")["cct_k"] == 5480
    assert second == {"name": "night", "balance_k": 4300, "light": [light]}
    with pytest.raises(DocumentErrors):
        add_setup(copy.text, "Night")


def test_what_is_rigged_begins_with_what_was_planned() -> None:
    """So that a distance noted alone does not take the sheets off; then each key by itself."""
    once = note_rigged(PLAN + DUSK, "dusk", "key fresnel", {"distance": "3.5 m", "note": "flag"})
    assert light_of(once.text, "dusk", "key Fresnel")["rigged"] == {
        "filters": ["half CTB"],
        "dim_stops": 0.5,
        "distance_m": 3.5,
        "note": "flag",
    }
    assert once.said == (
        "key Fresnel: rigged half CTB, dim stops 0.5 stop, distance 3.5 m, note flag (dusk)"
    )
    twice = note_rigged(once.text, "dusk", "key Fresnel", {"distance": "12 ft", "note": ""})
    assert light_of(twice.text, "dusk", "key Fresnel")["rigged"] == {
        "filters": ["half CTB"],
        "dim_stops": 0.5,
        "distance_ft": 12,
    }
    other = note_rigged(twice.text, "dusk", "Edge Panel", {"filters": "half CTB; ND 0.3"})
    assert light_of(other.text, "dusk", "edge panel") == {
        "name": "edge panel",
        "rigged": {"filters": ["half CTB", "ND 0.3"]},
    }
    assert "planned = { filters" in other.text
    assert "# by hand" in other.text


def test_rigged_as_planned_takes_one_tap() -> None:
    """With nothing to type."""
    edited = note_rigged(PLAN + DUSK, "dusk", "key Fresnel", {})
    assert edited.said == "key Fresnel: rigged as planned (dusk)"
    rigged = light_of(edited.text, "dusk", "key Fresnel")["rigged"]
    assert rigged == {"filters": ["half CTB"], "dim_stops": 0.5}


def test_a_reading_is_one_line_and_the_next_stands_in_its_place() -> None:
    """The history has the one before."""
    line = "5480 K 0.001 f/4 16:20 thin cloud A014C003"
    once = note_read(PLAN + DUSK, "dusk", "key Fresnel", line, now=NOW)
    assert light_of(once.text, "dusk", "key Fresnel")["read"] == {
        "cct_k": 5480,
        "duv": 0.001,
        "f_stop": 4,
        "time": "2031-05-04T16:20+02:00",
        "frame": "A014C003",
        "sky": "thin cloud",
    }
    again = note_read(once.text, "dusk", "key Fresnel", "5400", now=NOW)
    assert light_of(again.text, "dusk", "key Fresnel")["read"] == {"cct_k": 5400, "time": NOW}
    assert again.said == (
        "key Fresnel read: colour 5400 K, time 4 May 2031, 16:31, before: colour 5480 K, Duv "
        "+0.001 (a trace green), f/4, time 4 May 2031, 16:20, frame A014C003, sky thin cloud (dusk)"
    )


def test_a_reading_by_fields_is_the_same() -> None:
    """A form's texts, empty ones left out."""
    fields = {"cct_k": "5480", "duv": "0,001", "f_stop": "4", "sky": " ", "tint": None}
    edited = note_read(PLAN + DUSK, "dusk", "garden", fields, now=NOW)
    assert light_of(edited.text, "dusk", "garden")["read"] == {
        "cct_k": 5480,
        "duv": 0.001,
        "f_stop": 4,
        "time": NOW,
    }
    with pytest.raises(EvencastError) as raised:
        note_read(PLAN + DUSK, "dusk", "garden", {"cct_k": ""})
    assert raised.value.what == "nothing was read"
    with pytest.raises(DocumentErrors):
        note_read(PLAN + DUSK, "dusk", "garden", {"lux": "4", "fc": "4"})


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (
            {"name": "old blue", "role": "correction", "generic": "full CTB"},
            "filter old blue added: generic full CTB",
        ),
        (
            {"name": "old blue", "role": "correction", "spectrum": "worn-half-ctb.csv"},
            "filter old blue added: spectrum worn-half-ctb.csv",
        ),
        (
            {
                "name": "old blue",
                "role": "correction",
                "kelvin": {"from_k": "3200", "to_k": "5500", "stops": "1,3"},
            },
            "filter old blue added: kelvin from 3200 K, to 5500 K, stops 1.3 stops",
        ),
    ],
)
def test_a_filter_is_added_by_what_is_known_of_it(keys: dict[str, Any], said: str) -> None:
    """A built-in one, a file, declared numbers; each behind the others."""
    edited = add_filter(THE_KIT, keys)
    assert edited.said == said
    assert edited.text.startswith(THE_KIT.rstrip("\n"))
    assert tomllib.loads(edited.text)["filter"][-1]["name"] == "old blue"


def test_a_filter_that_cannot_be_is_refused_with_every_problem() -> None:
    """A wrong role, a built-in one that there is not, a name that is taken."""
    with pytest.raises(DocumentErrors) as raised:
        add_filter(THE_KIT, {"name": "Half ctb", "role": "blue", "generic": "sky"})
    assert {each.where for each in raised.value.problems} == {
        'the kit, filter "Half ctb"',
        'the kit, filter "Half ctb".role',
        'the kit, filter "Half ctb".generic',
    }


def test_stock_is_counted_up_and_down_to_none() -> None:
    """And not below."""
    added = add_filter(THE_KIT, {"name": "old", "role": "ND", "generic": "ND 0.3"}).text
    keys = {"form": "sheet", "width": "53 cm", "length": "122 cm", "count": "2"}
    stocked = add_stock(added, "OLD", keys)
    assert stocked.said == "old: 2 sheets of 53 cm x 122 cm added"
    fewer = count_stock(stocked.text, "old", -2)
    assert fewer.said == "old: 2 sheets of 53 cm x 122 cm -> 0"
    assert tomllib.loads(fewer.text)["filter"][-1]["stock"] == [
        {"form": "sheet", "width_cm": 53, "length_cm": 122, "count": 0}
    ]
    with pytest.raises(EvencastError) as raised:
        count_stock(fewer.text, "old", -1)
    assert raised.value.what == "0 are at hand, and 1 cannot be taken away"
    with pytest.raises(EvencastError) as raised:
        count_stock(added, "old", 1)
    assert raised.value.what == "it has no entry 1 of stock to count"


def test_a_filter_that_a_plan_names_is_not_removed() -> None:
    """As frost, as planned or as rigged; the error lists where."""
    plans = {"plan.toml": PLAN + DUSK}
    for name, where in (
        ("light frost", "edge panel in plan.toml"),
        ("half CTB", 'key Fresnel in set-up "dusk" of plan.toml'),
    ):
        with pytest.raises(EvencastError) as raised:
            remove_filter(THE_KIT, name, plans)
        assert raised.value.what == f"{name} is named by {where}"
    edited = remove_filter(THE_KIT, "half CTB", {"plan.toml": PLAN})
    assert edited.said == "filter half CTB removed"
    assert "half CTB" not in [each["name"] for each in tomllib.loads(edited.text)["filter"]]
