from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.colour import locus_of, mired_duv, uv, uv_of_mired_duv, white, xyz
from evencast.errors import EvencastError
from evencast.lights import Light, LightKind, of_camera, of_kelvin, of_reading
from evencast.lights.kinds import REFUSED_KINDS
from evencast.lights.reading import CAMERA_DUV, CAMERA_MIRED, METER_DUV, METER_SHARE
from evencast.spectra import MEMBERS

KINDS = [kind for kind in get_args(LightKind) if kind not in REFUSED_KINDS]
HP_SODIUM = (
    "high-pressure sodium HP1, improved sodium HP2, sodium street lamp 1950 K, "
    "sodium street lamp 2050 K, improved sodium 2250 K, white sodium 2500 K"
)


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


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("cct_k", "duv"), [(2800, -0.002), (4000, 0.004), (6000, 0.003)])
def test_a_light_of_a_kind_reads_what_the_meter_read(
    kind: LightKind, cct_k: float, duv: float
) -> None:
    """To 1e-7 uv, for every kind that is not refused; under its own name and kind."""
    light = of_reading(cct_k, duv, kind=kind)
    aim = uv_of_mired_duv(np.array(1e6 / cct_k), np.array(duv))
    np.testing.assert_allclose(uv(light.power), aim, atol=1e-7)
    assert (light.name, light.kind) == (f"{cct_k}K{duv:+g}", kind)
    assert light.fitting == ("tube" if "tube" in kind else "")


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_light_may_be_is_spread_as_the_meter_errs(kind: LightKind) -> None:
    """240 spectra, nowhere negative, of one luminance; 1 % of the Kelvin and 0.001 Duv apart."""
    light = of_reading(5000, 0.002, kind=kind)
    assert light.members.shape == (MEMBERS, 81)
    assert (light.members >= 0).all()
    np.testing.assert_allclose(xyz(light.members)[:, 1], xyz(light.power)[1], rtol=1e-9)
    at_mired, duv = mired_duv(uv(light.members))
    assert np.mean(at_mired) == pytest.approx(200, abs=0.5)
    assert np.std(at_mired) == pytest.approx(200 * METER_SHARE, rel=0.15)
    assert np.mean(duv) == pytest.approx(0.002, abs=0.0003)
    assert np.std(duv) == pytest.approx(METER_DUV, rel=0.15)


def test_the_same_reading_is_the_same_light() -> None:
    """Member by member; another reading is drawn independently."""
    first, again = (of_reading(5000, 0.002, kind="tube") for _ in range(2))
    np.testing.assert_array_equal(first.members, again.members)
    other = of_reading(5000, 0.0021, kind="tube")
    one, two = (mired_duv(uv(each.members))[0] for each in (first, other))
    assert abs(np.corrcoef(one, two)[0, 1]) < 0.2


@pytest.mark.parametrize(
    ("kind", "note"),
    [
        (
            "unknown",
            "only a reading is known, not what the lamp is, so the band allows for tungsten, "
            "daylight, LED and tube, and not for discharge lamps; look at it (tube, LED, bulb?) "
            "and name its kind to narrow the band",
        ),
        (
            "tube",
            "only a reading is known, not which tube, so the band allows for three-band, "
            "halophosphate and broad-band ones; name its kind to narrow it",
        ),
        (
            "phosphor LED",
            "only a reading is known: the spectrum is the mean of 12 of the kind phosphor LED, "
            "each bent to the reading",
        ),
        (
            "HMI",
            "only a reading is known, and too few HMI lamps are built in: 7 spectra of metal "
            "halide and xenon stand in, so take the band with care",
        ),
        (
            "xenon",
            "only a reading is known, and too few xenon lamps are built in: 8 spectra of xenon "
            "and daylight stand in, so take the band with care",
        ),
    ],
)
def test_it_says_what_its_spectrum_rests_on(kind: LightKind, note: str) -> None:
    """And what would narrow the band."""
    assert of_reading(5400, 0.002, kind=kind).note == note


@pytest.mark.parametrize("duv", [0.05, 0.5])
def test_an_absurd_reading_is_refused(duv: float) -> None:
    """No lamp of 1500 K is that green."""
    with pytest.raises(EvencastError) as caught:
        of_reading(1500, duv)
    assert caught.value.what == f"no lamp reads 1500 K with a Duv of {duv:+g}"
    assert caught.value.where == f"1500K{duv:+g}"
    assert caught.value.remedy == (
        "Check the reading (near white, Duv is rarely beyond 0.01), or give a spectrum."
    )


def test_a_reading_that_no_lamp_of_the_kind_can_have_is_refused() -> None:
    """A three-band tube cannot be as warm as a candle."""
    with pytest.raises(EvencastError) as caught:
        of_reading(1500, 0.03, kind="three-band tube")
    assert caught.value.what == (
        "no lamp of the kind three-band tube reads 1500 K with a Duv of +0.03"
    )


