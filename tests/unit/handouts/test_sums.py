"""The sums of the pocket page, run as the script they are, against the program's own."""

from __future__ import annotations

import json
import math
import random
import re
import unicodedata
from collections.abc import Iterator
from itertools import pairwise
from typing import Any, Protocol

import pytest
from py_mini_racer import MiniRacer

from evencast.actions.expose import _scrim_loss
from evencast.actions.ratio import ratio
from evencast.camera.exposure import exposure_s, f_number, marked_stop, meter_level, stops_between
from evencast.camera.ratio import Ratio, fill_by_key_to_fill, fill_by_sum_to_fill, stops
from evencast.handouts.sums import SUMS, Field, Sum, by_hand, sums_script
from evencast.lights.level import SCRIM_STOPS, moving_stops
from evencast.quantities import kelvin, mired_shift, say_stops, say_turn, stops_of_density
from evencast.tables import page_text

EXACT = 1e-12


class Script(Protocol):
    def __call__(self, function: str, *arguments: Any) -> Any: ...


@pytest.fixture(scope="module")
def script() -> Iterator[Script]:
    """The functions of the page."""
    engine = MiniRacer()
    engine.eval(sums_script())

    def called(function: str, *arguments: Any) -> Any:
        given = ", ".join(json.dumps(each) for each in arguments)
        return json.loads(str(engine.eval(f"JSON.stringify({function}({given}))")))

    yield called
    engine.close()


def amounts(least: float, most: float, count: int = 200) -> list[float]:
    """From least to most, spread evenly by factor."""
    drawn = random.Random(f"{least} {most}")
    return [math.exp(drawn.uniform(math.log(least), math.log(most))) for _ in range(count)]


def test_stops_and_ratios(script: Script) -> None:
    for each in amounts(1e-4, 1e6):
        assert script("sums.stopsOfRatio", each) == pytest.approx(stops(each), abs=EXACT)
        there = script("sums.stopsOfRatio", each)
        assert script("sums.ratioOfStops", there) == pytest.approx(each, rel=EXACT)


def test_distance(script: Script) -> None:
    for start, end in zip(amounts(0.1, 1000), amounts(0.2, 900), strict=True):
        by_page = script("sums.movingStops", start, end)
        assert by_page == pytest.approx(moving_stops(from_m=start, to_m=end), abs=EXACT)
        assert script("sums.distanceFor", start, by_page) == pytest.approx(end, rel=1e-9)


@pytest.mark.parametrize(
    "counts",
    [(0, 0, 0, 0), (1, 0, 0, 0), (0, 2, 0, 0), (1, 1, 1, 0), (0, 0, 2, 1), (6, 6, 6, 6)],
)
def test_scrims(script: Script, counts: tuple[int, ...]) -> None:
    given = dict(zip(SCRIM_STOPS, counts, strict=True))
    names = [name for name, count in given.items() for _ in range(count)]
    assert tuple(script("sums.scrimStops", given)) == pytest.approx(_scrim_loss(names), abs=EXACT)


def test_density(script: Script) -> None:
    for each in amounts(0.01, 6):
        at = script("sums.stopsOfDensity", each)
        assert at == pytest.approx(stops_of_density(each), abs=EXACT)
        assert script("sums.densityOfStops", at) == pytest.approx(each, rel=EXACT)
        assert script("sums.factorOfDensity", each) == pytest.approx(2.0**at, rel=1e-9)


def test_key_and_fill_in_both_definitions(script: Script) -> None:
    for key, fill in zip(amounts(100, 10000), amounts(1, 100), strict=True):
        both = Ratio(key, fill)
        assert script("sums.keyToFill", key, fill) == pytest.approx(both.key_to_fill, rel=EXACT)
        assert script("sums.sumToFill", key, fill) == pytest.approx(both.sum_to_fill, rel=EXACT)
        wanted = both.sum_to_fill
        by_first = script("sums.fillByKeyToFill", key, wanted)
        assert by_first == pytest.approx(fill_by_key_to_fill(key, wanted), rel=EXACT)
        by_second = script("sums.fillBySumToFill", key, wanted)
        assert by_second == pytest.approx(fill_by_sum_to_fill(key, wanted), rel=EXACT)


