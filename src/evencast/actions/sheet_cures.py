"""Less in front of a light: what a sheet gives back that is weaker or left out, and what colour
that leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from evencast.actions.doubt import looks, middle
from evencast.actions.standing import MET_STOPS, Stands, cure
from evencast.colour import uv
from evencast.filters import Filter
from evencast.lights import Light
from evencast.quantities import Floats, say_left, say_stops
from evencast.results.expose import Cure, Range

if TYPE_CHECKING:
    from evencast.solver.aim import Aim

SAME_WAY = 0.2
"""A weaker sheet of a colour moves the light the same way: no more than this share aside."""
WEAKER = (0.05, 0.95)
"""And that share of the way."""


def sheet_cures(short: Range, stands: Stands, at_hand: Sequence[Filter]) -> list[Cure]:
    """For each sheet that hangs: the next weaker at hand, the first that is enough, and none.

    short : stops missing at least and at most
    """
    found: list[Cure] = []
    for place, each in enumerate(stands.filters):
        if each.name in {earlier.name for earlier in stands.filters[:place]}:
            continue
        before, after = stands.filters[:place], stands.filters[place + 1 :]
        weaker = [
            _instead(f"{other.name} for {each.name}", [*before, other, *after], stands, short)
            for other in at_hand
            if _is_weaker(other, each, stands.light)
        ]
        gaining = sorted(
            (one for one in weaker if one and one.gain_stops[0] >= MET_STOPS),
            key=lambda one: one.gain_stops[0],
        )
        enough = next((one for one in gaining if one.enough), None)
        found += dict.fromkeys(one for one in (*gaining[:1], enough) if one)
        without = _instead(f"Without {each.name}", [*before, *after], stands, short)
        found += [without] if without else []
    return found


def left_over(mired: Floats, duv: Floats, aim: Aim) -> str:
    """A colour beside its aim, in words: the middle of what it may be. [(MEMBERS or 1,)]"""
    with np.errstate(invalid="ignore"):
        said = say_left(middle(np.asarray(mired - aim.mired)), middle(np.asarray(duv - aim.duv)))
    return "still as wanted" if said == "0 mired" else said


def _is_weaker(other: Filter, sheet: Filter, light: Light) -> bool:
    """Whether a filter does less of the same on this light; of ND, whether it is another."""
    if other.role != sheet.role or other.name == sheet.name:
        return False
    if sheet.role == "ND":
        return True
    bare = uv(light.power)
    wanted, done = (uv(light.power * each.transmittance) - bare for each in (sheet, other))
    length = float(np.hypot(*wanted))
    if not length > 0:
        return False
    along = float(wanted @ done) / length**2
    aside = float(np.hypot(*(done - along * wanted)))
    return WEAKER[0] <= along <= WEAKER[1] and aside <= SAME_WAY * along * length


def _instead(words: str, filters: Sequence[Filter], stands: Stands, short: Range) -> Cure | None:
    """What other sheets in place of those that hang give back; None where nothing is known."""
    whole = middle(looks(stands.light, stands.filters).loss_stops)
    through = looks(stands.light, filters)
    gain = round(whole - middle(through.loss_stops), 4)
    if not math.isfinite(gain):
        return None
    colour = "its colour is gone" if not filters else "its colour is another"
    if stands.aim is not None:
        colour = f"it is {left_over(through.filtered.mired, through.filtered.duv, stands.aim)}"
    return cure(f"{words}: {say_stops(gain)}, and {colour}", (gain, gain), short)
