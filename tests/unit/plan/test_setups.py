"""A plan's lights in a set-up: what is written there replaces what stands in the plan."""

from __future__ import annotations

import pytest

from evencast.errors import DocumentErrors, EvencastError
from evencast.plan.document import read_plan
from evencast.plan.light import Light
from evencast.plan.plan import Plan
from evencast.plan.setups import at_setup, hung_on, light_in, setup_named

PLAN = """format = 1
name = "cellar"
kit = "kit.toml"
mains_hz = 50
camera = { balance = { fixed_k = 4300 } }

[[light]]
name = "lamp"
role = "key"
kind = "tungsten"
builtin = "tungsten 3200 K"
distance_m = 3
watts = 650
power_factor = 0.9
aim = { mired = 20, duv = 0.001, stops = -1 }

[[light]]
name = "hatch"
role = "fill"
kind = "daylight"
cct_k = 5500
duv = 0.004
level = { lux = 900, distance_m = 1 }
"""


def plan_with(setups: str) -> Plan:
    document, problems = read_plan(PLAN + setups, where="plan.toml")
    assert document is not None, problems
    return document.model


def light(plan: Plan, name: str) -> Light:
    found = plan.light_named(name)
    assert found is not None
    return found


def at(changes: str, name: str = "lamp") -> Light:
    """One light in a set-up that says this of it."""
    setup = f'\n[[setup]]\nname = "night"\n[[setup.light]]\nname = "{name}"\n{changes}\n'
    return light(at_setup(plan_with(setup), "night"), name)


def test_only_what_is_written_differs() -> None:
    """Every other key keeps the plan's value, and other lights are left alone."""
    plan = plan_with('\n[[setup]]\nname = "night"\n[[setup.light]]\nname = "LAMP"\nrole = "fill"\n')
    merged = at_setup(plan, " NIGHT ")
    before, after = light(plan, "lamp"), light(merged, "lamp")
    assert after.role == "fill"
    assert after.name == "lamp"
    assert after.model_dump(exclude={"role"}) == before.model_dump(exclude={"role"})
    assert merged.light[1] is plan.light[1]
    assert merged.camera is plan.camera


def test_a_default_that_is_written_out_counts_as_written() -> None:
    """`moves` as they are by default, written in the set-up, undo the plan's own."""
    text = PLAN.replace('name = "lamp"\n', 'name = "lamp"\nmoves = ["leave"]\n')
    setup = (
        '[[setup]]\nname = "n"\n[[setup.light]]\nname = "lamp"\nmoves = ["filter","dial","leave"]\n'
    )
    document, _ = read_plan(text + setup, where="plan.toml")
    assert document is not None
    assert light(document.model, "lamp").moves == ("leave",)
    assert light(at_setup(document.model, "n"), "lamp").moves == ("filter", "dial", "leave")


def test_tables_are_taken_as_a_whole() -> None:
    """An aim in the set-up keeps nothing of the plan's aim, nor a level of its level."""
    assert at("aim = { mired = -40 }").aim.model_dump() == {
        "mired": -40.0,
        "duv": 0.0,
        "stops": None,
        "like": None,
        "look": None,
    }
    level = at("level = { fc = 40 }", "hatch").level
    assert level is not None
    assert (level.fc, level.lux, level.distance_mm) == (40.0, None, None)


@pytest.mark.parametrize(
    ("changes", "name", "known"),
    [
        ('builtin = "daylight D65"', "lamp", {"builtin": "daylight D65"}),
        ("cct_k = 3000", "lamp", {"cct_k": 3000.0, "kind": "tungsten"}),
        ('spectrum = "lamp.csv"', "lamp", {"spectrum": "lamp.csv", "kind": "tungsten"}),
        ('builtin = "daylight D65"', "hatch", {"builtin": "daylight D65"}),
        ("cct_k = 7000", "hatch", {"cct_k": 7000.0, "kind": "daylight"}),
        ("duv = 0.001", "hatch", {"cct_k": 5500.0, "duv": 0.001, "kind": "daylight"}),
        (
            'tint = "2 toward green"',
            "hatch",
            {"cct_k": 5500.0, "tint": "2 toward green", "kind": "daylight"},
        ),
        (
            'cct_k = 6500\ntint = "none"\nkind = "unknown"',
            "hatch",
            {"cct_k": 6500.0, "tint": "none", "kind": "unknown"},
        ),
    ],
)
def test_another_way_of_knowing_the_light_does_away_with_the_old(
    changes: str, name: str, known: dict[str, object]
) -> None:
    """Built in, spectrum or Kelvin: one alone is left, with the Duv that was read with it."""
    found = at(changes, name)
    keys = ("builtin", "spectrum", "cct_k", "duv", "tint", "kind")
    assert {key: getattr(found, key) for key in keys if getattr(found, key) is not None} == known


