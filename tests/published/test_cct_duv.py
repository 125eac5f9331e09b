"""Planckian colours, CCT and Duv against published points and formulas.

Planckian chromaticities over 360-830 nm at 1 nm with c2 = 1.4388e-2 m K; the isotemperature
points of Robertson (1968) as Wyszecki and Stiles print them; the nominal centre points and
the Duv formula of ANSI C78.377; McCamy (1992); the Duv polynomial of Ohno (2014), LEUKOS
10(1), 47-55; the rescaling by c2 and the formula of illuminant A of CIE 15.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest

from evencast import tables
from evencast.colour import (
    cct_duv,
    cie_1931_2deg,
    uv_of_mired_duv,
    uv_of_xy,
    uv_of_xyz,
    xy_of_xyz,
)
from evencast.quantities import Floats, mired
from evencast.spectra import C2_M_K, planckian
from tests.published import rows

ROWS = rows.read("cct_duv")


@dataclass(frozen=True, slots=True)
class Formula:
    """Rows of a published approximation that evencast does not use.

    The formula as printed is written out here and held to the row; evencast's own result,
    the nearest point of the exact locus, is held to the formula within `bound`.
    """

    ending: str
    reason: str
    printed: Callable[[rows.Row], float]
    own: Callable[[rows.Row], float]
    bound: float
    count: int


def colour_of(temperature_k: float, *, c2: float = C2_M_K) -> Floats:
    """Tristimulus values of a blackbody, 360-830 nm at 1 nm. [(3,)]"""
    observer = cie_1931_2deg()
    power = planckian(temperature_k, observer.wavelengths_nm, c2=c2)
    tristimulus: Floats = power @ observer.cmf
    return tristimulus


def point(row: rows.Row) -> Floats:
    """u, v of an input that gives "xy (a, b)" or "CIE 1960 uv (a, b)". [(2,)]"""
    inside = row.input.partition("(")[2].partition(")")[0]
    pair = np.array([float(each) for each in inside.split(",")])
    return uv_of_xy(pair) if row.input.startswith("xy") else pair


def cct_and_duv(uv_value: Floats) -> tuple[float, float]:
    cct_k, duv = cct_duv(uv_value)
    return float(cct_k), float(duv)


def planckian_row(row: rows.Row) -> float:
    _, temperature, kind = row.id.split("-")
    tristimulus = colour_of(float(temperature))
    if kind == "round":
        return cct_and_duv(uv_of_xyz(tristimulus))[0]
    return float(xy_of_xyz(tristimulus)["xy".index(kind)])


def isotemperature_row(row: rows.Row) -> float:
    _, at_mired, kind = row.id.split("-")
    temperature_k = math.inf if at_mired == "0" else 1e6 / float(at_mired)
    return float(uv_of_xyz(colour_of(temperature_k))["uv".index(kind)])


def point_row(row: rows.Row) -> float:
    return cct_and_duv(point(row))[("cct", "duv").index(row.id.split("-")[2])]


C2_STEPS = {
    "c2-A": (2848.0, 1.435e-2, 1.4388e-2),
    "c2-A-b": (2848.0, 1.435e-2, 1.438776877e-2),
    "c2-D50": (5000.0, 1.4380e-2, 1.4388e-2),
    "c2-D65": (6500.0, 1.4380e-2, 1.4388e-2),
    "c2-D75": (7500.0, 1.4380e-2, 1.4388e-2),
    "c2-3200": (3200.0, 1.4388e-2, 1.438776877e-2),
}


def c2_row(row: rows.Row) -> float:
    """The CCT of the blackbody under the old c2, read on the scale of the new one.

    CCT is read with C2_M_K; another new scale differs by the ratio of the constants.
    """
    temperature_k, old, new = C2_STEPS[row.id]
    return cct_and_duv(uv_of_xyz(colour_of(temperature_k, c2=old)))[0] * new / C2_M_K


def illuminant_a_row(row: rows.Row) -> float:
    at_nm = np.array([float(row.id.split("-")[2])])
    return 100.0 * float(planckian(2848.0, at_nm, c2=1.435e-2)[0])


def target_duv(row: rows.Row) -> float:
    """ANSI C78.377: 57700 / Tx^2 - 44.6 / Tx + 0.00854, and 0 below 2780 K."""
    temperature_k = row.numbers()[0]
    if temperature_k < 2780:
        return 0.0
    return 57700 / temperature_k**2 - 44.6 / temperature_k + 0.00854


def centre_duv(row: rows.Row) -> float:
    return cct_and_duv(point(ROWS[row.id.removesuffix("-target")]))[1]


def mccamy_k(row: rows.Row) -> float:
    """McCamy (1992): a cubic in the slope of the line from x 0.3320, y 0.1858."""
    x, y = row.numbers()[:2]
    n = (x - 0.3320) / (0.1858 - y)
    return 449 * n**3 + 3525 * n**2 + 6823.3 * n + 5520.33


def angle_polynomial_duv(row: rows.Row) -> float:
    """Ohno (2014): distance from (0.292, 0.24) less a sixth-order polynomial in the angle."""
    u, v = point(row)
    length = math.hypot(u - 0.292, v - 0.24)
    angle = math.acos((u - 0.292) / length)
    k = (-0.471106, 1.925865, -2.4243787, 1.5317403, -0.5179722, 0.0893944, -0.00616793)
    return length - sum(each * angle**n for n, each in enumerate(k))


FORMULAS = (
    Formula(
        ending="-duv-target",
        reason="the centre points of 2008 have Duv in steps of 0.001: 0.00049 off at 4500 K",
        printed=target_duv,
        own=centre_duv,
        bound=5e-4,
        count=6,
    ),
    Formula(
        ending="-duvpoly",
        reason="a fit: 5e-6 off the exact distance at 2763 K",
        printed=angle_polynomial_duv,
        own=lambda row: cct_and_duv(point(row))[1],
        bound=1e-5,
        count=6,
    ),
    Formula(
        ending="mccamy",
        reason="a cubic fit: 1.6 K off the exact CCT at illuminant A",
        printed=mccamy_k,
        own=lambda row: cct_and_duv(point(row))[0],
        bound=2.0,
        count=3,
    ),
)


def formula_for(row: rows.Row) -> Formula | None:
    ending = "mccamy" if row.id.startswith("mccamy") else row.id
    return next((each for each in FORMULAS if ending.endswith(each.ending)), None)


COMPARED: dict[str, Callable[[rows.Row], float]] = {
    "pl": planckian_row,
    "rob": isotemperature_row,
    "ansi": point_row,
    "uv": point_row,
    "c2": c2_row,
    "A": illuminant_a_row,
}
OWN = {name: row for name, row in ROWS.items() if formula_for(row) is None}
BY_FORMULA = {name: row for name, row in ROWS.items() if formula_for(row) is not None}


@pytest.mark.parametrize("row", OWN.values(), ids=OWN)
def test_row(row: rows.Row) -> None:
    row.holds(COMPARED[row.id.split("-")[0]](row))


@pytest.mark.parametrize("row", BY_FORMULA.values(), ids=BY_FORMULA)
def test_formula_row(row: rows.Row) -> None:
    formula = formula_for(row)
    assert formula is not None
    row.holds(formula.printed(row))
    assert formula.own(row) == pytest.approx(formula.printed(row), abs=formula.bound), (
        formula.reason
    )


def test_every_row_is_accounted_for() -> None:
    """146 rows are evencast's own results, 15 belong to three formulas; none is left out."""
    assert len(ROWS) == len(OWN) + len(BY_FORMULA) == 161
    for formula in FORMULAS:
        held = [row for row in BY_FORMULA.values() if formula_for(row) is formula]
        assert len(held) == formula.count, formula.ending


def test_isotemperature_points_also_come_from_mired_and_duv() -> None:
    """The tabulated locus, not only Planck's law: every Robertson point from 10 mired up."""
    for name, row in ROWS.items():
        prefix, at_mired, *kind = name.split("-")
        if prefix == "rob" and at_mired != "0":
            place = uv_of_mired_duv(np.array(float(at_mired)), np.array(0.0))
            row.holds(float(place["uv".index(kind[0])]))


def test_the_packaged_illuminant_a_is_its_formula() -> None:
    """CIE prints A to six digits, so the largest value, 241.675 at 780 nm, is within 5e-4."""
    table = tables.read("cie_illuminants_a_d")
    by_formula = 100.0 * planckian(2848.0, table.column("wavelength_nm"), c2=1.435e-2)
    assert table.column("A") == pytest.approx(by_formula, abs=5e-4)


def test_nominal_daylight_temperatures_are_restated() -> None:
    """5000 K on the old scale reads 5002.78 K, 0.11 mired away: more than any rounding here."""
    moved_k = ROWS["c2-D50"].expected - 5000.0
    assert mired(5000.0) - mired(5000.0 + moved_k) == pytest.approx(0.111, abs=1e-3)
