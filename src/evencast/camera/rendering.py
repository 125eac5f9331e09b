"""Pictures from spectra: what a balanced camera, or the eye, makes of lit patches."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from evencast.camera.display import Display, Rendered, display_named, shown
from evencast.camera.matrix import ACES_WHITE, balanced_to_xyz
from evencast.camera.sensitivities import Sensitivities
from evencast.colour import xyz
from evencast.colour.adaptation import adapting
from evencast.quantities import Floats


def render(
    powers: Floats,
    reflectances: Floats,
    *,
    balance_power: Floats,
    camera: Sensitivities,
    display: str = "sRGB",
    exposure: Floats | None = None,
) -> Rendered:
    """Patches under lights, for a display. [values (..., m, 3), limited (..., m)]

    powers, reflectances, balance_power, camera, exposure : as `linear`
    display : "sRGB", "Rec. 709" or "Display P3"
    """
    chosen = display_named(display)
    return shown(
        linear(
            powers,
            reflectances,
            balance_power=balance_power,
            camera=camera,
            display=chosen,
            exposure=exposure,
        ),
        chosen,
    )


def linear(
    powers: Floats,
    reflectances: Floats,
    *,
    balance_power: Floats,
    camera: Sensitivities,
    display: Display,
    exposure: Floats | None = None,
) -> Floats:
    """Patches under lights as linear light of a display, before it ends anywhere. [(..., m, 3)]

    powers        : (..., 81) the lights, sheets included
    reflectances  : (m, 81)
    balance_power : (81,) the white that comes out neutral; its scale does not matter
    exposure      : (..., 81) the light that the stop was set for with a meter that sees as the
                    eye: under the balance's own white, so exposed, a reflectance of 1 is white.
                    A bare light holds the stop while sheets come and go; None meters every
                    light for itself, which makes good what a sheet loses
    """
    weights = _weights(camera, display, balance_power)
    metered = powers if exposure is None else exposure
    scale = xyz(balance_power)[1] / xyz(metered)[..., 1]
    table = (reflectances[:, :, None] * weights).transpose(1, 0, 2).reshape(len(weights), -1)
    flat = powers @ table * scale[..., None]
    return np.asarray(flat.reshape(*flat.shape[:-1], len(reflectances), 3))


def residual_stops(
    power: Floats, balance_power: Floats, camera: Sensitivities
) -> tuple[Floats, Floats]:
    """How far a neutral card is from neutral in balanced raw: R/G and B/G. [stops; two (...,)]

    power         : (..., 81) the light on the card
    balance_power : (81,) the white the camera is balanced to, under which both are 0
    Returns         + redder and + bluer than neutral
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        stops = np.log2(camera.raw(power) / camera.raw(balance_power))
        return stops[..., 0] - stops[..., 1], stops[..., 2] - stops[..., 1]


def _weights(camera: Sensitivities, display: Display, balance_power: Floats) -> Floats:
    """Weights that sum a spectrum to linear light of the display; the balance's white gives
    1, 1, 1. [(81, 3)]"""
    power = np.ascontiguousarray(balance_power, dtype=float)
    return _cached(camera, display, power.tobytes())


@lru_cache(maxsize=512)
def _cached(camera: Sensitivities, display: Display, balance: bytes) -> Floats:
    power = np.frombuffer(balance)
    raw_white = camera.raw(power)
    if camera.is_eye:
        to_xyz, white = np.eye(3) / raw_white[1], raw_white / raw_white[1]
    else:
        to_xyz, white = balanced_to_xyz(camera, power) / raw_white, ACES_WHITE
    to_display = display.from_xyz @ adapting(from_white=white, to_white=display.white)
    weights: Floats = camera.weights @ (to_display @ to_xyz).T
    weights.setflags(write=False)
    return weights
