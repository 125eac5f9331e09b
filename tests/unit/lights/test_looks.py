from __future__ import annotations

import re

import pytest

from evencast import tables
from evencast.colour import white
from evencast.errors import EvencastError
from evencast.filters import generic_names
from evencast.filters.dyes import shift_duv
from evencast.filters.families import generic
from evencast.lights.looks import look, look_names

NAMES = [
    *("moonlight, discreet", "moonlight, graphic", "moonlight, silver"),
    *("streets at night, sodium", "industrial, mercury", "fire and candle"),
    *("screen glow", "late sun", "keep mixed"),
]


def test_the_looks_there_are() -> None:
    assert look_names() == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_ends_are_in_order_and_the_middle_lies_between(name: str) -> None:
    each = look(name)
    assert each.mired_ends[0] < each.mired_ends[1]
    assert each.duv_ends[0] <= each.duv_ends[1]
    assert each.mired == sum(each.mired_ends) / 2
    assert each.duv == sum(each.duv_ends) / 2
    assert 0 <= each.duv <= 0.03
    if each.stops_ends is not None:
        assert each.stops_ends[0] < each.stops_ends[1]
    assert each.stops == (None if each.stops_ends is None else sum(each.stops_ends) / 2)
    assert len(each.how) > 20
    assert set(each.minds) <= {"flicker", "heat"}


def test_offsets_are_those_of_common_practice() -> None:
    """Moonlight an eighth to a half grade of blue and up to an eighth of green, a stop or two
    under the key; the graphic one a full grade; sodium 150 to 200 mired warm. Grades of 134 mired
    between 3200 and 5600 K. Common practice, no source."""
    moon = look("moonlight, discreet")
    assert moon.mired_ends == (-67.0, -17.0)
    assert moon.duv_ends == (0.0, 0.0035)
    assert (moon.stops_ends, moon.stops) == ((-2.0, -1.0), -1.5)
    assert look("moonlight, graphic").mired == -134
    assert look("moonlight, silver").mired == -10
    assert look("moonlight, silver").duv == pytest.approx(0.007)
    assert look("streets at night, sodium").mired_ends == (150.0, 200.0)
    assert look("industrial, mercury").mired_ends == (-100.0, -60.0)
    assert look("fire and candle").mired_ends == (60.0, 200.0)
    assert look("screen glow").mired_ends == (-134.0, -67.0)
    assert look("late sun").mired_ends == (35.0, 85.0)
    assert look("keep mixed").mired_ends == (35.0, 70.0)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("moonlight, discreet", None, "eighth plus green"),
        ("streets at night, sodium", "eighth plus green", "quarter plus green"),
        ("industrial, mercury", "half plus green", "full plus green"),
    ],
)
def test_green_is_that_of_the_sheets_named(name: str, low: str | None, high: str) -> None:
    """The ends are what the generic sheets do on the white they are stated on."""
    ends = [
        0.0 if sheet is None else float(shift_duv(white(5600.0), generic(sheet).transmittance))
        for sheet in (low, high)
    ]
    assert look(name).duv_ends == pytest.approx(ends, abs=2e-5)


def test_only_what_flickers_or_burns_is_minded() -> None:
    minded = {name: look(name).minds for name in NAMES if look(name).minds}
    assert minded == {"fire and candle": ("flicker", "heat"), "screen glow": ("flicker",)}


def test_every_sheet_that_is_named_exists() -> None:
    """Whatever grade and series stand side by side, as in "half CTO"."""
    told = " ".join(row["how"] for row in tables.read_rows("looks"))
    grades = r"(?:eighth|quarter|half|three-quarter|full|double) (?:CTO|CTB|plus green|minus green)"
    named = set(re.findall(grades, told))
    assert len(named) >= 5
    assert named <= set(generic_names())


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("MOONLIGHT,   Discreet", "moonlight, discreet"),
        ("moonlight discreet", "moonlight, discreet"),
        ("silver moonlight", "moonlight, silver"),
        ("sodium", "streets at night, sodium"),
        ("candle", "fire and candle"),
        ("Keep-Mixed", "keep mixed"),
    ],
)
def test_names_are_forgiving(written: str, name: str) -> None:
    assert look(written).name == name


@pytest.mark.parametrize(
    ("written", "what", "remedy"),
    [
        (
            "moonlight",
            '"moonlight" may be any of 3 looks',
            "Write moonlight, discreet or moonlight, graphic or moonlight, silver.",
        ),
        (
            "scren glow",
            'no look is called "scren glow"',
            "Did you mean screen glow? `evencast looks` lists them.",
        ),
        ("", 'no look is called ""', "`evencast looks` lists them."),
        (",", 'no look is called ","', "`evencast looks` lists them."),
        ("zzz", 'no look is called "zzz"', "`evencast looks` lists them."),
    ],
)
def test_other_names_are_told_the_nearest(written: str, what: str, remedy: str) -> None:
    with pytest.raises(EvencastError) as caught:
        look(written)
    assert (caught.value.what, caught.value.where, caught.value.remedy) == (what, "looks", remedy)
