"""What is said beside a lamp that is swapped, dimmed or scrimmed."""

from __future__ import annotations

from pathlib import Path

from evencast.actions.cautions import DIMMER, SCRIM, SWAP, move_cautions
from evencast.actions.solve import solve
from evencast.lights import builtin
from tests.unit.cli.calling import KIT

PLAN = """format = 1
name = "ticket hall"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = { fixed_k = 3200 }
f_stop = 4
[[light]]
name = "key"
role = "key"
builtin = "tungsten 3200 K"
level = { f_stop = 4 }
[[light]]
name = "hair light"
role = "other"
builtin = "tungsten 3200 K"
level = { f_stop = 8 }
aim = { stops = 0 }
moves = ["scrim", "leave"]
[[light]]
name = "panel"
role = "fill"
cct_k = 3200
kind = "phosphor LED"
level = { f_stop = 8 }
aim = { stops = -1 }
moves = ["dim", "leave"]
[[light]]
name = "tubes"
role = "background"
builtin = "cool white tube FL2"
moves = ["swap", "leave"]
swap = [{ name = "warm tube", cct_k = 3200, kind = "tube", at_hand = 2 }]
"""


def test_scrim_dimmer_and_swap_each_bring_their_caution(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").write_text(KIT, "utf-8")
    path = tmp_path / "plan.toml"
    path.write_text(PLAN, "utf-8")
    by_name = {each.name: each for each in solve(path).lights}
    said = {name: {SCRIM, DIMMER, SWAP} & set(each.cautions) for name, each in by_name.items()}
    assert {name: each.move for name, each in by_name.items()} == {
        "key": "leave",
        "hair light": "scrim",
        "panel": "dim",
        "tubes": "swap",
    }
    assert said == {"key": set(), "hair light": {SCRIM}, "panel": {DIMMER}, "tubes": {SWAP}}


def test_wire_in_front_of_a_cool_lamp_needs_no_word_on_heat() -> None:
    nothing = {"swapped": False, "dimmed": False}
    assert move_cautions(builtin("LED-B3"), scrims=True, **nothing) == []
    assert move_cautions(builtin("tungsten"), scrims=True, **nothing) == [SCRIM]
