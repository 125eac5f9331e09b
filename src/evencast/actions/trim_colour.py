"""The trim of a light's colour: leave it, turn its dial, or change one sheet."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from evencast.actions.trim_bench import (
    Bench,
    Colour,
    State,
    Trim,
    darker,
    movable,
    say_change,
)
from evencast.colour import mired_duv, uv
from evencast.errors import EvencastError
from evencast.lights import Light
from evencast.lights.explained import straying
from evencast.plan.tolerance import Allowed
from evencast.quantities import kelvin, mired
from evencast.solver.trim import one_sheet_changes

HALF_GRADE_MIRED, HALF_GRADE_DUV = 8.4, 0.002
"""Half of the smallest grade that is sold: nearer to its aim than that, a sheet costs light and
gains nothing. Common practice, no source."""

NEAR_MISS = 3.0
"""A sheet after which a light is still further off than three tolerances is not worth hanging
alone: a new stack is wanted. As where a plan is solved."""

DIAL_STEP_K = 50.0
_STEPS_TRIED = 2
_LEAST_GAIN = 0.01
"""Of the tolerance: less is no reason to climb."""


def colour_trim(bench: Bench, before: State) -> Trim:
    """The one change that brings the colour nearest to its aim; leaving it, where it is inside
    the tolerance or nothing that may be done is better."""
    leave = Trim("leave", "leave", before)
    colour = before.colour
    if colour is None or colour.within:
        return leave
    dialled = _dialled(bench, before, colour)
    sheet = None if under_half_a_grade(colour) else _one_sheet(bench, before, colour)
    if dialled is not None and dialled[1].within:
        return dialled[0]
    found = [
        each
        for each in (dialled, sheet)
        if each is not None and _helps(bench, each[1], colour) and _comes_near(bench, each[1])
    ]
    best = min(found, key=lambda each: each[1].rank, default=None)
    return leave if best is None else best[0]


def under_half_a_grade(colour: Colour) -> bool:
    """Whether a colour is nearer to its aim than half of the smallest grade."""
    return (
        abs(colour.residual_mired) <= HALF_GRADE_MIRED
        and abs(colour.residual_duv) <= HALF_GRADE_DUV
    )


def _helps(bench: Bench, after: Colour, before: Colour) -> bool:
    """Whether a colour is better than another both as what is seen, in u, v, and by the tolerance
    of its role, which may ask more of green than of mired: 9 mired less for a little more green
    is no help to a key."""
    if after.rank >= before.rank:
        return False
    was = _strain(bench.allowed, before)
    return not math.isfinite(was) or _strain(bench.allowed, after) <= was - _LEAST_GAIN


def _comes_near(bench: Bench, colour: Colour) -> bool:
    """Whether a colour ends near enough to its aim for a change to be worth it."""
    return colour.within or _strain(bench.allowed.eased(), colour) <= NEAR_MISS


def _strain(allowed: Allowed, colour: Colour) -> float:
    """What is left as a share of what is allowed; infinite without a colour temperature."""
    residual = np.array([colour.residual_mired, colour.residual_duv])
    found = float(allowed.strain(residual[0], residual[1]))
    return found if math.isfinite(found) else math.inf


def _one_sheet(bench: Bench, before: State, colour: Colour) -> tuple[Trim, Colour] | None:
    """The best change of one sheet, and the next best, as far as they are better than none; None
    where there is none to make."""
    if not bench.may("filter"):
        return None
    changes = one_sheet_changes(
        before.sheets, bench.at_hand, movable=movable(before.sheets), layers=bench.layers
    )
    found = bench.colours(before.now, before.sheets, changes)
    rows = [
        row
        for row in range(1, len(changes))
        if _helps(bench, found[row], colour) and _bright(bench, found[row], colour)
    ]
    rows.sort(key=lambda row: found[row].rank)
    if not rows:
        return None
    said = [say_change(changes[row], before.sheets) for row in rows[:2]]
    best = found[rows[0]]
    lost = best.loss_stops - colour.loss_stops
    after = replace(
        before,
        sheets=tuple(changes[rows[0]].of(before.sheets)),
        colour=best,
        over_stops=darker(before.over_stops, lost, lost),
    )
    following = (said[1], found[rows[1]]) if len(rows) > 1 else None
    return Trim(changes[rows[0]].kind, said[0], after, following), best


def _bright(bench: Bench, after: Colour, before: Colour) -> bool:
    """Whether a change leaves as much light as the plan asks for, or gives some back."""
    return after.loss_stops <= max(bench.most_loss_stops, before.loss_stops)


def _dialled(bench: Bench, before: State, colour: Colour) -> tuple[Trim, Colour] | None:
    """The dial turned to where the light comes nearest; None for a light without one."""
    entry = bench.hanging.entry
    if (
        entry.adjustable is None
        or not bench.may("dial")
        or not math.isfinite(colour.residual_mired)
    ):
        return None
    from_k = before.dial_k or _own_k(bench.hanging.lamp)
    wanted_mired = mired(from_k) - colour.residual_mired
    grid_k = 0.0 if before.dial_k is not None else from_k % DIAL_STEP_K
    middle = round((kelvin(max(wanted_mired, 10.0)) - grid_k) / DIAL_STEP_K)
    settings = [
        step * DIAL_STEP_K + grid_k
        for step in range(middle - _STEPS_TRIED, middle + _STEPS_TRIED + 1)
    ]
    reached = [
        each
        for to_k in settings
        if entry.adjustable.low_k <= to_k <= entry.adjustable.high_k and abs(to_k - from_k) >= 1.0
        for each in [_at(bench, before, from_k, to_k)]
        if each is not None
    ]
    return min(reached, key=lambda each: each[1].rank, default=None)


def _at(bench: Bench, before: State, from_k: float, to_k: float) -> tuple[Trim, Colour] | None:
    """The light at one setting of its dial; None where it cannot go there."""
    hanging = bench.hanging
    try:
        now = hanging.reset(before.now, dial_k=to_k, dim_stops=before.dim_stops)
    except EvencastError:
        return None
    if not hanging.lamp.emitters:
        turned = mired(to_k) - mired(from_k)
        now = straying(now, mired_turned=turned, key=f"{hanging.lamp.name} to {to_k:g}K")
    colour = bench.colour(now, before.sheets)
    absolute = f" to {to_k:.0f} K" if before.dial_k is not None else ""
    text = f"dial {abs(to_k - from_k):.0f} K {'up' if to_k > from_k else 'down'}{absolute}"
    set_k = to_k if before.dial_k is not None else None
    after = replace(before, now=now, dial_k=set_k, colour=colour, over_stops=None)
    return Trim("dial", text, after), colour


def _own_k(lamp: Light) -> float:
    """The Kelvin of a light whose dial was never noted."""
    return kelvin(float(mired_duv(uv(lamp.power))[0]))
