"""Lights that shall look like another, which may not hang as it would by itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.actions.likeness import hangs_otherwise, likeness
from evencast.actions.solve import solve
from evencast.colour import uv
from evencast.lights import builtin
from evencast.results.plan import PlannedLight, SolveAnswer
from tests.scenes import HALF_SHEET, NONE, ONE_SHEET, UNCOUNTED, light, solved_scene, write_scene

TUNGSTEN = "tungsten 3200 K"
PANEL = light(
    "panel",
    "fill",
    "two-colour LED panel",
    'aim = { like = "lamp" }',
    "adjustable = { low_k = 2700, high_k = 6500 }",
    'moves = ["dial"]',
)


def named(answer: SolveAnswer, name: str) -> PlannedLight:
    return next(each for each in answer.lights if each.name == name)


def test_a_light_is_like_another_as_that_hangs(tmp_path: Path) -> None:
    """By itself the lamp would take the full CTB of which there is none, and look like 5600 K; it
    stays at 3200 K, and so does the panel."""
    lamp = light("lamp", "key", TUNGSTEN, HALF_SHEET)
    path = write_scene(tmp_path, lamp + PANEL, sheets={"full CTB": NONE})
    once = solved_scene(path)
    (note,) = likeness(once.staged, once.light("panel"), once.lights)
    assert note.startswith(
        "Matched to lamp as it would hang by itself; as it hangs here that is 134 mired warm, "
        "clearly magenta of this, and the light 134 mired cool, "
    )
    ((key, looks),) = hangs_otherwise(once.staged, once.solved.best).items()
    assert key == ("lamp", "5600K")
    assert looks.tolist() == pytest.approx(uv(builtin(TUNGSTEN).power).tolist(), abs=1e-6)
    answer = solve(path)
    panel = named(answer, "panel")
    assert panel.dial_k == 3200
    assert panel.aim.mired == pytest.approx(1e6 / 3200, abs=0.1)
    assert panel.residual_mired == pytest.approx(0.0, abs=0.5)
    assert not any("atched to" in each for each in panel.notes)


def test_a_light_that_hangs_as_it_would_needs_no_second_look(tmp_path: Path) -> None:
    """There are sheets enough."""
    lamp = light("lamp", "key", TUNGSTEN, HALF_SHEET)
    scene = solved_scene(write_scene(tmp_path, lamp + PANEL, sheets={"full CTB": UNCOUNTED}))
    assert hangs_otherwise(scene.staged, scene.solved.best) == {}
    assert likeness(scene.staged, scene.light("panel"), scene.lights) == []
    assert likeness(scene.staged, scene.light("lamp"), scene.lights) == []


def test_a_chain_of_lights_is_followed_to_its_end(tmp_path: Path) -> None:
    """The third is like the second, which is like the first, which cannot hang as it would."""
    lamp = light("lamp", "key", TUNGSTEN, HALF_SHEET)
    third = PANEL.replace('"panel"', '"third"').replace('"lamp"', '"panel"')
    path = write_scene(tmp_path, third + PANEL + lamp, sheets={"full CTB": NONE})
    answer = solve(path)
    assert [named(answer, name).dial_k for name in ("panel", "third")] == [3200, 3200]
    assert named(answer, "third").aim.mired == pytest.approx(312.5, abs=0.5)


def test_a_light_that_is_switched_off_is_what_it_would_look_like(tmp_path: Path) -> None:
    """Said in so many words."""
    lamp = light("lamp", "background", "low-pressure sodium", 'moves = ["switch off"]')
    path = write_scene(tmp_path, lamp + PANEL, sheets={"full CTB": UNCOUNTED})
    answer = solve(path)
    assert named(answer, "lamp").move == "switch off"
    assert (
        "lamp is switched off: matched to what it would look like." in named(answer, "panel").notes
    )


WINDOW = light(
    "window",
    "fill",
    "daylight D65",
    'fitting = "window"',
    'moves = ["filter"]',
    "aperture = [{ width_mm = 450, height_mm = 1100 }]",
)
VIEW = """[[light]]
name = "street"
role = "view"
builtin = "daylight D75"
behind = "window"
"""


def test_a_light_may_be_like_what_is_seen_through_a_window(tmp_path: Path) -> None:
    """D75 behind the full CTO on the pane; balanced at 3200 K, both fit their tolerances."""
    panel = PANEL.replace('"lamp"', '"street"')
    path = write_scene(
        tmp_path,
        WINDOW + VIEW + panel,
        sheets={"full CTO": ONE_SHEET},
        balance="{ fixed_k = 3200 }",
    )
    answer = solve(path)
    assert named(answer, "window").filters == ["full CTO"]
    aim = named(answer, "panel").aim
    assert aim.label == "like street"
    assert aim.mired == pytest.approx(1e6 / 7500 + 134, abs=5)  # even series: full is 134 mired
    assert named(answer, "panel").dial_k == pytest.approx(1e6 / (aim.mired or 1.0), abs=25)


def test_a_view_may_be_like_a_light(tmp_path: Path) -> None:
    """It is judged by that: D65 is like D65, whatever the balance."""
    view = VIEW.replace("D75", "D65") + 'aim = { like = "outside" }\n'
    outside = light("outside", "other", "daylight D65", 'moves = ["leave"]')
    window = WINDOW.replace('"filter"', '"leave"')
    scene = solved_scene(write_scene(tmp_path, window + view + outside, sheets={"ND 0.3": NONE}))
    (seen,) = scene.light("window").staged.light.views
    aim = seen.aims[scene.solved.best.balance]
    assert aim.mired == pytest.approx(1e6 / 6504, abs=0.2)
