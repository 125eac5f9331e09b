"""Candelas in any direction, peak, beam, flux and illuminance of lights that follow formulas."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import dblquad
from scipy.interpolate import RegularGridInterpolator

from evencast.errors import EvencastError
from evencast.media.distribution import (
    BEAM_SHARE,
    FIELD_SHARE,
    candela,
    illuminance_lux,
    peak,
    spread,
    total_flux_lm,
    zone_weights,
)
from evencast.media.lm63 import parse_lm63
from evencast.media.photometry import Photometry
from tests.photometric_files import ALL_DEG, DOWN_DEG, Written, cosine, lm63, lopsided


def light_of(written: Written) -> Photometry:
    return parse_lm63(lm63(written), where="lamp.ies")


def formula(values: object, vertical_deg: np.ndarray = ALL_DEG) -> Photometry:
    table = np.broadcast_to(np.asarray(values, dtype=float), vertical_deg.shape)
    return light_of(Written(vertical_deg, np.zeros(1), table[None]))


def test_flux_of_an_isotropic_light() -> None:
    """4 pi I, exactly: a constant is a straight line."""
    assert total_flux_lm(formula(100.0)) == pytest.approx(4 * np.pi * 100, rel=1e-14)


@pytest.mark.parametrize(("step_deg", "low"), [(1.0, 2.6e-5), (5.0, 6.4e-4), (10.0, 2.6e-3)])
def test_flux_of_a_cosine_emitter(step_deg: float, low: float) -> None:
    """pi I0 (Lambert); straight lines under a cosine lose h*h/12 of it."""
    light = light_of(cosine(vertical_deg=np.arange(0.0, 90.5, step_deg)))
    short = 1 - total_flux_lm(light) / (np.pi * 1000)
    assert 0 < short < low
    assert short == pytest.approx(np.radians(step_deg) ** 2 / 12, rel=0.01)


@pytest.mark.parametrize("power", [2, 5, 20])
def test_flux_of_a_narrowing_emitter(power: int) -> None:
    """I0 cos^n has 2 pi I0 / (n + 1); at 1 degree within 0.06 percent."""
    vertical = np.arange(0.0, 91.0)
    light = formula(1000 * np.cos(np.radians(np.minimum(vertical, 90))).clip(0) ** power, vertical)
    assert total_flux_lm(light) == pytest.approx(2 * np.pi * 1000 / (power + 1), rel=6e-4)


def test_flux_by_zonal_constants() -> None:
    """The method of print: mid-zone candelas times 2 pi (cos a - cos b), zones of 1 degree."""
    light = light_of(lopsided(np.arange(0.0, 361.0, 10.0)))
    edges = np.arange(0.0, 181.0)
    constants = 2 * np.pi * -np.diff(np.cos(np.radians(edges)))
    middles, round_ = np.meshgrid(edges[:-1] + 0.5, np.arange(0.5, 360.0))
    zonal = candela(light, middles, round_).mean(axis=0) @ constants
    assert total_flux_lm(light) == pytest.approx(zonal, rel=2e-5)


def test_flux_by_adaptive_integration() -> None:
    """scipy's adaptive quadrature of scipy's own bilinear interpolation, cell by cell."""
    planes = np.array([0.0, 70.0, 200.0, 360.0])
    vertical = np.array([0.0, 40.0, 95.0, 180.0])
    table = np.array([[9.0, 7, 2, 1], [9, 4, 3, 0], [9, 8, 5, 2], [9, 7, 2, 1]])
    light = light_of(Written(vertical, planes, table))
    surface = RegularGridInterpolator((planes, vertical), table)
    total = 0.0
    for low_h, high_h in pairwise(planes):
        for low_v, high_v in pairwise(vertical):
            total += dblquad(
                lambda v, h: surface((np.degrees(h), np.degrees(v))).item() * np.sin(v),
                *np.radians([low_h, high_h]),
                *np.radians([low_v, high_v]),
            )[0]
    assert total_flux_lm(light) == pytest.approx(total, rel=1e-9)


def test_zone_weights_make_a_sphere() -> None:
    """However the zones are cut, a sphere has 2 (times 2 pi)."""
    for angles in (ALL_DEG, np.array([0.0, 1e-3, 1.0, 179.0, 180.0])):
        assert zone_weights(angles).sum() == pytest.approx(2.0, rel=1e-12)


def test_candelas_between_are_bilinear() -> None:
    """Against scipy's interpolation, random directions, any turn."""
    written = lopsided(np.arange(0.0, 361.0, 20.0))
    light = light_of(written)
    surface = RegularGridInterpolator((written.planes_deg, written.vertical_deg), written.candelas)
    rng = np.random.default_rng(5)
    vertical, round_ = rng.uniform(0, 180, (4, 50)), rng.uniform(0, 360, (4, 50))
    expected = surface((round_, vertical))
    np.testing.assert_allclose(candela(light, vertical, round_), expected, rtol=1e-12)
    np.testing.assert_allclose(candela(light, vertical, round_ - 720), expected, rtol=1e-9)
    assert candela(light, np.zeros((0,)), 0.0).shape == (0,)
    assert np.isnan(candela(light, np.nan, 0.0))
    assert np.isnan(candela(light, 10.0, np.nan))


