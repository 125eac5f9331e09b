"""Lessons: their numbers against arithmetic of another kind, and against the terminal's."""

from __future__ import annotations

import json
import math
from dataclasses import asdict
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast import tables
from evencast.actions.lessons.lesson import LESSONS, beside, lesson
from evencast.actions.through import through
from evencast.colour import white
from evencast.errors import EvencastError
from evencast.lights import light_of
from evencast.quantities import Floats
from evencast.results.lessons import Control, LessonAnswer
from evencast.results.through import ThroughAnswer
from evencast.spectra import GRID_NM

SLUGS = [each.slug for each in LESSONS]


def told(slug: str, **asked: str) -> LessonAnswer:
    return lesson(slug, asked)[0]


def number(slug: str, name: str, **asked: str) -> float:
    found = told(slug, **asked).numbers[name]
    assert found is not None
    return found


def at_the_terminal(light: str, *filters: str) -> ThroughAnswer:
    return through(light, filters, kind=None, kit=None)


def test_the_ruler_is_a_million_divided_by_kelvin() -> None:
    """Full CTB is named for 3200 to 5600 K: 312.5 - 133.93 = 178.57 mired."""
    numbers = told("ruler", lamp="3200", sheet="full CTB").numbers
    assert numbers["lamp_mired"] == pytest.approx(312.5)
    assert numbers["named_shift_mired"] == pytest.approx(1e6 / 5600 - 1e6 / 3200, abs=0.01)
    assert numbers["through_k"] == pytest.approx(5600.0, abs=5.0)
    assert numbers["shift_k"] == pytest.approx(2400.0, abs=5.0)


@pytest.mark.parametrize("sheet", ["full CTB", "half CTB", "full CTO"])
def test_a_sheet_keeps_its_length_in_mired_and_not_in_kelvin(sheet: str) -> None:
    """To less than 5 mired, which is about what is reliably seen (from memory, unchecked)."""
    lamps = ["2800", "3200", "4300", "5000"]
    mireds = [number("ruler", "shift_mired", lamp=each, sheet=sheet) for each in lamps]
    kelvins = [abs(number("ruler", "shift_k", lamp=each, sheet=sheet)) for each in lamps]
    assert max(mireds) - min(mireds) < 5.0
    assert all(later > 1.2 * earlier for earlier, later in pairwise(kelvins))


@pytest.mark.parametrize("lamp", ["2700", "3200", "5600"])
def test_the_ruler_says_what_the_terminal_says(lamp: str) -> None:
    answer = at_the_terminal(f"{lamp}K", "half CTB")
    numbers = told("ruler", lamp=lamp, sheet="half CTB").numbers
    assert numbers["shift_mired"] == pytest.approx(answer.shift_mired, abs=1e-3)
    assert numbers["through_k"] == pytest.approx(answer.filtered.cct_k, abs=0.1)


def test_off_the_ruler_no_colour_temperature_is_invented() -> None:
    """Full CTB on 7500 K: 133 - 134 mired is below nothing."""
    answer = told("ruler", lamp="7500", sheet="full CTB")
    assert answer.numbers["through_k"] is None
    assert answer.numbers["shift_mired"] is None
    assert "no colour temperature" in answer.sentence


@pytest.mark.parametrize("balance", ["2500", "3200", "4300", "5600", "9000"])
def test_a_balance_makes_the_difference_in_mired(balance: str) -> None:
    """Light minus balance, both a million divided by Kelvin."""
    found = number("balance", "residual_mired", light="tungsten", balance=balance)
    assert found == pytest.approx(1e6 / 3200 - 1e6 / float(balance), abs=0.05)


def test_a_higher_balance_is_warmer_on_every_step_and_every_light() -> None:
    for light in ("tungsten", "daylight", "FL2"):
        steps = [
            number("balance", "residual_mired", light=light, balance=str(each))
            for each in range(2500, 10_001, 500)
        ]
        assert all(later > earlier for earlier, later in pairwise(steps))


def test_each_lamp_needs_its_sheet_at_the_other_balance_alone() -> None:
    numbers = told("pair", strength="5").numbers
    whole = 1e6 / 3200 - 1e6 / 5600
    assert numbers["CTB_at_5600_k_bare_residual_mired"] == pytest.approx(whole, abs=0.05)
    assert numbers["CTB_at_5600_k_residual_mired"] == pytest.approx(0.0, abs=0.5)
    assert numbers["CTO_at_3200_k_bare_residual_mired"] == pytest.approx(-whole, abs=0.05)
    assert numbers["CTO_at_3200_k_residual_mired"] == pytest.approx(0.0, abs=0.5)
    assert numbers["CTB_at_3200_k_bare_residual_mired"] == pytest.approx(0.0, abs=0.05)


