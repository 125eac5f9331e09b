"""From a spectrum to the reading every answer shows."""

from __future__ import annotations

import math
from typing import TypedDict

import numpy as np

from evencast.colour import mired_duv, uv, white_uv, xy_of_xyz, xyz
from evencast.lights import Light
from evencast.quantities import Floats, kelvin
from evencast.results.light import LightReading
from evencast.spectra import GRID_NM


class Quality(TypedDict):
    """The part of a reading that judges the light; see `LightReading`."""

    ra: float | None
    r9: float | None
    rf: float | None
    rg: float | None
    rcs_h1: float | None
    ssi: float | None
    ssi_reference: str | None


NO_QUALITY: Quality = {
    "ra": None,
    "r9": None,
    "rf": None,
    "rg": None,
    "rcs_h1": None,
    "ssi": None,
    "ssi_reference": None,
}


def rounded(value: float, digits: int) -> float | None:
    """A finite value to that many places; None for nan and infinity."""
    return round(float(value), digits) + 0.0 if math.isfinite(value) else None


def reading(light: Light, *, through: Floats | None = None) -> LightReading:
    """The colour of a light and its quality, bare or through a transmittance on the grid."""
    power = light.power if through is None else light.power * through
    at_mired, at_duv = mired_duv(uv(power))
    x, y = xy_of_xyz(xyz(power))
    has_cct = bool(np.isfinite(at_mired))
    return LightReading(
        state="ok" if has_cct else "no_cct",
        cct_k=rounded(1e6 / float(at_mired), 2),
        duv=rounded(float(at_duv), 6),
        mired=rounded(float(at_mired), 3),
        green_duv=green_duv(float(at_mired), float(at_duv)),
        x=rounded(float(x), 6),
        y=rounded(float(y), 6),
        kind=light.kind,
        assumed=light.assumed,
        **(
            _quality(light, power, through, cct_k=kelvin(float(at_mired)))
            if has_cct and not light.assumed
            else NO_QUALITY
        ),
    )


def green_duv(at_mired: float, at_duv: float) -> float | None:
    """Duv beside the white of the same colour temperature."""
    if not math.isfinite(at_mired):
        return None
    _, white_duv = mired_duv(white_uv(kelvin(at_mired)))
    return rounded(at_duv - float(white_duv), 6)


def _quality(light: Light, power: Floats, through: Floats | None, *, cct_k: float) -> Quality:
    """How good a light of known spectrum is; its tables are read for the first such light."""
    from evencast.colour.fidelity import cri, ssi, ssi_name, ssi_reference, tm30

    (ra, special), (rf, rg, chroma) = cri(power), tm30(power)
    reference = ssi_reference(np.array(cct_k))
    similar = ssi(_ssi_samples(light, power, through, reference), reference)
    return {
        "ra": rounded(float(ra), 1),
        "r9": rounded(float(special[8]), 1),
        "rf": rounded(float(rf), 1),
        "rg": rounded(float(rg), 1),
        "rcs_h1": rounded(float(chroma[0]), 1),
        "ssi": rounded(float(similar), 1),
        "ssi_reference": ssi_name(cct_k),
    }


def _ssi_samples(light: Light, power: Floats, through: Floats | None, reference: Floats) -> Floats:
    """The light's own samples where it has them, through the sheets; else those of the grid."""
    from evencast.colour.fidelity import SSI_NM, ssi_samples, ssi_samples_of_grid

    if light.spectrum is None:
        return ssi_samples_of_grid(power, reference)
    samples = ssi_samples(light.spectrum.wavelengths_nm, light.spectrum.values)
    return samples if through is None else samples * np.interp(SSI_NM, GRID_NM, through)
