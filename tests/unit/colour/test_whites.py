from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import LOCI, Locus, cct_duv, locus_of, uv, white, white_uv, xyz
from evencast.errors import EvencastError
from evencast.spectra import daylight, planckian


@pytest.mark.parametrize(
    "cct_k",
    [
        1000,
        1500,
        2000,
        2700,
        3200,
        3999,
        4000,
        4001,
        4300,
        4500,
        4999,
        5000,
        5001,
        5600,
        6500,
        7000,
        7001,
        9300,
        15000,
        20000,
        24900,
    ],
)
def test_the_white_of_n_kelvin_has_a_cct_of_n(cct_k: float) -> None:
    """Within 0.01 K, on every locus that N Kelvin stands for, seams included."""
    assert cct_duv(white_uv(cct_k))[0] == pytest.approx(cct_k, abs=0.01)


def test_at_the_end_of_the_daylight_formula_a_few_kelvin_are_missing() -> None:
    """The formula stops at a nominal 25 000 K, which reads 24 980 K: 0.03 mired short."""
    assert 1e6 / float(cct_duv(white_uv(25000))[0]) == pytest.approx(1e6 / 25000, abs=0.035)


@pytest.mark.parametrize("locus", LOCI)
@pytest.mark.parametrize("cct_k", [4100.0, 4500.0, 5000.0, 6500.0])
def test_so_has_the_white_of_a_named_locus(locus: Locus, cct_k: float) -> None:
    """Within 0.01 K."""
    assert cct_duv(white_uv(cct_k, locus=locus))[0] == pytest.approx(cct_k, abs=0.01)


@pytest.mark.parametrize("cct_k", [30_000.0, 60_000.0, 100_000.0])
def test_beyond_daylight_it_is_planckian_to_a_ten_thousandth(cct_k: float) -> None:
    """Kelvins there are far apart: 0.01 % of N is under 0.004 mired."""
    assert locus_of(cct_k) == "planckian"
    assert cct_duv(white_uv(cct_k))[0] == pytest.approx(cct_k, rel=1e-4)


@pytest.mark.parametrize(
    ("cct_k", "locus"),
    [
        (1000.0, "planckian"),
        (3999.9, "planckian"),
        (4000.0, "blend"),
        (5000.0, "blend"),
        (5000.1, "daylight"),
        (25000.0, "daylight"),
        (25000.1, "planckian"),
    ],
)
def test_what_n_kelvin_stands_for(cct_k: float, locus: Locus) -> None:
    """Planckian below 4000 K, daylight above 5000 K, the blend between."""
    assert locus_of(cct_k) == locus


def test_the_blend_joins_both_loci_without_a_step() -> None:
    """At 4000 K it is Planckian, at 5000 K daylight, in Duv to 1e-5."""
    ends: tuple[tuple[float, Locus], ...] = ((4000.0, "planckian"), (5000.0, "daylight"))
    for cct_k, locus in ends:
        blend = cct_duv(white_uv(cct_k, locus="blend"))[1]
        assert blend == pytest.approx(float(cct_duv(white_uv(cct_k, locus=locus))[1]), abs=1e-5)


def test_at_4500_k_half_of_the_light_is_of_either_kind() -> None:
    """Linear in Kelvin, by luminance, as ANSI/IES TM-30 builds its reference; setting the CCT
    right moves it by 8e-6 uv."""
    nominal = (planckian(4500.0), daylight(4500.0))
    half = sum(each / xyz(each)[1] for each in nominal)
    np.testing.assert_allclose(uv(white(4500.0)), uv(np.asarray(half)), atol=1e-5)


@pytest.mark.parametrize("cct_k", [999.9, 100_000.1, 0.0, -5600.0, float("nan"), float("inf")])
def test_outside_the_range_there_is_no_white(cct_k: float) -> None:
    """1000 to 100 000 K; the error says so, whatever is asked."""
    with pytest.raises(EvencastError) as caught:
        white(cct_k)
    assert caught.value.what == f"{cct_k:g} K is not a colour temperature this tool knows"
    assert caught.value.where == f"{cct_k:g}K"
    assert caught.value.remedy == "Use 1000 to 100000 K."


@pytest.mark.parametrize("cct_k", [3000.0, 30_000.0])
def test_a_named_daylight_ends_where_the_formula_ends(cct_k: float) -> None:
    """It is refused, not quietly bent."""
    with pytest.raises(EvencastError) as caught:
        white(cct_k, locus="daylight")
    assert caught.value.what == f"no daylight of {cct_k:g} K: the CIE formula ends there"
    assert caught.value.remedy == "Use 4000 to 25000 K, or name the Planckian locus."