@pytest.mark.parametrize(
    ("name", "light", "sheet"),
    [
        ("CTB_at_5600_k_loss_stops", "tungsten", "half CTB"),
        ("CTO_at_3200_k_loss_stops", "daylight", "half CTO"),
    ],
)
def test_losses_are_those_of_the_terminal(name: str, light: str, sheet: str) -> None:
    loss = at_the_terminal(light, sheet).loss_stops
    assert number("pair", name, strength="3") == pytest.approx(loss, abs=1e-4)


def test_without_a_sheet_nothing_is_lost_and_nothing_hangs() -> None:
    answer = told("pair", strength="0")
    assert {row[2] for row in answer.table.rows} == {"no sheet"}
    assert {row[5] for row in answer.table.rows} == {"none"}
    assert answer.cautions == []


def test_green_says_what_the_terminal_says() -> None:
    answer = at_the_terminal("FL6", "quarter minus green")
    numbers = told("green", tube="FL6", sheet="-2").numbers
    assert numbers["shift_duv"] == pytest.approx(answer.shift_duv, abs=1e-6)
    assert numbers["shift_mired"] == pytest.approx(answer.shift_mired, abs=1e-3)
    assert numbers["loss_stops"] == pytest.approx(answer.loss_stops, abs=1e-4)


def test_minus_green_warms_tungsten() -> None:
    """By 8 mired an eighth and by 17 a quarter, in a model of another kind: a block of green."""
    for sheet, usual in (("-1", 8.0), ("-2", 17.0)):
        assert number("green", "tungsten_shift_mired", sheet=sheet) == pytest.approx(usual, abs=2)


def test_the_slider_of_green_is_duv_beside_the_white() -> None:
    answer, chart = lesson("green", {"duv": "0"})
    assert answer.table.rows[0][1] == "Duv +0.0000, neutral"
    svg = chart.svg()
    assert svg.count("#767676") >= 2, "the white and the light are one grey"


def raw(power: Floats, camera: str) -> Floats:
    """Three sums over a camera's table as it is printed, by linear interpolation."""
    table = tables.read(camera)
    at_nm, *columns = table.values.T
    bands = [np.interp(GRID_NM, at_nm, each, 0.0, 0.0) for each in columns]
    return np.array([power @ each for each in bands])


def test_a_camera_s_residual_is_the_ratio_of_its_own_sums() -> None:
    """FL4 beside a smooth light: the ratio of blue to green, each by hand."""
    from evencast.actions.lessons.cameras import balance_of

    smooth = balance_of("FL4").power
    for camera in ("camera_a", "camera_b"):
        red, green, blue = raw(light_of("FL4").power, camera) / raw(smooth, camera)
        numbers = told("cameras", lamp="FL4", share="100").numbers
        assert numbers[f"{camera}_rg_stops"] == pytest.approx(math.log2(red / green), abs=0.01)
        assert numbers[f"{camera}_bg_stops"] == pytest.approx(math.log2(blue / green), abs=0.01)


@pytest.mark.parametrize("share", ["0", "35", "100"])
@pytest.mark.parametrize("lamp", ["FL4", "FL2", "FL11", "LED-B3", "LED-RGB1"])
def test_the_eye_sees_no_difference_at_any_share(lamp: str, share: str) -> None:
    numbers = told("cameras", lamp=lamp, share=share).numbers
    assert numbers["eye_residual_mired"] == pytest.approx(0.0, abs=0.01)
    assert numbers["eye_residual_duv"] == pytest.approx(0.0, abs=1e-5)


def test_none_of_the_lamp_is_neutral_to_all() -> None:
    numbers = told("cameras", share="0").numbers
    assert all(abs(numbers[f"camera_{each}_stops"] or 0.0) < 1e-9 for each in ("a_rg", "b_bg"))


@pytest.mark.parametrize("lamp", ["tungsten", "daylight", "LED-B3", "FL4", "HP1"])
def test_one_sheet_on_five_lamps_is_what_the_terminal_says(lamp: str) -> None:
    answer = at_the_terminal(lamp, "full CTB")
    numbers = told("lamps", series="CTB", strength="4").numbers
    assert numbers[f"{lamp}_shift_mired"] == pytest.approx(answer.shift_mired, abs=1e-3)
    assert numbers[f"{lamp}_shift_duv"] == pytest.approx(answer.shift_duv, abs=1e-6)
    assert numbers[f"{lamp}_loss_stops"] == pytest.approx(answer.loss_stops, abs=1e-4)
    assert answer.band is not None
    ends = (numbers[f"{lamp}_shift_low_mired"], numbers[f"{lamp}_shift_high_mired"])
    assert ends == answer.band["shift_mired"]


