from __future__ import annotations

from typing import Any

from evencast.plan.checks import moves
from tests.unit.plan.checks.made import night, places, plan


def test_a_light_to_dial_says_its_range() -> None:
    """Only a written "dial" without a range is a warning, the default moves are not."""
    made = plan(
        {"name": "default"},
        {"name": "written", "moves": ["dial"]},
        {"name": "range", "moves": ["dial"], "adjustable": {"low_k": 3000, "high_k": 5000}},
    )
    assert places(moves.check_dial(made)) == [("warning", 'light "written".moves')]


def test_the_range_of_a_panel_runs_upwards() -> None:
    """One that runs down, or stands still, is an error."""
    made = plan(
        {"name": "down", "adjustable": {"low_k": 5600, "high_k": 3200}},
        {"name": "up", "adjustable": {"low_k": 3200, "high_k": 5600}},
        {"name": "still", "adjustable": {"low_k": 4000, "high_k": 4000}},
    )
    assert places(moves.check_adjustable(made)) == [
        ("error", 'light "down".adjustable'),
        ("error", 'light "still".adjustable'),
    ]


def test_a_light_that_a_set_up_lets_dial_may_have_its_range_in_the_plan() -> None:
    """What holds in a set-up is the plan's keys and its own together."""
    dial = {"moves": ["dial"]}
    made = plan(
        {"name": "panel", "adjustable": {"low_k": 3000, "high_k": 5000}},
        {"name": "lamp"},
        setup=night({"name": "panel"} | dial, {"name": "lamp"} | dial),
    )
    assert places(moves.check_dial(made)) == [("warning", 'setup "night".light "lamp".moves')]


def test_swaps_of_one_name_are_one_thing() -> None:
    """Another lamp, or another number at hand, is told once for each light after the first."""
    bulb = {"name": "bulb", "cct_k": 5000, "kind": "phosphor LED"}
    made = plan(
        {"name": "a", "swap": [bulb | {"at_hand": 4}, {"name": "tube", "cct_k": 4000}]},
        {"name": "b", "swap": [bulb | {"name": "BULB", "at_hand": 2}]},
        {"name": "c", "swap": [bulb, {"name": "tube", "cct_k": 4200}]},
    )
    told = "and what has one name is counted together for all lights"
    assert [(e.severity, e.where, e.message) for e in moves.check_swaps_alike(made)] == [
        ("warning", 'light "b".swap "BULB"', f'2 are at hand here, and 4 at "a", {told}'),
        (
            "warning",
            'light "c".swap "tube"',
            f'it is another lamp than the one of that name of "a", {told}',
        ),
    ]


def test_a_set_up_that_says_another_number_is_told_once() -> None:
    """Not again for lights that it leaves alone."""
    bulb = {"name": "bulb", "cct_k": 5000, "at_hand": 4}
    made = plan(
        {"name": "a", "swap": [bulb]},
        {"name": "b", "swap": [bulb]},
        setup=night({"name": "b", "swap": [bulb | {"at_hand": 1}]}),
    )
    found = moves.check_swaps_alike(made)
    assert places(found) == [("warning", 'setup "night".light "b".swap "bulb"')]


def test_daylight_is_not_dimmed() -> None:
    """By its kind, by the built-in light's kind, and whatever shines through a window."""
    dim = {"moves": ["dim", "leave"]}
    made = plan(
        {"name": "sky", "cct_k": 6000, "kind": "daylight"} | dim,
        {"name": "sun", "builtin": "D65"} | dim,
        {"name": "pane", "cct_k": 6000, "fitting": "window"} | dim,
        {"name": "lamp", "builtin": "tungsten"} | dim,
        {"name": "unknown"} | dim,
        {"name": "left", "builtin": "D65"},
    )
    found = moves.check_dim(made)
    assert [(each.severity, each.where, each.message) for each in found] == [
        ("error", 'light "sky".moves', "daylight cannot be dimmed"),
        ("error", 'light "sun".moves', "a window cannot be dimmed"),
        ("error", 'light "pane".moves', "a window cannot be dimmed"),
    ]
    assert found[0].remedy == ('Take "dim" out of its moves; ND in front of it takes light away.')


def test_what_is_no_fixture_holds_no_scrim() -> None:
    """The fitting that is written goes before that of the built-in light."""
    scrim = {"moves": ["scrim", "leave"]}
    tube = {"builtin": "FL2"}
    made = plan(
        {"name": "window", "fitting": "window"} | scrim,
        {"name": "bulb", "fitting": "household"} | scrim,
        {"name": "tube"} | tube | scrim,
        {"name": "lantern", "fitting": "street"} | scrim,
        {"name": "softbox", "fitting": "fixture"} | tube | scrim,
        {"name": "panel", "fitting": "panel"} | scrim,
        {"name": "unknown"} | scrim,
        {"name": "left"} | tube,
    )
    found = moves.check_scrim(made)
    assert [(each.where, each.message) for each in found] == [
        ('light "window".moves', "a window holds no scrim, so none will be put in"),
        ('light "bulb".moves', "a household lamp holds no scrim, so none will be put in"),
        ('light "tube".moves', "a tube holds no scrim, so none will be put in"),
        ('light "lantern".moves', "a street lamp holds no scrim, so none will be put in"),
    ]
    assert {each.severity for each in found} == {"warning"}


def test_a_lamp_is_swapped_for_something_and_only_where_it_may_be() -> None:
    """The move without a bulb, and a bulb without the move, are a warning each."""
    bulb = {"swap": [{"name": "bulb", "cct_k": 5000}]}
    may = {"moves": ["swap", "leave"]}
    made = plan(
        {"name": "move alone"} | may,
        {"name": "bulb alone"} | bulb,
        {"name": "both"} | may | bulb,
        {"name": "neither"},
        setup=night({"name": "bulb alone"} | may, {"name": "both", "moves": ["leave"]}),
    )
    assert places(moves.check_swap(made)) == [
        ("warning", 'light "move alone".moves'),
        ("warning", 'light "bulb alone".swap'),
        ("warning", 'setup "night".light "both".swap'),
    ]


def test_the_rest_is_matched_to_a_light_where_the_balance_is_free() -> None:
    """A range and a list are free, a fixed balance and a card are not."""
    light = {"name": "sodium", "moves": ["match the rest", "leave"]}
    ranged: dict[str, Any] = {"low_k": 2500, "high_k": 5600, "step_k": 100}
    listed: dict[str, Any] = {"at_k": [2500, 5600]}
    for balance in (ranged, listed):
        assert moves.check_match_the_rest(plan(light, balance=balance)) == []
    fixed: dict[str, Any] = {"fixed_k": 4300}
    card: dict[str, Any] = {"from_card_under": "sodium"}
    for balance, held in ((fixed, "is fixed"), (card, "is taken from a card")):
        (problem,) = moves.check_match_the_rest(plan(light, balance=balance))
        assert (problem.severity, problem.where) == ("warning", 'light "sodium".moves')
        assert f"the camera's balance {held}" in problem.message
        assert 'Else take "match the rest" out of its moves.' in problem.remedy
    assert moves.check_match_the_rest(plan({"name": "key"})) == []


def test_neither_the_key_nor_a_view_is_switched_off() -> None:
    """Every other role may be."""
    off = {"moves": ["switch off", "leave"]}
    roles = ("key", "fill", "background", "practical", "view", "other")
    made = plan(*({"name": role, "role": role} | off for role in roles))
    assert places(moves.check_switch_off(made)) == [
        ("warning", 'light "key".moves'),
        ("warning", 'light "view".moves'),
    ]
