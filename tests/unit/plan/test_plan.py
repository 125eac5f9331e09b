from __future__ import annotations

from typing import Any

import pytest

from evencast.plan.plan import Camera, Plan
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed, LightRole


def plan(**keys: Any) -> Plan:
    needed = {
        "format": 1,
        "name": "job",
        "kit": "kit.toml",
        "mains_hz": 50,
        "camera": {"balance": {"fixed_k": 4300}},
        "light": [{"name": "Key", "role": "key", "cct_k": 3200}],
    }
    return Plan.model_validate(needed | keys)


@pytest.mark.parametrize(
    ("role", "allowed"),
    [
        ("key", Allowed(-5, 5, 0.0015, 0.25)),
        ("fill", Allowed(-12, 12, 0.003, 0.5)),
        ("background", Allowed(-12, 12, 0.003, 0.5)),
        ("other", Allowed(-12, 12, 0.003, 0.5)),
        ("view", Allowed(-20, 20, 0.006, 1)),
        ("practical", Allowed(0, 60, 0.003, 1)),
    ],
)
def test_a_role_has_its_default_tolerance(role: LightRole, allowed: Allowed) -> None:
    """Without a word in the plan the working bands of common practice hold."""
    assert plan().allowed(role) == allowed
    assert DEFAULT_ALLOWED[role] == allowed


def test_a_tolerance_keeps_the_default_of_what_it_leaves_out() -> None:
    """One number changes itself alone, and means either side."""
    changed = plan(tolerance={"key": {"mired": 8}, "view": {"mired": [-5, 30], "duv": 0}})
    assert changed.allowed("key") == Allowed(-8, 8, 0.0015, 0.25)
    assert changed.allowed("view") == Allowed(-5, 30, 0, 1)


def test_what_is_left_out_has_its_default() -> None:
    """Aim, moves, limits and camera settings need not be written."""
    made = plan()
    light = made.light[0]
    assert (light.aim.mired, light.aim.duv, light.aim.stops, light.aim.like) == (0, 0, None, None)
    assert light.moves == ("filter", "dial", "leave")
    assert (made.limits.layers, made.limits.loss_stops) == (3, None)
    assert made.camera.exposure_index == 800


@pytest.mark.parametrize(
    ("keys", "mains_hz", "seconds"),
    [
        ({}, 50, 1 / 50),
        ({}, 60, 1 / 48),
        ({"shutter_deg": 90}, 50, 1 / 100),
        ({"frames_per_s": 50}, 60, 1 / 100),
        ({"shutter_s": 0.004, "frames_per_s": 50}, 50, 0.004),
    ],
)
def test_exposure_time_follows_shutter_frames_and_mains(
    keys: dict[str, float], mains_hz: int, seconds: float
) -> None:
    """The angle's share of a frame; 180 degrees, and 25 or 24 frames by the mains, unless given."""
    camera = Camera.model_validate({"balance": {"fixed_k": 4300}, **keys})
    assert camera.exposure_s(mains_hz=mains_hz) == pytest.approx(seconds)


def test_a_light_is_found_whatever_its_capitals() -> None:
    """Names are compared without capitals and doubled spaces; an unknown one gives None."""
    made = plan(light=[{"name": "Key  Light", "role": "key", "cct_k": 3200}])
    found = made.light_named("key light")
    assert found is made.light[0]
    assert made.light_named("fill") is None