def test_blue_fails_on_sodium_and_falls_short_on_a_tube() -> None:
    """Known shifts of a two-band dye of another making: -134 on tungsten, -114 on the warm white
    tube, -56 on sodium; ours have them inside their bands or near."""
    numbers = told("lamps", series="CTB", strength="4").numbers
    shifts = {lamp: numbers[f"{lamp}_shift_mired"] or 0.0 for lamp in ("tungsten", "FL4", "HP1")}
    assert shifts["tungsten"] == pytest.approx(-134.0, abs=1.0)
    assert shifts["FL4"] == pytest.approx(-114.0, abs=5.0)
    assert shifts["HP1"] == pytest.approx(-56.0, abs=12.0)


def test_tungsten_through_full_blue_is_not_called_green() -> None:
    """It comes out as daylight, which has +0.003 Duv by nature."""
    assert abs(number("lamps", "tungsten_turn_duv")) < 0.0005
    assert number("lamps", "tungsten_shift_duv") == pytest.approx(0.0032, abs=0.0003)


def test_four_to_one_is_100_or_133_lux() -> None:
    numbers = told("contrast", ratio="4").numbers
    assert numbers["fill_by_key_to_fill_lux"] == pytest.approx(100.0)
    assert numbers["fill_by_sum_to_fill_lux"] == pytest.approx(133.333, abs=0.001)
    assert numbers["key_to_fill_stops"] == pytest.approx(2.0)
    assert numbers["side_to_side_stops"] == pytest.approx(2.32, abs=0.005)


@pytest.mark.parametrize("ratio", [2.0, 2.5, 8.0, 16.0])
def test_both_definitions_at_any_ratio(ratio: float) -> None:
    numbers = told("contrast", ratio=f"{ratio:g}").numbers
    assert numbers["fill_by_key_to_fill_lux"] == pytest.approx(400.0 / ratio, abs=1e-3)
    assert numbers["fill_by_sum_to_fill_lux"] == pytest.approx(400.0 / (ratio - 1.0), abs=1e-3)
    assert numbers["sum_to_fill_stops"] == pytest.approx(math.log2(ratio), abs=1e-3)
    assert numbers["apart_stops"] == pytest.approx(math.log2(ratio / (ratio - 1.0)), abs=1e-3)


def test_the_balls_are_as_bright_as_the_lights_make_them() -> None:
    """Key side 0.4 x 1.25 and fill side 0.4 x 0.25 of white, encoded by IEC 61966-2-1."""
    svg = lesson("contrast", {"ratio": "4"})[1].svg()
    for light in (0.5, 0.1):
        value = round(255 * (1.055 * light ** (1 / 2.4) - 0.055))
        assert f"#{value:02x}{value:02x}{value:02x}" in svg


def test_the_band_is_narrow_at_home_and_wide_on_a_tube() -> None:
    numbers = told("doubt", lamp="FL4", strength="4").numbers
    assert numbers["home_width_mired"] == pytest.approx(4.0, abs=1.0)
    assert (numbers["width_mired"] or 0.0) > 5 * (numbers["home_width_mired"] or 0.0)
    answer = at_the_terminal("FL4", "full CTB")
    assert answer.band is not None
    low, high = answer.band["shift_mired"]
    assert low is not None
    assert high is not None
    assert numbers["width_mired"] == pytest.approx(high - low, abs=0.01)
    assert low < (numbers["measured_shift_mired"] or 0.0) < high


def test_a_measured_sheet_has_one_stroke_and_no_band() -> None:
    answer, chart = lesson("doubt", {})
    assert answer.table.rows[2][2:4] == ["known", "none"]
    strokes = [each.count("M") for each in chart.svg().split('<path d="')[1:]]
    assert strokes[-1] == 1
    assert strokes[1] > 100


RIGHT = {"ruler": "b", "balance": "b", "pair": "c", "green": "b"} | dict.fromkeys(
    ("cameras", "lamps", "contrast", "doubt"), "c"
)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_question_stays_shut_until_it_is_guessed(slug: str) -> None:
    before = told(slug).question
    assert not before.revealed
    keys = [each.key for each in before.options]
    assert len(set(keys)) == len({each.text for each in before.options}) == 3
    assert before.right == RIGHT[slug]
    after = told(slug, guess="a").question
    assert (after.guess, after.revealed) == ("a", True)
    shown = told(slug, guess="show").question
    assert (shown.guess, shown.revealed) == (None, True)


