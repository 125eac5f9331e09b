from __future__ import annotations

import itertools

import numpy as np
import pytest

from evencast.colour import cct_duv, locus_of, uv, uv_of_mired_duv, white, xyz
from evencast.errors import EvencastError
from evencast.lights import Light, builtin, of_kelvin, of_reading, redial


def colour(light: Light) -> tuple[float, float]:
    """CCT in K and Duv."""
    cct_k, duv = cct_duv(uv(light.power))
    return float(cct_k), float(duv)


@pytest.mark.parametrize(
    ("cct_k", "kind"), [(3200, "Planckian"), (4500, "blend"), (5600, "daylight")]
)
def test_n_kelvin_is_that_locus_and_nothing_assumed(cct_k: float, kind: str) -> None:
    """Exactly the white of N Kelvin."""
    light = of_kelvin(cct_k)
    assert (light.name, light.kind, light.assumed) == (f"{cct_k}K", kind, False)
    np.testing.assert_array_equal(light.power, white(cct_k, locus=locus_of(cct_k)))


@pytest.mark.parametrize(
    ("cct_k", "duv"),
    [
        *itertools.product([2700, 3200, 4000, 5400, 6500, 12000], [-0.01, -0.003, 0, 0.003, 0.01]),
        *itertools.product([1800, 2200], [-0.01, -0.003, 0, 0.003]),
    ],
)
def test_an_assumed_light_reads_what_the_meter_read(cct_k: float, duv: float) -> None:
    """To 1e-7 uv, and it says that it is assumed."""
    light = of_reading(cct_k, duv)
    aim = uv_of_mired_duv(np.array(1e6 / cct_k), np.array(duv))
    np.testing.assert_allclose(uv(light.power), aim, atol=1e-7)
    assert light.assumed
    assert light.kind == "unknown"
    assert (light.power > 0).all()
    assert "only a reading is known" in light.note


@pytest.mark.parametrize("duv", [0.05, -0.05, 0.5])
def test_an_absurd_reading_is_refused(duv: float) -> None:
    """No smooth spectrum of 1500 K is that green or that magenta."""
    with pytest.raises(EvencastError) as caught:
        of_reading(1500, duv)
    assert caught.value.what == f"no smooth light reads 1500 K with a Duv of {duv:+g}"
    assert caught.value.where == f"1500K{duv:+g}"
    assert caught.value.remedy == (
        "Check the reading (near white, Duv is rarely beyond 0.01), or give a spectrum."
    )


@pytest.mark.parametrize("cct_k", [0.0, 1.0, 200.0, 999.0, 100_001.0, 1e9])
def test_a_reading_outside_the_range_is_refused(cct_k: float) -> None:
    """As an error that names the range, whatever the number."""
    with pytest.raises(EvencastError) as caught:
        of_reading(cct_k, 0.001)
    assert "1000 to 100000 K" in caught.value.remedy


@pytest.mark.parametrize("cct_k", [2750.0, 3200.0, 4300.0, 5600.0, 6500.0])
def test_a_two_colour_panel_mixes_its_two_emitters(cct_k: float) -> None:
    """On the straight line between them, at the Kelvin asked, to 0.05 K; still a real spectrum."""
    panel = builtin("two-colour LED panel")
    dialled = redial(panel, cct_k)
    assert colour(dialled)[0] == pytest.approx(cct_k, abs=0.05)
    basis = np.stack(panel.emitters)
    amounts, *_ = np.linalg.lstsq(basis.T, dialled.power, rcond=None)
    assert (amounts > 0).all()
    np.testing.assert_allclose(amounts @ basis, dialled.power, atol=1e-12)
    assert not dialled.assumed
    assert dialled.note == f"dialled to {cct_k:g} K"
    assert dialled.name == f"two-colour LED panel at {cct_k:g}K"


def test_its_middle_dips_towards_magenta() -> None:
    """A straight line between two places on a bent locus lies under it."""
    panel = builtin("two-colour LED panel")
    ends = [float(cct_duv(uv(each))[1]) for each in panel.emitters]
    assert colour(redial(panel, 4000))[1] < min(ends) - 0.002


def test_the_mix_does_not_change_what_was_mixed() -> None:
    """The panel can be turned again and again, and back."""
    panel = builtin("two-colour LED panel")
    there_and_back = redial(redial(panel, 5600), 3200)
    np.testing.assert_allclose(there_and_back.power, redial(panel, 3200).power, rtol=1e-12)


def test_both_ends_of_the_panel_can_be_dialled() -> None:
    """Its warm emitter alone, and all but its cool one alone."""
    panel = builtin("two-colour LED panel")
    warm_k, cool_k = (float(cct_duv(uv(each))[0]) for each in panel.emitters)
    assert colour(redial(panel, warm_k))[0] == pytest.approx(warm_k, abs=0.05)
    assert colour(redial(panel, cool_k))[0] == pytest.approx(cool_k, abs=0.05)


@pytest.mark.parametrize("cct_k", [0.0, 200.0, 2000.0, 9000.0, 1e6])
def test_beyond_its_emitters_a_panel_cannot_go(cct_k: float) -> None:
    """Whatever the number."""
    with pytest.raises(EvencastError) as caught:
        redial(builtin("two-colour LED panel"), cct_k)
    assert caught.value.what == f"two-colour LED panel cannot be dialled to {cct_k:g} K"
    assert caught.value.where == "two-colour LED panel"
    assert caught.value.remedy == "Dial within what the light itself can do."


def test_a_light_known_by_a_reading_keeps_its_duv() -> None:
    """A panel read at 5600 K with +0.004, turned to 4300 K: the Duv stays, as an assumption."""
    dialled = redial(of_reading(5600, 0.004), 4300)
    cct_k, duv = colour(dialled)
    assert cct_k == pytest.approx(4300, abs=0.05)
    assert duv == pytest.approx(0.004, abs=1e-7)
    assert dialled.assumed
    assert dialled.note == "dialled to 4300 K, its Duv taken as unchanged: read it there"


def test_a_measured_light_becomes_assumed_when_it_is_turned() -> None:
    """Only one setting was measured."""
    light = builtin("LED phosphor 4100 K B3")
    dialled = redial(light, 5000)
    assert not light.assumed
    assert dialled.assumed
    assert colour(dialled)[1] == pytest.approx(colour(light)[1], abs=1e-7)
    assert xyz(dialled.power)[1] > 0


@pytest.mark.parametrize("cct_k", [0.0, 200.0, 1e6])
def test_no_light_can_be_turned_to_what_is_no_temperature(cct_k: float) -> None:
    """As an error, for a light of one emitter too."""
    with pytest.raises(EvencastError):
        redial(of_reading(5600, 0.004), cct_k)
