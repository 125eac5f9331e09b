"""Lights known by numbers: N Kelvin, or a reading of Kelvin and Duv."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evencast.colour import (
    Locus,
    check_kelvin,
    locus_of,
    mired_duv,
    uv,
    uv_of_mired_duv,
    white,
    xyz,
)
from evencast.errors import EvencastError
from evencast.lights.light import Light
from evencast.quantities import Floats, mired
from evencast.spectra import GRID_NM, Spectrum

STEEPEST = 30.0
"""Refuse a smooth spectrum bent by more than this over 400-700 nm: it means nothing."""

_KIND_OF_LOCUS = {"planckian": "Planckian", "daylight": "daylight", "blend": "blend"}


def of_kelvin(cct_k: float, *, locus: Locus | None = None) -> Light:
    """The light of N Kelvin: exactly that locus, not a guess at a lamp."""
    named = locus or locus_of(cct_k)
    return Light(name=f"{cct_k:g}K", kind=_KIND_OF_LOCUS[named], power=white(cct_k, locus=named))


def of_spectrum(name: str, spectrum: Spectrum) -> Light:
    """A light of which the spectrum was measured, brought to a peak of 1."""
    return Light(name=name, kind="unknown", power=spectrum.grid / spectrum.grid.max())


def of_reading(cct_k: float, duv: float) -> Light:
    """A light of which only a meter reading is known; its spectrum is assumed smooth.

    The white of that Kelvin is multiplied by exp(b z + c z^2), z from -1 at 400 nm to 1 at
    700 nm, with b and c such that the reading is met.

    cct_k : 1000 to 100 000
    duv   : within 0.05
    Raises  EvencastError where the spectrum would have to be absurd
    Error   the reading to 1e-7 uv. The effect of filters on the real lamp can differ by tens
            of mired, since tubes and LEDs are not smooth (docs/accuracy.md#readings)
    """
    where = f"{cct_k:g}K{duv:+g}"
    check_kelvin(cct_k)
    aim = uv_of_mired_duv(np.array(mired(cct_k)), np.array(duv))
    power = _bend(white(cct_k), aim)
    if power is None:
        raise EvencastError(
            f"no smooth light reads {cct_k:g} K with a Duv of {duv:+g}",
            where=where,
            remedy="Check the reading (near white, Duv is rarely beyond 0.01), or give a spectrum.",
        )
    return Light(
        name=where,
        kind="unknown",
        power=power,
        assumed=True,
        note="only a reading is known: the spectrum is assumed smooth, so the effect of "
        "filters on a tube, an LED or a discharge lamp may differ by tens of mired",
    )


def redial(light: Light, cct_k: float) -> Light:
    """An adjustable light turned to another colour temperature.

    A light of two emitters is mixed anew, along the straight line between them, which dips
    towards magenta in the middle. Of another only the spectrum is known: it is bent, its Duv
    kept, and marked as assumed.

    Raises  EvencastError where the light cannot go there
    """
    if not light.emitters:
        check_kelvin(cct_k)
    power = _mix(light.emitters, cct_k) if light.emitters else _bent_to(light.power, cct_k)
    if power is None:
        raise EvencastError(
            f"{light.name} cannot be dialled to {cct_k:g} K",
            where=light.name,
            remedy="Dial within what the light itself can do.",
        )
    return replace(
        light,
        name=f"{light.name} at {cct_k:g}K",
        power=power,
        assumed=light.assumed or not light.emitters,
        note=f"dialled to {cct_k:g} K"
        + ("" if light.emitters else ", its Duv taken as unchanged: read it there"),
    )


def _mix(emitters: tuple[Floats, ...], cct_k: float) -> Floats | None:
    """Warm and cool emitter in the proportion that has this colour temperature."""
    if cct_k <= 0:
        return None
    warm, cool = (each / xyz(each)[1] for each in emitters)
    low, high = 0.0, 1.0
    for _ in range(6):
        share = np.linspace(low, high, 33)
        read, _ = mired_duv(uv(share[:, None] * cool + (1 - share[:, None]) * warm))
        beyond = int(np.searchsorted(-read, -mired(cct_k)))
        if not 0 < beyond < len(share):
            return warm if np.isclose(read[0], mired(cct_k)) else None
        low, high = share[beyond - 1], share[beyond]
    return np.asarray(high * cool + (1 - high) * warm)


def _bent_to(power: Floats, cct_k: float) -> Floats | None:
    _, duv = mired_duv(uv(power))
    return _bend(power, uv_of_mired_duv(np.array(mired(cct_k)), duv))


def _bend(power: Floats, aim: Floats) -> Floats | None:
    """The spectrum bent until it has that u, v; None where that takes an absurd bend."""
    z = (GRID_NM - 550.0) / 150.0
    basis = np.stack([z, z * z])
    amounts = np.zeros(2)
    for _ in range(30):
        bent = power * np.exp(np.clip(amounts @ basis, -30.0, 30.0))
        miss = uv(bent) - aim
        if np.abs(miss).max() < 1e-9:
            break
        step = 1e-5
        slope = np.stack([(uv(bent * np.exp(step * each)) - uv(bent)) / step for each in basis])
        change = np.linalg.lstsq(slope.T, -miss, rcond=None)[0]
        amounts += change / max(1.0, np.abs(change).max())
    else:
        return None
    visible = (amounts @ basis)[(GRID_NM >= 400) & (GRID_NM <= 700)]
    return bent if np.exp(np.ptp(visible)) <= STEEPEST else None
