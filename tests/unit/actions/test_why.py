"""Why a scene came out as it did: its balance, what ran out, what excludes what."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.actions.why import conflict, wanting, why_this_balance
from tests.scenes import (
    HALF_SHEET,
    NONE,
    ONE_SHEET,
    UNCOUNTED,
    SolvedScene,
    light,
    solved_scene,
    write_scene,
)

TUNGSTEN = "tungsten 3200 K"
LEFT = 'moves = ["leave"]'
THREE_LAMPS = "".join(
    light(name, role, TUNGSTEN, HALF_SHEET)
    for name, role in (("key", "key"), ("left", "fill"), ("right", "fill"))
)
"""Each takes half a sheet of full CTB to look white at 5600 K."""


def told(scene: SolvedScene) -> list[str]:
    return conflict(scene.staged, scene.solver, scene.solved)


def test_a_sheet_that_is_short_for_all_of_them(tmp_path: Path) -> None:
    """One sheet holds two of three pieces; one sheet more serves the third."""
    path = write_scene(tmp_path, THREE_LAMPS, sheets={"full CTB": ONE_SHEET})
    scene = solved_scene(path)
    off = [each.staged.entry.name for each in scene.lights if not each.is_inside]
    assert len(off) == 1
    (more,) = wanting(scene.staged, scene.solver, scene.solved)
    assert more.filter == "full CTB"
    assert more.text == f"One more sheet of full CTB: {off[0]} inside."
    enough = write_scene(tmp_path, THREE_LAMPS, sheets={"full CTB": UNCOUNTED})
    cost = solved_scene(enough).solved.best.cost
    assert scene.solved.best.cost - more.saves == pytest.approx(cost, abs=1e-3)
    assert told(scene) == [
        "At 5600K there are not sheets enough to have key, left and right inside together.",
        "full CTB: 3 pieces of 500 × 600 mm are needed, and the stock yields 2.",
    ]


def test_where_there_is_enough_nothing_is_wanted_and_nothing_excludes(tmp_path: Path) -> None:
    """Uncounted sheets never run out."""
    path = write_scene(tmp_path, THREE_LAMPS, sheets={"full CTB": UNCOUNTED})
    scene = solved_scene(path)
    assert all(each.is_inside for each in scene.lights)
    assert wanting(scene.staged, scene.solver, scene.solved) == []
    assert told(scene) == []


def test_two_lights_that_exclude_each_others_balance(tmp_path: Path) -> None:
    """Nothing may be put before either: a lamp is white near 3200 K alone, a window near 5600."""
    lights = light("lamp", "key", TUNGSTEN, LEFT) + light("window", "fill", "daylight D55", LEFT)
    scene = solved_scene(
        write_scene(
            tmp_path,
            lights,
            sheets={"full CTB": UNCOUNTED},
            balance="{ low_k = 3200, high_k = 5600, step_k = 400 }",
        )
    )
    # D55 is 5503 K, 181.7 mired: 10.6 from 5200 K, 26.6 from 4800 K, and 12 are allowed
    assert told(scene) == [
        "No balance serves these together: lamp only at 3200K; window only at 5200K to 5600K."
    ]


def test_a_loss_that_is_not_allowed_is_named(tmp_path: Path) -> None:
    """Full CTB takes 1 2/3 stop, and sheets may take one."""
    scene = solved_scene(
        write_scene(
            tmp_path,
            light("lamp", "key", TUNGSTEN, HALF_SHEET),
            sheets={"full CTB": UNCOUNTED},
            keys="limits = { loss_stops = 1 }",
        )
    )
    assert told(scene) == [
        "lamp alone: nothing in the kit and none of its moves reaches it at this balance while "
        "sheets may take no more than 1 stop."
    ]


def test_a_light_that_nothing_reaches(tmp_path: Path) -> None:
    """At one balance and at several; no limit is blamed that changes nothing."""
    sodium = light("street", "background", "low-pressure sodium")
    sheets = {"full CTB": UNCOUNTED}
    said = "street alone: nothing in the kit and none of its moves reaches it"
    scene = solved_scene(write_scene(tmp_path, sodium, sheets=sheets))
    assert told(scene) == [f"{said} at this balance."]
    balance = "{ at_k = [3200, 4300, 5600] }"
    scene = solved_scene(write_scene(tmp_path, sodium, sheets=sheets, balance=balance))
    assert told(scene) == [f"{said} at any of 3 balances."]


def test_a_light_that_another_balance_would_serve(tmp_path: Path) -> None:
    """Two windows against one lamp, nothing before any: the windows win."""
    lights = light("lamp", "background", TUNGSTEN, LEFT)
    lights += "".join(light(name, "fill", "daylight D55", LEFT) for name in ("left", "right"))
    scene = solved_scene(
        write_scene(tmp_path, lights, sheets={"ND 0.3": NONE}, balance="{ at_k = [3200, 5600] }")
    )
    assert scene.staged.candidates[scene.solved.best.balance].aim.label == "5600K"
    assert told(scene) == [
        "No balance serves these together: lamp only at 3200K; left only at 5600K."
    ]


def test_the_balance_is_given_or_the_best_of_several(tmp_path: Path) -> None:
    """Against the others that are told beside it, each with what it would cost."""
    lamp = light("lamp", "key", TUNGSTEN, HALF_SHEET)
    sheets = {"full CTB": UNCOUNTED}
    scene = solved_scene(write_scene(tmp_path, lamp, sheets=sheets))
    why = why_this_balance(scene.staged, scene.solved, scene.alternatives())
    assert why == (
        "The balance is given: 5600K. At 3200K 1 fewer piece, 0.3 m² less of sheet, 1.7 stop less "
        "lost at the most; at 4300K lamp would be off, 1 fewer piece, 0.3 m² less of sheet, 1.7 "
        "stop less lost at the most."
    )
    free = "{ at_k = [3200, 4300, 5600] }"
    scene = solved_scene(write_scene(tmp_path, lamp, sheets=sheets, balance=free))
    why = why_this_balance(scene.staged, scene.solved, scene.alternatives())
    assert why == (
        "3200K is the best of 3 balances (proven). At 4300K lamp would be off; at 5600K 1 more "
        "piece, 0.3 m² more of sheet, 1.7 stop more lost at the most."
    )
