"""What a set-up records of a light where that is not what is planned for it now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from evencast.actions.compared_light import hangs_words
from evencast.actions.hanging import Hanging
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.results.plan import PlannedLight

SAME_STOPS, SAME_K = 0.05, 0.5
"""Nearer than this two settings are the same: less than the documents round to."""


def otherwise(hangs: Hanging, planned: PlannedLight, light: Light) -> list[str]:
    """A sentence where what was rigged, or else kept as planned, is not what the answer says.

    light : as it stands in the set-up
    """
    if hangs.known_by is None or _same(hangs, planned, light):
        return []
    told = "switched off" if hangs.hung.off else hangs_words(hangs)
    head = "Rigged otherwise" if hangs.known_by == "rigged" else "Kept in the plan otherwise"
    return [f"{head}: {told}."]


def _same(hangs: Hanging, planned: PlannedLight, light: Light) -> bool:
    hung = hangs.hung
    off = planned.move == "switch off"
    if hung.off or off:
        return hung.off == off
    return (
        _sheets(hung.filters, light) == _sheets(planned.filters, light)
        and Counter(hung.scrims) == Counter(planned.scrims)
        and abs((hung.dial_k or 0.0) - (planned.dial_k or 0.0)) < SAME_K
        and abs(hung.dim_stops - planned.dim_stops) < SAME_STOPS
        and folded(hung.swapped_for or "") == folded(planned.swapped_for or "")
    )


def _sheets(names: Iterable[str], light: Light) -> Counter[str]:
    """Sheets whatever their order, without the frost that hangs in any case."""
    frost = {folded(each) for each in light.frost}
    return Counter(folded(each) for each in names if folded(each) not in frost)
