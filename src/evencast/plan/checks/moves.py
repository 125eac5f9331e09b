"""What may be done to a light: moves that cannot be made, or lack what they need."""

from __future__ import annotations

from evencast.errors import Problem
from evencast.plan.checks.say import not_upwards
from evencast.plan.checks.standing import Standing, everywhere, scenes, standing
from evencast.plan.light import Move, Swap
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan

NO_SCRIM = {
    "window": "a window",
    "household": "a household lamp",
    "tube": "a tube",
    "street": "a street lamp",
}
"""Fittings that hold no scrim."""

NO_SWITCH = {
    "key": "without the key there is nothing to set the rest against",
    "view": "a view has no switch",
}
"""Roles that are never switched off, and why."""


def check_adjustable(plan: Plan) -> list[Problem]:
    """The range of an adjustable light runs upwards."""
    return [
        not_upwards(f"{where}.adjustable", light.adjustable.low_k, light.adjustable.high_k)
        for where, light in everywhere(plan)
        if light.adjustable is not None and light.adjustable.low_k >= light.adjustable.high_k
    ]


def check_dial(plan: Plan) -> list[Problem]:
    """A light that may be dialled says over which range."""
    return [
        Problem(
            "warning",
            f"{each.where}.moves",
            "it may be dialled, but nothing says over which range, so it will not be",
            "Add its range, as in adjustable = { low_k = 2700, high_k = 6500 }.",
        )
        for each in standing(plan)
        if each.wrote("moves")
        and "moves" in each.light.model_fields_set
        and "dial" in each.light.moves
        and each.light.adjustable is None
    ]


def check_dim(plan: Plan) -> list[Problem]:
    """Daylight has no dimmer."""
    return [
        Problem(
            "error",
            f"{each.where}.moves",
            ("a window" if each.light.lamp_fitting() == "window" else "daylight")
            + " cannot be dimmed",
            f"{_without('dim')}; ND in front of it takes light away.",
        )
        for each in standing(plan)
        if each.wrote("moves", "kind", "builtin", "fitting")
        and "dim" in each.light.moves
        and (each.light.lamp_fitting() == "window" or each.light.lamp_kind() == "daylight")
    ]


def check_scrim(plan: Plan) -> list[Problem]:
    """A scrim goes into a lamp of one's own."""
    return [
        Problem(
            "warning",
            f"{each.where}.moves",
            f"{NO_SCRIM[each.light.lamp_fitting()]} holds no scrim, so none will be put in",
            f"{_without('scrim')}, or mend its fitting.",
        )
        for each in standing(plan)
        if each.wrote("moves", "builtin", "fitting")
        and "scrim" in each.light.moves
        and each.light.lamp_fitting() in NO_SCRIM
    ]


def check_swap(plan: Plan) -> list[Problem]:
    """A lamp that may be swapped says for what, and what is at hand may be used."""
    found = []
    for each in standing(plan):
        if not each.wrote("moves", "swap"):
            continue
        may, has = "swap" in each.light.moves, bool(each.light.swap)
        if may and not has:
            found.append(
                Problem(
                    "warning",
                    f"{each.where}.moves",
                    "its lamp may be swapped, but nothing says for what, so it will not be",
                    "Add what is at hand, as in swap = [{ name = "
                    '"daylight bulb", cct_k = 5000, kind = "phosphor LED" }].',
                )
            )
        if has and not may:
            found.append(
                Problem(
                    "warning",
                    f"{each.where}.swap",
                    "its moves do not name swap, so its lamp will not be swapped",
                    'Add it, as in moves = ["swap", "leave"].',
                )
            )
    return found


def check_swaps_alike(plan: Plan) -> list[Problem]:
    """What is at hand of one name is one thing, and so many for all lights together."""
    found = []
    for scene in scenes(plan):
        first: dict[str, tuple[Standing, Swap]] = {}
        for each in scene:
            for swap in each.light.swap:
                owner, other = first.setdefault(folded(swap.name), (each, swap))
                said = "" if owner is each else _unlike(swap, other)
                if said and (each.wrote("swap") or owner.wrote("swap")):
                    found.append(
                        Problem(
                            "warning",
                            f"{each.where}.swap {quoted(swap.name)}",
                            f"{said} {quoted(owner.light.name)}, and what has one name "
                            "is counted together for all lights",
                            "Write the same in both; or give what is another thing another name.",
                        )
                    )
    return found


def _unlike(swap: Swap, other: Swap) -> str:
    """What two swaps of one name differ in; empty where they are one thing."""
    keys = ("kind", "builtin", "spectrum", "cct_k", "duv")
    if any(getattr(swap, key) != getattr(other, key) for key in keys):
        return "it is another lamp than the one of that name of"
    if swap.at_hand is not None and other.at_hand not in (None, swap.at_hand):
        return f"{swap.at_hand} are at hand here, and {other.at_hand} at"
    return ""


def check_match_the_rest(plan: Plan) -> list[Problem]:
    """The other lights can be brought to one only where the balance is free to follow it."""
    balance = plan.camera.balance
    if balance.fixed_k is None and balance.from_card_under is None:
        return []
    held = "is fixed" if balance.fixed_k is not None else "is taken from a card"
    return [
        Problem(
            "warning",
            f"{each.where}.moves",
            f"the rest cannot be matched to it: the camera's balance {held}",
            "Let it be chosen, as in balance = { low_k = 3200, high_k = 5600, step_k = 100 } or "
            f"balance = {{ at_k = [3200, 5600] }}. {_without('match the rest', otherwise=True)}.",
        )
        for each in standing(plan)
        if each.wrote("moves") and "match the rest" in each.light.moves
    ]


def check_switch_off(plan: Plan) -> list[Problem]:
    """Neither the key nor a view is switched off."""
    return [
        Problem(
            "warning",
            f"{each.where}.moves",
            f"{NO_SWITCH[each.light.role]}, so it will not be switched off",
            f"{_without('switch off')}, or give the light another role.",
        )
        for each in standing(plan)
        if each.wrote("moves", "role")
        and "switch off" in each.light.moves
        and each.light.role in NO_SWITCH
    ]


def _without(move: Move, *, otherwise: bool = False) -> str:
    return f"{'Else take' if otherwise else 'Take'} {quoted(move)} out of its moves"
