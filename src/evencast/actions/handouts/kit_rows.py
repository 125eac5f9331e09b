"""Every filter of a kit on the lamp it is meant for, in the numbers of `through`."""

from __future__ import annotations

from collections.abc import Callable

from evencast.actions.card.numbers import Numbers, lamp_of, numbers
from evencast.actions.card.words import told
from evencast.actions.doubt import ends, middle
from evencast.actions.kit import LoadedKit
from evencast.actions.reading import rounded
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.handouts.pocket import Fact, FilterRow
from evencast.quantities import Floats, say_loss, say_stops, say_turn

NO_CCT = "none: one of both colours has no colour temperature"

Say = Callable[[float], str]

BALANCES_K = (3200.0, 5600.0)
"""What a filter is for is told by these."""


def kit_rows(kit: LoadedKit) -> list[FilterRow]:
    """Every filter, in the kit's order."""
    return [_row(each) for each in kit.filters]


def _row(each: Filter) -> FilterRow:
    lamp = lamp_of(each)
    try:
        found = numbers(lamp, each)
    except EvencastError as error:
        return FilterRow(each.name, each.role, "", [Fact("Loss", f"all of it: {error.what}")], "")
    facts = [Fact("On", lamp.name), *_facts(found)]
    if each.loss_range_stops:
        low, high = (say_stops(end) for end in each.loss_range_stops)
        facts.append(Fact("By beam", f"{low} to {high}: meter it"))
    purpose = told(found, BALANCES_K).purpose
    return FilterRow(each.name, each.role, purpose, facts, each.note if each.measured else "")


def _facts(found: Numbers) -> list[Fact]:
    seen = found.seen
    between = "" if seen.is_known else "; nine in ten "
    said = [
        ("Shift", _told(seen.shift_mired, 3, say_turn, say_turn, between)),
        ("Duv shift", _told(seen.shift_duv, 6, _duv, _duv, between)),
        ("Loss", _told(seen.loss_stops, 4, say_loss, _stops, between)),
    ]
    return [Fact(name, text or NO_CCT) for name, text in said]


def _told(values: Floats, digits: int, say: Say, say_end: Say, between: str) -> str:
    """The middle of what it may do, and what nine in ten of it lie between; "" without a middle."""
    found = rounded(middle(values), digits)
    if found is None:
        return ""
    if not between:
        return say(found)
    low, high = ("none" if end is None else say_end(end) for end in ends(values, digits))
    number, _, words = low.partition(" ")
    if words == high.partition(" ")[2]:  # the same words once are enough
        low = number
    return f"{say(found)}{between}{low} to {high}"


def _duv(duv: float) -> str:
    """A Duv shift in numbers and words: "+0.0012 greener"."""
    if abs(duv) < 0.00005:
        return "0"
    return f"{duv:+.4f} {'greener' if duv > 0 else 'more magenta'}"


def _stops(stops: float) -> str:
    return f"{stops:.2f} stop"
