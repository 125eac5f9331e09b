"""Every rule, run on a plan, on a kit, and on both together."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace

from evencast.errors import Problem
from evencast.plan.checks import amounts, camera, kits, levels, moves, names, references, together
from evencast.plan.kit import Kit
from evencast.plan.plan import Plan

PLAN_RULES: tuple[Callable[[Plan], list[Problem]], ...] = (
    names.check_empty_plan,
    names.check_light_names,
    names.check_setup_names,
    names.check_spot_names,
    names.check_circuit_names,
    names.check_look_names,
    names.check_swap_names,
    references.check_setup_lights,
    references.check_card_light,
    camera.check_balance_range,
    camera.check_balance_count,
    camera.check_balances_once,
    camera.check_setup_balance,
    camera.check_one_balance,
    camera.check_tint_steps,
    references.check_like,
    references.check_like_cycles,
    references.check_behind,
    references.check_spot_lights,
    references.check_circuits,
    levels.check_reading_distance,
    levels.check_candela_distance,
    levels.check_watts,
    levels.check_view_reading,
    levels.check_spot_levels,
    levels.check_judged,
    levels.check_frost_size,
    levels.check_read_colour,
    levels.check_on_a_circuit,
    moves.check_adjustable,
    moves.check_dial,
    moves.check_dim,
    moves.check_scrim,
    moves.check_swap,
    moves.check_swaps_alike,
    moves.check_match_the_rest,
    moves.check_switch_off,
    amounts.check_stops,
    amounts.check_prices,
    amounts.check_sizes,
    amounts.check_openings,
    amounts.check_tolerances,
)

KIT_RULES: tuple[Callable[[Kit], list[Problem]], ...] = (
    kits.check_filter_names,
    kits.check_stock_ids,
    kits.check_empty_kit,
    kits.check_frames,
    amounts.check_stock_sizes,
)


def plan_problems(
    plan: Plan,
    *,
    where: str,
    known_lights: Collection[str] | None = None,
    known_looks: Collection[str] | None = None,
) -> list[Problem]:
    """What is wrong between the parts of a plan.

    known_lights : names of the built-in lights; None leaves them unchecked
    known_looks  : names of the built-in looks; None leaves looks unchecked
    """
    found = [problem for rule in PLAN_RULES for problem in rule(plan)]
    if known_lights is not None:
        found += references.check_builtin_lights(plan, known_lights)
    if known_looks is not None:
        found += references.check_looks(plan, known_looks)
    return _inside(where, found)


def kit_problems(
    kit: Kit, *, where: str, known_filters: Collection[str] | None = None
) -> list[Problem]:
    """What is wrong between the parts of a kit.

    known_filters : names of the generic filters; None leaves them unchecked
    """
    found = [problem for rule in KIT_RULES for problem in rule(kit)]
    if known_filters is not None:
        found += kits.check_generic_filters(kit, known_filters)
    return _inside(where, found)


def problems_together(plan: Plan, kit: Kit, *, where: str, kit_where: str) -> list[Problem]:
    """What is wrong between a plan and its kit.

    where, kit_where : what plan and kit are called in messages
    """
    in_plan = [
        *together.check_frosts(plan, kit),
        *together.check_hung(plan, kit),
        *together.check_openings(plan, kit),
    ]
    in_kit = [
        *together.check_something_to_correct_with(plan, kit),
        *together.check_unlimited(plan, kit),
    ]
    return _inside(where, in_plan) + _inside(kit_where, in_kit)


def _inside(where: str, problems: Iterable[Problem]) -> list[Problem]:
    return [replace(each, where=f"{where}, {each.where}") for each in problems]
