"""How a colour looks: CIECAM02 and its uniform space, for the one setting of CIE 224.

The eye is fully adapted to the light, at 100 cd/m2, before a grey background of a fifth of
the white's luminance, in an average surround.
"""

from __future__ import annotations

import numpy as np

from evencast.colour.adaptation import CAT02
from evencast.quantities import Floats

ADAPTING_CD_M2 = 100.0
BACKGROUND = 0.2
_SURROUND_C, _SURROUND_N = 0.69, 1.0

_CONES = np.array(
    [[0.38971, 0.68898, -0.07868], [-0.22981, 1.18340, 0.04641], [0.00000, 0.00000, 1.00000]]
)
_TO_CONES = _CONES @ np.linalg.inv(CAT02)

_K = 1.0 / (5.0 * ADAPTING_CD_M2 + 1.0)
_LEVEL = 0.2 * _K**4 * 5.0 * ADAPTING_CD_M2 + 0.1 * (1.0 - _K**4) ** 2 * (5.0 * ADAPTING_CD_M2) ** (
    1.0 / 3.0
)
_INDUCTION = 0.725 * BACKGROUND**-0.2
_EXPONENT = _SURROUND_C * (1.48 + BACKGROUND**0.5)
_CHROMA = (1.64 - 0.29**BACKGROUND) ** 0.73


def jab(tristimulus: Floats, *, white: Floats) -> Floats:
    """Lightness J' and the colour directions a', b' of CAM02-UCS. [(..., 3)]

    tristimulus : (..., 3) of samples, on the scale of the white
    white       : (..., 3) of the light, Y being 100
    Source  CIE 159:2004; M. R. Luo, G. Cui, C. Li, Color Res. Appl. 31 (2006) 320-330
    """
    red, green, blue = _responses(tristimulus, white)
    achromatic = 2.0 * red + green + blue / 20.0 - 0.305
    white_red, white_green, white_blue = _responses(white, white)
    ratio = achromatic / (2.0 * white_red + white_green + white_blue / 20.0 - 0.305)
    lightness = 100.0 * np.sign(ratio) * np.abs(ratio) ** _EXPONENT
    a = red - 12.0 * green / 11.0 + blue / 11.0
    b = (red + green - 2.0 * blue) / 9.0
    hue = np.arctan2(b, a)
    eccentricity = (np.cos(hue + 2.0) + 3.8) / 4.0
    strength = (50_000.0 / 13.0) * _SURROUND_N * _INDUCTION * eccentricity * np.hypot(a, b)
    strength /= red + green + 21.0 * blue / 20.0
    chroma = strength**0.9 * np.sqrt(lightness / 100.0) * _CHROMA
    colourfulness = np.log1p(0.0228 * chroma * _LEVEL**0.25) / 0.0228
    return np.stack(
        [
            1.7 * lightness / (1.0 + 0.007 * lightness),
            colourfulness * np.cos(hue),
            colourfulness * np.sin(hue),
        ],
        axis=-1,
    )


def _responses(tristimulus: Floats, white: Floats) -> tuple[Floats, Floats, Floats]:
    """Responses of the three cones after full adaptation and compression."""
    adapted = 100.0 * (tristimulus @ CAT02.T) / (white @ CAT02.T)
    cones = _LEVEL * (adapted @ _TO_CONES.T) / 100.0
    power = np.abs(cones) ** 0.42
    compressed = 400.0 * np.sign(cones) * power / (power + 27.13) + 0.1
    return compressed[..., 0], compressed[..., 1], compressed[..., 2]
