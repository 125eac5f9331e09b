"""The same scene done other ways."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.scenes import HALF_SHEET, UNCOUNTED, light, solved_scene, write_scene

TUNGSTEN = "tungsten 3200 K"
LAMP = light("lamp", "key", TUNGSTEN, HALF_SHEET)
CTB = {"full CTB": UNCOUNTED}


def test_what_comes_to_the_same_is_told_once(tmp_path: Path) -> None:
    """A lamp at its own balance needs nothing: the best in every way."""
    scene = solved_scene(write_scene(tmp_path, LAMP, sheets=CTB, balance="{ at_k = [3200, 5600] }"))
    found = scene.alternatives()
    assert [each.name for each in found] == [
        "best, 3200K, fewest pieces, least area",
        "4300K",
        "5600K",
    ]
    assert [each.pieces for each in found] == [0, 0, 1]
    assert [each.off_colour for each in found] == [[], ["lamp"], []]
    assert [each.loses_most for each in found] == [None, None, "lamp"]


def test_each_is_counted_by_the_plans_own_weights(tmp_path: Path) -> None:
    """A piece, its square metres, its minutes and its stops, worked out by hand; what is left of
    its edge is next to nothing."""
    keys = "weights = { stops = 2, pieces = 3, square_metres = 5, minutes = 0.5 }"
    fill = light("lamp", "fill", TUNGSTEN, HALF_SHEET)
    scene = solved_scene(write_scene(tmp_path, fill, sheets=CTB, keys=keys))
    best = scene.alternatives()[0]
    assert (best.pieces, best.area_m2, best.minutes) == (1, 0.3, 4.0)
    by_hand = 3 * 1 + 5 * 0.3 + 0.5 * 4 + 2 * best.loss_stops
    assert by_hand < best.cost < by_hand + 0.2
    assert best.cost == pytest.approx(scene.solved.best.cost, abs=1e-3)


LEVELS = """level = {{ lux = {lux} }}
moves = ["scrim", "leave"]
aim = {{ stops = {stops} }}
"""


def test_a_level_that_is_off_costs_in_every_one(tmp_path: Path) -> None:
    """A fill 4 stops over its aim, with 2 1/2 stops of scrims at the most and a half allowed: one
    stop too bright is 20 sheets; the scrim takes a twentieth of one and its minute a tenth."""
    key = light("key", "key", TUNGSTEN, "level = { lux = 100 }", 'moves = ["leave"]')
    fill = light("fill", "fill", TUNGSTEN, LEVELS.format(lux=800, stops=-1))
    scene = solved_scene(
        write_scene(tmp_path, key + fill, sheets=CTB, balance="{ fixed_k = 3200 }")
    )
    best = scene.alternatives()[0]
    assert best.off_level == ["fill"]
    assert best.off_colour == []
    assert best.cost == pytest.approx(20 * 1.0 + 0.05 + 0.1, abs=1e-3)
    assert best.cost == pytest.approx(scene.solved.best.cost, abs=1e-3)
    assert scene.light("fill").scrims == ["single", "double", "double"]


def test_the_fewest_pieces_may_lose_more(tmp_path: Path) -> None:
    """Two lamps: a sheet on each, or, where the weights forbid pieces, none."""
    lamps = "".join(light(name, "fill", TUNGSTEN, HALF_SHEET) for name in ("left", "right"))
    sheets = {"half CTB": UNCOUNTED, "full CTB": UNCOUNTED}
    keys = "weights = { pieces = 0, square_metres = 0, minutes = 0, stops = 5 }"
    scene = solved_scene(write_scene(tmp_path, lamps, sheets=sheets, keys=keys))
    best, *others = scene.alternatives()
    assert best.off_colour == []
    assert all(each.cost >= best.cost - 1e-3 for each in others if each.balance == best.balance)


def test_the_worst_light_is_named_with_its_miss(tmp_path: Path) -> None:
    """Tungsten at 5600 K is 134 mired warm, 178.6 from 312.5 by hand."""
    lamps = light("lamp", "key", TUNGSTEN, 'moves = ["leave"]')
    lamps += light("window", "fill", "daylight D55", 'moves = ["leave"]')
    scene = solved_scene(write_scene(tmp_path, lamps, sheets=CTB))
    best = scene.alternatives()[0]
    assert best.worst == "lamp"
    assert best.worst_mired == pytest.approx(1e6 / 3200 - 1e6 / 5600, abs=0.1)
    assert best.off_colour == ["lamp"]


def test_what_each_light_gets_is_told_in_every_way(tmp_path: Path) -> None:
    """A lamp that needs nothing at its own balance, and one sheet at daylight's."""
    scene = solved_scene(write_scene(tmp_path, LAMP, sheets=CTB, balance="{ at_k = [3200, 5600] }"))
    own, between, daylight = scene.alternatives()
    assert [(each.name, each.move, each.filters) for each in own.lights] == [("lamp", "leave", [])]
    assert between.lights[0].filters == []
    assert [(each.move, each.filters) for each in daylight.lights] == [("filter", ["full CTB"])]
    (light_,) = daylight.lights
    assert (light_.dial_k, light_.dim_stops, light_.swapped_for, light_.scrims) == (
        None,
        0.0,
        None,
        [],
    )
