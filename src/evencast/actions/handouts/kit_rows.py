"""Every filter of a kit on the lamp it is meant for, in the numbers of `through`."""

from __future__ import annotations

import math
from collections.abc import Callable

from evencast.actions.doubt import Looks, ends, looks, middle
from evencast.actions.kit import LoadedKit
from evencast.actions.reading import rounded
from evencast.actions.resolve import light
from evencast.filters import Filter
from evencast.handouts.pocket import Fact, FilterRow
from evencast.lights import Light
from evencast.quantities import Floats, say_stops, say_turn

NO_CCT = "none: one of both colours has no colour temperature"

LAMPS = {3200.0: "tungsten 3200 K", 5600.0: "daylight 5600 K"}
"""Lamps that filters are named for, by their Kelvin."""


def kit_rows(kit: LoadedKit) -> list[FilterRow]:
    """Every filter, in the kit's order."""
    lamps = {on_k: lamp_of(on_k) for on_k in {each.on_k for each in kit.filters}}
    return [_row(each, lamps[each.on_k]) for each in kit.filters]


def lamp_of(on_k: float) -> Light:
    """The lamp that stands for a white."""
    return light(LAMPS.get(on_k, f"{on_k:g}K"))


def _row(each: Filter, lamp: Light) -> FilterRow:
    seen = looks(lamp, [each])
    facts = [Fact("On", lamp.name), *_facts(seen)]
    if each.loss_range_stops:
        low, high = (say_stops(end) for end in each.loss_range_stops)
        facts.append(Fact("By beam", f"{low} to {high}: meter it"))
    return FilterRow(each.name, each.role, facts, each.note)


def _facts(seen: Looks) -> list[Fact]:
    if not math.isfinite(middle(seen.loss_stops)):
        return [Fact("Loss", "all of it: nothing passes")]
    between = "" if seen.is_known else "; nine in ten "
    told = [
        ("Shift", _told(seen.shift_mired, 3, say_turn, between)),
        ("Duv shift", _told(seen.shift_duv, 6, _duv, between)),
        ("Loss", _told(seen.loss_stops, 4, _loss, between)),
    ]
    return [Fact(name, text or NO_CCT) for name, text in told]


def _told(values: Floats, digits: int, say: Callable[[float], str], between: str) -> str:
    """The middle of what it may do, and what nine in ten of it lie between; "" without a middle."""
    found = rounded(middle(values), digits)
    if found is None:
        return ""
    if not between:
        return say(found)
    low, high = ("none" if end is None else say(end) for end in ends(values, digits))
    number, _, words = low.partition(" ")
    if words == high.partition(" ")[2]:  # the same words once are enough
        low = number
    return f"{say(found)}{between}{low} to {high}"


def _duv(duv: float) -> str:
    """A Duv shift in numbers and words: "+0.0012 greener"."""
    if abs(duv) < 0.00005:
        return "0"
    return f"{duv:+.4f} {'greener' if duv > 0 else 'more magenta'}"


def _loss(stops: float) -> str:
    """Thirds and decimals: "1 2/3 stop (1.65)"."""
    return f"{say_stops(stops)} ({stops:.2f})"
