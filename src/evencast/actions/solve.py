"""`solve`: what to do with every light of a plan, at one camera balance."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evencast.actions.doubt import light_notes, looks
from evencast.actions.kit import LoadedKit
from evencast.actions.match import (
    Found,
    aim_answer,
    choice,
    find,
    proven,
    tolerance_answer,
)
from evencast.actions.planned import LoadedPlan, load_plan
from evencast.actions.reading import reading
from evencast.colour import mired_duv, uv, white_uv
from evencast.errors import DocumentErrors, Problem
from evencast.lights import Light, redial
from evencast.plan.light import Light as LightEntry
from evencast.plan.plan import Balance, Plan
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats, kelvin
from evencast.results.choice import Choice
from evencast.results.plan import PlannedLight, SolveAnswer
from evencast.solver import Aim, aim_at_kelvin, aim_at_uv, aim_beside

MOST_LOSS_STOPS = 4.0
"""Where a plan gives no limit: a light that loses more than this to sheets is gone."""

DIAL_STEP_K = 50.0
NEAR_MISS = 3.0
"""A stack that ends within three tolerances is still hung and its miss told; one that ends
further off is not worth the sheets."""
LEAST_SIDE_MIRED = 5.0
"""A side that allows nothing, as a lamp in shot allows no cool, counts as this for that."""


@dataclass(frozen=True, slots=True, eq=False)
class _Solved:
    """One light's answer and how the light then looks, for lights that shall look like it."""

    answer: PlannedLight
    uv: Floats


def solve(path: Path) -> SolveAnswer:
    """The answer to a plan document.

    Raises  DocumentErrors with every problem of plan and kit in one run
    """
    loaded = load_plan(path)
    balance = _balance(loaded, path.name)
    solved: dict[str, _Solved] = {}
    for entry in _like_last(loaded.plan):
        solved[entry.name] = _solve_light(entry, loaded, balance, solved)
    answers = [solved[entry.name].answer for entry in loaded.plan.light]
    return SolveAnswer(
        plan=loaded.plan.name,
        kit=loaded.kit.name,
        balance=aim_answer(balance),
        lights=answers,
        spots=[],
        alternatives=[],
        problems=loaded.problems + [_unreached(each, path) for each in answers if _is_off(each)],
    )


def _balance(loaded: LoadedPlan, where: str) -> Aim:
    balance: Balance = loaded.plan.camera.balance
    if balance.from_card_under is not None:
        card = balance.from_card_under.casefold()
        light = next(each for name, each in loaded.lights.items() if name.casefold() == card)
        return aim_at_uv(f"card under {light.name}", uv(light.power))
    if balance.fixed_k is None:
        problem = Problem(
            "error",
            f"{where}, camera.balance",
            "a range of balances is kept but not yet solved",
            "Write balance = { fixed_k = 4300 }, or a card: { from_card_under = ... }.",
        )
        raise DocumentErrors(where, [*loaded.problems, problem])
    label = f"{balance.fixed_k:g}K"
    if balance.duv is not None:
        return aim_at_kelvin(label, balance.fixed_k, balance.duv)
    return aim_at_uv(label, white_uv(balance.fixed_k))


def _like_last(plan: Plan) -> list[LightEntry]:
    """Lights in an order in which each follows the one it shall look like."""
    waiting, ordered = list(plan.light), list[LightEntry]()
    while waiting:
        done = {each.name.casefold() for each in ordered}
        ready = [e for e in waiting if e.aim.like is None or e.aim.like.casefold() in done]
        ordered += ready
        waiting = [each for each in waiting if each not in ready]
    return ordered


