"""Why this stack: what is left, what it costs, what comes next, why not fewer sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evencast.plan.tolerance import Allowed
from evencast.quantities import say_left, say_stops
from evencast.solver.stacks import (
    LIKELY,
    PRICE_OF_THE_EDGE_UV,
    PRICE_PER_STOP_UV,
    Evaluated,
)

JUST_MISSES = 1.1
"""A miss by less than a tenth of what is allowed may round to what is allowed."""


def names_of(found: Evaluated, row: int, names: Sequence[str]) -> list[str]:
    """Names of the sheets in one stack, in the kit's order."""
    return [names[member] for member in found.members[row] if member < len(names)]


def say_row(found: Evaluated, row: int, names: Sequence[str]) -> str:
    """One stack with what it leaves and costs: "half CTB leaves 14 mired warm at 1 stop"."""
    left = say_left(float(found.residual_mired[row]), float(found.residual_duv[row]))
    if not math.isfinite(found.residual_mired[row]):
        left = f"{float(found.miss_uv[row]):.3f} u, v off"
    if found.layers[row] == 0:
        return f"bare it is {left}"
    leaves, costs = ("leaves", "costs") if found.layers[row] == 1 else ("leave", "cost")
    stack = ", ".join(names_of(found, row, names))
    return f"{stack} {leaves} {left} and {costs} {say_stops(float(found.loss_stops[row]))}"


def reason(
    found: Evaluated,
    row: int,
    *,
    names: Sequence[str],
    tolerance: Allowed,
    plainer: tuple[Evaluated, int] | None,
    following: int | None,
) -> str:
    """The reason for a choice, in sentences.

    plainer   : the best stack with at least one sheet less, and its row; None for no sheets
    following : row of the next best stack, if any
    """
    sentences = [_first(found, row, names, tolerance)]
    if found.layers[row] == 0 and found.within[row]:
        return f"{sentences[0]} A sheet would cost light and gain nothing."
    if plainer is not None:
        sentences.append(_why_not_fewer(found, row, names, tolerance, plainer))
    if following is not None:
        sentences.append(f"Next best: {say_row(found, following, names)}.")
    return " ".join(sentences)


def _first(found: Evaluated, row: int, names: Sequence[str], tolerance: Allowed) -> str:
    told = say_row(found, row, names)
    if found.layers[row] == 0 and not found.within.any():
        return f"No stack reaches {tolerance.say()} or comes near. {told[0].upper()}{told[1:]}."
    if not found.within.any():
        return f"No stack reaches {tolerance.say()}. The best there is: {told}."
    told = f"{told[0].upper()}{told[1:]}"
    if not found.within[row]:
        return (
            f"{told}: just outside {tolerance.say()}, yet nearer on average than the stacks "
            "whose middle is inside."
        )
    share = float(found.share_within[row])
    if share >= LIKELY:
        return f"{told}: inside {tolerance.say()}."
    return (
        f"{told}: inside {tolerance.say()} in the middle, but with only {share:.0%} of what "
        "sheets and light may be. Hang it, read it, trim it."
    )


def _why_not_fewer(
    found: Evaluated,
    row: int,
    names: Sequence[str],
    tolerance: Allowed,
    plainer: tuple[Evaluated, int],
) -> str:
    others, best = plainer
    told = say_row(others, best, names)
    if others.layers[best] == 0:
        return f"{told[0].upper()}{told[1:]}."
    if not others.within[best]:
        strain = tolerance.strain(others.residual_mired[best], others.residual_duv[best])
        return f"Fewer sheets {'just miss it' if strain < JUST_MISSES else 'do not do'}: {told}."
    dearer = float(others.loss_stops[best] - found.loss_stops[row])
    nearer = PRICE_OF_THE_EDGE_UV * float(others.edge[best] - found.edge[row])
    by_stops = dearer > 0.05 and PRICE_PER_STOP_UV * dearer >= nearer
    cost = f"{dearer:.1f} stop dearer" if by_stops else "nearer the edge"
    return f"Fewer sheets would do as well, but {cost}: {told}."
