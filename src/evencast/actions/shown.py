"""One light of a solved scene as an answer: what hangs, what it leaves, and why."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np

from evencast.actions.cautions import WHITE_ALONE, cautions, move_cautions
from evencast.actions.doubt import Looks, light_notes
from evencast.actions.flicker import flicker
from evencast.actions.hung import LEVEL_SLACK_STOPS, Hung, beyond_level, say_level, say_limit
from evencast.actions.match import aim_answer, following, residual_band, tolerance_answer
from evencast.actions.reading import reading, rounded
from evencast.actions.scene import StagedScene
from evencast.quantities import say_stops
from evencast.results.expose import Cure
from evencast.results.exposure import SoftnessAnswer
from evencast.results.plan import PlannedLight
from evencast.solver import count_stacks, evaluate, reason
from evencast.solver.explain import names_of, say_row
from evencast.solver.stacks import Evaluated

DEARER = 0.05
"""An option that costs so much more, in sheets, was taken for the sake of the others."""


def light_answer(
    staged: StagedScene,
    each: Hung,
    seen: Looks,
    *,
    short: tuple[int, ...],
    cures: list[Cure],
    softness: SoftnessAnswer | None,
    likeness: list[str],
) -> PlannedLight:
    """What to do with one light.

    seen  : how it looks as it hangs
    short : filters that ran out
    likeness : what to know of the light that it shall look like
    """
    entry, found, row = each.staged.entry, each.options.found, each.row
    off = each.way.is_off
    filter_stops = each.filter_stops
    return PlannedLight(
        name=entry.name,
        role=entry.role,
        move=each.move,
        dial_k=each.dial_k,
        dim_stops=each.dim_stops,
        swapped_for=each.swapped_for,
        aim=aim_answer(each.aim),
        filters=[sheet.name for sheet in each.filters],
        scrims=each.scrims,
        pieces=each.pieces,
        area_m2=round(each.area_m2, 4),
        minutes=round(each.minutes, 2),
        bare=reading(each.staged.bare),
        filtered=seen.reading,
        residual_mired=None if off else rounded(float(found.residual_mired[row]), 3),
        residual_duv=None if off else rounded(float(found.residual_duv[row]), 6),
        loss_stops=round(filter_stops + each.other_stops, 4) + 0.0,
        filter_stops=round(filter_stops, 4) + 0.0,
        level_stops=None if each.level_stops is None else round(each.level_stops, 4) + 0.0,
        within_tolerance=each.is_inside and not each.is_harmless and each.is_level,
        harmless=each.is_harmless,
        share_within=round(float(found.share_within[row]), 3),
        tolerance=tolerance_answer(entry.role, each.staged.light.allowed),
        band=None if off else residual_band(seen, each.aim),
        reason=_reason(staged, each, short),
        notes=light_notes(each.staged.bare, from_file=entry.spectrum is not None) + likeness,
        cautions=_cautions(staged, each),
        cures=cures,
        softness=softness,
        searched=sum(
            count_stacks(len(staged.filters), each.staged.light.ways[number].layers)
            for number in np.unique(each.options.way)
        ),
    )


def _cautions(staged: StagedScene, each: Hung) -> list[str]:
    """What to mind with the sheets, with the moves, and with the mains."""
    by_move = move_cautions(
        each.lamp,
        swapped=each.way.move == "swap",
        dimmed=each.dim_stops > 0,
        scrims=bool(each.scrims),
    )
    by_sheets = cautions(each.lamp, each.filters, each.filter_stops)
    return by_sheets + by_move + flicker(each.lamp, staged.camera)


def _reason(staged: StagedScene, each: Hung, short: tuple[int, ...]) -> str:
    names = [sheet.name for sheet in staged.filters]
    if each.is_harmless:
        miss = say_row(each.options.found, each.row, names)
        told = (
            f"{miss[0].upper()}{miss[1:]}: off by itself, but what it does to every spot that it "
            "reaches is inside that spot's tolerance. Leave it."
        )
    elif each.way.is_off:
        told = "Switched off: nothing that could be hung was worth its price."
        if each.staged.light.views:
            gone = " and ".join(view.name for view in each.staged.light.views)
            told += f" Then nothing is seen through it either: no {gone}."
    else:
        told = _treated(each) + _by_sheets(staged, each, names)
    told += _for_the_others(staged, each, names, short) + _level(each)
    return f"{told} {WHITE_ALONE}" if each.lamp.lacks_colours and each.filters else told


def _treated(each: Hung) -> str:
    way = each.way
    if way.move == "dial":
        return f"Dialled to {way.setting:.0f} K. "
    if way.move == "dim":
        return f"Dimmed by {say_stops(float(way.setting or 0))}. "
    return f"Swapped for {way.setting}. " if way.move == "swap" else ""


def _by_sheets(staged: StagedScene, each: Hung, names: list[str]) -> str:
    """Why this stack, among those that belong to the same way."""
    options, allowed = each.options, each.staged.light.allowed
    same = np.flatnonzero(options.way == options.way[each.row])
    found, row = options.found.rows(same), int(np.searchsorted(same, each.row))
    order = [int(place) for place in np.argsort(options.cost[same], kind="stable")]
    if not found.within[row] and found.within.any():
        return _outside(each, found, row, order, names)
    rows = [row, *(place for place in order if place != row)]
    fewer = [place for place in order if found.layers[place] < found.layers[row]]
    plainer = (found, fewer[0]) if fewer else None
    after = following(found, rows, plainer, names)
    told = reason(found, row, names=names, tolerance=allowed, plainer=plainer, following=after)
    bare_outside = found.layers[row] == 0 and not found.within[row]
    if each.way.move == "dial" and (found.layers[row] > 0 or bare_outside):
        told += " The light's own tint control, if it has one, may do it without a sheet."
    elif bare_outside:
        told += _nearest(staged, each, names) + (
            " Leave it as a colour in the picture, flag it, switch it off, swap the lamp, or move "
            "the balance towards it."
        )
    return told


def _outside(each: Hung, found: Evaluated, row: int, order: list[int], names: list[str]) -> str:
    """Left outside although a stack reaches it: by its own price, or for the others' sake."""
    told = say_row(found, row, names)
    told = f"{told[0].upper()}{told[1:]}: outside {each.staged.light.allowed.say()}."
    if each.options.cost[each.row] - each.options.cost.min() > DEARER:
        return told
    inside = next(place for place in order if found.within[place])
    best = say_row(found, inside, names)
    return f"{told} {best[0].upper()}{best[1:]}, for more than the weights give for this light."


