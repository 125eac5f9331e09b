"""A view through a window: how far over the shot it is, how far over it may be, and its ND."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from evencast.actions.cautions import WINDOW
from evencast.actions.cures import plan_cures
from evencast.actions.doubt import Looks, looks, middle
from evencast.actions.exposures import THE_SHOT
from evencast.actions.levels import BareLevel, over_shot
from evencast.actions.reading import rounded
from evencast.actions.standing import Around, Stands
from evencast.actions.taking import Taking
from evencast.colour import low_middle_high
from evencast.filters import Filter, generic
from evencast.lights import Light
from evencast.lights.level import in_reach
from evencast.plan.tolerance import Allowed
from evencast.quantities import say_left, say_stops
from evencast.results.expose import Cure, Range
from evencast.results.exposure import NdChoice, Triple, ViewAnswer
from evencast.solver.aim import Aim

SOLD_ND = ("ND 0.3", "ND 0.6", "ND 0.9", "ND 1.2")
LOOKED_AT = 4
"""So many of the likeliest ND stacks are looked at through everything that the sheets may be."""

WINDOW_ND = (
    "Window ND is not quite neutral and takes 1/10 to 1/4 stop more than it says (from memory, "
    "unchecked): hang it, read again."
)
NOT_JUDGED = (
    "How far over it may be is not said: write aim = { stops = 2 }. One to three stops over looks "
    "natural (common practice, no source)."
)


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """What is seen through a window.

    light   : its colour
    bare    : its level by a reflected reading, with nothing in its way
    filters : the sheets in its way: those on the panes of the window that it is behind, and its
              own
    aim     : the colour it shall have
    aim_stops : how far over the shot it shall be; None where that is not judged
    allowed : how far it may be from both
    """

    name: str
    light: Light
    bare: BareLevel
    filters: Sequence[Filter]
    aim: Aim
    aim_stops: float | None
    allowed: Allowed


def view_answer(
    view: View, *, camera: Taking, shot_f_number: float, at_hand: Sequence[Filter]
) -> ViewAnswer:
    """A view against the stop the camera is set to.

    at_hand : filters of the kit, ND among them or not
    """
    bare_over = over_shot(view.bare.level, camera, shot_f_number)
    seen = looks(view.light, view.filters)
    over = _over(view, bare_over, seen)
    left = _left(seen, view.aim)
    nd = [] if view.aim_stops is None else _nd(view, bare_over, view.aim_stops, at_hand)
    may_be = within = None
    if view.aim_stops is not None:
        stops = view.allowed.stops
        may_be = (view.aim_stops - stops, view.aim_stops + stops)
        within = abs(over[1] - view.aim_stops) <= stops
    hung = any(each.nd for each in nd)
    return ViewAnswer(
        name=view.name,
        bare_over_stops=(round(bare_over[0], 4) + 0.0, round(bare_over[1], 4) + 0.0),
        filters=[each.name for each in view.filters],
        over_stops=over,
        may_be_stops=may_be,
        within_tolerance=within,
        residual_mired=left[0],
        residual_duv=left[1],
        nd=nd,
        cures=_cures(view, over, nd, camera, at_hand),
        notes=[*view.bare.notes, *([NOT_JUDGED] if may_be is None else [])]
        + ([WINDOW_ND] if hung else []),
        cautions=[WINDOW] if view.filters or hung else [],
    )


def _over(view: View, bare_over: Range, seen: Looks) -> Triple:
    """Over the shot behind sheets and frost: least, middle and most. [stop]"""
    least, most = view.bare.frost_stops
    low, centre, high = (in_reach(float(each)) for each in low_middle_high(seen.loss_stops))
    return (
        round(bare_over[0] - high - most, 4) + 0.0,
        round(sum(bare_over) / 2.0 - centre - (least + most) / 2.0, 4) + 0.0,
        round(bare_over[1] - low - least, 4) + 0.0,
    )


def _left(seen: Looks, aim: Aim) -> tuple[float | None, float | None]:
    """Mired and Duv minus the aim, the middle of what they may be."""
    with np.errstate(invalid="ignore"):
        mired, duv = seen.filtered.mired - aim.mired, seen.filtered.duv - aim.duv
    return rounded(middle(np.asarray(mired)), 3), rounded(middle(np.asarray(duv)), 6)


def _nd(
    view: View, bare_over: Range, aim_stops: float, at_hand: Sequence[Filter]
) -> list[NdChoice]:
    """The ND it needs with the sheets in its way, and without any."""
    stacks = [list(view.filters), []] if view.filters else [[]]
    return [_choice(view, bare_over, aim_stops, stack, at_hand) for stack in stacks]


def _choice(
    view: View,
    bare_over: Range,
    aim_stops: float,
    filters: Sequence[Filter],
    at_hand: Sequence[Filter],
) -> NdChoice:
    """The fewest ND sheets that bring it inside its tolerance, or else as near as they can: of
    the kit where they can, else of those that are sold."""
    over = _over(view, bare_over, looks(view.light, filters))
    needed_stops = max(over[1] - aim_stops, 0.0)
    own = [each for each in at_hand if each.role == "ND"]
    kinds = ((own, True), ([generic(name) for name in SOLD_ND], False))
    ways = [(nd, is_own) for sheets, is_own in kinds for nd in _up_to_two(sheets)]
    alone = {id(each): _loss_alone(view.light, each) for sheets, _ in kinds for each in sheets}

    def rank(over_stops: float, nd: Sequence[object], is_own: bool) -> tuple[float, ...]:
        off = abs(over_stops - aim_stops)
        within = off <= view.allowed.stops
        return (not within, within and not is_own, len(nd) if within else 0, off, not is_own)

    likely = sorted(
        ways, key=lambda way: rank(over[1] - sum(alone[id(each)] for each in way[0]), *way)
    )
    found = [
        _with_nd(view, bare_over, aim_stops, filters, nd, needed_stops=needed_stops, at_hand=is_own)
        for nd, is_own in likely[:LOOKED_AT]
    ]
    return min(found, key=lambda each: rank(each.over_stops[1], each.nd, each.at_hand))


def _loss_alone(light: Light, sheet: Filter) -> float:
    """What one sheet takes, the middle of what it may. [stop]"""
    return in_reach(float(low_middle_high(looks(light, [sheet]).loss_stops)[1]))


def _up_to_two(kinds: Sequence[Filter]) -> list[list[Filter]]:
    pairs = [[one, two] for place, one in enumerate(kinds) for two in kinds[place:]]
    return [[], *([each] for each in kinds), *pairs]


def _with_nd(
    view: View,
    bare_over: Range,
    aim_stops: float,
    filters: Sequence[Filter],
    nd: Sequence[Filter],
    *,
    needed_stops: float,
    at_hand: bool,
) -> NdChoice:
    """How the view looks through its sheets and so much ND."""
    seen = looks(view.light, [*filters, *nd])
    over, left = _over(view, bare_over, seen), _left(seen, view.aim)
    return NdChoice(
        filters=[each.name for each in filters],
        nd=[each.name for each in nd],
        needed_stops=round(needed_stops, 4),
        needed_density=round(needed_stops * math.log10(2.0), 4),
        at_hand=at_hand,
        over_stops=over,
        residual_mired=left[0],
        residual_duv=left[1],
        within_tolerance=abs(over[1] - aim_stops) <= view.allowed.stops,
        text=_said(
            [*filters, *nd],
            over[1],
            left,
            alone=bool(nd and view.filters and not filters),
            at_hand=at_hand,
        ),
    )


def _said(
    sheets: Sequence[Filter],
    over_stops: float,
    left: tuple[float | None, float | None],
    *,
    alone: bool,
    at_hand: bool,
) -> str:
    """In words: "full CTO + ND 0.6: 2 stops over the shot, 3 mired warm, a trace green"."""
    names = " + ".join(each.name for each in sheets) or "No sheet"
    names += " alone" if alone else ""
    how = f"{say_over(over_stops)}, {say_left(*left)}"
    return f"{names}: {how}" + ("" if at_hand else "; not all of it is in the kit")


def say_over(stops: float) -> str:
    """A level against the shot in words: "2 stops over the shot"."""
    said = say_stops(stops)
    if said == "no stop":
        return f"as bright as {THE_SHOT}"
    return f"{said} {'over' if stops > 0 else 'under'} {THE_SHOT}"


def _cures(
    view: View, over: Triple, nd: Sequence[NdChoice], camera: Taking, at_hand: Sequence[Filter]
) -> list[Cure]:
    """Ways to where it may be, cheapest first; none where it is there."""
    if view.aim_stops is None or abs(over[1] - view.aim_stops) <= view.allowed.stops:
        return []
    gap = (view.aim_stops - over[2], view.aim_stops - over[0])
    if over[1] < view.aim_stops:
        stands = Stands(
            replace(view.light, fitting="window"),
            filters=view.filters,
            frost_stops=view.bare.frost_stops,
            aim=view.aim,
        )
        around = Around(against=THE_SHOT, at_hand=at_hand)
        return plan_cures(gap, stands, around, camera=camera)
    told = say_stops(over[1] - view.aim_stops)
    whole = (round(gap[0], 4), round(min(gap[1], 0.0), 4))
    wait = f"Wait until it has fallen by {told}: dusk, cloud or shade; then read its colour again"
    inside = f"Inside {told} more on every light, and the lens closed by as much"
    hung = [each for each in nd if each.nd]
    taken = [round(each.over_stops[1] - over[1], 4) for each in hung]
    return [
        Cure(wait, whole, True),
        Cure(inside, whole, True),
        *(
            Cure(each.text, (stops, stops), each.within_tolerance)
            for each, stops in zip(hung, taken, strict=True)
        ),
    ]
