from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cct_duv, mired_duv, uv, xyz
from evencast.errors import EvencastError
from evencast.lights import Light, builtin, of_reading, redial
from evencast.lights.dialling import DIALLED_DUV
from evencast.spectra import GRID_NM, MEMBERS


def colour(light: Light) -> tuple[float, float]:
    """CCT in K and Duv."""
    cct_k, duv = cct_duv(uv(light.power))
    return float(cct_k), float(duv)


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


def test_a_light_without_a_colour_temperature_is_not_turned_to_another() -> None:
    """A green line has no Kelvin that a knob could have moved from."""
    line = np.where((GRID_NM > 520) & (GRID_NM < 540), 1.0, 0.0)
    with pytest.raises(EvencastError, match="cannot be dialled to 4300 K"):
        redial(Light("green line", "unknown", line), 4300)


def test_what_was_not_known_of_a_light_is_not_known_of_it_dialled() -> None:
    """Each spectrum it may have is turned as far as the light; its Duv strays besides."""
    light = of_reading(5600, 0.004, kind="phosphor LED")
    dialled = redial(light, 4300)
    before, after = (mired_duv(uv(each.members)) for each in (light, dialled))
    turned = 1e6 / 4300 - 1e6 / 5600
    np.testing.assert_allclose(after[0], before[0] + turned, atol=1e-4)
    strayed = after[1] - before[1]
    assert np.std(strayed) == pytest.approx(DIALLED_DUV, rel=0.15)
    assert abs(np.mean(strayed)) < DIALLED_DUV / 4


def test_a_measured_light_that_is_turned_may_be_more_than_one() -> None:
    """Its spectrum and samples are those of one setting; two emitters are known at each."""
    turned = redial(builtin("LED phosphor 4100 K B3"), 5000)
    assert turned.members.shape == (MEMBERS, 81)
    assert np.std(mired_duv(uv(turned.members))[1]) == pytest.approx(DIALLED_DUV, rel=0.15)
    assert turned.spectrum is None
    mixed = redial(builtin("two-colour LED panel"), 5000)
    assert mixed.possible is None