def _nearest(staged: StagedScene, each: Hung, names: list[str]) -> str:
    """What the nearest of all stacks would still leave, and why it does not hang."""
    if not staged.filters or each.way.layers == 0:
        return ""
    kit, allowed = staged.scene.kit, each.staged.light.allowed
    members = kit.nearest(each.way.power, each.aim.uv)[None]
    found: Evaluated = evaluate(each.way.power, kit.sheets, members, each.aim, allowed)
    told = f" The nearest there is: {say_row(found, 0, names)}"
    limit = each.staged.light.most_loss_stops
    if found.loss_stops[0] > limit:
        return f"{told}, more than the {say_limit(limit)} that sheets may take."
    return f"{told}. Not worth the sheets."


def _for_the_others(
    staged: StagedScene, each: Hung, names: list[str], short: tuple[int, ...]
) -> str:
    """Where it has not its own cheapest: what it gave up, and why."""
    cost, found = each.options.cost, each.options.found
    best = int(np.argmin(cost))
    if cost[each.row] - cost[best] <= DEARER:
        return ""
    alone = names_of(found, best, names)
    way = each.staged.light.ways[each.options.way[best]]
    stack = ", ".join(alone) or ("no sheet" if way.move == "leave" else f"to {way.move}")
    if _is_for_its_level(each, best):
        return f" Its level aside it would take {stack}."
    members = [int(index) for index in found.members[best] if index < len(names)]
    pieces = each.staged.light.pieces
    never = [
        names[index]
        for index in dict.fromkeys(members)
        if not staged.shelves.fits(index, pieces * members.count(index), 0)
    ]
    if never:
        return f" Alone it would take {stack}; the stock does not yield its {_and(never)}."
    here = Counter(names_of(found, each.row, names))
    lacks = Counter(alone) - here
    ran_out = [names[index] for index in short if lacks[names[index]]]
    if ran_out:
        return f" Alone it would take {stack}; there is not enough {_and(ran_out)} for all."
    return f" Alone it would take {stack}; what it is taken with here serves the whole better."


def _is_for_its_level(each: Hung, other: int) -> bool:
    """Whether another option would leave its level further off than what was chosen."""
    if each.level_stops is None:
        return False
    levels = each.options.level_stops
    otherwise = replace(each, level_stops=each.level_stops + levels[other] - levels[each.row])
    return beyond_level(otherwise) > beyond_level(each) + LEVEL_SLACK_STOPS


def _and(names: list[str]) -> str:
    return " and ".join(names)


def _level(each: Hung) -> str:
    taken = []
    if each.scrims:
        taken.append(f"{' and '.join(each.scrims)} in")
    if each.trim.what == "dim":
        taken.append(f"dimmed by {say_stops(each.trim.stops)}")
    told = f" {', '.join(taken)[0].upper()}{', '.join(taken)[1:]}." if taken else ""
    aim = each.staged.light.level
    if each.level_stops is None or aim is None:
        return told
    if aim.only_under and each.level_stops > 1 / 6:
        return f"{told} Its level: enough, with {say_stops(each.level_stops)} to spare."
    return f"{told} Its level: {say_level(each.level_stops)}."
