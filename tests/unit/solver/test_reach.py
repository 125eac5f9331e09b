from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import combinations_with_replacement
from pathlib import Path

import numpy as np
import pytest

from evencast.actions.demo import demo
from evencast.actions.kit import load_kit
from evencast.actions.pack import LIKELY_LIGHTS
from evencast.colour import white_uv
from evencast.errors import EvencastError
from evencast.filters import Filter, generic
from evencast.lights import Light, builtin, light_of
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed, LightRole
from evencast.solver import Aim, Evaluated, aim_at_uv, evaluate, judge, reach
from evencast.solver.reach import copies_of, plainest
from evencast.solver.stacks import LIKELY

SHEETS = (
    "eighth CTB",
    "half CTB",
    "full CTB",
    "double CTB",
    "half CTO",
    "half straw",
    "full plus green",
    "half minus green",
)
LIGHTS = ("tungsten 3200 K", "LED phosphor 2700 K B1", "warm white tube FL4", "daylight D65")
BALANCES = (3200.0, 4300.0, 5600.0)

Stacks = dict[tuple[str, ...], tuple[float, bool, float]]
"""By names the share inside, whether the middle is, and the loss."""


def aims() -> list[Aim]:
    return [aim_at_uv(f"{each:g}K", white_uv(each)) for each in BALANCES]


def judged_all(light: Light, sheets: Sequence[Filter], aim: Aim, allowed: Allowed) -> Stacks:
    """Every stack of up to three sheets by every spectrum: nothing is left out beforehand."""
    nominal = np.array([each.transmittance for each in sheets])
    every = combinations_with_replacement(range(len(sheets) + 1), 3)
    stacks = np.array(list(every), dtype=np.intp)
    found = evaluate(light.power, nominal, stacks, aim, allowed)
    return named(judge(found, light.members, [e.members for e in sheets], aim, allowed), sheets)


def named(found: Evaluated, sheets: Sequence[Filter]) -> Stacks:
    rows = zip(found.members, found.share_within, found.within, found.loss_stops, strict=True)
    return {
        tuple(sheets[each].name for each in members if each < len(sheets)): (
            round(float(share), 6),
            bool(within),
            round(float(loss), 6),
        )
        for members, share, within, loss in rows
    }


def without_longer(stacks: Stacks) -> Stacks:
    """Those that hold no other one."""

    def holds(long: tuple[str, ...], short: tuple[str, ...]) -> bool:
        return long != short and all(long.count(each) >= short.count(each) for each in short)

    return {
        names: told for names, told in stacks.items() if not any(holds(names, o) for o in stacks)
    }


@pytest.mark.parametrize(("role", "likely_pairs", "middle_pairs"), [("key", 2, 2), ("fill", 7, 3)])
def test_they_are_those_of_all_stacks_that_hold_no_other(
    role: LightRole, likely_pairs: int, middle_pairs: int
) -> None:
    """Judged one by one without any choice beforehand: likely inside, or else inside in the
    middle. The same stacks, with the same numbers."""
    sheets, lights = [generic(each) for each in SHEETS], [builtin(each) for each in LIGHTS]
    allowed = DEFAULT_ALLOWED[role]
    by_light = plainest(lights, sheets, aims(), allowed, layers=3)
    reached = [0, 0]
    for light, found in zip(lights, by_light, strict=True):
        for aim, each in zip(aims(), found, strict=True):
            every = judged_all(light, sheets, aim, allowed)
            likely = {names: told for names, told in every.items() if told[0] >= LIKELY}
            middle = {names: told for names, told in every.items() if told[1]}
            assert named(each, sheets) == without_longer(likely or middle)
            reached[0] += bool(likely)
            reached[1] += bool(middle) and not likely
    assert reached == [likely_pairs, middle_pairs]


@cache
def demo_sheets(folder: Path) -> tuple[Filter, ...]:
    demo(folder)
    return tuple(load_kit(folder / "kit.toml").searched())


@pytest.mark.parametrize(
    ("role", "lamps"),
    [
        ("fill", (*LIGHTS, "FL11")),
        *(
            pytest.param(role, LIKELY_LIGHTS, marks=pytest.mark.long)
            for role in ("key", "fill", "practical", "view")
        ),
    ],
)
def test_to_judge_those_twice_as_far_finds_none_more(
    role: LightRole, lamps: Sequence[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """With the demo's kit on lamps of every kind: NEAR_MIRED and NEAR_DUV are far enough."""
    sheets = demo_sheets(tmp_path)
    allowed = DEFAULT_ALLOWED[role]
    lights = [light_of(each) for each in lamps]
    near = plainest(lights, sheets, aims(), allowed, layers=3)
    monkeypatch.setattr(reach, "NEAR_MIRED", 40.0)
    monkeypatch.setattr(reach, "NEAR_DUV", 0.012)
    far = plainest(lights, sheets, aims(), allowed, layers=3)
    stacks = [[named(each, sheets) for each in of_light] for of_light in near]
    assert stacks == [[named(each, sheets) for each in of_light] for of_light in far]
    assert sum(len(each) > 0 for of_light in stacks for each in of_light) >= 2 * len(lights)


def test_a_stack_that_loses_too_much_does_not_count() -> None:
    """Full CTB alone takes tungsten to 5600 K, for 1.6 stops or so."""
    sheets, aim = [generic("full CTB")], aims()[2:]
    lights, fill = [builtin("tungsten 3200 K")], DEFAULT_ALLOWED["fill"]
    ((found,),) = plainest(lights, sheets, aim, fill, layers=1, most_loss_stops=2.5)
    assert named(found, sheets).keys() == {("full CTB",)}
    ((none,),) = plainest(lights, sheets, aim, fill, layers=1, most_loss_stops=1.0)
    assert len(none.members) == 0


def test_without_a_sheet_only_the_bare_light_is_left() -> None:
    lights = [builtin("tungsten 3200 K")]
    ((near, far, _),) = plainest(lights, [], aims(), DEFAULT_ALLOWED["key"], layers=2)
    assert named(near, []).keys() == {()}
    assert len(far.members) == 0


def test_too_many_stacks_are_refused() -> None:
    """200 sheets and four layers: 70 million."""
    with pytest.raises(EvencastError) as caught:
        plainest([], [generic("full CTB")] * 200, aims(), DEFAULT_ALLOWED["key"], layers=4)
    assert caught.value.what == (
        "200 sheets make 70,058,751 stacks of up to 4, too many to look at for every light"
    )


def test_copies() -> None:
    """Of members as the search writes them: the number of filters stands for no sheet."""
    assert copies_of(np.array([[0, 0, 2], [1, 3, 3], [3, 3, 3]]), 3).tolist() == [
        [2, 0, 1],
        [0, 1, 0],
        [0, 0, 0],
    ]
