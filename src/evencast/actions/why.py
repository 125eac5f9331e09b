"""Why a scene came out as it did: its balance, what ran out, and what excludes what."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import cast

import numpy as np

from evencast.actions.hung import Hung, hung, say_limit
from evencast.actions.scene import StagedScene
from evencast.cutting.count import Piece
from evencast.quantities import listed, say_left
from evencast.results.plan import Alternative, Wanting
from evencast.solver.options import options
from evencast.solver.scene import Assignment, Solved, Solver

MOST_ASKED = 6
"""Of so many filters that ran out it is asked what one sheet more would buy."""
MOST_TOGETHER = 3
WORTH_TELLING = 0.5
"""Half a sheet."""


def why_this_balance(staged: StagedScene, solved: Solved, compared: Sequence[Alternative]) -> str:
    """The reason for the balance, against those it is compared with."""
    if not staged.loaded.plan.light:
        return "No light is in the plan yet: no balance is better than another."
    best, others = compared[0], [each for each in compared[1:] if _is_of_a_balance(each)]
    count = sum(math.isfinite(each.price) for each in staged.candidates)
    if count == 1:
        told = f"The balance is given: {best.balance.label}."
    else:
        told = f"{best.balance.label} is the best of {count} balances"
        told += " (proven)." if solved.gap == 0 else f" (to within {solved.gap:.1%} of its cost)."
    against = [f"at {each.balance.label} {_difference(each, best)}" for each in others]
    against = [each for each in against if not each.endswith(" the same")]
    if not against:
        return told
    joined = "; ".join(against)
    return f"{told} {joined[0].upper()}{joined[1:]}."


def _is_of_a_balance(each: Alternative) -> bool:
    """Whether a balance is among its names, and not only what it has least of."""
    return any(name.endswith("K") for name in each.name.split(", "))


def _difference(other: Alternative, best: Alternative) -> str:
    """What another balance would cost more and less."""
    parts = []
    more_off = [each for each in other.off_colour if each not in best.off_colour]
    back = [each for each in best.off_colour if each not in other.off_colour]
    if more_off:
        parts.append(f"{listed(more_off)} would be off")
    if back:
        parts.append(f"{listed(back)} would be inside")
    pieces = other.pieces - best.pieces
    if pieces:
        parts.append(f"{abs(pieces)} {'more' if pieces > 0 else 'fewer'} {_word(pieces)}")
    area = other.area_m2 - best.area_m2
    if abs(area) >= 0.1:
        parts.append(f"{abs(area):.1f} m² {'more' if area > 0 else 'less'} of sheet")
    stops = other.loss_stops - best.loss_stops
    if abs(stops) >= 0.3:
        parts.append(f"{abs(stops):.1f} stop {'more' if stops > 0 else 'less'} lost at the most")
    dark = [each for each in other.off_level if each not in best.off_level]
    if dark:
        parts.append(f"{listed(dark)} off its level")
    return ", ".join(parts) or "the same"


def wanting(staged: StagedScene, solver: Solver, solved: Solved) -> list[Wanting]:
    """Of filters that ran out, what one sheet more would buy, the most useful first."""
    best = solved.best
    before = hung(staged, best)
    found = []
    for index in best.short[:MOST_ASKED]:
        below = best.cost - WORTH_TELLING
        with_more = solver.with_one_more(index, best.balance, below=below)
        if with_more is not None:
            saves = best.cost - with_more.cost
            name = staged.filters[index].name
            text = f"One more sheet of {name}: {_bought(before, hung(staged, with_more))}."
            found.append(Wanting(name, text, round(saves, 3)))
    return sorted(found, key=lambda each: -each.saves)


def _bought(before: Sequence[Hung], after: Sequence[Hung]) -> str:
    pairs = list(zip(before, after, strict=True))
    inside = [now.staged.entry.name for was, now in pairs if now.is_inside and not was.is_inside]
    if inside:
        return f"{listed(inside)} inside"
    level = [now.staged.entry.name for was, now in pairs if now.is_level and not was.is_level]
    if level:
        return f"{listed(level)} at its level"
    pieces = sum(each.pieces for each in before) - sum(each.pieces for each in after)
    if pieces > 0:
        return f"{pieces} {_word(pieces)} fewer"
    stops = sum(each.filter_stops for each in before) - sum(each.filter_stops for each in after)
    if stops >= 0.1:
        return f"{stops:.1f} stop less lost in all"
    was, now = max(pairs, key=lambda pair: _colour(pair[0]) - _colour(pair[1]))
    return f"{now.staged.entry.name} {_left(now)} instead of {_left(was)}"


def _colour(each: Hung) -> float:
    return float(each.options.colour[each.row])


def _left(each: Hung) -> str:
    found = each.options.found
    return say_left(float(found.residual_mired[each.row]), float(found.residual_duv[each.row]))


def conflict(staged: StagedScene, solver: Solver, solved: Solved) -> list[str]:
    """The smallest set of wishes that exclude each other, where not all lights are inside."""
    eligible = [b for b, each in enumerate(staged.candidates) if math.isfinite(each.price)]
    possible = {
        number: [b for b in eligible if _can_be_inside(solver, b, number)]
        for number in range(len(staged.lights))
    }
    found = [_alone(staged, number, eligible) for number, where in possible.items() if not where]
    off = [number for number, each in enumerate(hung(staged, solved.best)) if not each.is_inside]
    able = [number for number, where in possible.items() if where]
    if all(number not in able for number in off):
        return found
    apart = _no_common_balance(possible, able)
    if apart:
        return [*found, _apart(staged, possible, apart)]
    return found + _too_little(staged, solver, solved.best, able)


def _can_be_inside(solver: Solver, balance: int, number: int) -> bool:
    return bool(solver.options[balance][number].inside.any())


def _alone(staged: StagedScene, number: int, eligible: Sequence[int]) -> str:
    """A light that nothing reaches at any balance, and the limit that keeps it from it."""
    light, scene = staged.lights[number].light, staged.scene
    where = "at this balance" if len(eligible) == 1 else f"at any of {len(eligible)} balances"
    told = f"{light.name} alone: nothing in the kit and none of its moves reaches it {where}"
    free = replace(light, most_loss_stops=math.inf)
    unlimited = options(scene.kit, scene.sheets, free, scene.weights, at=list(eligible))
    if any(each.inside.any() for each in unlimited.values()):
        return f"{told} while sheets may take no more than {say_limit(light.most_loss_stops)}."
    return f"{told}."


def _no_common_balance(
    possible: dict[int, list[int]], able: Sequence[int]
) -> tuple[int, ...] | None:
    """The fewest lights that no balance serves together."""
    for size in range(2, MOST_TOGETHER + 1):
        for lights in itertools.combinations(able, size):
            if not set.intersection(*(set(possible[each]) for each in lights)):
                return lights
    return None


def _apart(staged: StagedScene, possible: dict[int, list[int]], lights: Sequence[int]) -> str:
    parts = [
        f"{staged.lights[each].entry.name} only at {_balances(staged, possible[each])}"
        for each in lights
    ]
    return f"No balance serves these together: {'; '.join(parts)}."


def _balances(staged: StagedScene, balances: Sequence[int]) -> str:
    labels = [staged.candidates[each].aim.label for each in balances]
    return labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}"


def _too_little(
    staged: StagedScene, solver: Solver, best: Assignment, able: Sequence[int]
) -> list[str]:
    """The fewest lights that cannot all be inside at the best balance with what there is."""
    at = best.balance
    here = [number for number in able if _can_be_inside(solver, at, number)]
    elsewhere = [staged.lights[each].entry.name for each in able if each not in here]
    label = staged.candidates[at].aim.label
    if elsewhere:
        return [f"{listed(elsewhere)} would need another balance than {label}, which costs more."]
    if solver.inside_together(at, here):
        return [f"All could be inside at {label}, at a higher price than the weights allow."]
    needed = list(here)
    for number in here:
        rest = [each for each in needed if each != number]
        if not solver.inside_together(at, rest):
            needed = rest
    names = listed([staged.lights[each].entry.name for each in needed])
    many = f"have {names} inside together" if len(needed) > 1 else f"bring {names} inside"
    told = f"At {label} there are not sheets enough to {many}."
    return [told, *_ran_out(staged, best, needed)]


def _ran_out(staged: StagedScene, best: Assignment, needed: Sequence[int]) -> list[str]:
    """Which of the filters that they would take by themselves do not yield all the pieces."""
    found = []
    for index, sheet in enumerate(staged.filters):
        pieces: list[Piece] = []
        for number in needed:
            options = best.options[number]
            members = options.found.members[int(np.argmin(options.cost))]
            count = int((members == index).sum())
            pieces += list(cast(Sequence[Piece], staged.lights[number].light.pieces)) * count
        if pieces and not staged.shelves.fits(index, tuple(pieces), 0):
            found.append(f"{sheet.name}: {staged.shelves.explain(index, pieces)}")
    return found


def _word(count: int) -> str:
    return "piece" if abs(count) == 1 else "pieces"
