"""A light as a solved scene hangs it, with its level and that of the view through it."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from evencast.actions.hung import (
    beyond_level,
    is_view_level,
    say_level,
    say_limit,
    view_level_stops,
)
from evencast.colour import xyz
from evencast.filters import generic, stack_members
from evencast.lights import builtin
from tests.scenes import HALF_SHEET, NONE, UNCOUNTED, light, solved_scene, write_scene

TUNGSTEN = "tungsten 3200 K"
SHOT = "t_stop = 4\nexposure_index = 800"
CTB = {"full CTB": UNCOUNTED}


def test_what_hangs_is_counted_over_all_its_fixtures(tmp_path: Path) -> None:
    """Three fixtures of two openings are six pieces, 0.3 m² and four minutes each."""
    lamp = light("lamp", "fill", TUNGSTEN, "count = 3", HALF_SHEET.replace("}]", ", count = 2 }]"))
    each = solved_scene(write_scene(tmp_path, lamp, sheets=CTB)).light("lamp")
    assert [sheet.name for sheet in each.filters] == ["full CTB"]
    assert each.pieces == 6
    assert each.area_m2 == pytest.approx(1.8)
    assert each.minutes == pytest.approx(24.0)
    assert each.filter_stops == pytest.approx(1.7, abs=0.2)


def test_a_light_without_measured_openings_has_a_piece_for_each_fixture(tmp_path: Path) -> None:
    """Their size is not known, and so neither is their area."""
    lamp = light("lamp", "fill", TUNGSTEN, "count = 3")
    each = solved_scene(write_scene(tmp_path, lamp, sheets=CTB)).light("lamp")
    assert (each.pieces, each.area_m2) == (3, 0.0)


FILL = """level = {{ lux = 200 }}
aim = {{ stops = -2 }}
{moves}
"""


def test_a_level_against_the_key_counts_what_both_lose(tmp_path: Path) -> None:
    """The fill is a stop over its aim while both are bare; the key's full CTB brings it nearer by
    as much as that takes, and the fill's own takes it back."""
    key = light("key", "key", TUNGSTEN, "level = { lux = 400 }", HALF_SHEET)
    fill = light("fill", "fill", TUNGSTEN, FILL.format(moves=""), HALF_SHEET)
    scene = solved_scene(write_scene(tmp_path, key + fill, sheets=CTB, camera=SHOT))
    key_stops, fill_stops = (scene.light(name).filter_stops for name in ("key", "fill"))
    assert key_stops == fill_stops > 1
    assert scene.light("fill").level_stops == pytest.approx(1.0 - fill_stops + key_stops)
    assert not scene.light("fill").is_level
    assert beyond_level(scene.light("fill")) == pytest.approx(0.5)


def test_scrims_and_a_dimmer_bring_a_level_down(tmp_path: Path) -> None:
    """One stop too bright: a double, or a dimmer of an LED, and nothing of its colour."""
    key = light("key", "key", TUNGSTEN, "level = { lux = 400 }", 'moves = ["leave"]')
    for lamp, move, scrims in (
        (TUNGSTEN, "scrim", ["double"]),
        ("LED phosphor 3000 K", "dim", []),
    ):
        moves = f'moves = ["{move}", "leave"]'
        fill = light("fill", "practical", lamp, FILL.format(moves=moves))
        scene = solved_scene(
            write_scene(
                tmp_path,
                key + fill,
                sheets=CTB,
                camera=SHOT,
                balance="{ fixed_k = 3200 }",
                keys="tolerance = { practical = { stops = 0.1, mired = 60, duv = 0.02 } }",
            )
        )
        each = scene.light("fill")
        assert each.scrims == scrims
        assert each.dim_stops == (0.0 if scrims else pytest.approx(1.0))
        assert each.level_stops == pytest.approx(0.0, abs=1e-3)
        assert each.is_level
        assert each.other_stops == pytest.approx(1.0)


def test_a_key_is_too_bright_for_no_stop(tmp_path: Path) -> None:
    """Six stops over the shot are taken at the iris; six under are not."""
    for lux, level in ((64_000, True), (4, False)):
        key = light("key", "key", TUNGSTEN, f"level = {{ lux = {lux} }}", 'moves = ["leave"]')
        scene = solved_scene(
            write_scene(tmp_path, key, sheets=CTB, camera=SHOT, balance="{ fixed_k = 3200 }")
        )
        assert scene.light("key").is_level is level
        assert (beyond_level(scene.light("key")) == 0) is level


WINDOW = light("window", "fill", "daylight D55", 'fitting = "window"', 'moves = ["filter"]')
STREET = """[[light]]
name = "street"
role = "view"
builtin = "daylight D65"
behind = "window"
level = { ev = 13 }
aim = { stops = 2 }
"""


def test_a_view_loses_what_its_window_does(tmp_path: Path) -> None:
    """EV 13 at ISO 100 is EV 16 at 800; at 1/50 s that is f/36.2, 6.36 stops over f/4 and 4.36
    over what is wanted; two ND 0.6 in the window take about 4 of them."""
    sheets = {"ND 0.6": UNCOUNTED}
    scene = solved_scene(write_scene(tmp_path, WINDOW + STREET, sheets=sheets, camera=SHOT))
    window = scene.light("window")
    assert [sheet.name for sheet in window.filters] == ["ND 0.6", "ND 0.6"]
    over = 16 - math.log2(4**2 * 50)
    lamp, sheets_may_be = builtin("daylight D65").power, stack_members([generic("ND 0.6")] * 2)
    taken = float(np.median(-np.log2(xyz(lamp * sheets_may_be)[:, 1] / xyz(lamp)[1])))
    assert taken == pytest.approx(4, abs=0.2)
    assert view_level_stops(window, 0) == pytest.approx(over - 2 - taken, abs=1e-3)
    assert is_view_level(window, 0)


def test_what_is_seen_through_a_window_that_is_off_is_judged_by_nothing(tmp_path: Path) -> None:
    """It is not seen."""
    window = light("window", "fill", "low-pressure sodium", 'moves = ["switch off"]')
    scene = solved_scene(
        write_scene(tmp_path, window + STREET, sheets={"ND 0.6": NONE}, camera=SHOT)
    )
    each = scene.light("window")
    assert each.way.is_off
    assert view_level_stops(each, 0) is None
    assert is_view_level(each, 0)
    assert each.is_level
    assert beyond_level(each) == 0


def test_a_level_in_words() -> None:
    """Under a sixth of a stop nobody sees."""
    assert say_level(0.1) == "as bright as wanted"
    assert say_level(0.5) == "2/3 stop too bright"
    assert say_level(-2.0) == "2 stops too dark"
    assert [say_limit(stops) for stops in (0.5, 1.0, 1.5)] == ["0.5 stop", "1 stop", "1.5 stops"]
