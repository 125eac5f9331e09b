"""How far two colours lie apart: CIEDE2000, and distance in CIE 1976 u', v'."""

from __future__ import annotations

import numpy as np

from evencast.quantities import Floats

STEP_UPVP = 0.0011
"""Radius of a one-step circle in u', v' (CIE TN 001:2014; the number from memory, unchecked)."""

LAB_LINEAR_BELOW = (6.0 / 29.0) ** 3
_C7 = 25.0**7


def lab(tristimulus: Floats, *, white: Floats) -> Floats:
    """CIE 1976 L*, a*, b*. [(..., 3)]

    tristimulus : (..., 3) on the scale of the white; below zero it goes on straight
    white       : (3,) or (..., 3)
    Source  CIE 015:2018
    """
    share = tristimulus / white
    root = np.where(share > LAB_LINEAR_BELOW, np.cbrt(share), share * (841.0 / 108.0) + 4.0 / 29.0)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)], axis=-1)


def ciede2000(first: Floats, second: Floats) -> Floats:
    """Colour difference by CIEDE2000 with the weights kL = kC = kH = 1. [(...,)]

    first, second : (..., 3) L*, a*, b*; which is first makes no difference
    Source  G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30 (2005) 21-30
    """
    chroma = (np.hypot(*_ab(first)) + np.hypot(*_ab(second))) / 2.0
    stretch = 1.5 - 0.5 * np.sqrt(chroma**7 / (chroma**7 + _C7))
    chroma_1, hue_1 = _chroma_hue(first, stretch)
    chroma_2, hue_2 = _chroma_hue(second, stretch)
    turn = np.mod(hue_2 - hue_1 + 180.0, 360.0) - 180.0
    coloured = chroma_1 * chroma_2 > 0.0
    turn = np.where(coloured, _half_turn_as_printed(turn, hue_2 - hue_1), 0.0)
    hue = np.where(coloured, _mean_hue(hue_1, hue_2), hue_1 + hue_2)
    lightness = (first[..., 0] + second[..., 0]) / 2.0
    chroma = (chroma_1 + chroma_2) / 2.0
    scale_l, scale_c, scale_h, rotation = _weights(lightness, chroma, hue)
    by_l = (second[..., 0] - first[..., 0]) / scale_l
    by_c = (chroma_2 - chroma_1) / scale_c
    by_h = 2.0 * np.sqrt(chroma_1 * chroma_2) * np.sin(np.radians(turn) / 2.0) / scale_h
    return np.sqrt(np.maximum(by_l**2 + by_c**2 + by_h**2 + rotation * by_c * by_h, 0.0))


def upvp_of_uv(uv_value: Floats) -> Floats:
    """CIE 1976 u', v' of CIE 1960 u, v: v' is 1.5 v. [(..., 2)]"""
    return np.asarray(uv_value * np.array([1.0, 1.5]))


def upvp_distance(first: Floats, second: Floats) -> Floats:
    """Distance in CIE 1976 u', v' of two places. [(..., 2), (..., 2) to (...,)]"""
    return np.asarray(np.linalg.norm(np.asarray(first) - second, axis=-1))


def steps(distance_upvp: Floats | float) -> Floats:
    """A distance in u', v' as steps: n where it just lies on the n-step circle. [(...,)]

    Source  CIE TN 001:2014: the circle of n steps has the radius 0.0011 n
    """
    return np.asarray(distance_upvp) / STEP_UPVP


def _ab(colour: Floats) -> tuple[Floats, Floats]:
    return colour[..., 1], colour[..., 2]


def _chroma_hue(colour: Floats, stretch: Floats) -> tuple[Floats, Floats]:
    """C' and h' in degrees, 0 to 360; a grey has the hue 0."""
    a, b = _ab(colour)
    return np.hypot(a * stretch, b), np.mod(np.degrees(np.arctan2(b, a * stretch)), 360.0)


def _half_turn_as_printed(turn: Floats, plain: Floats) -> Floats:
    """A turn of just half a circle keeps the sign of h2' - h1', as the paper has it."""
    return np.where(np.abs(plain) == 180.0, plain, turn)


def _mean_hue(hue_1: Floats, hue_2: Floats) -> Floats:
    """The middle of the shorter way round. [degrees]"""
    total = hue_1 + hue_2
    around = np.where(total < 360.0, total + 360.0, total - 360.0)
    return np.asarray(np.where(np.abs(hue_1 - hue_2) <= 180.0, total, around) / 2.0)


def _weights(lightness: Floats, chroma: Floats, hue: Floats) -> tuple[Floats, ...]:
    """S_L, S_C, S_H and R_T of the paper."""

    def cosine(times: float, offset: float) -> Floats:
        return np.asarray(np.cos(np.radians(times * hue + offset)))

    by_hue = 1.0 - 0.17 * cosine(1, -30.0) + 0.24 * cosine(2, 0.0)
    by_hue += 0.32 * cosine(3, 6.0) - 0.20 * cosine(4, -63.0)
    off_middle = (lightness - 50.0) ** 2
    scale_l = 1.0 + 0.015 * off_middle / np.sqrt(20.0 + off_middle)
    scale_c = 1.0 + 0.045 * chroma
    scale_h = 1.0 + 0.015 * chroma * by_hue
    angle = 60.0 * np.exp(-(((hue - 275.0) / 25.0) ** 2))
    rotation = -2.0 * np.sqrt(chroma**7 / (chroma**7 + _C7)) * np.sin(np.radians(angle))
    return scale_l, scale_c, scale_h, rotation
