from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evencast.actions.kit import LoadedKit
from evencast.actions.match import find
from evencast.colour import white_uv
from evencast.filters import Filter, generic, generic_names
from evencast.lights import Light, builtin, light_of
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import Floats
from evencast.solver import Aim, Evaluated, aim_at_uv, many_aims
from evencast.solver.many_aims import best_at_each

AIMS = [aim_at_uv(f"{k}K", white_uv(k)) for k in (2800.0, 3200.0, 4350.0, 5600.0, 6500.0)]
ALLOWED = DEFAULT_ALLOWED["fill"]
SHEETS = [
    generic(name) for name in generic_names() if generic(name).role in ("correction", "green")
]
KNOWN = [replace(each, possible=None, measured=True) for each in SHEETS]


def best(light: Light, filters: list[Filter], **limits: float) -> list[Evaluated]:
    return best_at_each(
        AIMS,
        ALLOWED,
        light=light.power,
        light_members=light.members,
        sheets=transmittances(filters),
        sheet_members=[each.members for each in filters],
        layers=2,
        most=5,
        **limits,
    )


def transmittances(filters: list[Filter]) -> Floats:
    return np.array([each.transmittance for each in filters]).reshape(-1, 81)


def one_by_one(light: Light, filters: list[Filter], aim: Aim, **limits: float) -> Evaluated:
    """What `match` finds for that aim alone."""
    found = find(light, LoadedKit("k", tuple(filters)), aim, ALLOWED, layers=2, **limits)
    return found.search.best.rows(np.array(found.rows[:5]))


def assert_alike(found: list[Evaluated], expected: list[Evaluated]) -> None:
    for one, other in zip(found, expected, strict=True):
        np.testing.assert_array_equal(one.members, other.members)
        np.testing.assert_allclose(one.residual_mired, other.residual_mired, rtol=0, atol=1e-9)
        np.testing.assert_allclose(one.loss_stops, other.loss_stops, rtol=0, atol=1e-12)
        np.testing.assert_array_equal(one.within, other.within)
        np.testing.assert_array_equal(one.share_within, other.share_within)


@pytest.mark.parametrize("lamp", ["tungsten 3200 K", "FL2", "daylight D65", "FL5"])
@pytest.mark.parametrize("filters", [SHEETS, KNOWN], ids=["by series", "measured"])
def test_every_aim_gets_what_its_own_search_finds(lamp: str, filters: list[Filter]) -> None:
    light = builtin(lamp)
    assert_alike(best(light, filters), [one_by_one(light, filters, aim) for aim in AIMS])


def test_also_for_a_light_known_by_a_reading() -> None:
    light = light_of("5400K+0.0065", kind="unknown")
    assert len(light.members) > 1
    assert_alike(best(light, KNOWN), [one_by_one(light, KNOWN, aim) for aim in AIMS])


def test_also_where_only_some_aims_are_worked_out_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    light = builtin("FL2")
    at_once = best(light, SHEETS)
    monkeypatch.setattr(many_aims, "FEW_STACKS", 0)
    monkeypatch.setattr(many_aims, "_AIMS_AT_ONCE", 2)
    assert_alike(best(light, SHEETS), at_once)


def test_what_loses_too_much_is_left_out() -> None:
    light = builtin("tungsten 3200 K")
    found = best(light, SHEETS, most_loss_stops=1.0)
    assert_alike(found, [one_by_one(light, SHEETS, aim, most_loss_stops=1.0) for aim in AIMS])
    assert max(float(each.loss_stops.max()) for each in found) <= 1.0 + 1e-2
    assert max(float(each.loss_stops.max()) for each in best(light, SHEETS)) > 1.5


def test_without_sheets_there_is_the_bare_light_alone() -> None:
    for each in best(builtin("FL2"), []):
        assert each.layers.tolist() == [0]


def test_no_aims_find_nothing() -> None:
    light = builtin("FL2")
    assert (
        best_at_each(
            [],
            ALLOWED,
            light=light.power,
            light_members=light.members,
            sheets=transmittances(SHEETS),
            sheet_members=[each.members for each in SHEETS],
            layers=2,
            most=3,
        )
        == []
    )
