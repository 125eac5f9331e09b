from __future__ import annotations

from typing import Any

import pytest

from evencast.camera.flicker import Mains
from evencast.plan.light import Light
from evencast.plan.plan import Camera, Plan
from evencast.plan.setup import SetupLight
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
    keys: dict[str, float], mains_hz: Mains, seconds: float
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


def over(light: dict[str, Any], differs: dict[str, Any]) -> Light:
    """A light as it stands in a set-up."""
    known = {} if light.keys() & {"builtin", "spectrum"} else {"cct_k": 3200}
    named = {"name": "window"}
    return SetupLight.model_validate(named | differs).over(
        Light.model_validate(named | {"role": "fill"} | known | light)
    )


def test_a_set_up_goes_before_the_plan_key_by_key() -> None:
    """What it gives holds, also where that is the default; what it does not give stays."""
    found = over(
        {"aim": {"mired": 5}, "moves": ["dim"], "distance_m": 3, "circuit": "ring"},
        {"name": "Window", "moves": ["leave"], "distance_m": 4, "aim": {"duv": 0.001}},
    )
    assert (found.name, found.role, found.moves) == ("window", "fill", ("leave",))
    assert (found.distance_mm, found.circuit) == (4000.0, "ring")
    assert (found.aim.mired, found.aim.duv) == (0.0, 0.001)


def test_what_a_set_up_gives_anew_takes_the_place_of_all_that_said_the_same() -> None:
    """A light is known one way, in the set-up too."""
    read = over({"builtin": "tungsten 3200 K", "kind": "tungsten"}, {"cct_k": 5600})
    assert (read.builtin, read.cct_k, read.kind) == (None, 5600.0, "tungsten")
    built = over({"cct_k": 5600, "duv": 0.003, "kind": "HMI"}, {"builtin": "D65"})
    assert (built.builtin, built.cct_k, built.duv, built.kind) == ("D65", None, None, None)
    tinted = over({"duv": 0.003}, {"tint": "none"})
    assert (tinted.cct_k, tinted.duv, tinted.tint) == (3200.0, None, "none")
    drawn = over({"watts": 650, "power_factor": 0.9}, {"amps": 3})
    assert (drawn.watts, drawn.power_factor, drawn.amps) == (None, None, 3.0)


def test_kind_and_fitting_are_those_of_the_built_in_light_or_as_written() -> None:
    """A fitting that is written goes before the catalogue's, a kind does not."""
    tube = over({"builtin": "fl2"}, {})
    assert (tube.lamp_kind(), tube.lamp_fitting()) == ("halophosphate tube", "tube")
    boxed = over({"builtin": "FL2", "kind": "tube", "fitting": "fixture"}, {})
    assert (boxed.lamp_kind(), boxed.lamp_fitting()) == ("halophosphate tube", "fixture")
    assert (over({}, {}).lamp_kind(), over({}, {}).lamp_fitting()) == ("unknown", "")
    assert over({"kind": "HMI"}, {}).lamp_kind() == "HMI"
    assert over({"builtin": "no such light", "kind": "HMI"}, {}).lamp_kind() == "HMI"
