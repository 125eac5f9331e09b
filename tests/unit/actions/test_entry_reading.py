from __future__ import annotations

from typing import Any

import pytest

from evencast.actions.entry.reading import typed_reading
from evencast.errors import EvencastError

NOW = "2031-05-04T16:31+02:00"


@pytest.mark.parametrize(
    ("line", "keys"),
    [
        (
            "5480 K 0.001 f/4 16:20 thin cloud A014C003",
            {
                "cct_k": 5480,
                "duv": 0.001,
                "f_stop": 4,
                "time": "2031-05-04T16:20+02:00",
                "frame": "A014C003",
                "sky": "thin cloud",
            },
        ),
        ("5480", {"cct_k": 5480, "time": NOW}),
        ("5480 0.001", {"cct_k": 5480, "duv": 0.001, "time": NOW}),
        ("5480K-0.002, 800 lux", {"cct_k": 5480, "duv": -0.002, "lux": 800, "time": NOW}),
        ("4100 K duv +0.004 75 fc", {"cct_k": 4100, "duv": 0.004, "fc": 75, "time": NOW}),
        ("EV 8.3 overcast", {"ev": 8.3, "sky": "overcast", "time": NOW}),
        ("f/5.6 and a third", {"f_stop": 6.3, "time": NOW}),
        (
            "f/4 ISO 400 1/50",
            {"f_stop": 4, "exposure_index": 400, "shutter_s": 0.02, "time": NOW},
        ),
        (
            "camera 5200K 4 toward magenta, frame card-7",
            {"cct_k": 5200, "tint": "4 toward magenta", "frame": "card-7", "time": NOW},
        ),
        (
            "5480K 2031-05-03T09:05 broken cloud, wind",
            {"cct_k": 5480, "sky": "broken cloud wind", "time": "2031-05-03T09:05+02:00"},
        ),
        ("5480K 9:05Z", {"cct_k": 5480, "time": "2031-05-04T09:05Z"}),
        ("5,6 lux at 16:20", {"lux": 5.6, "time": "2031-05-04T16:20+02:00"}),
    ],
)
def test_a_line_becomes_the_keys_of_a_reading(line: str, keys: dict[str, Any]) -> None:
    """Colour, level, what the meter was set to, time, frame; what is left is the sky."""
    assert typed_reading(line, now=NOW).keys == keys


def test_without_a_clock_the_time_is_as_typed() -> None:
    """And none where none is typed."""
    assert typed_reading("5480 16:20").keys == {"cct_k": 5480, "time": "16:20"}
    assert typed_reading("5480").keys == {"cct_k": 5480}


@pytest.mark.parametrize(
    ("line", "what", "remedy"),
    [
        (
            "thin cloud",
            "it holds no reading",
            'Write what the meter says, as in "5480 K 0.001 f/4"; the time, the sky and the frame '
            "may stand behind it.",
        ),
        (
            "duv 0.001",
            "it says no colour without Kelvin",
            'Write what the meter says, as in "5480 K 0.001 f/4"; the time, the sky and the frame '
            "may stand behind it.",
        ),
        (
            "5480 12",
            '"12" is not understood',
            "Write its unit: 5480 K, 800 lux, 75 fc, EV 8, f/4, 16:20; or leave it out.",
        ),
        (
            "5480 K 9000 cd",
            "candelas are not what a meter reads at the subject",
            "Write lux, fc, EV or a stop, as in f/4.",
        ),
        (
            "5480 K T2.8",
            '"T2.8": a T-stop is a lens\'s; is it what your meter reads?',
            "Write f/2.8.",
        ),
        (
            "f/4 800 lux",
            'it says two things about the level: "800 lux" and "f/4"',
            "Leave one of them out.",
        ),
    ],
)
def test_what_is_no_reading_is_refused(line: str, what: str, remedy: str) -> None:
    """With what would have been accepted."""
    with pytest.raises(EvencastError) as raised:
        typed_reading(line, now=NOW)
    assert (raised.value.what, raised.value.remedy) == (what, remedy)
