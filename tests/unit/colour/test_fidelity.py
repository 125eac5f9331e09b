from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cct_duv, uv, white
from evencast.colour.fidelity import WHITE_DUV, cri, tm30
from evencast.lights import builtin
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, daylight, planckian


def every_index(power: Floats) -> list[Floats]:
    """Ra, R1 to R14, Rf, Rg, Rcs,h1 to Rcs,h16."""
    return [*cri(power), *tm30(power)]


SHAPES = ((), (14,), (), (), (16,))


def test_leading_axes_are_kept() -> None:
    """One spectrum, a stack of stacks, and none at all."""
    one = builtin("FL2").power
    for leading in ((), (1,), (2, 3), (0,), (4, 0)):
        found = every_index(np.broadcast_to(one, (*leading, 81)))
        assert [each.shape for each in found] == [(*leading, *shape) for shape in SHAPES]


@pytest.mark.parametrize(
    "power",
    [
        np.full(81, np.nan),
        np.where(GRID_NM == 550.0, np.nan, 1.0),
        np.zeros(81),
        (GRID_NM == 520.0).astype(float),
        planckian(900.0),
        planckian(np.inf),
        daylight(25_000.0) * planckian(30_000.0) / planckian(25_000.0),
    ],
    ids=["nan", "one nan", "dark", "green line", "900 K", "infinite K", "30 000 K"],
)
def test_without_a_white_to_compare_with_there_is_no_index(power: Floats) -> None:
    """No CCT, or one above 25 000 K; in a stack the others are not touched."""
    alone = every_index(builtin("FL2").power)
    stack = np.stack([power, builtin("FL2").power])
    for found, known in zip(every_index(stack), alone, strict=True):
        assert np.isnan(found[0]).all()
        np.testing.assert_allclose(found[1], known, rtol=1e-12)


@pytest.mark.parametrize("cct_k", [1200.0, 3200.0, 3999.0, 5000.0, 5600.0, 6504.0, 24_900.0])
def test_the_white_of_n_kelvin_scores_100(cct_k: float) -> None:
    """Where both kinds of index and the white itself have one reference; 5000 K is daylight."""
    for each in cri(white(cct_k)):
        np.testing.assert_allclose(each, 100.0, atol=0.05)
    rf, rg, shift = tm30(white(cct_k))
    assert rf == pytest.approx(100.0, abs=0.02)
    assert rg == pytest.approx(100.0, abs=0.02)
    np.testing.assert_allclose(shift, 0.0, atol=0.03)


def test_the_rendering_index_jumps_at_5000_k_and_fidelity_does_not() -> None:
    """A blackbody of 4999 K is the reference itself, one of 5001 K is not: 1.4 points apart,
    as colour-science has it too."""
    below, above = planckian(4999.0), planckian(5001.0)
    assert cri(below)[0] == pytest.approx(100.0, abs=0.01)
    assert cri(above)[0] == pytest.approx(98.627, abs=0.01)
    assert tm30(below)[0] == pytest.approx(float(tm30(above)[0]), abs=0.01)


def test_the_blend_of_4500_k_is_half_way() -> None:
    """Its fidelity is 100, and the blackbody's and daylight's of 4500 K lie equally under it."""
    assert tm30(white(4500.0))[0] == pytest.approx(100.0, abs=0.01)
    glowing, sky = (tm30(power)[0] for power in (planckian(4500.0), daylight(4500.0)))
    assert glowing == pytest.approx(float(sky), abs=0.1)
    assert glowing < 99.3


def test_general_index_is_the_mean_of_the_first_eight() -> None:
    """And the last six leave it alone."""
    ra, special = cri(builtin("FL4").power)
    assert ra == pytest.approx(special[:8].mean(), abs=1e-12)


def test_reds_may_score_low_by_being_overdone() -> None:
    """R9 does not tell; the chroma shift of the first hue does."""
    dulled, overdone = builtin("FL2").power, builtin("LED three-colour 2850 K RGB1").power
    assert cri(dulled)[1][8] < 0
    assert cri(overdone)[1][8] < 0
    assert tm30(dulled)[2][0] == pytest.approx(-24.9, abs=0.1)
    assert tm30(overdone)[2][0] == pytest.approx(16.4, abs=0.1)


def test_gamut_says_whether_colours_are_overdone() -> None:
    """Neodymium glass takes out yellow and lifts the rest; a line of sodium leaves nothing."""
    assert tm30(builtin("filament bulb neodymium glass").power)[1] > 105
    assert tm30(builtin("low-pressure sodium").power)[1] == pytest.approx(0.0, abs=0.1)


def test_gamut_is_nan_where_a_hue_has_no_sample() -> None:
    """Under a blackbody of 1000 K three of the sixteen hues have no sample, as in
    colour-science."""
    rf, rg, shift = tm30(white(1000.0))
    assert rf == pytest.approx(100.0, abs=0.05)
    assert np.isnan(rg)
    assert np.flatnonzero(np.isnan(shift)).tolist() == [3, 5, 12]


def test_the_bound_of_white_lies_between_tubes() -> None:
    """Daylight tubes FL5 and FL1 are green: the first beyond it, the second within."""
    for name, inside in (("FL5", False), ("FL1", True)):
        cct_k, duv = cct_duv(uv(builtin(name).power))
        _, white_duv = cct_duv(uv(white(float(cct_k))))
        assert bool(abs(duv - white_duv) <= WHITE_DUV) is inside
