from __future__ import annotations

from evencast.plan.checks import names
from tests.unit.plan.checks.made import night, places, plan


def test_two_lights_of_one_name_are_told_once() -> None:
    """Capitals and doubled spaces make no difference; three of a name are one problem."""
    made = plan({"name": "Key light"}, {"name": "key  light"}, {"name": "KEY LIGHT"})
    assert places(names.check_light_names(made)) == [("error", 'light "key light"')]
    assert names.check_light_names(plan({"name": "a"}, {"name": "b"})) == []


def test_set_ups_share_no_name_and_name_a_light_once() -> None:
    """A set-up of a known name and a light that stands in it twice are two problems."""
    twice = [
        {"name": "night", "light": [{"name": "KEY"}, {"name": "key"}]},
        {"name": "Night"},
    ]
    assert places(names.check_setup_names(plan(setup=twice))) == [
        ("error", 'setup "Night"'),
        ("error", 'setup "night".light "key"'),
    ]
    assert names.check_setup_names(plan(setup=night({"name": "KEY"}))) == []


def test_spots_share_no_name_and_a_light_stands_at_one_once() -> None:
    """Two spots may hold the same light, one spot may not hold it twice."""
    once = {"name": "key", "lux": 5}
    made = plan(
        spot=[
            {"name": "cheek", "role": "key", "light": [once, once | {"name": "KEY"}]},
            {"name": "Cheek", "role": "fill", "light": [once]},
        ]
    )
    found = names.check_spot_names(made)
    assert places(found) == [("error", 'spot "Cheek"'), ("error", 'spot "cheek".light "KEY"')]
    assert found[0].message == 'two spots are called "Cheek"'
    assert found[1].message == '"KEY" stands at this spot twice'
    sound = [{"name": name, "role": "key", "light": [once]} for name in ("left", "right")]
    assert names.check_spot_names(plan(spot=sound)) == []


def test_circuits_looks_and_swaps_share_no_name() -> None:
    """Each kind for itself: a look may be called like a circuit, two lamps may have one bulb."""
    circuit = {"volts": 230, "breaker_a": 16}
    bulb = {"name": "bulb", "cct_k": 5000}
    made = plan(
        {"name": "a", "swap": [bulb, bulb | {"name": "Bulb"}]},
        {"name": "b", "swap": [bulb]},
        circuit=[circuit | {"name": "moon"}, circuit | {"name": "MOON"}],
        look=[{"name": "moon"}, {"name": "alley"}, {"name": "Moon"}],
    )
    assert places(names.check_circuit_names(made)) == [("error", 'circuit "MOON"')]
    assert places(names.check_look_names(made)) == [("error", 'look "Moon"')]
    assert places(names.check_swap_names(made)) == [("error", 'light "a".swap "Bulb"')]
    assert names.check_swap_names(made)[0].message == 'two swaps are called "Bulb"'
