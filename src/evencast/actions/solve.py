"""`solve`: the whole scene of a plan, and what to do with every light of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from evencast.actions.alternatives import alternatives
from evencast.actions.balances import COMPARED_K, candidates, place_of_white
from evencast.actions.circuits import circuits
from evencast.actions.hung import hung
from evencast.actions.levels import bare_levels, camera_of
from evencast.actions.likeness import MOST_TIMES, hangs_otherwise, likeness
from evencast.actions.lit import exposure_of, light_cures, softness_of, spots_of, views_of
from evencast.actions.match import aim_answer
from evencast.actions.planned import LoadedPlan, load_plan
from evencast.actions.scene import StagedScene, staged_scene
from evencast.actions.shown import light_answer
from evencast.actions.spots import spot_problems
from evencast.actions.why import conflict, wanting, why_this_balance
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.plan.plan import Balance, Plan
from evencast.quantities import Floats
from evencast.results.expose import CircuitLoad
from evencast.results.plan import Alternative, PlannedLight, SceneProven, SolveAnswer
from evencast.solver.scene import Progress, Solved, Solver


def solve(
    path: Path,
    *,
    setup: str | None = None,
    balance_k: float | None = None,
    progress: Progress | None = None,
) -> SolveAnswer:
    """The answer to a plan document.

    setup     : name of the set-up in which its lights are taken; None for the plan itself
    balance_k : the camera's, in place of those that the plan leaves
    progress  : told what is being done, how much of it is done, of how much
    Raises  DocumentErrors with every problem of plan and kit in one run
    """
    loaded = _fixed(load_plan(path, setup=setup), balance_k)
    levels, problems = bare_levels(loaded, path.parent)
    if not problems:
        problems = spot_problems(loaded.plan, camera_of(loaded.plan))
    balances, of_balances = candidates(loaded)
    loads, of_loads = _loads(loaded.plan)
    problems += of_balances + of_loads
    problems = [replace(each, where=f"{path.name}, {each.where}") for each in problems]
    if any(each.severity == "error" for each in problems):
        raise DocumentErrors(path.name, [*loaded.problems, *problems])
    looks: dict[tuple[str, str], Floats] = {}
    for _ in range(MOST_TIMES):
        staged = staged_scene(loaded, levels, balances, folder=path.parent, looks=looks)
        solver = Solver(staged.scene, progress=progress)
        solved = solver.solve()
        otherwise = hangs_otherwise(staged, solved.best)
        if not otherwise:
            break
        looks |= otherwise
    staging = [replace(each, where=f"{path.name}, {each.where}") for each in staged.problems]
    problems = [*loaded.problems, *problems, *staging]
    return _answer(staged, solver, solved, setup=setup, path=path, loads=loads, problems=problems)


def _fixed(loaded: LoadedPlan, balance_k: float | None) -> LoadedPlan:
    """The plan with one balance of the camera in place of its own."""
    if balance_k is None:
        return loaded
    camera = loaded.plan.camera.model_copy(update={"balance": Balance(fixed_k=balance_k)})
    return replace(loaded, plan=loaded.plan.model_copy(update={"camera": camera}))


def _loads(plan: Plan) -> tuple[list[CircuitLoad], list[Problem]]:
    """What hangs on each circuit, or numbers there that are beyond anything met on a set."""
    try:
        return circuits(plan), []
    except EvencastError as error:
        return [], [Problem("error", error.where, error.what, error.remedy)]


def _answer(
    staged: StagedScene,
    solver: Solver,
    solved: Solved,
    *,
    setup: str | None,
    path: Path,
    loads: list[CircuitLoad],
    problems: list[Problem],
) -> SolveAnswer:
    plan, best = staged.loaded.plan, solved.best
    lights = hung(staged, best)
    seen = {each.staged.entry.name: each.looks() for each in lights}
    exposure = exposure_of(staged, lights, seen)
    compared = alternatives(staged, solver, solved)
    answers = [
        light_answer(
            staged,
            each,
            seen[each.staged.entry.name],
            short=best.short,
            cures=light_cures(staged, each, lights, exposure, _elsewhere(staged, solved, number)),
            softness=softness_of(staged, each),
            likeness=likeness(staged, each, lights),
        )
        for number, each in enumerate(lights)
    ]
    balance = staged.candidates[best.balance].aim
    return SolveAnswer(
        plan=plan.name,
        setup=setup,
        kit=staged.loaded.kit.name,
        balance=aim_answer(balance),
        why=why_this_balance(staged, solved, compared),
        lights=answers,
        spots=spots_of(staged, lights, seen, balance),
        exposure=exposure,
        views=views_of(staged, lights, best.balance),
        alternatives=compared,
        wanting=wanting(staged, solver, solved),
        conflict=conflict(staged, solver, solved),
        circuits=loads,
        pieces=sum(each.pieces for each in lights),
        area_m2=round(sum(each.area_m2 for each in lights), 3),
        minutes=round(sum(each.minutes for each in lights), 1),
        proven=_proven(staged, solved),
        problems=problems + _off(answers, compared[0], path),
        kept_in=None,
    )


def _elsewhere(staged: StagedScene, solved: Solved, number: int) -> dict[str, float]:
    """What one light's sheets would take at the balances that the best is compared with, by their
    label, where it would be inside there. [stop]"""
    found = {}
    for cct_k in COMPARED_K:
        balance = place_of_white(staged.candidates, cct_k)
        if balance is None or balance == solved.best.balance:
            continue
        options = solved.options[balance][number]
        row = int(np.argmin(options.cost))
        if options.found.within[row]:
            label = staged.candidates[balance].aim.label
            found[label] = float(options.found.loss_stops[row])
    return found


def _proven(staged: StagedScene, solved: Solved) -> SceneProven:
    pool = sum(len(each.cost) for lights in solved.options.values() for each in lights)
    return SceneProven(
        objective=round(solved.best.cost, 6),
        bound=round(solved.bound, 6),
        gap=round(solved.gap, 6),
        layers=staged.loaded.plan.limits.layers,
        balances=sum(math.isfinite(each.price) for each in staged.candidates),
        looked_at=solved.looked_at,
        pool=pool,
    )


def _off(answers: Sequence[PlannedLight], best: Alternative, path: Path) -> list[Problem]:
    """A warning for every light that does not come out as it shall, views aside."""
    return [
        Problem(
            "warning",
            f'{path.name}, light "{each.name}"',
            "the best plan leaves it outside its tolerance",
            "Its reason says what is left. Add sheets or layers, allow more moves or another "
            "balance, change the lamp, or allow more.",
        )
        for each in answers
        if each.name in best.off_colour or each.name in best.off_level
    ]
