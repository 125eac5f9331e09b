"""What to mind of lights that pulse with the mains, at this shutter and frame rate."""

from __future__ import annotations

from evencast.actions.taking import Taking
from evencast.camera.flicker import UNSEEN_STOPS, Mains, frames_alike, safe_times_s, swing_stops
from evencast.lights import Light

STEADY_KINDS = frozenset({"tungsten", "Planckian", "daylight", "blend"})
"""A hot filament hardly cools between two pulses; the sky has none."""

UNCOVERED = (
    "Not covered: LED dimmed by pulses of their own, a generator off its frequency, a failing "
    "ballast. Shoot a test frame at the real shutter; strobing can harm photosensitive people."
)


def flicker(light: Light, camera: Taking) -> list[str]:
    """A caution for lights that may pulse; nothing for filaments and daylight."""
    if light.kind in STEADY_KINDS:
        return []
    mains: tuple[Mains, ...] = (50, 60) if camera.mains_hz is None else (camera.mains_hz,)
    told = " ".join(_on(hz, camera) for hz in mains)
    return [f"Flicker, if this light pulses with the mains: {told} {UNCOVERED}"]


def _on(mains_hz: Mains, camera: Taking) -> str:
    swing = swing_stops(camera.time_s, mains_hz=mains_hz)
    begin = f"{say_time(camera.time_s)} on {mains_hz} Hz"
    if swing < UNSEEN_STOPS:
        return f"{begin} takes whole pulses."
    frames = f"{camera.frames_per_s:g} frames per second"
    alike = frames_alike(mains_hz=mains_hz, frames_per_s=camera.frames_per_s)
    how = (
        f"frames come out alike at {frames}, but a sensor read line by line may show standing "
        f"bands of up to {_most(swing)}"
        if alike
        else f"exposure may swing by up to {_most(swing)}"
    )
    safe = safe_times_s(mains_hz=mains_hz, frames_per_s=camera.frames_per_s)
    times = ", ".join(say_time(each) for each in safe)
    return f"{begin}: {how}; safe: {times or f'no time that fits into a frame at {frames}'}."


def _most(swing_stops: float) -> str:
    if swing_stops > 3:
        return "more than 3 stops"
    return f"{swing_stops:.1f} stop"


def say_time(time_s: float) -> str:
    """A shutter time as a part of a second: "1/48 s"."""
    return f"1/{1.0 / time_s:.4g} s"