@pytest.mark.parametrize(("unit", "key", "fill"), [("lx", 400, 100), ("f", 8, 4)])
def test_key_and_fill_as_the_command_tells_them(
    script: Script, unit: str, key: float, fill: float
) -> None:
    said = "f/{}" if unit == "f" else "{}lx"
    answer = ratio(said.format(key), said.format(fill))
    light, other = script("sums.lightOf", key, unit), script("sums.lightOf", fill, unit)
    assert script("sums.keyToFill", light, other) == pytest.approx(answer.key_to_fill, abs=1e-4)
    assert script("sums.sumToFill", light, other) == pytest.approx(answer.sum_to_fill, abs=1e-4)
    wanted = ratio(said.format(key), "3:1")
    back = script("sums.readingOf", script("sums.fillBySumToFill", light, 3), unit)
    assert back == pytest.approx(wanted.fill_by_sum_to_fill, abs=1e-4)


def test_kelvin_and_mired(script: Script) -> None:
    for start, end in zip(amounts(1000, 100_000), amounts(1100, 90_000), strict=True):
        shift = script("sums.miredShift", start, end)
        assert shift == pytest.approx(mired_shift(from_k=start, to_k=end), abs=1e-9)
        assert script("sums.kelvinAfter", start, shift) == pytest.approx(end, rel=1e-9)
        assert script("sums.mired", end) == pytest.approx(1e6 / end, rel=EXACT)
        assert kelvin(script("sums.mired", end)) == pytest.approx(end, rel=EXACT)


def test_shutter(script: Script) -> None:
    for angle, frames in zip(amounts(1, 360), amounts(1, 1000), strict=True):
        by_page = script("sums.exposureS", angle, frames)
        expected = exposure_s(shutter_deg=angle, frames_per_s=frames)
        assert by_page == pytest.approx(expected, rel=EXACT)


def test_exposure(script: Script) -> None:
    """The same light gives a brighter picture by as much as the level that would be needed for
    the old one falls: N^2 / (S t), ISO 2720."""
    taken = zip(amounts(50, 6400), amounts(0.001, 0.1), amounts(1, 32), strict=True)
    frames = [dict(zip(("index", "timeS", "fNumber"), each, strict=True)) for each in taken]
    for was, now in pairwise(frames):
        *parts, whole = script("sums.pictureStops", was, now)
        levels = [
            meter_level(each["fNumber"], index=each["index"], exposure_s=each["timeS"])
            for each in (was, now)
        ]
        assert whole == pytest.approx(math.log2(levels[0] / levels[1]), abs=1e-9)
        assert parts[2] == pytest.approx(-stops_between(was["fNumber"], now["fNumber"]), abs=EXACT)
        assert sum(parts) == pytest.approx(whole, abs=1e-9)
        same = f_number(levels[0], index=now["index"], exposure_s=now["timeS"])
        assert script("sums.fNumberFor", was, now) == pytest.approx(same, rel=1e-9)


def test_words_are_the_program_s(script: Script) -> None:
    for each in [sixth / 6 for sixth in range(-40, 41)] + amounts(0.001, 40):
        assert script("say.thirds", each) == say_stops(each)
    for each in [half / 2 for half in range(-600, 601)]:
        assert script("say.turn", each) == say_turn(each)
    for each in amounts(0.1, 200) + [2 ** (n / 12) for n in range(-30, 90)]:
        assert script("say.mark", each) == marked_stop(each)


def test_numbers_are_told_short(script: Script) -> None:
    assert script("say.three", 0.501187) == "0.501"
    assert script("say.three", 100) == "100"
    assert script("say.three", 5599.6) == "5600"
    assert script("say.number", -0.001, 2) == "0"
    assert script("say.number", 30, 0) == "30"
    assert script("say.change", 0.001) == "no change"
    assert script("say.change", -0.83) == "0.83 stop darker"
    assert script("say.change", 1.5) == "1.5 stops brighter"


TAKEN = {"name": "From", "unit": "K", "least": 1000, "most": 100_000, "example": "3200"}