def _solve_light(
    entry: LightEntry, loaded: LoadedPlan, balance: Aim, solved: dict[str, _Solved]
) -> _Solved:
    bare = loaded.lights[entry.name]
    aim = _aim(entry, balance, solved)
    allowed = loaded.plan.allowed(entry.role)
    light, dial_k = _dialled(entry, bare, aim)
    limits = loaded.plan.limits
    found = find(
        light,
        loaded.kit if "filter" in entry.moves else LoadedKit("no filters", ()),
        aim,
        allowed,
        layers=limits.layers,
        most_loss_stops=MOST_LOSS_STOPS if limits.loss_stops is None else limits.loss_stops,
    )
    row = found.rows[0] if _worth_hanging(found, allowed) else found.bare_row()
    seen = looks(light, found.stack(row))
    best = choice(found, row, aim, seen)
    answer = PlannedLight(
        name=entry.name,
        role=entry.role,
        move=_move(found, best, dial_k),
        dial_k=dial_k,
        aim=aim_answer(aim),
        filters=best.filters,
        scrims=[],
        bare=reading(bare),
        filtered=best.filtered,
        residual_mired=best.residual_mired,
        residual_duv=best.residual_duv,
        loss_stops=best.loss_stops,
        filter_stops=best.loss_stops,
        level_stops=None,
        within_tolerance=best.within_tolerance,
        tolerance=tolerance_answer(entry.role, allowed),
        share_within=best.share_within,
        band=best.band,
        reason=_reason(found, best, dial_k),
        notes=light_notes(bare, from_file=entry.spectrum is not None),
        cautions=best.cautions,
        proven=proven(found, limits.layers),
        searched=found.search.searched,
    )
    return _Solved(answer, seen.uv)


def _aim(entry: LightEntry, balance: Aim, solved: dict[str, _Solved]) -> Aim:
    stops = entry.aim.stops or 0.0
    if entry.aim.like is not None:
        like = entry.aim.like.casefold()
        looks = next(each.uv for name, each in solved.items() if name.casefold() == like)
        return aim_at_uv(f"like {entry.aim.like}", looks, stops=stops)
    if entry.aim.mired == 0 and entry.aim.duv == 0:
        return replace(balance, stops=stops)
    return aim_beside(
        balance,
        label=f"{balance.label}{entry.aim.mired:+g}mired",
        mired_offset=entry.aim.mired,
        duv_offset=entry.aim.duv,
        stops=stops,
    )


def _dialled(entry: LightEntry, light: Light, aim: Aim) -> tuple[Light, float | None]:
    """An adjustable light at the setting nearest to its aim, and that setting."""
    if entry.adjustable is None or "dial" not in entry.moves or not np.isfinite(aim.mired):
        return light, None
    low_k, high_k = entry.adjustable.low_k, entry.adjustable.high_k
    if light.emitters:  # it cannot go further than its own two emitters
        ends = [kelvin(float(mired_duv(uv(each))[0])) for each in light.emitters]
        low_k, high_k = max(low_k, min(ends)), min(high_k, max(ends))
    wanted_k = round(kelvin(aim.mired) / DIAL_STEP_K) * DIAL_STEP_K
    dial_k = float(min(max(wanted_k, low_k), high_k))
    return replace(redial(light, dial_k), name=light.name), round(dial_k, 1)


def _worth_hanging(found: Found, allowed: Allowed) -> bool:
    """Whether the best stack ends near enough to its aim to be hung at all."""
    best, row = found.search.best, found.rows[0]
    if best.layers[row] == 0:
        return True
    both_sides = replace(
        allowed,
        mired_low=min(allowed.mired_low, -LEAST_SIDE_MIRED),
        mired_high=max(allowed.mired_high, LEAST_SIDE_MIRED),
    )
    strain = both_sides.strain(best.residual_mired[row], best.residual_duv[row])
    return bool(best.within[row] or strain <= NEAR_MISS)


def _move(found: Found, best: Choice, dial_k: float | None) -> str:
    if dial_k is not None:
        return "dial and filter" if best.filters else "dial"
    if best.filters:
        return "filter"
    return "leave" if best.within_tolerance or found.reached else "nothing reaches it"


def _reason(found: Found, best: Choice, dial_k: float | None) -> str:
    text = found.reason
    if dial_k is not None:
        text = f"Dialled to {dial_k:.0f} K. {text}"
        if best.filters or not best.within_tolerance:
            text += " The light's own tint control, if it has one, may do it without a sheet."
    elif not best.filters and not best.within_tolerance and found.reached:
        text += " Too unsure to choose a sheet by: measure the light or the sheets first."
    elif not best.filters and not best.within_tolerance:
        text += (
            " Not worth the sheets: leave it as a colour in the picture, flag it, switch it "
            "off, swap the lamp, or move the balance towards it."
        )
    return text


def _is_off(answer: PlannedLight) -> bool:
    return not answer.within_tolerance


def _unreached(answer: PlannedLight, path: Path) -> Problem:
    return Problem(
        "warning",
        f'{path.name}, light "{answer.name}"',
        "the best that this kit can do does not bring it inside its tolerance",
        "Its reason says what is left. Add sheets or layers, change the lamp or the balance, "
        "or allow more.",
    )
