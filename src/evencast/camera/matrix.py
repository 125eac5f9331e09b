"""From a camera's balanced raw to colours: a matrix for each white it is balanced to.

The procedure of the Academy's P-2013-001 as RAW to ACES carries it out: of 190 reflectances
under the balance's white, the raw, balanced, is brought as near as a matrix can to what the eye
sees, by CIE 1976 L*, a*, b*. A perfect white stays white, so that rows add up to 1.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from evencast import tables
from evencast.camera.sensitivities import Sensitivities
from evencast.colour import xyz
from evencast.colour.adaptation import adapting
from evencast.colour.difference import LAB_LINEAR_BELOW, lab
from evencast.quantities import Floats

ACES_TO_XYZ = np.array(
    [
        [0.9525523959, 0.0000000000, 0.0000936786],
        [0.3439664498, 0.7281660966, -0.0721325464],
        [0.0000000000, 0.0000000000, 1.0088251844],
    ]
)
"""SMPTE ST 2065-1."""
ACES_WHITE = ACES_TO_XYZ.sum(axis=1)

_MOST_STEPS = 200
_SMALL_STEP = 1e-9


def gains(raw_white: Floats) -> Floats:
    """What each channel is multiplied by to make a white neutral; the smallest is 1.
    [(..., 3) to (..., 3)]"""
    return np.asarray(raw_white.max(axis=-1, keepdims=True) / raw_white)


def balanced_to_xyz(camera: Sensitivities, balance_power: Floats) -> Floats:
    """The matrix from raw, balanced so that the balance's white is 1, 1, 1, to tristimulus
    values before the white of ACES. [(3, 3)]

    balance_power : (81,) the white the camera is balanced to
    """
    return np.asarray(ACES_TO_XYZ @ balanced_to_aces(camera, balance_power))


def balanced_to_aces(camera: Sensitivities, balance_power: Floats) -> Floats:
    """The matrix from balanced raw to ACES2065-1. [(3, 3), rows add up to 1]

    Error   0.0005 from RAW to ACES where it scales as here (docs/accuracy.md#camera)
    """
    return _cached(camera, np.ascontiguousarray(balance_power, dtype=float).tobytes())


@lru_cache(maxsize=512)
def _cached(camera: Sensitivities, balance: bytes) -> Floats:
    power = np.frombuffer(balance)
    matrix = fit(training_raw(camera, power), training_xyz(power))
    matrix.setflags(write=False)
    return matrix


def training_raw(camera: Sensitivities, balance_power: Floats) -> Floats:
    """Balanced raw of the training reflectances; a perfect white is 1, 1, 1. [(190, 3)]"""
    return np.asarray(camera.raw(_training() * balance_power) / camera.raw(balance_power))


def training_xyz(balance_power: Floats) -> Floats:
    """Tristimulus values of the training reflectances, adapted to the white of ACES. [(190, 3)]"""
    white = xyz(balance_power)
    adapted = adapting(from_white=white / white[1], to_white=ACES_WHITE)
    return np.asarray(xyz(_training() * balance_power) / white[1] @ adapted.T)


def fit(raw: Floats, aim: Floats) -> Floats:
    """The matrix that brings raw nearest to its aims by L*, a*, b*, white staying white. [(3, 3)]

    raw : (n, 3) balanced, white being 1, 1, 1
    aim : (n, 3) tristimulus values before the white of ACES
    Method  Levenberg and Marquardt on exact slopes; the third element of each row is what the
            first two leave of 1
    """
    wanted = lab(aim, white=ACES_WHITE)
    beside = raw[:, :2] - raw[:, 2:]
    free = np.array([[1.0, 0.0], [0.0, 1.0], [0.0, 0.0]])
    miss, slopes = _miss_and_slopes(free, raw[:, 2:], beside, wanted)
    damping = 1e-3
    for _ in range(_MOST_STEPS):
        normal = slopes.T @ slopes
        damped = normal + damping * np.diag(np.diag(normal))
        step = -np.linalg.solve(damped, slopes.T @ miss).reshape(3, 2)
        tried = _miss_and_slopes(free + step, raw[:, 2:], beside, wanted)
        if tried[0] @ tried[0] <= miss @ miss:
            free = free + step
            miss, slopes = tried
            damping /= 10.0
        else:
            damping *= 10.0
        if np.abs(step).max() < _SMALL_STEP:
            break
    return np.column_stack([free, 1.0 - free.sum(axis=1)])


def _miss_and_slopes(
    free: Floats, blue: Floats, beside: Floats, wanted: Floats
) -> tuple[Floats, Floats]:
    """How far each L*, a*, b* is from the wanted one (3n,), and how it moves with the six free
    numbers (3n, 6).

    blue   : (n, 1) the third channel
    beside : (n, 2) the other two less the third
    """
    share = (blue + beside @ free.T) @ ACES_TO_XYZ.T / ACES_WHITE
    miss = lab(share, white=np.ones(3)) - wanted
    curved = np.cbrt(np.maximum(share, LAB_LINEAR_BELOW)) ** -2.0 / 3.0
    slope = np.where(share > LAB_LINEAR_BELOW, curved, 841.0 / 108.0)
    to_share = ACES_TO_XYZ / ACES_WHITE[:, None]
    x, y, z = np.einsum("nk,kj,nc->knjc", slope, to_share, beside)
    slopes = np.stack([116.0 * y, 500.0 * (x - y), 200.0 * (y - z)], axis=1)
    return miss.ravel(), slopes.reshape(-1, free.size)


def _training() -> Floats:
    """The training reflectances. [(190, 81)]"""
    return tables.read("training_reflectances").values[:, 1:].T
