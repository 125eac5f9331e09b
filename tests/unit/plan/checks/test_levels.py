from __future__ import annotations

from typing import Any

import pytest

from evencast.errors import Problem
from evencast.plan.checks import levels
from tests.unit.plan.checks.made import night, places, plan

LUX = {"lux": 800}
AT_3_M = {"lux": 800, "distance_m": 3}


def messages(problems: list[Problem]) -> list[str]:
    return [each.message for each in problems]


@pytest.mark.parametrize("reading", [{"lux": 8}, {"fc": 8}, {"ev": 8}, {"f_stop": 8}])
def test_a_reading_is_carried_from_a_distance_that_is_known(reading: dict[str, float]) -> None:
    """A light that stands at a distance of its own needs to say where it was read."""
    (problem,) = levels.check_reading_distance(
        plan({"name": "a", "level": reading, "distance_ft": 10})
    )
    assert (problem.severity, problem.where) == ("error", 'light "a".level')
    assert "the light's own distance of 3.05 m" in problem.message
    for sound in (
        {"level": reading},
        {"level": reading | {"distance_m": 2}, "distance_m": 3},
        {"level": {"cd": 9000}, "distance_m": 3},
        {"level": reading, "distance_m": 3, "role": "view"},
        {"distance_m": 3},
    ):
        assert levels.check_reading_distance(plan({"name": "a"} | sound)) == []


def test_a_light_that_a_set_up_moves_says_where_it_was_read() -> None:
    """The level is the plan's, the distance the set-up's: told where the distance is written."""
    made = plan(
        {"name": "a", "level": LUX},
        {"name": "b", "level": AT_3_M},
        {"name": "c", "level": LUX},
        setup=night(
            {"name": "a", "distance_m": 2},
            {"name": "b", "distance_m": 2},
            {"name": "c", "aim": {"mired": 5}},
        ),
    )
    assert places(levels.check_reading_distance(made)) == [
        ("error", 'setup "night".light "a".level')
    ]


@pytest.mark.parametrize("known", [{"cd": 9000}, {"watts": 650}, {"photometry": "a.IES"}])
def test_how_bright_a_lamp_is_says_nothing_without_a_distance(known: dict[str, Any]) -> None:
    """The light's own, or the one in the level; in a set-up the plan's holds on."""
    (problem,) = levels.check_candela_distance(plan({"name": "a", "level": known}))
    assert (problem.severity, problem.where) == ("error", 'light "a".level')
    assert problem.message.startswith(f'"{next(iter(known))}" says how bright the lamp is')
    sound = plan(
        {"name": "a", "level": known, "distance_m": 3},
        {"name": "b", "level": known | {"distance_m": 3}},
        {"name": "c", "distance_m": 3},
        setup=night({"name": "c", "level": known}),
    )
    assert levels.check_candela_distance(sound) == []


def test_watts_tell_of_tungsten_alone() -> None:
    """By the kind that is written, or the built-in light's own."""
    watts = {"level": {"watts": 650}, "distance_m": 3}
    made = plan(
        {"name": "Fresnel", "builtin": "tungsten 3200 K"} | watts,
        {"name": "read", "kind": "tungsten"} | watts,
        {"name": "panel", "builtin": "two-colour LED panel"} | watts,
        {"name": "who knows"} | watts,
        {"name": "lux", "kind": "phosphor LED", "level": LUX},
    )
    found = levels.check_watts(made)
    assert places(found) == [
        ("error", 'light "panel".level.watts'),
        ("error", 'light "who knows".level.watts'),
    ]
    assert found[0].message.endswith("and the kind of this one is phosphor LED")
    assert found[1].message.endswith("and nothing says that this one is")


def test_a_view_is_read_by_what_comes_from_it() -> None:
    """An exposure value or a stop, not what falls on it."""
    view = {"role": "view"}
    made = plan(
        {"name": "a", "level": {"ev": 12}} | view,
        {"name": "b", "level": {"f_stop": 11}} | view,
        {"name": "c", "level": LUX} | view,
        {"name": "d", "level": LUX},
    )
    (problem,) = levels.check_view_reading(made)
    assert (problem.severity, problem.where) == ("error", 'light "c".level')
    assert problem.message.startswith('"lux" says what falls on a place')


def test_stops_at_a_spot_stand_against_a_level() -> None:
    """A reading at the spot needs none, and an unknown light is told elsewhere."""
    at = [
        {"name": "A", "stops": -1},
        {"name": "b", "stops": -1},
        {"name": "c", "lux": 9},
        {"name": "moon", "stops": -1},
    ]
    made = plan(
        {"name": "a"},
        {"name": "b", "level": LUX},
        {"name": "c"},
        spot=[{"name": "cheek", "role": "key", "light": at}],
    )
    (problem,) = levels.check_spot_levels(made)
    assert (problem.severity, problem.where) == ("error", 'spot "cheek".light "A".stops')
    assert problem.message == '"a" has no level that these stops could be set against'


