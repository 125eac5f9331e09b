"""The worksheet: what each exercise comes to, by arithmetic of another kind."""

from __future__ import annotations

import json
import math
from dataclasses import asdict

import pytest

from evencast.actions.lessons.lesson import LESSONS
from evencast.actions.lessons.worksheet import worksheet, worksheet_pdf
from evencast.actions.through import through
from evencast.errors import EvencastError
from evencast.results.lessons import Exercise


def exercise(lesson: str) -> Exercise:
    (found,) = [each for each in worksheet().exercises if each.lesson == lesson]
    return found


def test_there_is_one_for_each_lesson_in_their_order() -> None:
    assert [each.lesson for each in worksheet().exercises] == [each.slug for each in LESSONS]
    assert [each.number for each in worksheet().exercises] == list(range(1, 9))
    assert json.dumps(asdict(worksheet()), allow_nan=False)


def test_the_tired_lamp() -> None:
    """1 000 000 / 3000 - 66.96 = 266.4 mired, 3754 K."""
    found = exercise("ruler")
    assert found.numbers["by_hand_k"] == pytest.approx(1e6 / (1e6 / 3000 - 66.9643), abs=0.5)
    answer = through("3000K", ["half CTB"], kind=None, kit=None)
    assert found.numbers["found_k"] == pytest.approx(answer.filtered.cct_k, abs=0.1)
    assert "1 000 000 / 3000 = 333.3" in found.steps[0]


def test_in_between() -> None:
    found = exercise("balance")
    assert found.numbers["by_hand_mired"] == pytest.approx(1e6 / 5600 - 1e6 / 4300)
    assert found.numbers["found_mired"] == pytest.approx(-53.99, abs=0.05)
    assert found.answer == "54 mired cool."


def test_the_north_window_takes_full_and_an_eighth() -> None:
    """158.65 mired wanted; 134, 151 and 167 by name: the middle one leaves 8."""
    found = exercise("pair")
    assert found.numbers["wanted_mired"] == pytest.approx(1e6 / 3200 - 1e6 / 6500)
    left = {
        name: abs(value or 0.0)
        for name, value in found.numbers.items()
        if name.endswith("left_mired")
    }
    assert min(left, key=lambda each: left[each]) == "full CTO + eighth CTO_left_mired"
    assert left["full CTO_left_mired"] == pytest.approx(158.65 - 133.93, abs=1.0)
    answer = through("daylight D65", ["full CTO", "eighth CTO"], kind=None, kit=None)
    at_mired = answer.filtered.mired
    assert at_mired is not None
    assert left["full CTO + eighth CTO_left_mired"] == pytest.approx(312.5 - at_mired, abs=0.01)
    assert found.answer.startswith("Full CTO + eighth CTO: 7")


def test_the_light_white_tube() -> None:
    found = exercise("green")
    left = {name: value for name, value in found.numbers.items() if name.endswith("left_duv")}
    best = min(left, key=lambda each: abs(left[each] or 0.0))
    assert best == "quarter minus green_left_duv"
    answer = through("FL6", ["quarter minus green"], kind=None, kit=None)
    assert left[best] == pytest.approx(answer.filtered.green_duv, abs=0.0003)


def test_the_camera_s_step_is_divided_into_what_it_is_off() -> None:
    found = exercise("cameras")
    off, step = found.numbers["bg_stops"] or 0.0, found.numbers["step_bg_stops"] or 1.0
    assert found.numbers["found_mired"] == pytest.approx(off / step * 10.0)
    assert off < 0 > step


def test_orange_on_a_white_led_falls_short() -> None:
    """By 6 to 15 percent on LED, in a model of another kind."""
    found = exercise("lamps")
    named, real = found.numbers["named_mired"] or 0.0, found.numbers["found_mired"] or 0.0
    assert 0.05 < 1.0 - real / named < 0.16
    assert (found.numbers["turn_duv"] or 0.0) > 0.0


def test_three_to_one() -> None:
    found = exercise("contrast")
    assert found.numbers["fill_by_key_to_fill_lux"] == pytest.approx(640 / 3, abs=1e-3)
    assert found.numbers["fill_by_sum_to_fill_lux"] == pytest.approx(320.0)
    assert found.numbers["apart_stops"] == pytest.approx(math.log2(1.5), abs=1e-4)


def test_hung_unread_it_is_safe_for_its_share_alone() -> None:
    found = exercise("doubt")
    share = found.numbers["inside_share"] or 0.0
    assert 0.5 < share < 0.9
    assert f"{share * 100:.0f} times in a hundred" in found.answer
    assert (found.numbers["width_mired"] or 0.0) / 2 > 12.0


def test_every_exercise_shows_its_way() -> None:
    for each in worksheet().exercises:
        assert len(each.steps) >= 3
        assert each.asks.rstrip().endswith("?")
        assert all(text.endswith(".") for text in (*each.steps, *each.given, each.answer))


def test_what_can_hurt_is_said() -> None:
    told = " ".join(worksheet().cautions)
    for word in ("Heat", "Window", "Tube", "LED panel"):
        assert word in told


@pytest.mark.parametrize(
    ("paper", "date", "answers", "where"),
    [
        ("a3", "", "no", "paper"),
        ("a4", "tomorrow", "no", "date"),
        ("a4", "2031-02-30", "no", "date"),
        ("a4", "", "maybe", "answers"),
    ],
)
def test_a_wish_that_is_none_is_refused(paper: str, date: str, answers: str, where: str) -> None:
    with pytest.raises(EvencastError) as caught:
        worksheet_pdf(paper=paper, date=date, answers=answers)
    assert caught.value.where == where
    assert caught.value.remedy.startswith("Write")
