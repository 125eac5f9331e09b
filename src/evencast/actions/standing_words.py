"""A plan as it hangs, in sentences."""

from __future__ import annotations

from evencast.quantities import listed, say_left, say_mired, say_stops
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.words import say_balance

MOST_TOLD = 6
"""Lights that are named one by one; the rows tell all."""


def verdict(answer: HangsAnswer) -> str:
    """The answer in a few sentences: the balance, what hangs, the stop, and what is off."""
    if not answer.lights:
        return "No light yet. Type one below, as you would say it: tungsten 650, 3 m, flood."
    said = [f"Balance at {say_balance(answer.balance)}.", _hung(answer)]
    off = [_off(each) for each in answer.lights if is_off_aim(each)]
    as_read = [f"{each.name} ({read_left(each)})" for each in answer.lights if is_read_off(each)]
    if off:
        said.append(f"Not as wanted: {_some(off)}.")
    else:
        computed = "As computed, every light" if as_read else "Every light"
        said.append(f"{computed} is as it shall be.")
    if as_read:
        said.append(f"As read, not as wanted: {_some(as_read)}; see the trim.")
    left = [each.name for each in answer.lights if each.harmless]
    if left:
        said.append(f"Leave {listed(left)}: off, and harmless at every spot.")
    if answer.stale:
        said.append("The plan was changed since this was worked out: solve it again.")
    return " ".join(said)


def is_off_aim(each: HangingLight) -> bool:
    """Whether a light is not as it shall be and not harmless."""
    return not each.within_tolerance and not each.harmless and not each.off


def is_read_off(each: HangingLight) -> bool:
    """Whether what was read of a light is not as it shall be."""
    return each.read_within is False and not each.off and not each.harmless


def read_left(each: HangingLight) -> str:
    """What was read of a light against its aim: "24 mired warm, a trace green"; "" for nothing."""
    if each.read_residual_mired is None:
        return ""
    return say_left(each.read_residual_mired, each.read_residual_duv)


def doing(each: HangingLight) -> str:
    """What hangs and how it is set, in one line; "as it is" for nothing."""
    hangs = each.hangs
    if each.off:
        return "switched off"
    parts = [f"swapped for {hangs.swapped_for}"] if hangs.swapped_for else []
    parts += [f"dialled to {hangs.dial_k:.0f} K"] if hangs.dial_k is not None else []
    parts += hangs.filters
    parts += [f"{each} scrim" for each in hangs.scrims]
    parts += [f"dimmed {say_stops(hangs.dim_stops)}"] if hangs.dim_stops else []
    return " + ".join(parts) or "as it is"


def left(each: HangingLight) -> str:
    """What is left against its aim, with its doubt: "2 mired cool ± 3, a trace green"."""
    if each.off:
        return "off"
    if each.residual_mired is None:
        return "no colour temperature"
    low, high = (each.band or {}).get("residual_mired", (None, None))
    told = say_left(each.residual_mired, each.residual_duv)
    if low is None or high is None:
        return told
    mired = say_mired(each.residual_mired)
    return told.replace(mired, f"{mired} ± {(high - low) / 2:.0f}", 1)


def _some(told: list[str]) -> str:
    more = len(told) - MOST_TOLD + 1
    return listed(told if more < 2 else [*told[: MOST_TOLD - 1], f"{more} more"])


def _hung(answer: HangsAnswer) -> str:
    sheets = sum(bool(each.hangs.filters) for each in answer.lights)
    if not any(each.known_by for each in answer.lights):
        return "Nothing is planned yet: all lights stand bare."
    if not sheets:
        return f"No sheet on any of {len(answer.lights)} lights."
    losses = max(answer.lights, key=lambda each: each.filter_stops)
    told = f"Sheets on {sheets} of {len(answer.lights)} lights"
    if losses.filter_stops >= 0.05:
        told += f"; {losses.name} loses most, {say_stops(losses.filter_stops)}"
    return f"{told}."


def _off(each: HangingLight) -> str:
    low, high = each.tolerance.mired_low, each.tolerance.mired_high
    mired, duv = each.residual_mired, each.residual_duv or 0.0
    inside = mired is not None and low <= mired <= high and abs(duv) <= each.tolerance.duv
    if inside and each.level_stops is not None:
        side = "bright" if each.level_stops > 0 else "dark"
        return f"{each.name} ({say_stops(each.level_stops)} too {side})"
    return f"{each.name} ({say_left(each.residual_mired, each.residual_duv)})"
