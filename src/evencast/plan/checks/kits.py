"""Rules inside a kit."""

from __future__ import annotations

import math
from collections.abc import Collection

from evencast.errors import Problem
from evencast.plan.checks.say import folded_set, not_built_in, twice
from evencast.plan.kit import Evidence, Kit
from evencast.plan.place import entry, folded, quoted
from evencast.quantities import listed

FRAME = "frame"
"""The kind of evidence that is a test frame."""


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


def check_frames(kit: Kit) -> list[Problem]:
    """A test frame says what it shows; nothing else has a state or a balance; no two frames of a
    filter show the same."""
    found = []
    for number, each in enumerate(kit.filter, start=1):
        shown: set[tuple[str, float]] = set()
        for place, evidence in enumerate(each.evidence, start=1):
            where = f"filter{entry(each.name, number=number)}.evidence{entry('', number=place)}"
            if is_frame(evidence):
                found += _incomplete(evidence, where) or _shown_twice(evidence, where, shown)
            else:
                found += _no_frame(evidence, where)
    return found


def is_frame(evidence: Evidence) -> bool:
    """Whether it is a test frame."""
    return folded(evidence.kind or "") == FRAME


def _incomplete(evidence: Evidence, where: str) -> list[Problem]:
    needed = {"file": evidence.file, "state": evidence.state, "balance_k": evidence.balance_k}
    lacking = [f'"{key}"' for key, value in needed.items() if value is None]
    if not lacking:
        return []
    return [
        Problem(
            "warning",
            where,
            f"the frame is not shown: {listed(lacking)} "
            f"{'is' if len(lacking) == 1 else 'are'} missing",
            'Write file, state = "bare" or "filtered", and balance_k = the kelvin the camera '
            "was set to.",
        )
    ]


def _shown_twice(evidence: Evidence, where: str, shown: set[tuple[str, float]]) -> list[Problem]:
    """A frame of what an earlier one shows; `shown` collects what frames of the filter show."""
    state, balance_k = evidence.state or "", evidence.balance_k or math.nan
    if not state or math.isnan(balance_k):  # written, and wrong in itself
        return []
    if (state, balance_k) not in shown:
        shown.add((state, balance_k))
        return []
    return [
        Problem(
            "warning",
            where,
            f"an earlier frame shows the light {state} at {balance_k:g} K too",
            "Keep one of them; the earlier one is shown.",
        )
    ]


def _no_frame(evidence: Evidence, where: str) -> list[Problem]:
    kept = {"state": evidence.state, "balance_k": evidence.balance_k, "light": evidence.light}
    odd = [f'"{key}"' for key, value in kept.items() if value is not None]
    if not odd:
        return []
    return [
        Problem(
            "warning",
            where,
            f"{listed(odd)} {'belongs' if len(odd) == 1 else 'belong'} to a test frame",
            f'Write kind = "{FRAME}", or take {"it" if len(odd) == 1 else "them"} out.',
        )
    ]
