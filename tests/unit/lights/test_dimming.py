from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cct_duv, uv, xyz
from evencast.errors import EvencastError
from evencast.lights import Light, builtin, dim_tungsten, of_kelvin, of_reading
from evencast.spectra import planckian


def cct_k(light: Light) -> float:
    return float(cct_duv(uv(light.power))[0])


@pytest.mark.parametrize(("stops", "dimmed_k"), [(0.0, 3200.0), (1.0, 2937.0), (2.0, 2696.0)])
def test_tungsten_warms_as_the_handbook_says(stops: float, dimmed_k: float) -> None:
    """Colour temperature as voltage to the 0.42, light as voltage to the 3.4 (Standard Handbook
    for Electrical Engineers, as publicly quoted): 3200 K is 2937 K one stop down, 2696 K two."""
    assert cct_k(dim_tungsten(of_kelvin(3200), stops)) == pytest.approx(dimmed_k, abs=0.5)


@pytest.mark.parametrize("stops", [0.0, 0.5, 1.0, 3.0, 4.0])
@pytest.mark.parametrize("name", ["tungsten 3200 K", "tungsten 2856 K", "filament bulb"])
def test_the_light_given_up_is_what_was_asked(name: str, stops: float) -> None:
    """In luminance, to rounding."""
    bare = builtin(name)
    dimmed = dim_tungsten(bare, stops)
    share = xyz(dimmed.power)[1] / xyz(bare.power)[1]
    assert -np.log2(share) == pytest.approx(stops, abs=1e-12)


def test_a_measured_lamp_keeps_its_character() -> None:
    """Its spectrum times the ratio of two blackbodies: what its glass takes out stays out."""
    bare = builtin("filament bulb neodymium glass")
    dimmed = dim_tungsten(bare, 1.0)
    full_k = cct_k(bare)
    ratio = planckian(full_k * 2 ** (-0.42 / 3.4)) / planckian(full_k)
    found = dimmed.power / bare.power
    np.testing.assert_allclose(found / found[40], ratio / ratio[40], rtol=1e-9)
    assert (dimmed.kind, dimmed.fitting) == (bare.kind, bare.fitting)


@pytest.mark.parametrize(
    ("name", "kind"),
    [("FL2", "halophosphate tube"), ("D65", "daylight"), ("panel", "phosphor LED")],
)
def test_only_tungsten_may_be_dimmed(name: str, kind: str) -> None:
    """An LED keeps its colour; a tube or an arc on a dimmer can fail hot."""
    light = builtin(name)
    with pytest.raises(EvencastError) as caught:
        dim_tungsten(light, 1.0)
    assert caught.value.what == f"{light.name} is {kind}: only tungsten warms on a dimmer"
    assert caught.value.where == f"{light.name} -1stop"
    assert caught.value.remedy == (
        "Dim an LED panel at its own control (its colour stays); leave tubes and "
        "discharge lamps at full: a dimmer not made for them can fail hot."
    )


@pytest.mark.parametrize("stops", [4.1, -0.5, 60.0, float("nan")])
def test_beyond_four_stops_the_formula_says_nothing(stops: float) -> None:
    """Nor does a lamp brighten on a dimmer."""
    with pytest.raises(EvencastError) as caught:
        dim_tungsten(of_kelvin(3200), stops)
    assert caught.value.what == (
        f"{stops:g} stops of dimming is outside what the lamp formula covers"
    )
    assert caught.value.where == f"3200K -{stops:g}stop"
    assert caught.value.remedy == "Use 0 to 4 stops; further down use scrims or distance."


def test_a_lamp_cannot_be_dimmed_below_what_has_a_colour_temperature() -> None:
    """Under 1000 K there is none: an error, never a spectrum of nan."""
    with pytest.raises(EvencastError, match="1000K would glow below 1000 K"):
        dim_tungsten(of_kelvin(1000), 1.0)


def test_each_spectrum_a_lamp_may_have_is_dimmed_from_its_own() -> None:
    """One stop less light, each; warmer by the same factor of its own Kelvin, within what
    differs between a lamp in coloured glass and a blackbody."""
    bare = of_reading(3100, 0.0005, kind="tungsten")
    dimmed = dim_tungsten(bare, 1.0)
    lost = np.log2(xyz(bare.members)[:, 1] / xyz(dimmed.members)[:, 1])
    np.testing.assert_allclose(lost, 1.0, atol=1e-9)
    before, after = (cct_duv(uv(each.members))[0] for each in (bare, dimmed))
    np.testing.assert_allclose(after / before, 2 ** (-0.42 / 3.4), rtol=0.015)
    assert dimmed.assumed


def test_a_measured_lamp_is_one_when_dimmed() -> None:
    """Nothing is made up about it."""
    assert dim_tungsten(builtin("filament bulb"), 1.0).possible is None