@pytest.mark.parametrize(
    ("kind", "lamps"),
    [
        ("high-pressure sodium", HP_SODIUM),
        ("low-pressure sodium", "low-pressure sodium"),
        ("mercury", "mercury clear, mercury coated"),
        (
            "metal halide",
            "metal halide HP3, metal halide HP4, metal halide HP5, metal halide 3000 K, "
            "metal halide 4150 K, metal halide 4300 K",
        ),
    ],
)
def test_a_discharge_lamp_needs_its_spectrum(kind: LightKind, lamps: str) -> None:
    """By a meter, a camera, or Kelvin alone: with the reason, and what would do."""
    tried: list[tuple[Callable[[], Light], str]] = [
        (lambda: of_reading(2000, 0.001, kind=kind), "2000K+0.001"),
        (lambda: of_camera(2000, kind=kind), "camera 2000K"),
        (lambda: of_kelvin(2000, kind=kind), "2000K"),
    ]
    for make, where in tried:
        with pytest.raises(EvencastError) as caught:
            make()
        assert caught.value.what == f"a reading does not tell the spectrum of a {kind} lamp"
        assert caught.value.where == where
        assert caught.value.remedy == (
            "Its lines differ from lamp to lamp: with a guess, a sheet was up to 50 mired off. "
            "Give a file of its spectrum, such as ./lamp.csv, or the built-in lamp that is most "
            f"like it: {lamps}."
        )


@pytest.mark.parametrize("kind", ["tungsten", "daylight"])
def test_n_kelvin_of_a_kind_on_the_locus_is_labelled(kind: LightKind) -> None:
    """The same white, nothing assumed, nothing to note."""
    light = of_kelvin(3100, kind=kind)
    np.testing.assert_array_equal(light.power, white(3100))
    assert (light.kind, light.assumed, light.note) == (kind, False, "")


@pytest.mark.parametrize("kind", ["phosphor LED", "three-band tube", "HMI"])
def test_n_kelvin_of_another_kind_says_that_it_is_only_the_white(kind: LightKind) -> None:
    """N K stays exactly that locus; how to have a lamp's spectrum is told."""
    light = of_kelvin(5600, kind=kind)
    np.testing.assert_array_equal(light.power, white(5600))
    assert light.kind == kind
    assert light.assumed
    assert light.possible is None
    assert light.note == (
        f"exactly the white of 5600 K, not the spectrum of a lamp of the kind {kind}: "
        "write 5600K with the Duv that was read for one"
    )


@pytest.mark.parametrize("cct_k", [0.0, 1.0, 200.0, 999.0, 100_001.0, 1e9])
def test_a_reading_outside_the_range_is_refused(cct_k: float) -> None:
    """As an error that names the range, whatever the number."""
    with pytest.raises(EvencastError) as caught:
        of_reading(cct_k, 0.001)
    assert "1000 to 100000 K" in caught.value.remedy


def test_a_camera_without_tint_sees_the_white_of_its_balance() -> None:
    """5200 K of daylight, with a band as wide as cameras differ from the eye."""
    light = of_camera(5200)
    np.testing.assert_allclose(uv(light.power), uv(white(5200)), atol=1e-7)
    at_mired, duv = mired_duv(uv(light.members))
    assert light.name == "camera 5200K"
    assert np.std(at_mired) == pytest.approx(CAMERA_MIRED, rel=0.15)
    assert np.std(duv) == pytest.approx(CAMERA_DUV, rel=0.15)
    assert light.note.endswith(
        "; it was read off a camera, which may differ from a meter by 15 mired and 0.006 Duv"
    )


@pytest.mark.parametrize(("steps", "name"), [(4, "4 toward magenta"), (-4, "4 toward green")])
def test_what_a_camera_moves_toward_magenta_is_green(steps: float, name: str) -> None:
    """By about 0.001 Duv a step, which may be half or twice as much."""
    plain, tinted = of_camera(5200, kind="tube"), of_camera(5200, toward_magenta=steps, kind="tube")
    before, after = (float(mired_duv(uv(each.power))[1]) for each in (plain, tinted))
    assert after - before == pytest.approx(0.001 * steps, abs=1e-6)
    assert tinted.name == f"camera 5200K {name}"
    assert np.std(mired_duv(uv(tinted.members))[1]) > 1.05 * CAMERA_DUV
    assert tinted.note.endswith(", and its tint steps are unknown")


def test_a_step_that_was_measured_is_taken_as_it_is() -> None:
    """Its Duv moves the light; the band is that of a camera without tint."""
    plain = of_camera(5200, kind="tube")
    tinted = of_camera(5200, toward_magenta=10, step_duv=0.0008, kind="tube")
    before, after = (mired_duv(uv(each.power))[1] for each in (plain, tinted))
    assert after - before == pytest.approx(0.008, abs=1e-6)
    assert np.std(mired_duv(uv(tinted.members))[1]) == pytest.approx(CAMERA_DUV, rel=0.15)
    assert tinted.note.endswith("by 15 mired and 0.006 Duv")


@pytest.mark.parametrize("cct_k", [1000, 1001, 99_999, 100_000])
def test_a_camera_at_the_ends_of_the_range(cct_k: float) -> None:
    """What it may be stays where a colour temperature exists."""
    light = of_camera(cct_k)
    assert np.isfinite(light.members).all()


@given(st.floats(1000, 100_000), st.floats(-0.05, 0.05), st.sampled_from(KINDS))
@settings(max_examples=60, deadline=None)
def test_any_reading_gives_a_light_or_an_error(cct_k: float, duv: float, kind: LightKind) -> None:
    """The nominal spectrum reads so and every member is a spectrum; else it is refused."""
    try:
        light = of_reading(cct_k, duv, kind=kind)
    except EvencastError:
        return
    aim = uv_of_mired_duv(np.array(1e6 / cct_k), np.array(duv))
    np.testing.assert_allclose(uv(light.power), aim, atol=1e-7)
    assert light.members.shape == (MEMBERS, 81)
    assert np.isfinite(light.members).all()
    assert (light.members >= 0).all()
