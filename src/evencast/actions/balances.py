"""The balances of the camera that a plan leaves to choose from, and those to compare with."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from evencast.actions.aims import aim_of, look_in
from evencast.actions.planned import LoadedPlan
from evencast.colour import DUV_LIMIT, uv, uv_of_mired_duv, white_uv
from evencast.errors import EvencastError, Problem
from evencast.plan.place import folded, quoted
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


@dataclass(slots=True)
class _LeftOut:
    """Balances that one place of the plan rules out, and what is wrong at the first of them."""

    error: EvencastError
    labels: list[str] = field(default_factory=list)

    def problem(self, where: str, count: int) -> Problem:
        """As a problem of a plan that has so many balances to choose from."""
        if len(self.labels) == count:
            return Problem("error", where, self.error.what, self.error.remedy)
        ends = " to ".join(dict.fromkeys((self.labels[0], self.labels[-1])))
        said = f"{len(self.labels)} of {count} balances are left out, {ends}: {self.error.what}"
        return Problem("warning", where, said, self.error.remedy)


def candidates(loaded: LoadedPlan) -> tuple[list[Candidate], list[Problem]]:
    """The balances to choose from, and those to compare with.

    Left out are those at which a light would have to be no white that light can have. Every place
    of the plan that rules some out is a problem: an error where it rules out all.
    """
    written, left_out = _chosen(loaded), dict[str, _LeftOut]()
    chosen = []
    for each in written:
        faults = list(_faults(loaded, each))
        for where, error in faults:
            left_out.setdefault(where, _LeftOut(error)).labels.append(each.aim.label)
        if not faults:
            chosen.append(each)
    problems = [each.problem(where, len(written)) for where, each in left_out.items()]
    if not chosen and not any(each.severity == "error" for each in problems):
        problems.append(
            Problem(
                "error",
                "camera.balance",
                "there is no balance at which every light can look as it shall",
                "Give one of them another aim, or more balances to choose from.",
            )
        )
    at = [each.aim.mired for each in chosen]
    compared = [
        Candidate(_white(k), math.inf)
        for k in COMPARED_K
        if not any(abs(1e6 / k - each) < 0.5 for each in at)
    ]
    return chosen + [each for each in compared if not any(_faults(loaded, each))], problems


def _faults(loaded: LoadedPlan, candidate: Candidate) -> Iterator[tuple[str, EvencastError]]:
    """What makes a balance impossible for a plan, each with its place in it."""
    plan, balance = loaded.plan, candidate.aim
    if abs(balance.duv) > DUV_LIMIT and math.isfinite(balance.mired):
        error = EvencastError(
            f"the white at {balance.label} would lie {abs(balance.duv):.3f} Duv off, and light "
            f"is no white beyond {DUV_LIMIT:g}",
            where=balance.label,
            remedy="Take fewer steps of tint, or mend tint_step_duv of the camera.",
        )
        yield "camera.balance.tint_steps", error
        return
    for entry in plan.light:
        try:
            aim_of(entry, balance, lambda _: balance.uv, lambda name: look_in(plan, name))
        except EvencastError as error:
            yield f"light {quoted(entry.name)}.aim", error


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


def place_of_white(among: Sequence[Candidate], cct_k: float) -> int | None:
    """Where the white of a Kelvin stands among balances; None where it does not."""
    labels = [each.aim.label for each in among]
    label = _white(cct_k).label
    return labels.index(label) if label in labels else None


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
    duv = white.duv + greener
    return Aim(label, uv_of_mired_duv(np.asarray(white.mired), np.asarray(duv)), white.mired, duv)
