"""Amps on the circuits of a plan."""

from __future__ import annotations

from typing import Any

import pytest

from evencast.actions.circuits import circuits
from evencast.errors import EvencastError
from evencast.plan.plan import Plan
from evencast.results.expose import CircuitLoad

RING = {"name": "ring", "volts": 230, "breaker_a": 16}


def loads(*lights: dict[str, Any], on: tuple[dict[str, Any], ...] = (RING,)) -> list[CircuitLoad]:
    return circuits(
        Plan.model_validate(
            {
                "format": 1,
                "name": "job",
                "kit": "kit.toml",
                "mains_hz": 50,
                "camera": {"balance": {"fixed_k": 4300}},
                "circuit": list(on),
                "light": [{"role": "key", "cct_k": 3200} | light for light in lights],
            }
        )
    )


def test_every_circuit_counts_its_own_lights() -> None:
    """In the plan's order; one without a light draws nothing, a light on none is on none."""
    hall = {"name": "Hall", "volts": 115, "breaker_a": 10, "margin": 0.5}
    first, second, third = loads(
        {"name": "a", "watts": 460, "circuit": "hall", "kind": "tungsten"},
        {"name": "b", "watts": 920, "circuit": "RING", "kind": "tungsten"},
        {"name": "c", "watts": 2000},
        on=(RING, hall, RING | {"name": "attic"}),
    )
    assert [each.name for each in (first, second, third)] == ["ring", "Hall", "attic"]
    assert [each.lights for each in (first, second, third)] == [["b"], ["a"], []]
    assert [each.load.amps for each in (first, second, third)] == [4.0, 4.0, 0.0]
    assert (first.load.limit_a, second.load.limit_a) == (12.8, 5.0)
    assert (third.load.watts, third.load.fits, third.load.left_a) == (0.0, True, 12.8)
    assert any('"margin" of the circuit changes it' in note for note in first.load.notes)


def test_power_factors_and_plate_amps_count() -> None:
    """575 W at 0.6 are 958 VA; 3.1 A are what the plate says, whatever the volts; twice two."""
    (found,) = loads(
        {"name": "tubes", "watts": 575, "power_factor": 0.6, "circuit": "ring", "count": 2},
        {"name": "lantern", "amps": 3.1, "circuit": "ring", "count": 2},
    )
    assert found.load.amps == pytest.approx(2 * 575 / 0.6 / 230 + 2 * 3.1, abs=1e-4)
    assert found.load.watts is None
    assert "A power factor below 1 draws more amps than its watts say." in found.load.notes


def test_what_draws_nobody_knows_how_much_is_named() -> None:
    """It is not counted, and the rest is."""
    (found,) = loads(
        {"name": "key", "watts": 230, "circuit": "ring", "kind": "tungsten"},
        {"name": "panel", "circuit": "ring"},
        {"name": "hair light", "circuit": "ring"},
    )
    assert (found.lights, found.uncounted) == (
        ["key", "panel", "hair light"],
        ["panel", "hair light"],
    )
    assert found.load.amps == 1.0
    assert found.load.notes[-1] == (
        'Not counted, for neither watts nor amps are written: "panel", "hair light". Read them '
        "off the plates: what is drawn is more than this."
    )


def test_a_power_factor_that_is_guessed_is_told() -> None:
    """Of all but tungsten, also where a built-in light says what it is."""
    lights: tuple[dict[str, Any], ...] = (
        {"name": "Fresnel", "kind": "tungsten"},
        {"name": "panel", "kind": "phosphor LED"},
        {"name": "known", "kind": "phosphor LED", "power_factor": 0.95},
        {"name": "who knows"},
    )
    (found,) = loads(*({"watts": 100, "circuit": "ring"} | each for each in lights))
    assert (
        'Taken with a power factor of 1, for want of another: "panel", "who knows". LED, tubes and '
        "discharge lamps draw more than their watts say."
    ) in found.load.notes


def test_numbers_that_no_set_meets_are_refused() -> None:
    """Before anything is made of them, with the light or the circuit they stand in."""
    for light, circuit, where in (
        ({"count": 10**9, "watts": 1}, {}, 'circuit "ring"'),
        ({"watts": 1e300}, {}, 'light "a"'),
        ({"amps": 1e-300}, {}, 'light "a"'),
        ({"watts": 1}, {"volts": 1e300}, 'circuit "ring"'),
    ):
        with pytest.raises(EvencastError) as caught:
            loads({"name": "a", "circuit": "ring"} | light, on=(RING | circuit,))
        assert caught.value.where == where


def test_a_thousand_loads_are_shared_out_at_once() -> None:
    """Each alone on a circuit of its own, without trying every lower number one by one."""
    (found,) = loads({"name": "a", "watts": 2000, "count": 1000, "circuit": "ring"})
    assert len(found.load.split) == 1000
    assert {each.amps for each in found.load.split} == {round(2000 / 230, 4)}
