"""A look as an aim: where it lies, its level, what is told and minded with it."""

from __future__ import annotations

from typing import Any

import pytest

from evencast.actions import resolve
from evencast.actions.catalogue import looks
from evencast.actions.cautions import FLICKER_EFFECT, HOT_DIMMED
from evencast.colour import mired_duv, white_uv
from evencast.lights.looks import look, look_names
from tests.unit.cli.calling import ANSWERED, run


def aim(text: str, balance: str) -> Any:
    return resolve.aim(text, balance=balance, kit=None)


@pytest.mark.parametrize("name", look_names())
@pytest.mark.parametrize("balance", ["3200K", "4300K", "5600K"])
def test_it_lies_so_far_from_the_balance(name: str, balance: str) -> None:
    """In mired from the balance, in Duv from the white of the Kelvin it comes to."""
    found = aim(f"look {name}", balance)
    assert found.mired == pytest.approx(1e6 / float(balance[:-1]) + look(name).mired, abs=1e-3)
    _, white_duv = mired_duv(white_uv(1e6 / found.mired))
    assert found.duv == pytest.approx(float(white_duv) + look(name).duv, abs=2e-6)
    assert found.label == f"look {name}"


def test_its_level_holds_unless_another_is_written() -> None:
    assert aim("look moonlight, discreet", "3200K").stops == -1.5
    assert aim("LOOK moonlight, discreet -0.5stop", "3200K").stops == -0.5
    assert aim("look moonlight, discreet +0stop", "3200K").stops == 0.0
    assert aim("look late sun", "3200K").stops == 0.0


def matched(*arguments: str) -> dict[str, Any]:
    ran = run("match", *arguments, "--layers", "2", "--json")
    assert ran.code == ANSWERED, ran.out
    return ran.answer


def test_moonlight_from_an_hmi_at_3200() -> None:
    """Common practice, no source: an HMI at a balance of 3200 K is 134 mired cool, which is more
    than a discreet moon; half CTO or a little more warms it down to one."""
    answer = matched(
        *("5600K+0.003", "--kind", "HMI", "--aim", "look moonlight, discreet"),
        *("--balance", "3200K", "--role", "fill"),
    )
    assert answer["reached"] is True
    assert set(answer["choices"][0]["filters"]) <= {"half CTO", "three-quarter CTO", "quarter CTO"}
    assert answer["no_filter"]["within_tolerance"] is False
    assert 1e6 / 3200 - 67 <= answer["choices"][0]["filtered"]["mired"] <= 1e6 / 3200 - 17
    (note,) = (each for each in answer["notes"] if each.startswith("moonlight"))
    assert "67 mired cool to 17 mired cool" in note
    assert "common practice, no source" in note


def test_a_bare_hmi_is_the_graphic_moon_at_3200() -> None:
    answer = matched(
        *("5600K+0.003", "--kind", "HMI", "--aim", "look moonlight, graphic"),
        *("--balance", "3200K", "--role", "fill"),
    )
    assert answer["choices"][0]["filters"] == []


def test_tungsten_at_a_daylight_balance_is_a_fire_already() -> None:
    """134 mired warm, and neither green nor magenta for it: nothing to put in front."""
    answer = matched(
        "tungsten", "--aim", "look fire and candle", "--balance", "5600K", "--role", "fill"
    )
    assert answer["choices"][0]["filters"] == []
    assert abs(answer["choices"][0]["residual_duv"]) < 1e-4


def test_what_is_minded_comes_with_every_choice() -> None:
    answer = matched("tungsten", "--aim", "look candle", "--balance", "3200K")
    for each in [*answer["choices"], answer["no_filter"]]:
        assert each["cautions"][-2:] == [FLICKER_EFFECT, HOT_DIMMED]
    glow = matched("tungsten", "--aim", "look screen glow", "--balance", "3200K")
    assert glow["choices"][0]["cautions"][-1] == FLICKER_EFFECT
    sun = matched("tungsten", "--aim", "look late sun", "--balance", "5600K")
    assert FLICKER_EFFECT not in sun["choices"][0]["cautions"]


def test_sodium_is_matched_in_chroma_alone() -> None:
    answer = matched("tungsten", "--aim", "look sodium", "--balance", "3200K", "--role", "fill")
    (streets,) = (each for each in looks()["looks"] if "sodium" in each.name)
    assert streets.note.startswith("Match the chroma of a street lamp, never its spectrum")
    assert streets.note in answer["notes"]


def test_the_list_holds_every_look_with_its_ranges() -> None:
    every = looks()["looks"]
    assert [each.name for each in every] == look_names()
    for each in every:
        assert each.mired_range[0] < each.mired < each.mired_range[1]
        assert (each.stops is None) == (each.stops_range is None)
    fire = next(each for each in every if each.name == "fire and candle")
    assert fire.cautions == [FLICKER_EFFECT, HOT_DIMMED]


def test_the_list_in_words() -> None:
    """Warm and cool, green, level and how, in words; the caution with the names it is for."""
    said = " ".join(run("looks").out.split())
    assert "17 to 67 mired cool, neutral to clearly green (Duv 0 to +0.0035)" in said
    assert "1 stop to 2 stops under the key" in said
    assert "60 to 200 mired warm, neither green nor magenta" in said
    assert "fire and candle, screen glow: Flicker effect" in said
