"""Whatever scene a plan describes, `solve` answers it, and the answer is what it says it is."""

from __future__ import annotations

import re
import time
from dataclasses import asdict
from pathlib import Path
from random import Random

import pytest

from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.errors import EvencastError
from tests.laws.fuzz.mutator import spoiled
from tests.laws.fuzz.readers import TOML_TOKENS
from tests.laws.fuzz.scene_laws import LAWS, SolvedPlan
from tests.laws.fuzz.scenes import documents, write
from tests.laws.fuzz.test_mutations import faults_of

FEW, MANY = 24, 1000
FEW_SPOILED, MANY_SPOILED = 60, 3000
LONGEST_S = 60.0
"""Processor time, all cores together, within which any scene of the size made here is answered."""

FORMAT = len("format = 1\n")
NUMBER = re.compile(r"(?<![\w\".])-?\d+(\.\d+)?(?![\w\"])")
WILD = (
    *("0", "-0.0", "-1", "17", "99", "1000", "100000", "1e9", "1e12", "-1e6", "1e300", "-1e300"),
    *("1e-9", "1e-300", "5e-324", "0.05", "0.0001", "9" * 30, "nan", "inf"),
)


def solved(path: Path, setup: str | None = None, *, twice: bool = False) -> SolvedPlan | None:
    """A scene solved; None where it is refused, with all that belongs to a refusal."""
    faults, answer, started = [], None, time.process_time()
    try:
        answer = solve(path, setup=setup)
    except EvencastError as error:
        faults = list(faults_of(error)) + ["a bug"] * ("report" in error.remedy)
    assert faults == []
    assert time.process_time() - started < LONGEST_S
    if answer is None:
        return None
    if twice:
        assert asdict(solve(path, setup=setup)) == asdict(answer)
    return SolvedPlan(load_plan(path, setup=setup), answer)


def keeps_every_law(found: SolvedPlan) -> None:
    """The answer is what it says it is."""
    for law in LAWS:
        try:
            law(found)
        except Exception as error:
            error.add_note(law.__name__)
            raise


def run(folder: Path, cases: range) -> int:
    """How many of the scenes were solved; every law holds of them."""
    count = 0
    for case in cases:
        plan, kit = documents(case)
        setup = "later" if "later" in plan and case % 2 else None
        try:
            found = solved(write(folder, plan, kit), setup, twice=case % 5 == 0)
            if found is not None:
                keeps_every_law(found)
                count += 1
        except Exception as error:
            error.add_note(f"scene {case}")
            raise
    return count


def test_a_scene_is_solved_as_it_says(tmp_path: Path) -> None:
    """A few; nearly all are solved."""
    assert run(tmp_path, range(FEW)) > 0.8 * FEW


@pytest.mark.long
def test_scenes_are_solved_as_they_say_at_length(tmp_path: Path) -> None:
    """The full count."""
    assert run(tmp_path, range(FEW, MANY)) > 0.8 * (MANY - FEW)


def spoiled_documents(case: int) -> tuple[str, str]:
    """A plan and its kit, one of them with wild numbers, or edited as any text is."""
    draw = Random(f"spoiled {case}")
    texts = list(documents(draw.randint(0, 200)))
    at = 0 if draw.random() < 0.85 else 1
    if draw.random() < 0.3:
        texts[at] = spoiled([texts[at]], TOML_TOKENS, f"text {case}")
    else:
        for _ in range(draw.choice([1, 1, 2])):
            texts[at] = _with_a_wild_number(texts[at], draw)
    return texts[0], texts[1]


def _with_a_wild_number(text: str, draw: Random) -> str:
    hits = list(NUMBER.finditer(text, FORMAT))
    if not hits:
        return text
    hit = draw.choice(hits)
    return text[: hit.start()] + draw.choice(WILD) + text[hit.end() :]


def run_spoiled(folder: Path, cases: range) -> dict[str, int]:
    """How many spoiled scenes were solved, keeping every law, and how many refused in words."""
    counts = {"solved": 0, "refused": 0}
    for case in cases:
        try:
            found = solved(write(folder, *spoiled_documents(case)))
            if found is not None:
                keeps_every_law(found)
        except Exception as error:
            error.add_note(f"spoiled scene {case}")
            raise
        counts["refused" if found is None else "solved"] += 1
    return counts


def test_a_spoiled_scene_is_solved_or_refused(tmp_path: Path) -> None:
    """A few; some of each kind, else nothing is tried."""
    counts = run_spoiled(tmp_path, range(FEW_SPOILED))
    assert min(counts.values()) > FEW_SPOILED / 10


@pytest.mark.long
def test_spoiled_scenes_are_solved_or_refused_at_length(tmp_path: Path) -> None:
    """The full count."""
    counts = run_spoiled(tmp_path, range(FEW_SPOILED, MANY_SPOILED))
    assert min(counts.values()) > MANY_SPOILED / 10
