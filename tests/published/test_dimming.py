"""Dimmed tungsten: powers of voltage, as printed and as what dimming does here.

Exponents as a public encyclopedia prints them, citing the Standard Handbook for Electrical
Engineers. What is asked for here is the loss in stops; voltage follows from it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from evencast.colour import cct_duv, uv, xyz
from evencast.lights import Light, dim_tungsten, of_kelvin
from evencast.lights.dimming import CCT_EXPONENT, LIGHT_EXPONENT
from evencast.quantities import mired, stops_of_ratio
from evencast.spectra import planckian
from tests.published import rows

ROWS = rows.read("dimming")
STATEMENTS = {
    "exp-current": "0.55: amps of a dimmed lamp are not computed",
    "exp-power": "1.6: watts of a dimmed lamp are not computed",
    "exp-life-lo": "-12: life is not computed",
    "exp-life-hi": "-16: life is not computed",
    "exp-life-ies": "-13, from memory: life is not computed",
}
NOT_COMPUTED = {"power": 8, "life": 8}
"""Rows by how an id ends: watts and life of a dimmed lamp, at eight voltages each."""


def voltage(row: rows.Row) -> float:
    return float(row.id.split("-")[1])


def dimmed(row: rows.Row) -> tuple[Light, Light]:
    """The brighter and the darker of the two states, the darker made from the brighter.

    A lamp is never overrun here: above its voltage the same is computed backwards, from a
    lamp of that higher Kelvin that is dimmed.
    """
    at = voltage(row)
    stops = abs(LIGHT_EXPONENT * math.log2(at))
    full_k = 3200.0 * at**CCT_EXPONENT if at > 1 else 3200.0
    full = of_kelvin(full_k)
    return full, dim_tungsten(full, stops)


def cct_k(light: Light) -> float:
    return float(cct_duv(uv(light.power))[0])


def brightness(row: rows.Row) -> float:
    """Light against that at full voltage."""
    full, dark = dimmed(row)
    share = float(xyz(dark.power)[1] / xyz(full.power)[1])
    return 1.0 / share if voltage(row) > 1 else share


def stops(row: rows.Row) -> float:
    return -stops_of_ratio(brightness(row))


def at_voltage_k(row: rows.Row) -> float:
    """Kelvin at that voltage; overrun, of the lamp that dims back to 3200 K."""
    full, dark = dimmed(row)
    if voltage(row) > 1:
        assert cct_k(dark) == pytest.approx(3200.0, abs=0.5)
        return cct_k(full)
    return cct_k(dark)


def warmer(row: rows.Row) -> float:
    return mired(at_voltage_k(row)) - mired(3200.0)


def brightening(row: rows.Row) -> float:
    """d ln(luminance) / d ln(T) of a blackbody."""
    at_k = float(row.id.rpartition("-")[2])
    step = 1e-4
    high, low = (float(xyz(planckian(at_k * (1 + each)))[1]) for each in (step, -step))
    scale = absolute(at_k * (1 + step)) / absolute(at_k * (1 - step))
    return math.log(high / low * scale) / math.log((1 + step) / (1 - step))


def absolute(at_k: float) -> float:
    """What the packaged blackbody, 1 at 560 nm, is there by Planck's law."""
    return 1.0 / math.expm1(1.4388e-2 / (560e-9 * at_k))


EXPONENTS = {
    "exp-light": LIGHT_EXPONENT,
    "exp-light-ies": LIGHT_EXPONENT,
    "exp-cct": CCT_EXPONENT,
}
BY_ENDING: dict[str, Callable[[rows.Row], float]] = {
    "light": brightness,
    "stops": stops,
    "cct": at_voltage_k,
    "mired": warmer,
}
DIMMED = {
    name: row
    for name, row in ROWS.items()
    if name.startswith("dim-") and name.rpartition("-")[2] in BY_ENDING
}
PLANCK = {name: row for name, row in ROWS.items() if name.startswith("planck-")}


@pytest.mark.parametrize("row", DIMMED.values(), ids=DIMMED)
def test_row(row: rows.Row) -> None:
    row.holds(BY_ENDING[row.id.rpartition("-")[2]](row))


@pytest.mark.parametrize("row", PLANCK.values(), ids=PLANCK)
def test_a_blackbody_brightens_as_printed(row: rows.Row) -> None:
    row.holds(brightening(row))


@pytest.mark.parametrize("name", EXPONENTS)
def test_exponent(name: str) -> None:
    ROWS[name].holds(EXPONENTS[name])


def test_every_row_is_accounted_for() -> None:
    """Compared: 3 exponents, 4 results at 8 voltages, 5 of Planck; named: 5 and 2 times 8."""
    left_out = [name for name in ROWS if name.rpartition("-")[2] in NOT_COMPUTED]
    left_out = [name for name in left_out if name.startswith("dim-")]
    assert sorted([*EXPONENTS, *DIMMED, *PLANCK, *STATEMENTS, *left_out]) == sorted(ROWS)
    for ending, count in NOT_COMPUTED.items():
        assert sum(name.endswith(ending) for name in left_out) == count
    assert (len(DIMMED), len(PLANCK), len(left_out)) == (32, 5, 16)
