"""What a set-up records of a light, where it is not what the plan now says."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.actions.handouts.job import Wishes, job
from evencast.actions.handouts.otherwise import otherwise
from evencast.plan.setups import light_in
from tests.plans import light, write_plan

LAMP = light("lamp", "", role="fill") + light(
    "window", 'frost = ["light frost"]', role="fill", builtin="daylight D55"
)


def told(folder: Path, recorded: str, name: str = "lamp") -> list[str]:
    """At 5600 K a lamp of 3200 K gets a full CTB, and a window nothing but its frost."""
    setup = f'[[setup]]\nname = "day"\n[[setup.light]]\nname = "{name}"\n{recorded}\n'
    path = write_plan(folder, LAMP + setup)
    (part,) = job(path, Wishes("2031-05-04"), setup=None, progress=None).parts
    planned = next(each for each in part.answer.lights if each.name == name)
    assert planned.filters == (["full CTB"] if name == "lamp" else [])
    entry = part.loaded.plan.light_named(name)
    assert entry is not None
    return otherwise(light_in(part.setup, name), planned, entry)


@pytest.mark.parametrize(
    ("recorded", "said"),
    [
        ("", []),
        ('rigged = { filters = ["full CTB"] }', []),
        ('rigged = { filters = ["Full  ctb"], focus = "spot", height_m = 2 }', []),
        ('planned = { filters = ["full CTB"] }', []),
        ("rigged = { }", ["Rigged otherwise: nothing."]),
        ("rigged = { off = true }", ["Rigged otherwise: switched off."]),
        (
            'rigged = { filters = ["half CTB", "half CTB"] }',
            ["Rigged otherwise: half CTB, half CTB."],
        ),
        (
            'rigged = { filters = ["full CTB"], scrims = ["double"] }',
            ["Rigged otherwise: full CTB, double scrim."],
        ),
        (
            'planned = { filters = ["full CTB"], dim_stops = 0.5 }',
            ["Kept in the plan otherwise: dimmed 2/3 stop, full CTB."],
        ),
        (
            'rigged = { filters = ["a borrowed sheet"], swapped_for = "a borrowed lamp" }',
            ["Rigged otherwise: swapped for a borrowed lamp, a borrowed sheet."],
        ),
        (
            'planned = { filters = [] }\nrigged = { filters = ["full CTB"] }',
            [],
        ),
    ],
)
def test_only_what_differs_is_told(tmp_path: Path, recorded: str, said: list[str]) -> None:
    assert told(tmp_path, recorded) == said


def test_frost_that_hangs_in_any_case_is_no_difference(tmp_path: Path) -> None:
    assert told(tmp_path, 'rigged = { filters = ["light frost"] }', "window") == []
    assert told(tmp_path, "rigged = { }", "window") == []