def test_an_aim_in_stops_is_judged_with_a_level_of_the_light_and_of_a_key() -> None:
    """What is missing is named; one key with a level is enough."""
    down = {"aim": {"stops": -1}}
    fill = {"name": "fill", "role": "fill"}
    unlit = plan({"name": "key"}, fill | down, fill | {"name": "lit", "level": LUX} | down)
    found = levels.check_judged(unlit)
    assert places(found) == [
        ("warning", 'light "fill".aim.stops'),
        ("warning", 'light "lit".aim.stops'),
    ]
    cannot = "its level against the key cannot be judged: "
    assert messages(found) == [
        f'{cannot}it has no level and the key light "key" has none',
        f'{cannot}the key light "key" has none',
    ]
    keyless = plan(fill | {"level": LUX} | down)
    assert messages(levels.check_judged(keyless)) == [f"{cannot}there is no key light"]
    lit = plan({"name": "a"}, {"name": "b", "level": LUX}, fill | down)
    assert messages(levels.check_judged(lit)) == [f"{cannot}it has no level"]
    assert (
        levels.check_judged(plan({"name": "b", "level": LUX}, fill | {"level": LUX} | down)) == []
    )
    assert levels.check_judged(plan(fill)) == []


def test_a_key_with_stops_of_its_own_needs_its_own_level_alone() -> None:
    """It is not told that the key has none, being the key."""
    made = plan({"name": "key", "aim": {"stops": 0}})
    assert messages(levels.check_judged(made)) == [
        "its level against the key cannot be judged: it has no level"
    ]
    assert levels.check_judged(plan({"name": "key", "aim": {"stops": 0}, "level": LUX})) == []


def test_the_stops_of_a_look_are_judged_like_written_ones() -> None:
    """Told at the look, unless stops are written beside it."""
    looks = [{"name": "moon", "stops": -2}, {"name": "dusk", "mired": -20}]
    fill = {"name": "fill", "role": "fill"}
    for aim, where in (
        ({"look": "Moon"}, "look"),
        ({"look": "moon", "stops": -1}, "stops"),
        ({"look": "dusk"}, None),
        ({"look": "built in"}, None),
    ):
        found = levels.check_judged(
            plan({"name": "k", "level": LUX}, fill | {"aim": aim}, look=looks)
        )
        assert [each.where for each in found] == ([f'light "fill".aim.{where}'] if where else [])


def test_a_set_up_is_judged_by_the_levels_that_hold_in_it() -> None:
    """The aim is the set-up's, the levels are the plan's; a set-up that says nothing is silent."""
    made = plan(
        {"name": "key", "level": LUX},
        {"name": "a", "role": "fill", "level": LUX},
        {"name": "b", "role": "fill"},
        setup=[
            *night({"name": "a", "aim": {"stops": -2}}, {"name": "b", "aim": {"stops": -2}}),
            {"name": "day"},
        ],
    )
    assert places(levels.check_judged(made)) == [("warning", 'setup "night".light "b".aim.stops')]


def test_the_size_of_a_frost_is_that_of_a_frost() -> None:
    """In the plan or, for a frost of the plan, in a set-up."""
    made = plan(
        {"name": "a", "frost_size_m": 1},
        {"name": "b", "frost": ["light frost"]},
        setup=night({"name": "b", "frost_size_m": 1}),
    )
    assert places(levels.check_frost_size(made)) == [("warning", 'light "a".frost_size')]


def test_green_and_tint_are_read_with_kelvin() -> None:
    """A record with neither needs none."""
    made = plan(
        {"name": "a"},
        {"name": "b"},
        {"name": "c"},
        setup=night(
            {"name": "a", "read": {"duv": 0.001}},
            {"name": "b", "read": {"tint": "none", "lux": 3}},
            {"name": "c", "read": {"duv": 0.001, "cct_k": 4000}},
            {"name": "d", "read": {"ev": 3}},
        ),
    )
    found = levels.check_read_colour(made)
    assert places(found) == [
        ("error", 'setup "night".light "a".read.duv'),
        ("error", 'setup "night".light "b".read.tint'),
    ]
    assert found[1].message == '"tint" says no colour without the kelvin of the same reading'


def test_what_draws_current_hangs_on_a_circuit_where_there_are_any() -> None:
    """A plan without circuits counts none, and a light without watts is on battery or daylight."""
    ring = [{"name": "ring", "volts": 230, "breaker_a": 16}]
    lights: tuple[dict[str, Any], ...] = (
        {"name": "a", "watts": 650},
        {"name": "b", "amps": 3},
        {"name": "c", "watts": 650, "circuit": "ring"},
        {"name": "d"},
    )
    found = levels.check_on_a_circuit(plan(*lights, circuit=ring))
    assert places(found) == [("warning", 'light "a".circuit'), ("warning", 'light "b".circuit')]
    assert found[0].remedy.startswith('Name one of them: "ring";')
    assert levels.check_on_a_circuit(plan(*lights)) == []
