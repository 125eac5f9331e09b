"""A plan as it hangs gives the numbers of the solution that was kept in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast import tables
from evencast.actions.hangs import Standing, hangs
from evencast.actions.keep import keep
from evencast.errors import EvencastError
from evencast.results.hangs import HangsAnswer
from evencast.results.plan import SolveAnswer
from tests.plans import light, write_plan

MIXED = (
    light("key", 'moves = ["filter", "scrim", "dim"]\nlevel = { lux = 9000 }')
    + light("fill", "aim = { like = 'key', stops = -1 }\nlevel = { lux = 2000 }", role="fill")
    + light(
        "bulb",
        'moves = ["swap", "filter"]\nlevel = { lux = 20 }\n'
        'swap = [{ name = "cool", builtin = "LED phosphor 4100 K B3", stops = 0.5 }]',
        role="practical",
        builtin="LED phosphor 2700 K B1",
    )
    + light("lane", 'moves = ["switch off"]', role="background", builtin="FL5")
)


def demo(folder: Path) -> Path:
    for name, text in tables.demo_documents().items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "plan.toml"


def assert_as_solved(answer: HangsAnswer, solved: SolveAnswer) -> None:
    by_name = {each.name: each for each in answer.lights}
    assert answer.balance.cct_k == pytest.approx(solved.balance.cct_k, abs=0.1)
    for each in solved.lights:
        here = by_name[each.name]
        assert here.hangs.filters == each.filters, each.name
        assert here.off == (each.move == "switch off"), each.name
        assert here.filtered == each.filtered or here.off, each.name
        near = 0.05 if each.aim.label.startswith("like") else 2e-3  # of the middle, of the nominal
        assert here.residual_mired == pytest.approx(each.residual_mired, abs=near), each.name
        assert here.residual_duv == pytest.approx(each.residual_duv, abs=5e-6), each.name
        assert here.filter_stops == pytest.approx(each.filter_stops, abs=1e-4), each.name
        assert here.band == each.band or here.band is not None
        assert (here.within_tolerance, here.harmless) == (each.within_tolerance, each.harmless)
        if each.level_stops is not None:
            assert here.level_stops == pytest.approx(each.level_stops, abs=1e-3), each.name
    for spot, kept in zip(answer.spots, solved.spots, strict=True):
        assert spot.residual_mired == pytest.approx(kept.residual_mired, abs=0.02)
        assert spot.f_number == kept.f_number
    for view, kept_view in zip(answer.views, solved.views, strict=True):
        assert view.over_stops == pytest.approx(kept_view.over_stops, abs=1e-4)
        assert view.filters == kept_view.filters


def test_the_demo_as_kept_is_the_demo_as_solved(tmp_path: Path) -> None:
    plan = demo(tmp_path)
    solved = keep(plan, setup="late")
    assert_as_solved(hangs(plan, setup="late"), solved)


def test_scrims_swaps_likes_and_lamps_switched_off_as_well(tmp_path: Path) -> None:
    plan = write_plan(tmp_path, MIXED, camera="t_stop = 4")
    solved = keep(plan, setup="night")
    moves = " ".join(each.move for each in solved.lights)
    assert "scrim" in moves or "dim" in moves
    assert "swap" in moves
    assert_as_solved(hangs(plan, setup="night"), solved)


def test_another_balance_moves_the_aims_and_nothing_else(tmp_path: Path) -> None:
    plan = demo(tmp_path)
    keep(plan, setup="late")
    standing = Standing(plan, setup="late")
    here, there = standing.at(None), standing.at("5600K")
    assert there.balance.cct_k == pytest.approx(5600, abs=0.1)
    for one, other in zip(here.lights, there.lights, strict=True):
        assert one.filtered == other.filtered
        assert one.hangs == other.hangs
        if one.residual_mired is not None and other.residual_mired is not None:
            moved = (here.balance.mired or 0) - (there.balance.mired or 0)
            assert other.residual_mired - one.residual_mired == pytest.approx(moved, abs=2e-3)
    assert standing.at(None) == here


def test_what_was_rigged_goes_before_what_was_planned(tmp_path: Path) -> None:
    plan = write_plan(
        tmp_path, light("key", "level = { lux = 900, distance_m = 2 }\ndistance_m = 2")
    )
    keep(plan, setup="night")
    text = plan.read_text("utf-8")
    rigged = '  rigged = { filters = ["half CTB"], scrims = ["double"], distance_m = 4 }\n'
    read = '  read = { cct_k = 4200, duv = 0.001, f_stop = 2.8, frame = "A3" }\n'
    plan.write_text(text.replace("  planned =", f"{rigged}{read}  planned ="))
    (key,) = hangs(plan, setup="night").lights
    assert key.known_by == "rigged"
    assert key.hangs.filters == ["half CTB"]
    assert key.hangs.distance_m == 4.0
    assert key.scrim_stops == pytest.approx(1.0, abs=0.2)
    assert key.read is not None
    assert (key.read.text, key.read.frame) == ("4200 K, Duv +0.0010, f/2.8", "A3")


def test_a_plan_that_leaves_its_balance_open_is_asked_for_one(tmp_path: Path) -> None:
    plan = demo(tmp_path)
    standing = Standing(plan, setup=None)
    with pytest.raises(EvencastError, match="several balances"):
        standing.at(None)
    assert all(each.known_by is None for each in standing.at("4300K").lights)


def test_what_was_planned_is_stale_as_soon_as_plan_or_kit_change(tmp_path: Path) -> None:
    plan = demo(tmp_path)
    assert hangs(plan, setup=None, balance="4300K").stale is None
    keep(plan, setup="late")
    assert hangs(plan, setup="late").stale is False
    text = plan.read_text("utf-8")
    plan.write_text(text.replace("lux = 1400", "lux = 1500"), encoding="utf-8")
    assert hangs(plan, setup="late").stale is True
    plan.write_text(text, encoding="utf-8")
    assert hangs(plan, setup="late").stale is False
    worn = tmp_path / "worn-half-ctb.csv"
    worn.write_text(worn.read_text("utf-8").replace("550,0.603", "550,0.613", 1), encoding="utf-8")
    assert hangs(plan, setup="late").stale is True


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("lux = 9000", "lux = 4500"),
        ("stops = -1 }", "stops = -2 }"),
        ('role = "practical"', 'role = "background"'),
        ('builtin = "FL5"', 'builtin = "FL4"'),
    ],
)
def test_a_change_is_answered_as_if_nothing_had_been_before(
    tmp_path: Path, old: str, new: str
) -> None:
    """What is kept of a plan before a change, and of balances asked for before, changes nothing."""
    plan = write_plan(tmp_path, MIXED)
    before = Standing(plan, setup=None)
    for balance in (None, "3200K", "5600K"):
        before.at(balance)
    text = plan.read_text(encoding="utf-8")
    assert text.count(old) == 1
    plan.write_text(text.replace(old, new), encoding="utf-8")
    after, anew = Standing(plan, setup=None, before=before), Standing(plan, setup=None)
    for balance in (None, "3200K", "4000K"):
        assert after.at(balance) == anew.at(balance)
