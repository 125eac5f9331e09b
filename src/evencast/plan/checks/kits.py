"""Rules inside a kit."""

from __future__ import annotations

from collections.abc import Collection

from evencast.errors import Problem
from evencast.plan.checks.say import folded_set, not_built_in, twice
from evencast.plan.kit import Kit
from evencast.plan.place import entry, folded, quoted


def check_filter_names(kit: Kit) -> list[Problem]:
    """No two filters share a name, whatever its capitals."""
    return [
        Problem(
            "error",
            f"filter {quoted(name)}",
            f"two filters are called {quoted(name)}",
            "Give each its own name, or write one filter with more stock.",
        )
        for name in twice(each.name for each in kit.filter)
    ]


def check_stock_ids(kit: Kit) -> list[Problem]:
    """No two pieces carry one id."""
    ids = [(each.name, stock.id) for each in kit.filter for stock in each.stock if stock.id]
    owner = {folded(stock_id): name for name, stock_id in ids}
    return [
        Problem(
            "error",
            f"filter {quoted(owner[folded(stock_id)])}.stock {quoted(stock_id)}",
            f"{quoted(stock_id)} is the id of another entry of stock too",
            "Give each its own id, or count the pieces of one size in one entry.",
        )
        for stock_id in twice(stock_id for _, stock_id in ids)
    ]


def check_empty_kit(kit: Kit) -> list[Problem]:
    """A kit holds something to put in front of a light."""
    if kit.filter:
        return []
    return [
        Problem(
            "warning",
            "filter",
            "the kit holds no filter: there is nothing to put in front of any light",
            'Add one, as in [[filter]] with name = "full CTB", role = "correction" and '
            'generic = "full CTB".',
        )
    ]


def check_generic_filters(kit: Kit, known_filters: Collection[str]) -> list[Problem]:
    """A generic filter is one that there is."""
    known = folded_set(known_filters)
    return [
        not_built_in(
            f"filter{entry(each.name, number=number)}.generic",
            each.generic,
            known_filters,
            "filter",
        )
        for number, each in enumerate(kit.filter, start=1)
        if each.generic and folded(each.generic) not in known
    ]
