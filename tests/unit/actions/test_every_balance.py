"""The stacks at every balance are those that `match` finds, asked one balance at a time."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from evencast.actions.doubt import looks, middle
from evencast.actions.handouts.every_balance import (
    BALANCES_K,
    MOST,
    AtBalance,
    EveryBalance,
    Lights,
    Searches,
)
from evencast.actions.handouts.job import Job, Wishes, job
from evencast.actions.kit import load_kit
from evencast.actions.match import find, match
from evencast.colour import uv, uv_of_mired_duv, white_uv
from evencast.filters import stack
from evencast.lights import builtin
from evencast.plan.tolerance import DEFAULT_ALLOWED, LightRole
from evencast.results.choice import Choice
from evencast.solver import aim_at_uv
from tests.plans import light, write_kit, write_plan

SHEETS = {
    **dict.fromkeys(("full CTB", "half CTB", "quarter CTB", "full CTO", "half CTO"), "correction"),
    **dict.fromkeys(("half plus green", "quarter minus green"), "green"),
    **dict.fromkeys(("light frost",), "diffusion"),
}
PLAN = "".join(
    [
        light("key", ""),
        light("window", "aim = { mired = -10 }", role="fill", builtin="daylight D65"),
        light("night", 'aim = { look = "moonlight, discreet" }', role="other", builtin="FL2"),
        light("bulb", "", role="practical", builtin="LED phosphor 2700 K B1"),
        light("beside", 'aim = { like = "window" }', role="fill", builtin="FL11"),
        light(
            "panel",
            "adjustable = { low_k = 3000, high_k = 5600 }",
            role="background",
            builtin="two-colour LED panel",
        ),
        light("street", 'moves = ["leave"]', role="other", builtin="high-pressure sodium HP1"),
        light("far", "aim = { mired = -150 }", role="other"),
        light("frosted", 'frost = ["light frost"]', role="fill"),
        '[[light]]\nname = "read"\nrole = "fill"\ncct_k = 5400\nduv = 0.0065\n',
        light("hedge", 'behind = "window"', role="view", builtin="daylight D65"),
        light("like the hedge", 'aim = { like = "hedge" }', role="other", builtin="FL2"),
    ]
)
SAMPLE_K = (2800, 3200, 4350, 5600, 6500)


@pytest.fixture(scope="module")
def solved(tmp_path_factory: pytest.TempPathFactory) -> Job:
    folder = tmp_path_factory.mktemp("plan")
    path = write_plan(folder, "[limits]\nlayers = 3\n" + PLAN)
    write_kit(folder, SHEETS)
    return job(path, Wishes("2031-05-04"), setup=None, progress=None)


@pytest.fixture(scope="module")
def lights(solved: Job) -> Lights:
    (part,) = solved.parts
    return Lights(part, Searches(part.loaded.kit, most_loss_stops=None), solved.path.parent)


def told(lights: Lights, solved: Job, name: str) -> EveryBalance:
    entry = solved.parts[0].loaded.plan.light_named(name)
    assert entry is not None
    return lights.at_every_balance(entry)


def at(every: EveryBalance, balance_k: int) -> AtBalance:
    return every.rows[BALANCES_K.index(balance_k)]


def asked(
    solved: Job, light_text: str, balance_k: int, *, role: LightRole, aim: str, layers: int = 3
) -> list[Choice]:
    """What the command would answer."""
    return match(
        light_text,
        kind=None,
        aim_text=aim,
        balance=f"{balance_k}K",
        kit=solved.path.parent / "kit.toml",
        role=role,
        layers=layers,
        most=MOST,
    ).choices


def assert_same(row: AtBalance, choices: list[Choice]) -> None:
    assert [each.filters for each in row.stacks] == [each.filters for each in choices]
    for stacked, choice in zip(row.stacks, choices, strict=True):
        assert stacked.residual_mired == pytest.approx(choice.residual_mired, abs=2e-3)
        assert stacked.residual_duv == pytest.approx(choice.residual_duv, abs=2e-6)
        assert stacked.loss_stops == pytest.approx(choice.loss_stops, abs=2e-4)
        assert stacked.within == choice.within_tolerance


@pytest.mark.parametrize(
    ("name", "light_text", "role", "aim"),
    [
        ("key", "tungsten 3200 K", "key", "balance+0mired"),
        ("window", "daylight D65", "fill", "balance-10mired"),
        ("night", "FL2", "other", "look moonlight, discreet"),
        ("bulb", "LED phosphor 2700 K B1", "practical", "balance+0mired"),
        ("read", "5400K+0.0065", "fill", "balance+0mired"),
    ],
)
def test_they_are_what_match_answers(
    lights: Lights, solved: Job, name: str, light_text: str, role: LightRole, aim: str
) -> None:
    every = told(lights, solved, name)
    assert every.layers == 3
    assert [row.balance_k for row in every.rows] == list(range(2800, 6501, 50))
    for balance_k in SAMPLE_K:
        row = at(every, balance_k)
        assert len(row.stacks) == MOST
        assert_same(row, asked(solved, light_text, balance_k, role=role, aim=aim))


@pytest.mark.parametrize(("balance_k", "dial_k"), [(2800, 3000), (4350, 4350), (6500, 5600)])
def test_what_can_be_dialled_is_dialled_first(
    lights: Lights, solved: Job, balance_k: int, dial_k: int
) -> None:
    """Inside its range two sheets are searched, for its green; at its end as many as elsewhere."""
    row = at(told(lights, solved, "panel"), balance_k)
    assert row.dial_k == dial_k
    layers = 2 if dial_k == balance_k else 3
    panel = f"two-colour LED panel at {dial_k}K"
    assert_same(
        row,
        asked(solved, panel, balance_k, role="background", aim="balance+0mired", layers=layers),
    )


@pytest.mark.parametrize("name", ["beside", "like the hedge"])
@pytest.mark.parametrize("balance_k", SAMPLE_K)
def test_a_light_like_another_is_matched_to_its_first_stack(
    lights: Lights, solved: Job, name: str, balance_k: int
) -> None:
    """A view looks as its own light behind the first stack of its window."""
    kit = load_kit(solved.path.parent / "kit.toml")
    window = builtin("daylight D65")
    first = at(told(lights, solved, "window"), balance_k).stacks[0]
    sheets = [each for each in map(kit.find, first.filters) if each is not None]
    assert len(sheets) == len(first.filters)
    seen = looks(window, sheets).filtered
    place = uv_of_mired_duv(np.array(middle(seen.mired)), np.array(middle(seen.duv)))
    role: LightRole = "fill"
    if name == "like the hedge":
        place, role = uv(window.power * stack(sheets)), "other"
    bare = builtin("FL11" if name == "beside" else "FL2")
    found = find(bare, kit, aim_at_uv("like", place), DEFAULT_ALLOWED[role], layers=3)
    stacks = at(told(lights, solved, name), balance_k).stacks
    expected = [[each.name for each in found.stack(row)] for row in found.rows[:MOST]]
    assert [each.filters for each in stacks] == expected


def test_frost_stands_before_the_lamp_in_any_case(lights: Lights, solved: Job) -> None:
    """Its loss is not the stack's, its colour is in what is left."""
    kit = load_kit(solved.path.parent / "kit.toml")
    frost = kit.find("light frost")
    assert frost is not None
    lamp = builtin("tungsten 3200 K")
    bare = at(told(lights, solved, "frosted"), 3200).stacks[0]
    assert bare.filters == []
    assert bare.loss_stops == 0
    balance = aim_at_uv("3200K", white_uv(3200.0))
    left = middle(looks(lamp, [frost]).filtered.mired) - balance.mired
    assert bare.residual_mired == pytest.approx(left, abs=5e-3)
    assert abs(left) > 0.05


