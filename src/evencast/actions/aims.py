"""What the lights of a plan shall look like: the balance, and each light's aim beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from evencast.actions.planned import LoadedPlan
from evencast.colour import uv, white_uv
from evencast.errors import EvencastError
from evencast.lights.looks import look
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan
from evencast.plan.setup import Setup
from evencast.quantities import Floats
from evencast.solver.aim import Aim, aim_at_kelvin, aim_at_look, aim_at_uv, aim_beside


class Look(Protocol):
    """A named look: offsets from the balance, and the level against the key if it has one."""

    @property
    def mired(self) -> float:
        """Positive is warmer."""

    @property
    def duv(self) -> float:
        """Positive is greener."""

    @property
    def stops(self) -> float | None:
        """Negative is darker."""


def balance_of(loaded: LoadedPlan, setup: Setup | None) -> Aim:
    """The balance that the camera stands at in a set-up, else that of a plan that has one alone:
    dialled, or of a card under a light of it.

    Raises  EvencastError where the plan leaves several balances to choose from
    """
    if setup is not None and setup.balance_k is not None:
        return _dialled(setup.balance_k, setup.balance_duv)
    balance = loaded.plan.camera.balance
    if balance.from_card_under is not None:
        card = folded(balance.from_card_under)
        light = next(each for name, each in loaded.lights.items() if folded(name) == card)
        return aim_at_uv(f"card under {light.name}", uv(light.power))
    if balance.fixed_k is None:
        raise EvencastError(
            "it leaves several balances to choose from",
            where=f"plan {quoted(loaded.plan.name)}, camera.balance",
            remedy="Say which one the camera stands at: --balance 4300K, balance_k in the set-up, "
            "or fixed_k in the plan. `evencast solve PLAN --setup NAME --keep` writes the one it "
            "chose into the set-up.",
        )
    return _dialled(balance.fixed_k, balance.duv)


def _dialled(cct_k: float, duv: float | None) -> Aim:
    label = f"{cct_k:g}K"
    if duv is not None:
        return aim_at_kelvin(label, cct_k, duv)
    return aim_at_uv(label, white_uv(cct_k))


def look_in(plan: Plan, name: str) -> Look:
    """The look that a plan calls so, whatever its capitals, else the built-in one.

    Raises  EvencastError naming the nearest
    """
    own = next((each for each in plan.look if folded(each.name) == folded(name)), None)
    return own or look(name)


def aim_of(
    entry: LightEntry,
    balance: Aim,
    looks_of: Callable[[str], Floats],
    look_named: Callable[[str], Look],
) -> Aim:
    """What one light of a plan shall look like; without a level, its stops are 0.

    looks_of   : what the light of that name looks like in the end, (2,) CIE 1960 u, v; asked
                 for the light that this one shall look like
    look_named : the look of that name, as `look_in` gives it
    Raises  EvencastError for an offset beyond every white, and what the two raise
    """
    stops = level_aim(entry, look_named) or 0.0
    if entry.aim.like is not None:
        return aim_at_uv(f"like {entry.aim.like}", looks_of(entry.aim.like), stops=stops)
    if entry.aim.look is not None:
        wanted = look_named(entry.aim.look)
        return aim_at_look(
            balance,
            label=entry.aim.look,
            mired_offset=wanted.mired,
            duv_offset=wanted.duv,
            stops=stops,
        )
    if entry.aim.mired == 0 and entry.aim.duv == 0:
        return balance if stops == balance.stops else replace(balance, stops=stops)
    return aim_beside(
        balance,
        label=f"{balance.label}{entry.aim.mired:+g}mired",
        mired_offset=entry.aim.mired,
        duv_offset=entry.aim.duv,
        stops=stops,
    )


def level_aim(entry: LightEntry, look_named: Callable[[str], Look]) -> float | None:
    """The level a light shall have against the key; None where it is not judged. [stop]"""
    if entry.aim.stops is not None or entry.aim.look is None:
        return entry.aim.stops
    return look_named(entry.aim.look).stops
