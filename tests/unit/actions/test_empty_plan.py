"""A plan that holds no light yet is a plan to begin with, not a broken one."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.actions.solve import solve
from evencast.actions.taking import Readings
from evencast.actions.trim import trim
from evencast.cli import plan_text
from evencast.errors import EvencastError
from tests.plans import write_plan


def test_it_is_solved_with_nothing_to_do_and_says_what_to_add(tmp_path: Path) -> None:
    answer = solve(write_plan(tmp_path, ""))
    assert (answer.lights, answer.pieces, answer.alternatives[0].worst) == ([], 0, None)
    (problem,) = (each for each in answer.problems if "no light" in each.message)
    assert problem.severity == "warning"
    assert problem.message == "the plan has no light yet: there is nothing to solve"
    assert plan_text.solve(answer).startswith("Levels: No light is in the plan yet")


def test_a_light_asked_for_is_not_there(tmp_path: Path) -> None:
    plan = write_plan(tmp_path, "")
    with pytest.raises(EvencastError) as raised:
        trim(plan, "key", readings=Readings(), setup=None, read=None, camera=None, balance=None)
    assert raised.value.remedy == "It has no light yet: add one."