@pytest.mark.parametrize(
    ("text", "value"),
    [("3200", 3200), (" 4300.5 ", 4300.5), ("4300,5", 4300.5), ("+2000", 2000), ("1000.", 1000)],
)
def test_what_is_read(script: Script, text: str, value: float) -> None:
    assert script("typed", text, TAKEN) == {"value": value}


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("", "From: nothing is written. Write a number, such as 3200."),
        ("warm", "From: “warm” is not a number. Write one such as 3200."),
        ("1e4", "From: “1e4” is not a number. Write one such as 3200."),
        ("0x10", "From: “0x10” is not a number. Write one such as 3200."),
        ("3 200", "From: “3 200” is not a number. Write one such as 3200."),
        ("Infinity", "From: “Infinity” is not a number. Write one such as 3200."),
        ("٣٢٠٠", "From: “٣٢٠٠” is not a number. Write one such as 3200."),
        ("999", "From: use 1000 to 100000 K."),
        ("−5", "From: use 1000 to 100000 K."),
        ("9" * 400, "From: use 1000 to 100000 K."),
        ("5,600", "From: “5,600” may be 5600 or 5.600. Write it without the comma."),
    ],
)
def test_what_is_wrong_is_told(script: Script, text: str, error: str) -> None:
    assert script("typed", text, TAKEN) == {"error": error}


def test_counts_are_whole(script: Script) -> None:
    taken = {"name": "Single", "unit": "", "least": 0, "most": 6, "example": "1", "whole": True}
    assert script("typed", "1.5", taken) == {"error": "Single: use a whole number, 0 to 6."}


@pytest.mark.parametrize(
    ("text", "step", "after"),
    [
        ("3", "+0.5", "3.5"),
        ("0.6", "+0.3", "0.9"),
        ("800", "*2", "1600"),
        ("800", "*0.5", "400"),
        ("4", "mark+1", "4.5"),
        ("4", "mark-1", "3.5"),
        ("2.83", "mark+1", "3.2"),
        ("1000", "+0.5", "1000"),
        ("", "+0.5", "1"),
        ("warm", "-0.5", "0.5"),
    ],
)
def test_plus_and_minus(script: Script, text: str, step: str, after: str) -> None:
    assert script("stepped", text, step, 0.5, 1600 if "*" in step else 1000) == after


def fields(each: Sum, values: dict[str, str]) -> list[dict[str, object]]:
    """The fields of a sum as the page hands them over."""
    given = [
        {
            "key": field.key,
            "text": values.get(field.key, field.value),
            "choice": False,
            "name": field.name,
            "unit": field.unit,
            "example": field.value,
            "least": field.least,
            "most": field.most,
            "whole": field.whole,
        }
        for field in each.fields
    ]
    if each.units:
        unit = values.get("unit", each.units[0][0])
        given.append({"key": "unit", "text": unit, "choice": True, "name": "Read in"})
    return given


def lines(script: Script, key: str, /, **values: str) -> list[str]:
    each = next(each for each in SUMS if each.key == key)
    answer = script("answered", key, fields(each, values))
    assert not answer["wrong"], answer
    return list(answer["lines"])


