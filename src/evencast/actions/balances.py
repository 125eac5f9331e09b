"""The balances of the camera that a plan leaves to choose from, and those to compare with."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evencast.actions.planned import LoadedPlan
from evencast.colour import uv, white_uv
from evencast.plan.place import folded
from evencast.plan.plan import Plan
from evencast.solver.aim import Aim, aim_at_kelvin, aim_at_uv
from evencast.solver.prices import TINT_STEP

COMPARED_K = (3200.0, 4300.0, 5600.0)
"""Balances that are told beside the best one: the lamps', a middle one, and daylight's."""


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """A balance of the camera.

    price : what it costs by itself; infinite where it is only to be compared
    """

    aim: Aim
    price: float


def candidates(loaded: LoadedPlan) -> list[Candidate]:
    """The balances to choose from, and those to compare with."""
    chosen = _chosen(loaded)
    at = [each.aim.mired for each in chosen]
    compared = [
        Candidate(_white(k), math.inf)
        for k in COMPARED_K
        if not any(abs(1e6 / k - each) < 0.5 for each in at)
    ]
    return chosen + compared


def _chosen(loaded: LoadedPlan) -> list[Candidate]:
    plan, balance = loaded.plan, loaded.plan.camera.balance
    if balance.from_card_under is not None:
        return [Candidate(_card(loaded, balance.from_card_under), 0.0)]
    if balance.fixed_k is not None:
        if balance.duv is None:
            return [Candidate(_white(balance.fixed_k), 0.0)]
        label = f"{balance.fixed_k:g}K"
        return [Candidate(aim_at_kelvin(label, balance.fixed_k, balance.duv), 0.0)]
    steps = balance.tint_steps or (0,)
    found = [
        Candidate(_tinted(plan, cct_k, step), TINT_STEP * abs(step))
        for cct_k in _kelvins(plan)
        for step in steps
    ]
    cards = [each.name for each in plan.light if "match the rest" in each.moves]
    return found + [Candidate(_card(loaded, name), 0.0) for name in cards]


def _kelvins(plan: Plan) -> list[float]:
    balance = plan.camera.balance
    if balance.at_k is not None:
        return list(balance.at_k)
    low, high, step = balance.low_k or 0.0, balance.high_k or 0.0, balance.step_k or 0.0
    count = math.floor((high - low) / step + 1e-9)
    found = [low + step * number for number in range(count + 1)]
    return found if found[-1] >= high - 1e-6 else [*found, high]


def _card(loaded: LoadedPlan, name: str) -> Aim:
    light = next(each for key, each in loaded.lights.items() if folded(key) == folded(name))
    return aim_at_uv(f"card under {light.name}", uv(light.power))


def _white(cct_k: float) -> Aim:
    return aim_at_uv(f"{cct_k:g}K", white_uv(cct_k))


def _tinted(plan: Plan, cct_k: float, step: int) -> Aim:
    """White as the camera takes it at a Kelvin and a step of its tint: where it moves the
    picture towards magenta, a greener light is neutral."""
    white = _white(cct_k)
    if step == 0:
        return white
    toward_magenta = plan.camera.tint_direction == "magenta"
    greener = (plan.camera.tint_step_duv or 0.0) * (step if toward_magenta else -step)
    side = "magenta" if greener > 0 else "green"
    label = f"{white.label} {abs(step)} toward {side}"
    return aim_at_kelvin(label, 1e6 / white.mired, white.duv + greener)
