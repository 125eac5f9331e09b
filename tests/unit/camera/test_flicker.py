from __future__ import annotations

import math

import numpy as np
import pytest

from evencast.camera.flicker import Mains, frames_alike, safe_times_s, swing_stops


@pytest.mark.parametrize("mains_hz", [50, 60])
@pytest.mark.parametrize("time_s", [1 / 48, 1 / 50, 1 / 60, 1 / 96, 1 / 200, 1 / 31])
def test_the_swing_is_what_a_pulsing_light_gives(mains_hz: Mains, time_s: float) -> None:
    """Against the light gathered by shutters that open at every point of a pulse, summed."""
    starts = np.linspace(0.0, 0.5 / mains_hz, 401)
    open_s = (np.arange(2000) + 0.5) / 2000 * time_s
    phase = 4.0 * math.pi * mains_hz * (starts[:, None] + open_s)
    gathered = (1.0 + np.cos(phase)).mean(axis=1)
    expected = math.log2(gathered.max() / gathered.min())
    assert swing_stops(time_s, mains_hz=mains_hz) == pytest.approx(expected, abs=2e-4)


@pytest.mark.parametrize(("mains_hz", "frames"), [(50, 24.0), (60, 24.0), (50, 25.0), (60, 50.0)])
def test_safe_times_do_not_swing_and_fit_into_a_frame(mains_hz: Mains, frames: float) -> None:
    times = safe_times_s(mains_hz=mains_hz, frames_per_s=frames)
    assert times[0] == pytest.approx(0.5 / mains_hz)
    assert len(times) == math.floor(2 * mains_hz / frames)
    assert max(times) <= 1 / frames + 1e-12
    assert [swing_stops(each, mains_hz=mains_hz) for each in times] == pytest.approx(
        [0.0] * len(times), abs=1e-9
    )


def test_no_time_is_safe_where_a_frame_is_shorter_than_a_pulse() -> None:
    assert safe_times_s(mains_hz=50, frames_per_s=120) == []


def test_frames_are_alike_where_pulses_divide() -> None:
    """25 on 50 Hz, 24 on 60 Hz; not 24 on 50 Hz, nor 23.976 on 60 Hz, which drifts."""
    assert frames_alike(mains_hz=50, frames_per_s=25)
    assert frames_alike(mains_hz=60, frames_per_s=24)
    assert not frames_alike(mains_hz=50, frames_per_s=24)
    assert not frames_alike(mains_hz=60, frames_per_s=24000 / 1001)


def test_a_pulse_that_can_be_missed_swings_without_bound() -> None:
    """A shutter far shorter than a pulse may see none of it."""
    assert swing_stops(1e-12, mains_hz=50) > 20