def test_amps_take_the_place_of_watts_and_power_factor() -> None:
    """The plate is read in one way."""
    found = at("amps = 3.1")
    assert (found.amps, found.watts, found.power_factor) == (3.1, None, None)
    found = at("power_factor = 0.5")
    assert (found.amps, found.watts, found.power_factor) == (None, 650.0, 0.5)


def test_lengths_in_any_unit() -> None:
    """A distance in feet replaces one in metres."""
    assert at("distance_ft = 10").distance_mm == pytest.approx(3048.0)


def test_a_set_up_that_is_not_there_names_those_that_are() -> None:
    """The error tells the names, or how to add one."""
    plan = plan_with('\n[[setup]]\nname = "night"\n[[setup]]\nname = "dawn"\n')
    with pytest.raises(EvencastError) as caught:
        at_setup(plan, "noon")
    assert caught.value.what == 'no set-up is called "noon"'
    assert caught.value.where == 'plan "cellar"'
    assert caught.value.remedy == 'Name one of its set-ups: "night", "dawn".'
    with pytest.raises(EvencastError) as caught:
        at_setup(plan_with(""), "noon")
    assert caught.value.remedy.startswith("It has no set-up yet")


def test_without_a_name_the_only_set_up_is_meant() -> None:
    """None where there is none, an error where there are two."""
    assert setup_named(plan_with(""), None) is None
    one = plan_with('\n[[setup]]\nname = "night"\n')
    found = setup_named(one, None)
    assert found is not None
    assert found.name == "night"
    two = plan_with('\n[[setup]]\nname = "night"\n[[setup]]\nname = "dawn"\n')
    with pytest.raises(EvencastError) as caught:
        setup_named(two, None)
    assert caught.value.what == "it has 2 set-ups, and which one is meant is not said"
    assert caught.value.remedy == 'Name one of its set-ups: "night", "dawn".'


def test_plan_and_set_up_that_contradict_each_other() -> None:
    """A Duv for a built-in light, told at the place of the set-up."""
    with pytest.raises(DocumentErrors) as caught:
        at("duv = 0.002")
    (problem,) = caught.value.problems
    assert problem.where == 'setup "night".light "lamp"'
    assert problem.message == 'has both "builtin" and "duv"'
    assert problem.severity == "error"


def test_a_circle_that_only_the_set_up_closes() -> None:
    """The plan is refused when it is read, so that no set-up of a plan runs in circles."""
    text = PLAN.replace("aim = { mired = 20, duv = 0.001, stops = -1 }", 'aim = { like = "hatch" }')
    setup = '[[setup]]\nname = "n"\n[[setup.light]]\nname = "hatch"\naim = { like = "lamp" }\n'
    document, problems = read_plan(text + setup, where="plan.toml")
    assert document is None
    (circle,) = (each for each in problems if each.severity == "error")
    assert circle.where == 'plan.toml, setup "n".light "hatch".aim.like'
    assert circle.message == 'goes round in a circle: "lamp" like "hatch" like "lamp"'


def test_what_hangs_is_what_was_rigged_else_what_was_planned() -> None:
    """And nothing where the set-up says neither."""
    plan = plan_with(
        """
[[setup]]
name = "night"
[[setup.light]]
name = "lamp"
planned = { filters = ["full CTB"] }
rigged = { filters = ["half CTB", "half CTB"], distance_m = 3 }
[[setup.light]]
name = "hatch"
planned = { filters = ["full CTO"] }
"""
    )
    setup = setup_named(plan, "night")
    lamp, hatch = (hung_on(light_in(setup, name)) for name in ("Lamp", "hatch"))
    assert lamp is not None
    assert lamp.filters == ("half CTB", "half CTB")
    assert hatch is not None
    assert hatch.filters == ("full CTO",)
    assert hung_on(light_in(setup, "moon")) is None
    assert hung_on(light_in(None, "lamp")) is None
