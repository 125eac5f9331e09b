"""Why this stack: what is left, what it costs, what comes next, why not fewer sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evencast.plan.tolerance import Allowed
from evencast.quantities import say_duv, say_mired, say_stops
from evencast.solver.stacks import Evaluated


def say_stack(names: Sequence[str]) -> str:
    """The sheets of a stack in words: "half CTB, eighth CTB", "no filter"."""
    return ", ".join(names) if names else "no filter"


def names_of(found: Evaluated, row: int, names: Sequence[str]) -> list[str]:
    """Names of the sheets in one stack, strongest as given in the kit's order."""
    return [names[member] for member in found.members[row] if member < len(names)]


def say_left(residual_mired: float, residual_duv: float, miss_uv: float) -> str:
    """What remains between a light and its aim, in words."""
    if math.isfinite(residual_mired):
        green = say_duv(residual_duv)
        return f"{say_mired(residual_mired)}, {green}" if green != "neutral" else (
            f"{say_mired(residual_mired)}, no green or magenta"
        )
    return f"no colour temperature ({miss_uv:.4f} uv from the aim)"


def say_row(found: Evaluated, row: int, names: Sequence[str]) -> str:
    """One stack with what it leaves and costs: "half CTB leaves 14 mired warm, ... at 1 stop"."""
    left = say_left(
        float(found.residual_mired[row]), float(found.residual_duv[row]), float(found.miss_uv[row])
    )
    stack = say_stack(names_of(found, row, names))
    cost = "" if found.layers[row] == 0 else f", {say_stops(float(found.loss_stops[row]))}"
    return f"{stack} leaves {left}{cost}"


def reason(
    found: Evaluated,
    row: int,
    *,
    names: Sequence[str],
    tolerance: Allowed,
    fewer: tuple[Evaluated, int] | None,
    following: int | None,
) -> str:
    """The reason for a choice, in sentences.

    fewer     : the best stack with at least one sheet less, and its row; None for no sheets
    following : row of the next best stack, if any
    """
    sentences = [_first(found, row, names, tolerance)]
    if fewer is not None:
        sentences.append(_why_not_fewer(found, row, names, fewer))
    if following is not None:
        sentences.append(f"Next best: {say_row(found, following, names)}.")
    return " ".join(sentences)


def _first(found: Evaluated, row: int, names: Sequence[str], tolerance: Allowed) -> str:
    inside = "inside" if found.within[row] else "outside"
    text = f"{say_row(found, row, names)}: {inside} {tolerance.say()}."
    return text[0].upper() + text[1:]


def _why_not_fewer(
    found: Evaluated, row: int, names: Sequence[str], fewer: tuple[Evaluated, int]
) -> str:
    others, best = fewer
    plain = say_row(others, best, names)
    if not others.within[best]:
        return f"With fewer sheets {plain}: outside."
    dearer = float(others.loss_stops[best] - found.loss_stops[row])
    if dearer > 0.05:
        return f"With fewer sheets {plain}: {dearer:.1f} stop dearer."
    return f"With fewer sheets {plain}: inside, but further off."
