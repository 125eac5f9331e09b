"""The worked case of enough light, as a plan: taught arithmetic, and what the plan's parts say.

A flooded Fresnel of 9000 cd at 3 m through full CTB, the window at the face reads f/8; losses of
a table made up for teaching. Accepted: 0.05 stop beside the taught loss, 0.5 mired.
"""

from __future__ import annotations

import math
import shutil
from pathlib import Path

import pytest

from evencast.actions.cures import plan_cures
from evencast.actions.doubt import looks
from evencast.actions.exposures import Lit, exposures
from evencast.actions.levels import bare_levels, camera_of, shot_of
from evencast.actions.planned import load_plan
from evencast.actions.standing import Around, OtherBalance, Stands
from evencast.colour import low_middle_high
from evencast.filters import Filter
from evencast.lights import Light
from evencast.results.exposure import Triple
from evencast.solver.aim import aim_at_kelvin

PLAN = """format = 1
name = "lamp against a window"
kit = "taught_table.toml"
mains_hz = 60
[camera]
balance = { fixed_k = 5600 }
f_stop = 8
[[light]]
name = "window"
role = "key"
cct_k = 5600
fitting = "window"
level = { f_stop = 8 }
[[light]]
name = "lamp"
role = "fill"
builtin = "tungsten 3200 K"
level = { cd = 9000, focus = "flood" }
distance_m = 3
aim = { stops = 0 }
"""


def loss(light: Light, filters: list[Filter]) -> Triple:
    low, middle, high = (float(each) for each in low_middle_high(looks(light, filters).loss_stops))
    return low, middle, high


def test_too_little_against_the_window_and_three_cures(tmp_path: Path) -> None:
    """1000 lx bare; behind 2 stops f/3.55 to f/4.08, 1.94 to 2.34 stops short of f/8. Closer, 1.33
    to 1.53 m; spot; half CTB, 0.9 stop and 67 mired warm; balance 3200; or wait for the window."""
    shutil.copy(Path(__file__).with_name("taught_table.toml"), tmp_path)
    path = tmp_path / "plan.toml"
    path.write_text(PLAN, "utf-8")
    loaded = load_plan(path)
    bare, problems = bare_levels(loaded, tmp_path)
    assert problems == []
    assert bare["lamp"].level.low == 1000.0
    camera, lamp = camera_of(loaded.plan), loaded.lights["lamp"]
    full = loaded.kit.find("full CTB")
    assert full is not None
    taken = loss(lamp, [full])
    assert taken[1] == pytest.approx(2.0, abs=0.05)

    scene = exposures(
        [Lit("window", "key"), Lit("lamp", "fill", aim_stops=0.0, filter_stops=taken)],
        bare,
        camera=camera,
        shot=shot_of(loaded.plan.camera),
    )
    window, fill = scene.lights
    assert window.gap_stops == (0.0, 0.0, 0.0)
    assert fill.gap_stops is not None
    low, _, high = fill.gap_stops
    assert low - (taken[0] - 2.0) == pytest.approx(1.94, abs=0.005)
    assert high - (taken[2] - 2.0) == pytest.approx(2.34, abs=0.005)
    assert fill.f_number[0] <= 3.55
    assert fill.f_number[1] >= 4.08

    found = plan_cures(
        (1.941, 2.3415),
        Stands(
            lamp,
            distance_m=3.0,
            focus="flood",
            filters=[full],
            aim=aim_at_kelvin("5600K", 5600.0, 0.0),
        ),
        Around(
            against="window",
            falls=True,
            at_hand=loaded.kit.filters,
            balances=[OtherBalance("3200K", 0.0)],
            level=bare["lamp"].level,
        ),
        camera=camera,
    )
    words = [each.text for each in found]
    assert words[0].startswith("Closer: 1.33 to 1.53 m from the subject")
    assert words[1].startswith("Spot: 2 stops to 3 1/3 stops")
    half = next(each for each in found if each.text.startswith("half CTB for full CTB"))
    assert half.gain_stops[0] == pytest.approx(0.9, abs=0.05)
    assert "it is 67 mired warm" in half.text
    f_number = math.sqrt(1000 * 2 ** -(taken[1] - half.gain_stops[0]) * 800 / 48 / 330)
    assert f_number == pytest.approx(4.9, abs=0.1)
    assert any(each.startswith("Balance 3200K: 2 stops") for each in words)
    assert words[-1].startswith('Wait until "window" has fallen by 2 stops to 2 1/3 stops')
    assert not any(each.startswith(("Index", "Lens", "Shutter")) for each in words)
