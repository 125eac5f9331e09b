"""The balances that are to choose from, and those that an aim or a tint rules out."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from evencast.actions.balances import Candidate, candidates
from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.errors import DocumentErrors, Problem
from tests.scenes import UNCOUNTED, light, write_scene

KEY = light("key", "key", "tungsten 3200 K")


def found(
    folder: Path, lights: str, balance: str, camera: str = ""
) -> tuple[list[Candidate], list[Problem]]:
    path = write_scene(
        folder, lights, sheets={"full CTB": UNCOUNTED}, balance=balance, camera=camera
    )
    return candidates(load_plan(path))


def labels(every: list[Candidate], *, free: bool) -> list[str]:
    """Those to choose from, or those only to be compared."""
    return [each.aim.label for each in every if math.isfinite(each.price) == free]


def test_a_range_ends_at_its_end(tmp_path: Path) -> None:
    """Steps from the lowest up, and the highest, whether a step meets it or not."""
    every, problems = found(tmp_path, KEY, "{ low_k = 3000, high_k = 4200, step_k = 500 }")
    assert labels(every, free=True) == ["3000K", "3500K", "4000K", "4200K"]
    assert labels(every, free=False) == ["3200K", "4300K", "5600K"]
    assert problems == []
    every, _ = found(tmp_path, KEY, "{ low_k = 3200, high_k = 4300, step_k = 1100 }")
    assert labels(every, free=True) == ["3200K", "4300K"]
    assert labels(every, free=False) == ["5600K"]


def test_tints_lie_to_the_side_the_camera_says(tmp_path: Path) -> None:
    """Where the picture moves to magenta, a light that is greener by a step is neutral."""
    tints = "tint_step_duv = 0.002\ntint_direction = 'magenta'"
    every, _ = found(tmp_path, KEY, "{ at_k = [3200], tint_steps = [-1, 0, 2] }", tints)
    free = [each for each in every if math.isfinite(each.price)]
    assert [each.aim.label for each in free] == [
        "3200K 1 toward green",
        "3200K",
        "3200K 2 toward magenta",
    ]
    white = free[1].aim
    assert [each.aim.duv - white.duv for each in free] == pytest.approx([-0.002, 0, 0.004])
    assert [each.aim.mired for each in free] == pytest.approx([312.5] * 3, abs=1e-3)
    assert [each.price for each in free] == [0.01, 0.0, 0.02]


def test_a_balance_that_an_aim_leaves_no_white_is_left_out(tmp_path: Path) -> None:
    """150 mired cooler than 6500 K is 4 mired, and no white; it is 72 from 4500 K."""
    cool = light("moon", "background", "daylight D65", "aim = { mired = -150 }")
    every, problems = found(tmp_path, KEY + cool, "{ low_k = 2500, high_k = 6500, step_k = 2000 }")
    assert labels(every, free=True) == ["2500K", "4500K"]
    assert labels(every, free=False) == ["3200K", "4300K", "5600K"]
    (problem,) = problems
    assert (problem.severity, problem.where) == ("warning", 'light "moon".aim')
    assert problem.message == (
        "1 of 3 balances are left out, 6500K: -150 mired and +0 Duv from 6500K is no white that "
        "light can have"
    )


def test_a_balance_that_was_not_asked_for_is_left_out_without_a_word(tmp_path: Path) -> None:
    """Fixed at 2500 K, 250 mired cooler can be; from 5600 K it cannot, which is only compared."""
    cool = light("moon", "background", "daylight D65", "aim = { mired = -250 }")
    every, problems = found(tmp_path, KEY + cool, "{ fixed_k = 2500 }")
    assert labels(every, free=True) == ["2500K"]
    assert labels(every, free=False) == ["3200K"]  # 312 - 250; 233 and 179 are too few
    assert problems == []
    assert solve(tmp_path / "plan.toml").balance.label == "2500K"


def test_every_light_that_rules_out_every_balance_is_told(tmp_path: Path) -> None:
    """All of them at once, as errors of the document."""
    cool = [
        light(name, "background", "daylight D65", "aim = { mired = -200 }") for name in ("a", "b")
    ]
    found(tmp_path, KEY + "".join(cool), "{ at_k = [5600, 6500] }")
    with pytest.raises(DocumentErrors) as error:
        solve(tmp_path / "plan.toml")
    errors = [each for each in error.value.problems if each.severity == "error"]
    assert [each.where for each in errors] == [
        'plan.toml, light "a".aim',
        'plan.toml, light "b".aim',
    ]
    assert errors[0].remedy == "Use -168 to +821 mired and at most 0.05 Duv in all."


def test_lights_that_rule_out_every_balance_only_together(tmp_path: Path) -> None:
    """One the cool balance, one the warm one: there is none for both."""
    lights = [
        light("cool", "background", "daylight D65", "aim = { mired = -150 }"),
        light("fire", "background", "tungsten 3200 K", "aim = { mired = 600 }"),
    ]
    every, problems = found(tmp_path, KEY + "".join(lights), "{ at_k = [2000, 8000] }")
    assert labels(every, free=True) == []
    assert [(each.severity, each.where) for each in problems] == [
        ("warning", 'light "fire".aim'),
        ("warning", 'light "cool".aim'),
        ("error", "camera.balance"),
    ]


def test_beside_a_card_without_a_colour_temperature_there_is_no_aim(tmp_path: Path) -> None:
    """A green tube has none: what shall look white can be, what shall look warmer cannot."""
    samples = "".join(f"{nm},{int(500 < nm < 560)}\n" for nm in range(380, 785, 5))
    (tmp_path / "green.csv").write_text(f"wavelength_nm,power\n{samples}", encoding="utf-8")
    lamp = '[[light]]\nname = "tube"\nrole = "other"\nspectrum = "green.csv"\n'
    every, problems = found(tmp_path, KEY + lamp, '{ from_card_under = "tube" }')
    assert labels(every, free=True) == ["card under tube"]
    assert problems == []
    warm = light("lamp", "practical", "filament bulb", "aim = { mired = 30 }")
    every, (problem,) = found(tmp_path, KEY + lamp + warm, '{ from_card_under = "tube" }')
    assert (problem.severity, problem.where) == ("error", 'light "lamp".aim')
    assert problem.message == (
        "card under tube has no colour temperature, so nothing lies +30 mired and +0 Duv from it"
    )


def test_a_tint_beyond_all_whites_is_left_out(tmp_path: Path) -> None:
    """Three steps of 0.02 Duv are more than 0.05; two are not."""
    tints = "tint_step_duv = 0.02\ntint_direction = 'green'"
    every, (problem,) = found(tmp_path, KEY, "{ at_k = [3200], tint_steps = [0, 2, 3] }", tints)
    assert labels(every, free=True) == ["3200K", "3200K 2 toward green"]
    assert (problem.severity, problem.where) == ("warning", "camera.balance.tint_steps")
    assert problem.message == (
        "1 of 3 balances are left out, 3200K 3 toward green: the white at 3200K 3 toward green "
        "would lie 0.060 Duv off, and light is no white beyond 0.05"
    )


@pytest.mark.parametrize("fixed_k", [1000, 100_000])
def test_the_ends_of_all_whites_are_balances(tmp_path: Path, fixed_k: int) -> None:
    """Nothing lies beyond them, and they are answered."""
    found(tmp_path, KEY, f"{{ fixed_k = {fixed_k} }}")
    assert solve(tmp_path / "plan.toml").balance.label == f"{fixed_k:g}K"