def test_the_sums_in_words(script: Script) -> None:
    """Worked by hand; TRADE cases of exposure and ratio: 4:1 is 5:1 of the other kind, 2 stops."""
    assert lines(script, "stops", ratio="4", stops="1.5") == [
        "4:1 is 2 stops.",
        "1.5 stops is 2.83:1; so much less light is 35.4 % of it.",
    ]
    assert lines(script, "distance", **{"from": "3", "to": "1.5", "change": "-2"}) == [
        "From 3 to 1.5 m: 2 stops brighter.",
        "For 2 stops darker: 6 m from the subject.",
    ]
    assert lines(script, "scrims", single="1", double="1") == ["They take 1.5 stops."]
    assert lines(script, "scrims", **{"single": "1", "half double": "1"}) == [
        "They take 0.5 to 1.5 stops, by where in the beam one stands: meter it."
    ]
    assert lines(script, "scrims", single="0") == ["No scrim is in."]
    assert lines(script, "density", density="0.6", stops="1") == [
        "ND 0.6 takes 1.99 stops (2 stops): filter factor 3.98, 25.1 % passes.",
        "1 stop is a density of 0.3.",
    ]
    assert lines(script, "ratio", key="400", fill="100", wanted="4") == [
        "Key to fill 4:1, 2 stops. Key + fill to fill 5:1, 2.32 stops.",
        "For 4:1 the fill reads 100 as key to fill, 133 as key + fill to fill.",
    ]
    assert lines(script, "ratio", unit="f", key="8", fill="4", wanted="4") == [
        "Key to fill 4:1, 2 stops. Key + fill to fill 5:1, 2.32 stops.",
        "For 4:1 the fill reads f/4 (4) as key to fill, f/4.5 (4.62) as key + fill to fill.",
    ]
    assert lines(script, "ratio", key="100", fill="400")[0].startswith("The fill is brighter")
    assert lines(script, "mired") == [
        "From 3200 to 5600 K: 134 mired cooler.",
        "3200 K and 134 mired cooler: 5602 K.",
    ]
    assert lines(script, "mired", shift="-1000")[1].endswith(
        "beyond every white that light can have."
    )
    assert lines(script, "shutter", angle="172.8", frames="24") == [
        "173 degrees at 24 frames: 1/50 s."
    ]
    assert lines(script, "exposure", index2="1600", parts2="100", stop2="5.6") == [
        "The picture: 0.97 stop darker. Index: 1 stop brighter; shutter: 1 stop darker; "
        "stop: 0.97 stop darker.",
        "As bright as before with the new index and shutter: f/4 (4).",
    ]


def test_no_input_gives_a_number_that_is_none(script: Script) -> None:
    """Every field at both ends of what it takes, a step beyond, and with nonsense in it."""
    drawn = random.Random(7)

    def tried(field: Field) -> str:
        ends = [field.least, field.most, field.least - 1, field.most + 1]
        return drawn.choice(
            ["", "x", "-", ".", "1/2", *(f"{each:f}" for each in ends), field.value]
        )

    for each in SUMS:
        for _ in range(300):
            values = {field.key: tried(field) for field in each.fields}
            values["unit"] = drawn.choice(["lx", "f"])
            answer = script("answered", each.key, fields(each, values))
            told = " ".join(answer["lines"])
            assert told, (each.key, values)
            assert not re.search("NaN|Infinity|undefined|null", told), (each.key, values, told)


@pytest.mark.parametrize(
    ("text", "after"),
    [
        ("Fenêtre  NORD", "fenetre nord"),
        ("Straße", "strasse"),
        ("\uff26\uff32\uff2f\uff33\uff34 ½", "frost 1\u20442"),
        ("İstanbul", "istanbul"),
        ("מנורה", "מנורה"),
        ("台灯 🎬", "台灯 🎬"),
    ],
)
def test_capitals_accents_and_widths_make_no_difference(
    script: Script, text: str, after: str
) -> None:
    assert script("folded", text) == after


def test_folding_is_what_unicode_says(script: Script) -> None:
    for each in ("Ångström", "crème brûlée", "Łódź", "\ufb01lter", "ŒUVRE", "naïve"):
        plain = unicodedata.normalize("NFKD", each)
        kept = "".join(one for one in plain if not unicodedata.category(one).startswith("M"))
        assert script("folded", each) == kept.lower()


def test_by_hand_says_what_the_sums_say() -> None:
    told = " ".join(by_hand())
    for each in (
        "Half the distance is 2 stops brighter, twice the distance 2 stops darker; 1.4 times the "
        "distance 1 stop darker",
        "single scrim takes 0.5 stop, a double 1",
        "ND 0.3, 0.6, 0.9, 1.2 take 1, 2, 3, 4 stops: filter factors 2, 4, 8, 16",
        "4:1 as key to fill is 2 stops; the same lights are 5:1",
        "3200 K is 312, 5600 K 179, from one to the other 134 mired cooler",
    ):
        assert each in told


def test_the_page_s_own_script_is_sound() -> None:
    """It parses, in strict mode, beside the sums."""
    engine = MiniRacer()
    engine.eval(f"new Function({json.dumps(sums_script() + page_text('page.js'))})")
    engine.close()
