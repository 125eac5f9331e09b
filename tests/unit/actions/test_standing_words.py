"""A plan as it hangs in a few sentences: what is off, what was read, and how much of it is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.actions.hangs import hangs
from evencast.actions.keep import keep
from evencast.actions.standing_words import MOST_TOLD, verdict
from evencast.actions.trim import trim
from evencast.results.hangs import HangingLight
from tests.plans import light, write_plan

READINGS = {
    "warm": ("cct_k = 4200", "60 mired warm", False),
    "near": ("cct_k = 5560, duv = 0.001", "", True),
    "green": ("cct_k = 5600, duv = 0.009", "clearly green", False),
    "camera": ("cct_k = 5000, tint = '4 toward magenta'", "21 mired warm", False),
    "level": ("f_stop = 4", "", None),
}
"""By name of the light: what is read of it, words of what that is, and whether it is inside."""


@pytest.fixture
def read_plan(tmp_path: Path) -> Path:
    """Lights through what was planned, each read."""
    lights = "".join(light(name, "", role="background") for name in READINGS)
    plan = write_plan(tmp_path, lights)
    keep(plan, setup="day")
    text = plan.read_text("utf-8")
    for name, (keys, _, _) in READINGS.items():
        before, name_line, after = text.partition(f'  name = "{name}"\n')
        assert name_line
        text = f"{before}{name_line}  read = {{ {keys} }}\n{after}"
    plan.write_text(text, "utf-8")
    return plan


def named(plan: Path, name: str, balance: str | None = None) -> HangingLight:
    lights = hangs(plan, setup="day", balance=balance).lights
    return next(each for each in lights if each.name == name)


@pytest.mark.parametrize("balance", [None, "5000K"])
@pytest.mark.parametrize("name", READINGS)
def test_what_was_read_is_as_far_off_as_the_trim_says(
    read_plan: Path, name: str, balance: str | None
) -> None:
    told = named(read_plan, name, balance)
    before = trim(read_plan, name, setup="day", balance=balance).before
    if before.residual_mired is None or before.residual_duv is None:
        assert told.read_residual_mired is told.read_residual_duv is told.read_within is None
        return
    assert told.read_residual_mired == pytest.approx(before.residual_mired, abs=2e-3)
    assert told.read_residual_duv == pytest.approx(before.residual_duv, abs=2e-5)
    assert told.read_within == before.within_tolerance


def test_a_reading_that_is_off_is_told_though_all_is_right_as_computed(read_plan: Path) -> None:
    said = verdict(hangs(read_plan, setup="day"))
    assert "As computed, every light is as it shall be." in said
    assert "As read, not as wanted: warm (60 mired warm" in said  # 10^6/4200 - 10^6/5560.9
    for name, (_, words, within) in READINGS.items():
        assert named(read_plan, name).read_within is within
        if within is False:
            _, _, of_it = said.partition(f"{name} (")
            assert words in of_it.partition(")")[0]
        else:
            assert f"{name} (" not in said


def test_of_many_lights_a_few_are_named(tmp_path: Path) -> None:
    def told(count: int) -> str:
        lights = "".join(light(f"l{at}", "", role="fill") for at in range(count))
        return verdict(hangs(write_plan(tmp_path, lights), setup=None))

    assert told(MOST_TOLD).count("mired warm") == MOST_TOLD
    assert "more" not in told(MOST_TOLD)
    assert told(30).count("mired warm") == MOST_TOLD - 1
    assert f"and {31 - MOST_TOLD} more." in told(30)
