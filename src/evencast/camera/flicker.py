"""Lights that pulse with the mains, and the shutter times that take whole pulses.

A light on a simple ballast or driver brightens twice in every period of the mains. A shutter
that is open for a whole number of pulses gathers the same from any of them. How much it
misses otherwise is worked out for a light that goes all the way to dark between pulses, as
1 + cos: that is the worst such a light does.
"""

from __future__ import annotations

import math
from typing import Literal

Mains = Literal[50, 60]

FRAMES_PER_S: dict[Mains, float] = {50: 25.0, 60: 24.0}
"""The frame rate in use where the mains has that frequency."""

UNSEEN_STOPS = 0.05
"""A swing in exposure that stays unseen; half of what common practice, no source, allows."""


def swing_stops(exposure_s: float, *, mains_hz: Mains) -> float:
    """How far exposure may swing from frame to frame, or from line to line. [stop]

    exposure_s : time the shutter is open
    Returns 0 for a whole number of pulses; infinite where a pulse can be missed altogether
    Error   for a light that is dark between pulses; one that glows on swings less
    """
    pulses = 2.0 * mains_hz * exposure_s
    depth = abs(math.sin(math.pi * pulses) / (math.pi * pulses))
    return math.log2((1.0 + depth) / (1.0 - depth)) if depth < 1.0 else math.inf


def safe_times_s(*, mains_hz: Mains, frames_per_s: float) -> list[float]:
    """Shutter times of one, two, ... whole pulses that fit into a frame, shortest first. [s]"""
    pulse_s = 0.5 / mains_hz
    fitting = math.floor(1.0 / frames_per_s / pulse_s + 1e-9)
    return [count * pulse_s for count in range(1, fitting + 1)]


def frames_alike(*, mains_hz: Mains, frames_per_s: float) -> bool:
    """Whether every frame begins at the same point of a pulse: bands stand, nothing beats."""
    pulses = 2.0 * mains_hz / frames_per_s
    return abs(pulses - round(pulses)) < 1e-6 * pulses
