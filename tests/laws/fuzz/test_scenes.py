"""Whatever scene a plan describes, `solve` answers it, and the answer is what it says it is."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import pytest

from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.errors import EvencastError
from tests.laws.fuzz.scene_laws import LAWS, SolvedPlan
from tests.laws.fuzz.scenes import documents, write
from tests.laws.fuzz.test_mutations import faults_of

FEW, MANY = 24, 3000


def solved(folder: Path, case: int) -> SolvedPlan | None:
    """A scene solved; None where it is refused, with all that belongs to a refusal."""
    plan, kit = documents(case)
    path = write(folder, plan, kit)
    setup = "later" if "later" in plan and case % 2 else None
    faults, answer = [], None
    try:
        answer = solve(path, setup=setup)
    except EvencastError as error:
        faults = list(faults_of(error))
    assert faults == [], case
    if answer is None:
        return None
    if case % 5 == 0:
        assert asdict(solve(path, setup=setup)) == asdict(answer), case
    return SolvedPlan(load_plan(path, setup=setup), answer)


def run(folder: Path, cases: range) -> int:
    """How many of the scenes were solved; every law holds of them."""
    count = 0
    for case in cases:
        found = solved(folder, case)
        if found is None:
            continue
        count += 1
        for law in LAWS:
            try:
                law(found)
            except Exception as error:
                error.add_note(f"scene {case}, {law.__name__}")
                raise
    return count


def test_a_scene_is_solved_as_it_says(tmp_path: Path) -> None:
    """A few; nearly all are solved."""
    assert run(tmp_path, range(FEW)) > 0.8 * FEW


@pytest.mark.long
def test_scenes_are_solved_as_they_say_at_length(tmp_path: Path) -> None:
    """The full count."""
    assert run(tmp_path, range(FEW, MANY)) > 0.8 * (MANY - FEW)