def test_the_wrong_answer_of_the_ruler_adds_kelvins() -> None:
    """2800 + 2400 K, which is what a ruler in Kelvin would say."""
    wrong, right, _ = told("ruler").question.options
    assert wrong.text.startswith("To 5200 K")
    by_mired = 1e6 / (1e6 / 2800 - (1e6 / 3200 - 1e6 / 5600))
    assert float(right.text.split()[2]) == pytest.approx(by_mired, abs=25.0)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_lesson_is_short_and_every_try_is_a_setting_of_it(slug: str) -> None:
    start = told(slug)
    assert 2 <= len(start.text) <= 4
    assert start.look_for
    assert any("not a photograph" in each for each in start.notes)
    assert {len(row) for row in start.table.rows} == {len(start.table.headers)}
    for each in start.tries:
        there = told(slug, **each.values)
        assert there.values == each.values
        assert json.dumps(asdict(there), allow_nan=False)
    assert told(slug, **start.values) == start


def stops_of(control: Control) -> list[str]:
    """Values worth trying: every choice, every step of a short slider, else ends and middle."""
    if control.options is not None:
        return [each.key for each in control.options]
    assert control.low is not None
    assert control.high is not None
    assert control.step is not None
    count = round((control.high - control.low) / control.step)
    places = range(count + 1) if count <= 8 else (0, count // 2, count)
    return [f"{control.low + place * control.step:g}" for place in places]


@pytest.mark.parametrize("slug", SLUGS)
def test_every_setting_has_an_answer(slug: str) -> None:
    controls = told(slug).controls
    for values in product(*(stops_of(each) for each in controls)):
        asked = dict(zip((each.name for each in controls), values, strict=True))
        answer, chart = lesson(slug, asked)
        assert json.dumps(asdict(answer), allow_nan=False)
        assert "nan" not in " ".join([answer.sentence, chart.svg()])
        assert "nan" not in str(answer.table.rows)


def test_lessons_lie_beside_each_other() -> None:
    assert beside(SLUGS[0])[0] is None
    assert beside(SLUGS[-1])[1] is None
    after = beside(SLUGS[0])[1]
    assert after is not None
    assert after.slug == SLUGS[1]


@pytest.mark.parametrize(
    ("slug", "asked", "what", "remedy"),
    [
        (
            "ruler",
            {"lamp": "warm"},
            '"warm" is no place on this slider',
            "Give a number from 2500 to 10000.",
        ),
        (
            "ruler",
            {"lamp": "nan"},
            '"nan" is no place on this slider',
            "Give a number from 2500 to 10000.",
        ),
        (
            "contrast",
            {"ratio": "1"},
            '"1" is no place on this slider',
            "Give a number from 2 to 16.",
        ),
        (
            "balance",
            {"light": "moon"},
            '"moon" is none of the choices',
            "Choose tungsten, daylight or FL2.",
        ),
        (
            "green",
            {"guess": "z"},
            '"z" is none of the answers',
            "Choose a, b or c, or show to see it without a guess.",
        ),
    ],
)
def test_a_wrong_value_is_told_with_what_is_accepted(
    slug: str, asked: dict[str, str], what: str, remedy: str
) -> None:
    with pytest.raises(EvencastError) as caught:
        lesson(slug, asked)
    assert (caught.value.what, caught.value.remedy) == (what, remedy)


def test_a_lesson_that_is_none() -> None:
    with pytest.raises(EvencastError, match='there is no lesson "knots"'):
        lesson("knots", {})


CONTROLS = sorted({each.name for slug in SLUGS for each in told(slug).controls} | {"guess"})


@given(st.sampled_from(SLUGS), st.dictionaries(st.sampled_from(CONTROLS), st.text(max_size=70)))
@settings(max_examples=150, deadline=None)
def test_whatever_stands_in_the_address_there_is_an_answer_or_a_failure_in_words(
    slug: str, asked: dict[str, str]
) -> None:
    failure, answer = None, None
    try:
        answer, _ = lesson(slug, asked)
    except EvencastError as error:
        failure = error
    if answer is not None:
        assert json.dumps(asdict(answer), allow_nan=False)
        return
    assert failure is not None
    assert failure.where
    assert failure.remedy
    assert len(failure.what) < 120


def test_the_white_of_the_locus_is_what_the_lesson_slides() -> None:
    """A lamp of the ruler is the white of that Kelvin, not a lamp that reads so."""
    from evencast.actions.lessons.ruler import on

    power = on("4300K", "full CTB").light.power
    plain = white(4300.0)
    assert np.allclose(power / power.max(), plain / plain.max(), rtol=1e-6)
