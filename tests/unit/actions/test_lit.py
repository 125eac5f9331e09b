"""How much light a solved scene has: each light, its spots, its views, and ways to a level."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from evencast.actions.lit import exposure_of, light_cures, softness_of, spots_of, views_of
from evencast.results.exposure import SceneExposure
from tests.scenes import HALF_SHEET, UNCOUNTED, SolvedScene, light, solved_scene, write_scene

TUNGSTEN = "tungsten 3200 K"
LEFT = 'moves = ["leave"]'
SHOT = "t_stop = 4\nexposure_index = 800"
AT_3200 = "{ fixed_k = 3200 }"
CTB = {"full CTB": UNCOUNTED}


def scene(
    folder: Path, lights: str, *, camera: str = SHOT, balance: str = AT_3200, keys: str = ""
) -> SolvedScene:
    return solved_scene(
        write_scene(folder, lights, sheets=CTB, camera=camera, balance=balance, keys=keys)
    )


def exposure(made: SolvedScene) -> SceneExposure | None:
    return exposure_of(made.staged, made.lights, made.seen)


def test_without_levels_nothing_is_said_of_how_bright(tmp_path: Path) -> None:
    """Neither of lights nor of spots."""
    made = scene(tmp_path, light("key", "key", TUNGSTEN))
    assert exposure(made) is None
    assert spots_of(made.staged, made.lights, made.seen, made.light("key").aim) == []


def test_each_light_is_told_as_it_hangs(tmp_path: Path) -> None:
    """Scrims take half of the lux each stop; what is off gives nothing and is not told."""
    lights = light("key", "key", TUNGSTEN, "level = { lux = 400 }", LEFT)
    lights += light(
        "fill",
        "fill",
        TUNGSTEN,
        "level = { lux = 400 }",
        "aim = { stops = -2 }",
        'moves = ["scrim"]',
    )
    lights += light(
        "street",
        "background",
        "low-pressure sodium",
        "level = { lux = 40 }",
        'moves = ["switch off"]',
    )
    made = scene(tmp_path, lights)
    told = exposure(made)
    assert told is not None
    assert [each.name for each in told.lights] == ["key", "fill"]
    key, fill = told.lights
    stops = made.light("fill").trim.stops
    assert stops == 1.5  # two wanted, half a stop allowed
    assert key.lux == pytest.approx((400, 400))
    assert fill.lux == pytest.approx((400 / 2**1.5,) * 2, rel=1e-5)
    assert fill.gap_stops is not None
    assert fill.gap_stops[1] == pytest.approx(-0.5)  # half a stop over what is wanted
    assert fill.against == "key"
    assert told.shot_f_number == 4


def test_what_a_swap_changes_is_in_the_level(tmp_path: Path) -> None:
    """A bulb that is a stop darker."""
    lights = light("key", "key", TUNGSTEN, "level = { lux = 400 }", LEFT)
    lights += light(
        "bulb",
        "fill",
        "cool white tube FL2",
        "level = { lux = 200 }",
        'swap = [{ name = "b", builtin = "tungsten 3200 K", stops = -1 }]',
        'moves = ["swap"]',
    )
    made = scene(tmp_path, lights)
    told = exposure(made)
    assert told is not None
    assert made.light("bulb").way.move == "swap"
    assert told.lights[1].lux == pytest.approx((100, 100))


def test_a_spot_has_the_lights_that_are_on(tmp_path: Path) -> None:
    """Half the key there is half its lux; the street lamp is off and does not reach it."""
    lights = light("key", "key", TUNGSTEN, "level = { lux = 400 }", LEFT)
    lights += light("street", "background", "low-pressure sodium", 'moves = ["switch off"]')
    spot = (
        '[[spot]]\nname = "cheek"\nrole = "key"\n'
        'light = [{ name = "key", stops = -1 }, { name = "street", lux = 50 }]\n'
    )
    made = scene(tmp_path, lights + spot)
    (told,) = spots_of(made.staged, made.lights, made.seen, made.light("key").aim)
    assert told.name == "cheek"
    assert [each.name for each in told.lights] == ["key"]
    assert told.lights[0].share == pytest.approx(1.0)


STREET = (
    '[[light]]\nname = "street"\nrole = "view"\nbuiltin = "daylight D65"\nlevel = { ev = 13 }\n'
)


def test_views_are_told_with_the_stop_that_is_set(tmp_path: Path) -> None:
    """One of its own and one behind a window; without a stop of the lens, none."""
    window = light("window", "fill", "daylight D65", 'fitting = "window"', LEFT)
    behind = STREET.replace('"street"', '"yard"') + 'behind = "window"\n'
    lights = STREET + LEFT + "\n" + window + behind
    made = scene(tmp_path, lights, balance="{ fixed_k = 6500 }")
    told = views_of(made.staged, made.lights, made.solved.best.balance)
    over = 16 - math.log2(4**2 * 50)  # EV 13 at ISO 100 is 16 at 800; f/4 at 1/50 s
    assert [each.name for each in told] == ["street", "yard"]
    for each in told:
        assert each.over_stops[1] == pytest.approx(over, abs=0.01)
    made = scene(tmp_path, lights, camera="", balance="{ fixed_k = 6500 }")
    assert views_of(made.staged, made.lights, made.solved.best.balance) == []


def test_a_view_behind_sheets_is_darker(tmp_path: Path) -> None:
    """By what the window's CTB takes from it."""
    window = light("window", "fill", TUNGSTEN, HALF_SHEET)
    behind = STREET + 'behind = "window"\naim = { mired = -100 }\n'
    made = scene(tmp_path, window + behind, balance="{ fixed_k = 5600 }")
    assert [sheet.name for sheet in made.light("window").filters] == ["full CTB"]
    (told,) = views_of(made.staged, made.lights, made.solved.best.balance)
    over = 16 - math.log2(4**2 * 50)
    assert over - told.over_stops[1] == pytest.approx(made.light("window").filter_stops, abs=0.35)
    assert over - told.over_stops[1] > 1


def test_ways_to_a_level_are_told_where_it_is_missed(tmp_path: Path) -> None:
    """A key four stops under the shot; a fill that is as it shall be needs none."""
    lights = light("key", "key", TUNGSTEN, "level = { lux = 20, distance_m = 4 }", LEFT)
    lights += light("fill", "fill", TUNGSTEN, "level = { lux = 10 }", "aim = { stops = -1 }", LEFT)
    made = scene(tmp_path, lights)
    told = exposure(made)
    cures = {
        each.staged.entry.name: light_cures(made.staged, each, made.lights, told, {})
        for each in made.lights
    }
    assert cures["fill"] == []
    assert cures["key"][0].text.startswith("Closer: ")
    assert any(each.text.startswith("Index 10000 to ") for each in cures["key"])  # 3.64 stops
    assert all(each.gain_stops[1] > 0 for each in cures["key"])


def test_softness_is_told_where_a_size_is_known(tmp_path: Path) -> None:
    """0.6 m at 2 m; nothing of a light that says neither size nor frost."""
    lights = light("soft", "key", TUNGSTEN, "size_cm = 60", "distance_m = 2", LEFT)
    lights += light("other", "fill", TUNGSTEN, LEFT)
    made = scene(tmp_path, lights)
    told = softness_of(made.staged, made.light("soft"))
    assert told is not None
    assert told.bare_seen_deg == pytest.approx(2 * math.degrees(math.atan(0.3 / 2)), abs=0.1)
    assert softness_of(made.staged, made.light("other")) is None
