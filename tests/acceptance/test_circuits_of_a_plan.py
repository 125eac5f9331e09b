"""The worked case of amps on a circuit, as a plan: taught arithmetic, A = W / V.

Two lamps of 650 W, two of 100 W and one of 200 W. 80 % of the breaker for hours is common
practice, no source.
"""

from __future__ import annotations

import pytest

from evencast.actions.circuits import circuits
from evencast.plan.document import read_plan
from evencast.results.expose import CircuitLoad

PLAN = """format = 1
name = "five lamps"
kit = "kit.toml"
mains_hz = 60

[camera]
balance = {{ fixed_k = 3200 }}

[[circuit]]
name = "kitchen ring"
volts = {volts}
breaker_a = {breaker_a}
margin = {margin}

[[light]]
name = "key"
role = "key"
builtin = "tungsten 3200 K"
watts = 650
count = 2
circuit = "Kitchen ring"

[[light]]
name = "bulbs"
role = "practical"
builtin = "filament bulb"
watts = 100
count = 2
circuit = "kitchen ring"

[[light]]
name = "hair light"
role = "other"
builtin = "tungsten 3200 K"
watts = 200
circuit = "kitchen ring"
"""


def ring(volts: float, breaker_a: float, margin: float = 0.8) -> CircuitLoad:
    text = PLAN.format(volts=volts, breaker_a=breaker_a, margin=margin)
    document, problems = read_plan(text, where="plan.toml")
    assert problems == []
    assert document is not None
    (found,) = circuits(document.model)
    return found


def test_too_much_for_15_a_and_how_to_split_it() -> None:
    """1700 W at 120 V are 14.2 A, 80 % of 15 A is 12 A; 850 W on either of two circuits is 7.1."""
    found = ring(120, 15)
    assert found.name == "kitchen ring"
    assert found.lights == ["key", "bulbs", "hair light"]
    assert found.uncounted == []
    assert found.load.watts == 1700
    assert found.load.amps == pytest.approx(1700 / 120, abs=1e-4)
    assert (found.load.limit_a, found.load.fits) == (12.0, False)
    assert [each.loads for each in found.load.split] == [
        ["key 1 of 2", "hair light"],
        ["key 2 of 2", "bulbs 1 of 2", "bulbs 2 of 2"],
    ]
    assert [each.amps for each in found.load.split] == pytest.approx([850 / 120] * 2, abs=1e-4)


def test_20_a_holds_with_1_8_a_left() -> None:
    """80 % of 20 A is 16 A."""
    load = ring(120, 20).load
    assert (load.fits, load.limit_a, load.split) == (True, 16.0, [])
    assert load.left_a == pytest.approx(1.8, abs=0.05)


def test_at_230_v_it_is_within_a_13_a_plug() -> None:
    """7.4 A, and the caution that extension and block have limits of their own."""
    load = ring(230, 13, margin=1).load
    assert load.amps == pytest.approx(7.4, abs=0.05)
    assert load.fits
    for words in ("plug, extension and block", "local code", "ballast"):
        assert any(words in each for each in load.cautions)
