from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from evencast.errors import Problem
from evencast.plan.checks import amounts
from evencast.plan.plan import Plan
from tests.unit.plan.checks.made import kit, night, plan

Rule = Callable[[Plan], list[Problem]]


def told(problems: list[Problem]) -> dict[str, str]:
    assert {each.severity for each in problems} <= {"error"}
    return {
        each.where: each.message.removesuffix(" is beyond anything met on a set")
        for each in problems
    }


def test_stops_lie_between_starlight_and_the_sun() -> None:
    """Of aims, swaps, looks and spots, in the plan and in its set-ups; 20 is the last."""
    made = plan(
        {"name": "a", "aim": {"stops": 20}},
        {"name": "b", "aim": {"stops": -20.1}},
        {"name": "c", "swap": [{"name": "bulb", "cct_k": 4000, "stops": 1e14}]},
        look=[{"name": "night", "stops": -99}],
        spot=[{"name": "cheek", "role": "key", "light": [{"name": "a", "stops": 21}]}],
        setup=night({"name": "a", "aim": {"stops": 50}}),
    )
    assert told(amounts.check_stops(made)) == {
        'light "b".aim.stops': "-20.1 stops",
        'light "c".swap "bulb".stops': "1e+14 stops",
        'setup "night".light "a".aim.stops': "50 stops",
        'look "night".stops': "-99 stops",
        'spot "cheek".light "a".stops': "21 stops",
    }


def test_prices_can_be_told_beside_each_other() -> None:
    """Weights to a thousand sheets, minutes to a week; nothing and zero are right."""
    made = plan(
        {"name": "a", "minutes": {"filter": 10_000, "swap": 10_001}},
        {"name": "b", "minutes": {"dial": 0}},
        weights={"pieces": 1e15, "stops": 1000, "minutes": 0},
        minutes={"scrim": 1e9},
    )
    assert told(amounts.check_prices(made)) == {
        "weights.pieces": "so much",
        "minutes.scrim": "1e+09 minutes",
        'light "a".minutes.swap': "10001 minutes",
    }


def test_openings_are_of_a_size_that_is_covered() -> None:
    """From a millimetre to a hundred metres, whatever unit they were written in."""
    made = plan(
        {"name": "a", "count": 1001, "aperture": [{"width_mm": 1, "height_m": 100}]},
        {"name": "b", "aperture": [{"width_mm": 0.9, "height_m": 101}]},
        {"name": "c", "aperture": [{"width_m": 1, "height_m": 1, "count": 10**400}]},
    )
    assert told(amounts.check_sizes(made)) == {
        'light "a".count': "1001",
        'light "b".aperture[1].width': "0.9 mm",
        'light "b".aperture[1].height': "101000 mm",
        'light "c".aperture[1].count': "so much",
    }


def test_a_light_has_not_more_openings_than_anyone_covers() -> None:
    """Openings times fixtures, as they stand in the plan and in a set-up."""
    side = {"width_mm": 100, "height_mm": 100}
    made = plan(
        {"name": "a", "count": 10, "aperture": [side | {"count": 60}, side | {"count": 40}]},
        {"name": "b", "count": 11, "aperture": [side | {"count": 91}]},
        {"name": "c", "count": 10**9, "aperture": [side | {"count": 10**9}]},
        setup=night({"name": "a", "count": 11}),
    )
    said = "openings are more than anyone covers on one light"
    assert [(each.where, each.message) for each in amounts.check_openings(made)] == [
        ('light "b".aperture', f"1001 {said}"),
        ('light "c".aperture', f"so many {said}"),
        ('setup "night".light "a".aperture', f"1100 {said}"),
    ]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"mired": [-1000, 1000], "duv": 0.05, "stops": 20}, {}),
        ({"mired": [-0.0, 1001]}, {"tolerance.fill.mired": "1001 mired"}),
        ({"duv": 0.051}, {"tolerance.fill.duv": "0.051 Duv"}),
        ({"stops": 1e9}, {"tolerance.fill.stops": "1e+09 stops"}),
    ],
)
def test_no_more_is_allowed_than_is_measured(given: dict[str, Any], said: dict[str, str]) -> None:
    """By role, each bound for itself."""
    assert told(amounts.check_tolerances(plan(tolerance={"fill": given}))) == said


def test_stock_can_be_carried_and_counted() -> None:
    """A roll of a kilometre, a hundred thousand sheets, and not one more."""
    roll = {"form": "roll", "width_mm": 1220, "length_m": 1000, "count": 100_000}
    made = kit(
        {"name": "a", "stock": [roll]},
        {"name": "b", "stock": [roll | {"length_m": 1001}, roll | {"id": "R", "count": 100_001}]},
    )
    assert told(amounts.check_stock_sizes(made)) == {
        'filter "b".stock[1].length': "1.001e+06 mm",
        'filter "b".stock "R".count': "100001",
    }
