"""The same scene done other ways, beside the best."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evencast.actions.balances import COMPARED_K, place_of_white
from evencast.actions.hung import Hung, beyond_level, hung, is_view_level
from evencast.actions.match import aim_answer
from evencast.actions.reading import rounded
from evencast.actions.scene import StagedScene
from evencast.results.plan import Alternative, AlternativeLight
from evencast.solver.prices import OFF_LEVEL_PER_STOP, TRIM, Weights
from evencast.solver.scene import Assignment, Solved, Solver

FEWEST_PIECES = Weights(stops=0.001, pieces=1.0, square_metres=0.001, minutes=0.0001)
LEAST_AREA = Weights(stops=0.001, pieces=0.001, square_metres=1.0, minutes=0.0001)


def alternatives(staged: StagedScene, solver: Solver, solved: Solved) -> list[Alternative]:
    """The best; lamps' balance, a middle one and daylight's; fewest pieces; least area.

    Plans that come to the same are told once, under all their names, and so is one that is told
    already and has as few pieces, or as little area.
    """
    best = solved.best
    found = [("best", best)]
    for cct_k in COMPARED_K:
        balance = place_of_white(staged.candidates, cct_k)
        if balance is not None:
            there = best if balance == best.balance else solver.at(balance)
            found.append((f"{cct_k:g}K", there))
    found.append(("fewest pieces", solver.cheapest_by(FEWEST_PIECES)))
    found.append(("least area", solver.cheapest_by(LEAST_AREA)))
    told: list[Alternative] = []
    for name, assignment in found:
        answer = _answer(staged, name, assignment)
        same = [n for n, each in enumerate(told) if _is_same(each, answer)]
        same += [
            n
            for n, each in enumerate(told)
            if (n == 0 or each.balance == answer.balance) and _does_as_well(name, each, answer)
        ]
        if same:
            told[same[0]] = replace(told[same[0]], name=f"{told[same[0]].name}, {name}")
        else:
            told.append(answer)
    return told


def _answer(staged: StagedScene, name: str, assignment: Assignment) -> Alternative:
    lights = hung(staged, assignment)
    worst = max(lights, key=_strain, default=None)
    most = max(lights, key=lambda each: each.filter_stops, default=None)
    own = cost_of(staged, assignment, lights)
    return Alternative(
        name=name,
        balance=aim_answer(staged.candidates[assignment.balance].aim),
        pieces=sum(each.pieces for each in lights),
        area_m2=round(sum(each.area_m2 for each in lights), 3),
        minutes=round(sum(each.minutes for each in lights), 1),
        loss_stops=round(most.filter_stops, 4) + 0.0 if most else 0.0,
        loses_most=most.staged.entry.name if most and most.filters else None,
        worst=worst.staged.entry.name if worst else None,
        worst_mired=_rounded_residual(worst, "residual_mired", 3),
        worst_duv=_rounded_residual(worst, "residual_duv", 6),
        off_colour=[each.staged.entry.name for each in lights if not each.is_inside],
        off_level=_off_level(lights),
        cost=round(own, 4) + 0.0,
        lights=[_light(each) for each in lights],
    )


def _light(each: Hung) -> AlternativeLight:
    return AlternativeLight(
        name=each.staged.entry.name,
        move=each.move,
        dial_k=each.dial_k,
        dim_stops=each.dim_stops,
        swapped_for=each.swapped_for,
        filters=[sheet.name for sheet in each.filters],
        scrims=each.scrims,
    )


def _rounded_residual(worst: Hung | None, name: str, places: int) -> float | None:
    if worst is None:
        return None
    return rounded(float(getattr(worst.options.found, name)[worst.row]), places)


def cost_of(staged: StagedScene, assignment: Assignment, lights: Sequence[Hung]) -> float:
    """What it costs by the plan's own weights, as the solver counts it."""
    weights = staged.scene.weights
    total = 0.0
    for each in lights:
        colour = float(each.options.colour[each.row])
        work = weights.pieces * each.pieces + weights.square_metres * each.area_m2
        total += colour + work + weights.minutes * each.minutes + weights.stops * each.filter_stops
        total += TRIM * bool(each.trim.what) + OFF_LEVEL_PER_STOP * beyond_level(each)
    price = staged.candidates[assignment.balance].price
    return total + (price if math.isfinite(price) else 0.0)


def _strain(each: Hung) -> float:
    """How far off its aim a light is, as a share of its tolerance; none where it is off."""
    if each.way.is_off:
        return 0.0
    found = each.options.found
    at = found.residual_mired[each.row], found.residual_duv[each.row]
    return float(each.staged.light.allowed.strain(np.asarray(at[0]), np.asarray(at[1])))


def _off_level(lights: Sequence[Hung]) -> list[str]:
    found = [each.staged.entry.name for each in lights if not each.is_level]
    return found + [
        view.name
        for each in lights
        for number, view in enumerate(each.staged.light.views)
        if not is_view_level(each, number)
    ]


def _does_as_well(name: str, told: Alternative, answer: Alternative) -> bool:
    """Whether a plan told before has no more of what the other has least of, and none off more."""
    off = len(told.off_colour) + len(told.off_level)
    if off > len(answer.off_colour) + len(answer.off_level):
        return False
    if name == "fewest pieces":
        return told.pieces <= answer.pieces
    return name == "least area" and told.area_m2 <= answer.area_m2


def _is_same(one: Alternative, other: Alternative) -> bool:
    """Whether two come to the same in all that is told of them, whatever hangs on which light."""
    return replace(one, name="", cost=0.0, lights=[]) == replace(
        other, name="", cost=0.0, lights=[]
    )
