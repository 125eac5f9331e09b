"""`pack`: the fewest sheets of a kit for the lights an unknown place is likely to have."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evencast.actions import resolve
from evencast.actions.cautions import cautions
from evencast.actions.doubt import light_notes
from evencast.actions.kit import LoadedKit, every_generic, load_kit
from evencast.actions.match import aim_answer, find, tolerance_answer
from evencast.actions.reading import rounded
from evencast.actions.scene import MOST_LOSS_STOPS
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed, LightRole
from evencast.results.pack import Fewest, PackAnswer, PackedSheet, Pair, Served, Unreached
from evencast.solver import Aim, Evaluated, count_stacks
from evencast.solver.best import Ints
from evencast.solver.cover import cover, serves
from evencast.solver.reach import copies_of, plainest

LIKELY_LIGHTS = (
    *("tungsten 3200 K", "filament bulb", "LED phosphor 2700 K B1", "LED phosphor 3000 K B2"),
    *("LED phosphor 4100 K B3", "warm white tube FL4", "cool white tube FL2"),
    *("daylight tube FL1", "three-band tube FL11", "daylight D55", "daylight D65", "daylight D75"),
)
"""What may be met in rooms nobody has seen: lamps brought along, bulbs, office tubes, and windows
under sun, cloud and open shade. Our own list; common practice, no source."""

GENERIC = "generic"
"""Stands for a kit of every generic filter."""

BORROWED_LAYERS = 2
"""More sheets than these are no hint of what to borrow."""

OWN_LIST = (
    "The lights are our own list of what may be met (common practice, no source). Name yours "
    "behind the kit as soon as somebody has seen the place."
)
NO_TASTE = (
    "Counted is what corrects: frost, ND and effect colours go by taste and level, so pack those "
    "you use. One copy is one piece in front of one light at a time; further lights and spares "
    "come on top."
)
GAPPED = (
    "flag it, frame it out, or keep it as a colour and match your own lamps to its white: parts "
    "of its spectrum are missing, which no sheet puts back"
)
OTHER_WAYS = {
    "household": "swap the bulb, switch it off, or keep it as a colour in the picture",
    "tube": "swap the tubes, switch them off, or balance for them and correct the others",
    "panel": "dial it or use its own tint control if it has them; else swap it or switch it off",
    "street": "flag it, frame it out, or keep it as a colour in the picture",
    "window": "balance for the window, wait for other light, or curtain it off",
    "fixture": "use another lamp, or balance nearer to this one",
}
ANY_OTHER_WAY = "swap it, switch it off, balance nearer to it, or keep it as a colour"


@dataclass(frozen=True, slots=True, eq=False)
class _Case:
    """One light at one balance.

    found  : the plainest stacks of the whole kit that reach it
    copies : (n, filters) of each filter that they take
    """

    light: Light
    aim: Aim
    found: Evaluated
    copies: Ints

    @property
    def is_reached(self) -> bool:
        """Whether the whole kit reaches it."""
        return len(self.copies) > 0

    @property
    def pair(self) -> Pair:
        """Its names."""
        return Pair(self.light.name, self.aim.label)


@dataclass(frozen=True, slots=True, eq=False)
class _Task:
    """What is asked: a kit's sheets, without those it has no piece of, for a role.

    at_hand : pieces by filter, of those that the kit counts
    """

    kit: LoadedKit
    at_hand: dict[str, int]
    role: LightRole
    layers: int

    @property
    def filters(self) -> list[Filter]:
        """Those that may be packed."""
        return [each for each in self.kit.searched() if self.at_hand.get(each.name) != 0]

    @property
    def allowed(self) -> Allowed:
        """The tolerance."""
        return DEFAULT_ALLOWED[self.role]


def pack(
    kit_text: str,
    light_texts: Sequence[str],
    *,
    balances: Sequence[str],
    role: LightRole,
    layers: int,
) -> PackAnswer:
    """The fewest sheets that reach every light at every balance which the whole kit reaches.

    kit_text    : a kit document, or "generic" for every generic filter
    light_texts : as `match` takes them; none for LIKELY_LIGHTS
    balances    : the camera's, at least one
    """
    is_generic = kit_text.casefold() == GENERIC
    kit = every_generic() if is_generic else load_kit(Path(kit_text))
    task = _Task(kit, _at_hand(kit), role, layers)
    by_text = {text: resolve.light(text) for text in light_texts or LIKELY_LIGHTS}
    lights = list({each.name: each for each in by_text.values()}.values())
    aims = list({each.uv.tobytes(): each for each in map(resolve.balance_aim, balances)}.values())
    cases = _cases(lights, aims, task)
    reached = [each for each in cases if each.is_reached]
    packed = cover(
        [each.copies for each in reached],
        [each.found.loss_stops for each in reached],
        items=len(task.filters),
    )
    return PackAnswer(
        kit=kit.name,
        tolerance=tolerance_answer(role, task.allowed),
        lights=[each.name for each in lights],
        assumed_lights=not light_texts,
        balances=[aim_answer(each) for each in aims],
        sheets=_sheets(packed.copies, reached, task),
        served=[_served(each, row, task) for each, row in zip(reached, packed.chosen, strict=True)],
        unreached=[
            _unreached(each, reached, task, may_borrow=not is_generic)
            for each in cases
            if not each.is_reached
        ],
        left_out=_left_out(packed.copies, task),
        proven=Fewest(int(packed.copies.sum()), packed.bound, round(packed.gap, 4), layers),
        searched=count_stacks(len(task.filters), layers),
        notes=_notes(by_text, task, assumed=not light_texts),
        problems=list(kit.problems),
    )


def _at_hand(kit: LoadedKit) -> dict[str, int]:
    """Pieces by filter, of those that the kit counts."""
    entries = kit.document.filter if kit.document else ()
    return {each.name: sum(piece.count for piece in each.stock) for each in entries if each.stock}


def _cases(lights: Sequence[Light], aims: Sequence[Aim], task: _Task) -> list[_Case]:
    found = plainest(
        lights,
        task.filters,
        aims,
        task.allowed,
        layers=task.layers,
        most_loss_stops=MOST_LOSS_STOPS,
    )
    return [
        _Case(light, aim, reached, copies_of(reached.members, len(task.filters)))
        for light, of_light in zip(lights, found, strict=True)
        for aim, reached in zip(aims, of_light, strict=True)
    ]


def _sheets(copies: Ints, reached: Sequence[_Case], task: _Task) -> list[PackedSheet]:
    """Each filter that is packed, with what it is needed for."""

    def lost(item: int, left: int) -> list[Pair]:
        fewer = copies.copy()
        fewer[item] = left
        return [each.pair for each in reached if not serves(each.copies, fewer)]

    sheets = []
    for item in np.flatnonzero(copies):
        name, count = task.filters[item].name, int(copies[item])
        without, one_fewer = lost(int(item), 0), lost(int(item), count - 1)
        at_hand = task.at_hand.get(name)
        reason = f"needed for {_say_pairs(without)}"
        if one_fewer == without and count > 1:
            reason = f"{count} at a time {reason}"
        elif count > 1:
            reason += f"; {count} at a time for {_say_pairs(one_fewer)}"
        if at_hand is not None and at_hand < count:
            reason += f"; the kit counts {at_hand}: cut it"
        sheets.append(PackedSheet(name, count, at_hand, without, one_fewer, reason))
    return sheets


def _say_pairs(pairs: Sequence[Pair]) -> str:
    """Each light with its balances: "FL2 at 3200K and 4300K; D65 at 3200K"."""
    of: dict[str, list[str]] = {}
    for each in pairs:
        of.setdefault(each.light, []).append(each.balance)
    told = []
    for light, (*first, last) in of.items():
        told.append(f"{light} at {', '.join(first)} and {last}" if first else f"{light} at {last}")
    return "; ".join(told)


def _served(case: _Case, row: int, task: _Task) -> Served:
    found = case.found
    sheets = [each for each in found.members[row] if each < len(task.filters)]
    stack = [task.filters[each] for each in sheets]
    loss_stops = float(found.loss_stops[row])
    return Served(
        light=case.light.name,
        balance=case.aim.label,
        filters=[each.name for each in stack],
        residual_mired=rounded(float(found.residual_mired[row]), 3),
        residual_duv=rounded(float(found.residual_duv[row]), 6),
        loss_stops=round(loss_stops, 4) + 0.0,
        share_within=round(float(found.share_within[row]), 3),
        cautions=cautions(case.light, stack, loss_stops),
    )


def _unreached(
    case: _Case, reached: Sequence[_Case], task: _Task, *, may_borrow: bool
) -> Unreached:
    kit = replace(task.kit, filters=tuple(task.filters))
    nearest = find(
        case.light,
        kit,
        case.aim,
        task.allowed,
        layers=task.layers,
        most_loss_stops=MOST_LOSS_STOPS,
    )
    row, best = nearest.rows[0], nearest.search.best
    light = case.light
    stack = _with_generic(case, task) if may_borrow else []
    own = {each.name for each in task.filters}
    return Unreached(
        light=light.name,
        balance=case.aim.label,
        nearest=[each.name for each in nearest.stack(row)],
        residual_mired=rounded(float(best.residual_mired[row]), 3),
        residual_duv=rounded(float(best.residual_duv[row]), 6),
        borrow=[each.name for each in stack if each.name not in own],
        beside=[each.name for each in stack if each.name in own],
        reached_at=[each.aim.label for each in reached if each.light is light],
        instead=GAPPED if light.lacks_colours else OTHER_WAYS.get(light.fitting, ANY_OTHER_WAY),
    )


def _with_generic(case: _Case, task: _Task) -> list[Filter]:
    """Of stacks of the kit's and of generic filters that reach it, one of fewest sheets, of these
    the brightest; nothing where there is none."""
    own = task.filters
    known = {each.name.casefold() for each in task.kit.filters}
    others = [each for each in every_generic().searched() if each.name.casefold() not in known]
    ((found,),) = plainest(
        [case.light],
        [*own, *others],
        [case.aim],
        task.allowed,
        layers=min(task.layers, BORROWED_LAYERS),
        most_loss_stops=MOST_LOSS_STOPS,
    )
    if not len(found.members):
        return []
    best = found.members[np.lexsort((found.loss_stops, found.layers))[0]]
    return [[*own, *others][each] for each in best if each < len(own) + len(others)]


def _left_out(copies: Ints, task: _Task) -> list[str]:
    """Filters that correct and are not needed; ND goes by level."""
    return [
        each.name
        for each, count in zip(task.filters, copies, strict=True)
        if not count and each.role != "ND"
    ]


def _notes(by_text: Mapping[str, Light], task: _Task, *, assumed: bool) -> list[str]:
    used_up = [name for name, pieces in task.at_hand.items() if not pieces]
    return [
        *([OWN_LIST] if assumed else []),
        NO_TASTE,
        *([f"The kit counts no piece of {', '.join(used_up)}: not packed."] if used_up else []),
        *(
            note
            for text, light in by_text.items()
            for note in light_notes(light, from_file=resolve.is_path(text))
        ),
    ]
