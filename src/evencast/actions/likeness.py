"""Lights that shall look like another, held against that other as it hangs in the end.

What a light shall be like is at first what the other looks like with its own cheapest option.
Where stock, levels or the rest of the scene make the other hang otherwise, the scene is solved
again with what it then looks like.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from evencast.actions.hung import Hung, hung
from evencast.actions.scene import StagedScene
from evencast.colour import mired_duv, uv, uv_of_mired_duv
from evencast.filters import stack
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded
from evencast.quantities import Floats, say_left
from evencast.solver.aim import Aim
from evencast.solver.scene import Assignment

MOST_TIMES = 3
"""So often a scene is solved until all that is like another is like it as it hangs."""

WORTH_TELLING = 0.25
"""A difference of so much of the light's own tolerance."""


def hangs_otherwise(staged: StagedScene, best: Assignment) -> dict[tuple[str, str], Floats]:
    """Lights that others shall look like and that look otherwise than was taken: what they look
    like, by name and balance, as `staged_scene` takes it."""
    lights = hung(staged, best)
    found = {}
    for entry, aim in _alike(staged, lights, best.balance):
        like = entry.aim.like or ""
        looks = _looks(staged, lights, like)
        if looks is not None and _difference(staged, entry, aim, looks) is not None:
            found[folded(like), staged.candidates[best.balance].aim.label] = looks
    return found


def likeness(staged: StagedScene, each: Hung, lights: Sequence[Hung]) -> list[str]:
    """What to know of the light that this one shall look like; nothing where it looks as taken."""
    entry = each.staged.entry
    if entry.aim.like is None or each.way.is_off:
        return []
    looks = _looks(staged, lights, entry.aim.like)
    if looks is None:
        return [f"{entry.aim.like} is switched off: matched to what it would look like."]
    off = _difference(staged, entry, each.aim, looks)
    if off is None:
        return []
    found = each.options.found
    left = found.residual_mired[each.row] - off[0], found.residual_duv[each.row] - off[1]
    return [
        f"Matched to {entry.aim.like} as it would hang by itself; as it hangs here that is "
        f"{say_left(*off)} of this, and the light {say_left(*map(float, left))} of that."
    ]


def _alike(
    staged: StagedScene, lights: Sequence[Hung], balance: int
) -> Iterator[tuple[LightEntry, Aim]]:
    """Every light and view that shall look like another, with what was taken for that."""
    views = {entry.name: entry for entry, _ in staged.views}
    for each in lights:
        if each.staged.entry.aim.like is not None and not each.way.is_off:
            yield each.staged.entry, each.aim
        for view in each.staged.light.views:
            if views[view.name].aim.like is not None and not each.way.is_off:
                yield views[view.name], view.aims[balance]


def _looks(staged: StagedScene, lights: Sequence[Hung], name: str) -> Floats | None:
    """What a light, or a view behind the sheets of its window, looks like; None where it is off.
    [(2,) u, v]"""
    entry = staged.loaded.plan.light_named(name)
    assert entry is not None  # a rule of the document
    holder = folded(entry.behind or entry.name)
    other = next(each for each in lights if folded(each.staged.entry.name) == holder)
    if other.way.is_off:
        return None
    power = other.lamp.power
    if entry.behind is not None:
        power = staged.loaded.lights[entry.name].power
    found = other.options.found
    at_mired = other.aim.mired + found.residual_mired[other.row]
    if entry.behind is None and math.isfinite(at_mired):
        return uv_of_mired_duv(at_mired, other.aim.duv + found.residual_duv[other.row])
    return uv(power * stack(other.filters))


def _difference(
    staged: StagedScene, entry: LightEntry, aim: Aim, looks: Floats
) -> tuple[float, float] | None:
    """By how much what a light shall be like differs from what was taken, in mired and Duv; None
    where that is nothing to it."""
    at_mired, at_duv = mired_duv(looks)
    off = float(at_mired) - aim.mired, float(at_duv) - aim.duv
    strain = staged.loaded.plan.allowed(entry.role).strain(*map(np.asarray, off))
    return off if math.isfinite(off[0]) and float(strain) > WORTH_TELLING else None