def test_a_light_that_takes_no_sheets_is_told_bare(lights: Lights, solved: Job) -> None:
    every = told(lights, solved, "street")
    assert every.layers == 0
    assert all([each.filters for each in row.stacks] == [[]] for row in every.rows)
    assert every.cautions == []


def test_where_there_is_no_such_white_there_is_no_stack(lights: Lights, solved: Job) -> None:
    """150 mired cooler than 6500 K, 154 mired, would be bluer than any white; 2800 K has 357."""
    every = told(lights, solved, "far")
    assert at(every, 6500).stacks == []
    assert len(at(every, 2800).stacks) == MOST


def test_what_is_to_be_minded_goes_by_the_densest_stack(lights: Lights, solved: Job) -> None:
    (mild, *_) = told(lights, solved, "window").cautions
    assert mild.startswith("Window:")
    heat = [each[:25] for each in told(lights, solved, "key").cautions]
    assert len(heat) == 2
    assert all(each.startswith("Heat:") for each in heat)


def test_the_plan_s_own_limit_on_loss_holds(tmp_path: Path) -> None:
    """It is asked of nominal spectra, as `solve` does; the middle may be a little more."""
    path = write_plan(tmp_path, "[limits]\nlayers = 2\nloss_stops = 1\n" + light("key", ""))
    ready = job(path, Wishes("2031-05-04"), setup=None, progress=None)
    (part,) = ready.parts
    for limit in (1.0, None):
        every = Lights(part, Searches(part.loaded.kit, most_loss_stops=limit), tmp_path)
        rows = every.at_every_balance(part.loaded.plan.light[0]).rows
        most = max(each.loss_stops for row in rows for each in row.stacks)
        assert (most <= 1.1) == (limit is not None)


def test_what_is_asked_twice_is_searched_once(solved: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    (part,) = solved.parts
    searches = Searches(part.loaded.kit, most_loss_stops=None)
    entry = part.loaded.plan.light[0]
    first = Lights(part, searches, solved.path.parent).at_every_balance(entry)

    def never(*_: object, **__: object) -> None:
        raise AssertionError("searched again")

    monkeypatch.setattr("evencast.actions.handouts.every_balance.best_at_each", never)
    assert Lights(part, searches, solved.path.parent).at_every_balance(entry) == first
