"""The balance of a plan, and what each light shall look like beside it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from evencast.actions.aims import aim_of, balance_of, level_aim, look_in
from evencast.actions.planned import LoadedPlan, load_plan
from evencast.colour import uv, uv_of_mired_duv, white_uv
from evencast.errors import EvencastError
from evencast.lights import builtin
from evencast.lights.looks import look
from evencast.plan.light import Light as LightEntry
from evencast.plan.setup import Setup
from evencast.quantities import Floats, mired
from evencast.solver.aim import Aim, aim_at_look
from tests.unit.cli.calling import KIT

PLAN = """format = 1
name = "shed"
kit = "kit.toml"
mains_hz = 50
camera = {{ balance = {balance} }}
[[light]]
name = "lamp"
role = "key"
builtin = "tungsten 3200 K"
{lamp}
[[light]]
name = "Tube"
role = "fill"
builtin = "cool white tube FL2"
[[look]]
name = "Alley  moon"
mired = -40
duv = 0.001
stops = -1.5
"""


def loaded(folder: Path, *, balance: str = "{ fixed_k = 4300 }", lamp: str = "") -> LoadedPlan:
    (folder / "kit.toml").write_text(KIT, "utf-8")
    (folder / "plan.toml").write_text(PLAN.format(balance=balance, lamp=lamp), "utf-8")
    return load_plan(folder / "plan.toml")


def aim_and_balance(folder: Path, lamp: str) -> tuple[Aim, Aim, LightEntry]:
    plan = loaded(folder, lamp=lamp)
    balance = balance_of(plan, None)
    entry = plan.plan.light[0]
    return (
        aim_of(entry, balance, looks_of, lambda name: look_in(plan.plan, name)),
        balance,
        entry,
    )


def looks_of(name: str) -> Floats:
    assert name == "tube"
    return np.array([0.25, 0.34])


def test_a_dialled_balance_is_the_white_of_its_kelvin(tmp_path: Path) -> None:
    """4300 K alone is the white of 4300 K."""
    balance = balance_of(loaded(tmp_path), None)
    assert balance.label == "4300K"
    assert balance.uv == pytest.approx(white_uv(4300.0), abs=1e-12)


def test_a_balance_with_duv_is_just_there(tmp_path: Path) -> None:
    """Kelvin and Duv as dialled."""
    balance = balance_of(loaded(tmp_path, balance="{ fixed_k = 4300, duv = 0.004 }"), None)
    assert balance.mired == pytest.approx(mired(4300.0))
    assert balance.duv == 0.004
    place = uv_of_mired_duv(np.array(mired(4300.0)), np.array(0.004))
    assert balance.uv == pytest.approx(place, abs=1e-12)


def test_a_card_takes_the_balance_of_its_light(tmp_path: Path) -> None:
    """Whatever the capitals of its name."""
    balance = balance_of(loaded(tmp_path, balance='{ from_card_under = "tube" }'), None)
    assert balance.label == "card under Tube"
    assert balance.uv == pytest.approx(uv(builtin("FL2").power), abs=1e-12)


@pytest.mark.parametrize(
    "balance", ["{ low_k = 3200, high_k = 5600, step_k = 100 }", "{ at_k = [3200, 5600] }"]
)
def test_several_balances_are_no_balance(tmp_path: Path, balance: str) -> None:
    """The error says how to name one."""
    with pytest.raises(EvencastError) as caught:
        balance_of(loaded(tmp_path, balance=balance), None)
    assert caught.value.what == "it leaves several balances to choose from"
    assert caught.value.where == 'plan "shed", camera.balance'
    assert caught.value.remedy == (
        "Say which one the camera stands at: --balance 4300K, balance_k in the set-up, or fixed_k "
        "in the plan. `evencast solve PLAN --setup NAME --keep` writes the one it chose into the "
        "set-up."
    )


def test_a_set_up_says_what_the_camera_stands_at(tmp_path: Path) -> None:
    """Before the plan's own balance, and where that leaves several; without it, the plan's."""
    for balance in ("{ fixed_k = 4300 }", "{ at_k = [3200, 5600] }"):
        plan = loaded(tmp_path, balance=balance)
        white = balance_of(plan, Setup(name="day", balance_k=3900.0))
        assert white.label == "3900K"
        assert white.uv == pytest.approx(white_uv(3900.0), abs=1e-12)
        off = balance_of(plan, Setup(name="day", balance_k=3900.0, balance_duv=-0.002))
        assert off.mired == pytest.approx(mired(3900.0))
        assert off.duv == -0.002
    assert balance_of(loaded(tmp_path), Setup(name="day")).label == "4300K"


def test_without_an_aim_it_is_the_balance(tmp_path: Path) -> None:
    """The very place, with no level."""
    aim, balance, entry = aim_and_balance(tmp_path, "")
    assert (aim.label, aim.mired, aim.duv, aim.stops) == ("4300K", balance.mired, balance.duv, 0.0)
    assert level_aim(entry, lambda name: look(name)) is None


def test_an_offset_is_counted_from_the_balance(tmp_path: Path) -> None:
    """Mired and Duv add; the level goes along."""
    aim, balance, _ = aim_and_balance(tmp_path, "aim = { mired = 30, duv = -0.002, stops = -1 }")
    assert aim.mired == pytest.approx(balance.mired + 30.0)
    assert aim.duv == pytest.approx(balance.duv - 0.002)
    assert (aim.label, aim.stops) == ("4300K+30mired", -1.0)


def test_like_another_light_is_what_that_looks_like(tmp_path: Path) -> None:
    """Asked for by the name in the plan."""
    aim, _, _ = aim_and_balance(tmp_path, 'aim = { like = "tube", stops = -2 }')
    assert (aim.label, aim.stops) == ("like tube", -2.0)
    assert aim.uv == pytest.approx([0.25, 0.34])


def test_a_look_of_the_plan_goes_before_the_built_in(tmp_path: Path) -> None:
    """Its offsets and its level; capitals and spaces make no difference."""
    aim, balance, entry = aim_and_balance(tmp_path, 'aim = { look = "alley moon" }')
    wanted = aim_at_look(balance, label="x", mired_offset=-40, duv_offset=0.001)
    assert (aim.label, aim.stops) == ("alley moon", -1.5)
    assert (aim.mired, aim.duv) == (wanted.mired, wanted.duv)
    plan = loaded(tmp_path)
    assert level_aim(entry, lambda name: look_in(plan.plan, name)) == -1.5
    assert look_in(plan.plan, "moonlight discreet") is look("moonlight, discreet")


def test_stops_of_the_aim_go_before_those_of_the_look(tmp_path: Path) -> None:
    """The level written with the look holds."""
    aim, _, entry = aim_and_balance(tmp_path, 'aim = { look = "alley moon", stops = 0.5 }')
    assert aim.stops == 0.5
    assert level_aim(entry, lambda name: look(name)) == 0.5
