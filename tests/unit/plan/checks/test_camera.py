from __future__ import annotations

import pytest

from evencast.plan.checks import camera
from tests.unit.plan.checks.made import places, plan


def test_a_range_of_balances_runs_upwards() -> None:
    """One that runs down or stands still is an error."""
    for low_k, high_k, wrong in ((5600, 3200, True), (4000, 4000, True), (3200, 5600, False)):
        made = plan(balance={"low_k": low_k, "high_k": high_k, "step_k": 100})
        expected = [("error", "camera.balance")] if wrong else []
        assert places(camera.check_balance_range(made)) == expected


@pytest.mark.parametrize(
    ("balance", "said"),
    [
        ({"low_k": 3000, "high_k": 4990, "step_k": 10}, None),  # 200 in all
        ({"low_k": 3000, "high_k": 5000, "step_k": 10}, "201 balances are"),
        ({"low_k": 2000, "high_k": 10_000, "step_k": 1e-300}, "more than a million balances are"),
        ({"low_k": 5000, "high_k": 2000, "step_k": 1}, None),  # told as running down
        ({"at_k": list(range(2000, 2101)), "tint_steps": [0]}, None),
        (
            {"at_k": list(range(2000, 2101)), "tint_steps": [0, 1]},
            "202 balances, with 2 steps of tint at each, are",
        ),
        ({"fixed_k": 5600}, None),
    ],
)
def test_there_are_not_more_balances_than_are_compared(
    balance: dict[str, object], said: str | None
) -> None:
    """One more than the limit is an error that names it."""
    found = camera.check_balance_count(plan(balance=balance))
    if said is None:
        assert found == []
    else:
        (problem,) = found
        assert (problem.severity, problem.where) == ("error", "camera.balance")
        assert problem.message == f"{said} more than the 200 that are compared"


def test_a_balance_and_a_step_of_tint_are_considered_once() -> None:
    """What stands there twice is told once, however often it stands there."""
    made = plan(
        balance={"at_k": [3200, 5600, 4300, 5600.0, 3200, 3200], "tint_steps": [-2, 0, -2]},
        camera={"tint_step_duv": 0.001, "tint_direction": "green"},
    )
    found = camera.check_balances_once(made)
    assert [(each.severity, each.where, each.message) for each in found] == [
        ("error", "camera.balance.at_k", "3200 stands in it twice"),
        ("error", "camera.balance.at_k", "5600 stands in it twice"),
        ("error", "camera.balance.tint_steps", "-2 stands in it twice"),
    ]
    assert camera.check_balances_once(plan(balance={"at_k": [3200, 5600]})) == []


@pytest.mark.parametrize(
    ("of_camera", "missing"),
    [
        ({}, "tint_step_duv and tint_direction of the camera are missing"),
        ({"tint_step_duv": 0.001}, "tint_direction of the camera is missing"),
        ({"tint_direction": "green"}, "tint_step_duv of the camera is missing"),
    ],
)
def test_steps_of_tint_need_to_be_explained(of_camera: dict[str, object], missing: str) -> None:
    """How much a step does, and to which side a positive one moves the picture."""
    made = plan(balance={"at_k": [4300], "tint_steps": [-2, 0]}, camera=of_camera)
    (problem,) = camera.check_tint_steps(made)
    assert (problem.severity, problem.where) == ("error", "camera.balance.tint_steps")
    assert problem.message == f"what a step does is not said: {missing}"
    for key in ("tint_step_duv", "tint_direction"):
        assert (f"{key} = " in problem.remedy) is (key not in of_camera)


def test_steps_of_tint_that_are_explained_or_move_nothing_are_sound() -> None:
    """A step of 0 needs no explanation."""
    known = {"tint_step_duv": 0.001, "tint_direction": "magenta"}
    steps = {"at_k": [4300], "tint_steps": [-2, 0, 2]}
    assert camera.check_tint_steps(plan(balance=steps, camera=known)) == []
    assert camera.check_tint_steps(plan(balance={"at_k": [4300], "tint_steps": [0]})) == []
    assert camera.check_tint_steps(plan()) == []


def test_the_duv_of_a_set_up_goes_with_its_kelvin() -> None:
    """Alone it says no balance."""
    made = plan(setup=[{"name": "a", "balance_duv": 0.001}, {"name": "b", "balance_k": 4300}])
    (problem,) = camera.check_setup_balance(made)
    assert (problem.severity, problem.where) == ("error", 'setup "a".balance_duv')
    assert "balance_k = 4300" in problem.remedy


@pytest.mark.parametrize(
    ("balance", "setup", "differs"),
    [
        ({"fixed_k": 4300}, {"balance_k": 4300.0}, False),
        ({"fixed_k": 4300}, {"balance_k": 4310}, True),
        ({"fixed_k": 4300}, {"balance_k": 4300, "balance_duv": 0.001}, True),
        ({"fixed_k": 4300, "duv": 0.001}, {"balance_k": 4300}, True),
        ({"fixed_k": 4300, "duv": 0.001}, {"balance_k": 4300, "balance_duv": 0.001}, False),
        ({"fixed_k": 4300, "duv": 0.001}, {"balance_k": 4300, "balance_duv": 0.002}, True),
        ({"fixed_k": 4300}, {}, False),
        ({"at_k": [3200, 5600]}, {"balance_k": 4300}, False),
        ({"from_card_under": "key"}, {"balance_k": 4300}, False),
    ],
)
def test_a_set_up_stands_at_the_balance_that_the_plan_fixes(
    balance: dict[str, object], setup: dict[str, object], differs: bool
) -> None:
    """Where it does not, the warning says which commands go by which; a balance that is chosen
    or taken from a card is kept in the set-up without a word."""
    made = plan(balance=balance, setup=[{"name": "night"} | setup])
    found = camera.check_one_balance(made)
    assert places(found) == ([("warning", 'setup "night".balance_k')] if differs else [])
    assert all("`solve` goes by the plan's" in each.message for each in found)
