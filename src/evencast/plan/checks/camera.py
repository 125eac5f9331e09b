"""The camera's balances and the steps of its tint control."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evencast.errors import Problem
from evencast.plan.checks.say import not_upwards
from evencast.plan.place import entry
from evencast.plan.plan import Balance, Plan
from evencast.plan.setup import Setup

MOST_BALANCES = 200
"""More are not compared: every one of them is solved as a scene of its own."""


def check_balance_range(plan: Plan) -> list[Problem]:
    """A range of balances runs upwards."""
    balance = plan.camera.balance
    if balance.low_k is None or balance.high_k is None or not balance.low_k >= balance.high_k:
        return []
    return [not_upwards("camera.balance", balance.low_k, balance.high_k)]


def check_balance_count(plan: Plan) -> list[Problem]:
    """So many balances that one cannot wait for, nor see a difference between two of them."""
    balance = plan.camera.balance
    low, high, step = balance.low_k, balance.high_k, balance.step_k
    kelvins = float(len(balance.at_k or ()))
    if low is not None and high is not None and step is not None:
        kelvins = (high - low) / step + 1.0 if low < high else 0.0
    steps = len(balance.tint_steps)
    count = kelvins * max(steps, 1)
    if not count > MOST_BALANCES:
        return []
    said = f"{count:.0f}" if count < 1e6 else "more than a million"
    tints = f", with {steps} steps of tint at each," if steps else ""
    return [
        Problem(
            "error",
            "camera.balance",
            f"{said} balances{tints} are more than the {MOST_BALANCES} that are compared",
            "Take a larger step_k, a shorter range or fewer steps of tint.",
        )
    ]


def check_balances_once(plan: Plan) -> list[Problem]:
    """A balance, and a step of tint, is considered once."""
    balance = plan.camera.balance
    lists: tuple[tuple[str, Sequence[float]], ...] = (
        ("at_k", balance.at_k or ()),
        ("tint_steps", balance.tint_steps),
    )
    return [
        Problem("error", f"camera.balance.{key}", f"{number:g} stands in it twice", "Keep one.")
        for key, numbers in lists
        for number in sorted({each for each in numbers if numbers.count(each) > 1})
    ]


def check_setup_balance(plan: Plan) -> list[Problem]:
    """The balance of a set-up has its kelvin."""
    return [
        Problem(
            "error",
            f"setup{entry(setup.name, number=count)}.balance_duv",
            '"balance_duv" says no balance without its kelvin',
            "Add it, as in balance_k = 4300.",
        )
        for count, setup in enumerate(plan.setup, start=1)
        if setup.balance_duv is not None and setup.balance_k is None
    ]


def check_one_balance(plan: Plan) -> list[Problem]:
    """A set-up stands at the plan's balance where that is fixed."""
    fixed = plan.camera.balance
    return [
        Problem(
            "warning",
            f"setup{entry(setup.name, number=count)}.balance_k",
            f"the camera stands at {_said(setup.balance_k, setup.balance_duv)} in this set-up, and "
            f"the plan's balance is fixed at {_said(fixed.fixed_k, fixed.duv)}: `solve` goes by "
            "the plan's, `trim` and `compare` by the set-up's",
            "Write the same in both, or leave it out of the set-up.",
        )
        for count, setup in enumerate(plan.setup, start=1)
        if _stands_elsewhere(setup, fixed)
    ]


def _stands_elsewhere(setup: Setup, fixed: Balance) -> bool:
    """Whether the two are written otherwise; not where one of them could not be read."""
    if setup.balance_k is None or fixed.fixed_k is None:
        return False
    own, plans = (setup.balance_k, setup.balance_duv), (fixed.fixed_k, fixed.duv)
    written = [each for each in (*own, *plans) if each is not None]
    return own != plans and not any(map(math.isnan, written))


def _said(cct_k: float | None, duv: float | None) -> str:
    return f"{cct_k:g} K" + ("" if duv is None else f" with a Duv of {duv:+g}")


def check_tint_steps(plan: Plan) -> list[Problem]:
    """Steps of tint mean something once the camera says how much and to which side."""
    camera = plan.camera
    missing = [
        key
        for key, value in (
            ("tint_step_duv", camera.tint_step_duv),
            ("tint_direction", camera.tint_direction),
        )
        if value is None
    ]
    if not any(camera.balance.tint_steps) or not missing:
        return []
    written = {
        "tint_step_duv": "tint_step_duv = 0.001",
        "tint_direction": 'tint_direction = "magenta"',
    }
    return [
        Problem(
            "error",
            "camera.balance.tint_steps",
            f"what a step does is not said: {' and '.join(missing)} of the camera "
            f"{'is' if len(missing) == 1 else 'are'} missing",
            f"Add {' and '.join(written[key] for key in missing)} to [camera], as your camera "
            "does it.",
        )
    ]
