"""What a set-up records of a light where that is not what is planned for it now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from evencast.actions.compared_light import hung_words
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.plan.setup import Hung, Rigged, SetupLight
from evencast.plan.setups import hung_on
from evencast.results.plan import PlannedLight

SAME_STOPS, SAME_K = 0.05, 0.5
"""Nearer than this two settings are the same: less than the documents round to."""


def otherwise(said: SetupLight | None, planned: PlannedLight, light: Light) -> list[str]:
    """A sentence where what was rigged, or else kept as planned, is not what the answer says.

    said  : what the set-up says of the light; its sheets need not be in the kit
    light : as it stands in the set-up
    """
    hung = hung_on(said)
    if hung is None or _same(hung, planned, light):
        return []
    rigged = isinstance(hung, Rigged)
    head = "Rigged otherwise" if rigged else "Kept in the plan otherwise"
    return [f"{head}: {_words(hung, light)}."]


def _words(hung: Hung, light: Light) -> str:
    if hung.off:
        return "switched off"
    stands_mm = (hung.distance_mm if isinstance(hung, Rigged) else None) or light.distance_mm
    named = {folded(each) for each in hung.filters}
    frost = [each for each in light.frost if folded(each) not in named]
    distance_m = None if stands_mm is None else stands_mm / 1000.0
    return hung_words(hung, [*hung.filters, *frost], distance_m)


def _same(hung: Hung, planned: PlannedLight, light: Light) -> bool:
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