def test_candelas_at_what_was_measured() -> None:
    """Every cell of the table, all round and up and down."""
    written = lopsided(np.arange(0.0, 361.0, 20.0))
    found = candela(light_of(written), written.vertical_deg, written.planes_deg[:, None])
    np.testing.assert_allclose(found[:-1], written.candelas[:-1], rtol=1e-12)
    np.testing.assert_allclose(found[-1], written.candelas[0], rtol=1e-12)


def test_the_peak_and_where_it_is() -> None:
    """Toward 30 degrees round, slanting."""
    light = light_of(lopsided(np.arange(0.0, 361.0, 10.0)))
    top = peak(light)
    assert top.candela == light.candelas.max()
    assert (top.vertical_deg, top.horizontal_deg) == (30.0, 30.0)
    assert candela(light, top.vertical_deg, top.horizontal_deg) == pytest.approx(top.candela)


@pytest.mark.parametrize("power", [1, 3, 60])
def test_beam_and_field_of_narrowing_emitters(power: int) -> None:
    """cos^n falls to a share s at acos(s^(1/n)), on both sides."""
    vertical = np.arange(0.0, 90.2, 0.25)
    light = formula(1000 * np.cos(np.radians(vertical)).clip(0) ** power, vertical)
    for share in (BEAM_SHARE, FIELD_SHARE):
        exact = 2 * np.degrees(np.arccos(share ** (1 / power)))
        found = spread(light, share=share)
        assert found.along_deg == pytest.approx(exact, abs=0.01)
        assert found.across_deg == pytest.approx(exact, abs=0.01)


def test_a_beam_wider_one_way_than_the_other() -> None:
    """Straight flanks: from 100 down to 0 at 40 degrees one way, at 20 the other."""
    vertical, planes = np.array([0.0, 20.0, 40.0, 90.0]), np.array([0.0, 90.0])
    light = light_of(
        Written(vertical, planes, np.array([[100.0, 50.0, 0.0, 0.0], [100.0, 0.0, 0.0, 0.0]]))
    )
    assert spread(light, share=BEAM_SHARE).along_deg == pytest.approx(40.0)
    assert spread(light, share=BEAM_SHARE).across_deg == pytest.approx(20.0)
    assert spread(light, share=FIELD_SHARE).along_deg == pytest.approx(72.0)
    assert spread(light, share=FIELD_SHARE).across_deg == pytest.approx(36.0)


def test_beams_that_have_no_edge() -> None:
    """Bright all round is 360; a plane that stays dark is 0; a ring counts its outer edge."""
    assert spread(formula(5.0), share=BEAM_SHARE).along_deg == 360.0
    vertical, planes = np.array([0.0, 30.0, 60.0, 90.0]), np.array([0.0, 90.0])
    aside = light_of(Written(vertical, planes, np.array([[1.0, 100, 1, 0], [1, 2, 1, 0]])))
    assert spread(aside, share=BEAM_SHARE).across_deg == 0.0
    edge = 30 + 30 * 50 / 99
    assert spread(aside, share=BEAM_SHARE).along_deg == pytest.approx(2 * edge)


def test_illuminance_falls_with_the_square() -> None:
    """1000 cd at 2 m are 250 lux; off the axis it goes by the candelas there."""
    light = light_of(cosine(vertical_deg=DOWN_DEG))
    assert illuminance_lux(light, 2.0) == 250.0
    assert illuminance_lux(light, 0.5) == 4000.0
    assert illuminance_lux(light, 2.0, vertical_deg=60.0) == pytest.approx(125.0)
    aside = light_of(lopsided(np.arange(0.0, 361.0, 10.0)))
    bright = illuminance_lux(aside, 3.0, vertical_deg=30.0, horizontal_deg=30.0)
    assert bright == pytest.approx(peak(aside).candela / 9)


@pytest.mark.parametrize("distance_m", [0.0, -1.0, float("nan"), float("inf")])
def test_no_distance_no_illuminance(distance_m: float) -> None:
    """0, less, nan, endless."""
    with pytest.raises(EvencastError) as caught:
        illuminance_lux(light_of(replace(cosine(), keywords=())), distance_m)
    assert (caught.value.what, caught.value.where, caught.value.remedy) == (
        f"{distance_m:g} m is no distance",
        "IES LM-63-2002",
        "Give the distance from the light in metres, above 0.",
    )
