"""The quick sums as commands: what they refuse, in whole words, and what they say."""

from __future__ import annotations

import math
from typing import Any

import pytest

from evencast.camera.exposure import stops_between
from tests.unit.cli.calling import ANSWERED, BAD_CALL, run

REFUSED: dict[str, tuple[tuple[str, ...], str, str, str]] = {
    "no level": (
        ("expose", "tungsten", "--to", "3m"),
        "how bright it is is not said",
        "tungsten",
        "Give one reading, --lux, --fc, --ev, --stop or --candela; or for a tungsten Fresnel its "
        'watts, as in "650 tungsten 3m flood".',
    ),
    "watts without a distance": (
        ("expose", "650 tungsten flood"),
        "without a distance nobody can tell how much light arrives",
        "tungsten",
        "Add the distance to the subject: --to 3m, or write it behind the light.",
    ),
    "candelas without a distance": (
        ("expose", "tungsten", "--candela", "9000"),
        "without a distance nobody can tell how much light arrives",
        "tungsten",
        "Add the distance to the subject: --to 3m, or write it behind the light.",
    ),
    "a reading moved from nowhere": (
        ("expose", "tungsten", "--lux", "1000", "--to", "3m"),
        "the reading has no distance, so it cannot be moved",
        "--to",
        "Say with --at how far from the light it was read; or leave --to out if that was at the "
        "subject.",
    ),
    "two levels": (
        ("expose", "tungsten", "--lux", "1000", "--stop", "f/4"),
        "the level is given twice, by --lux and by --stop",
        "tungsten",
        "Keep the one that was read last.",
    ),
    "two places": (
        ("expose", "tungsten 3m", "--lux", "1000", "--at", "2m"),
        "the light stands at 3 m and was read at 2 m",
        "--at",
        "Leave the distance behind the light out, and say with --to where the subject is.",
    ),
    "two distances in the light": (
        ("expose", "650 tungsten 3m 4m"),
        "it says two things about the distance",
        "650 tungsten 3m 4m",
        "Leave one of them out.",
    ),
    "two focuses": (
        ("expose", "650 tungsten flood 3m spot"),
        "it says two things about the focus",
        "650 tungsten flood 3m spot",
        "Leave one of them out.",
    ),
    "watts of a tube": (
        ("expose", "36 FL2 2m"),
        "watts do not tell how bright cool white tube FL2 is",
        "FL2",
        "Give a reading: --lux, --fc, --ev or --stop with --at, or its --candela. Typical "
        "candelas are at hand for tungsten Fresnels alone.",
    ),
    "0 W": (
        ("expose", "0 tungsten 3m"),
        "a lamp of 0 W is none that stands on a set",
        "0 tungsten 3m",
        "Write its watts, 1 to 100000, such as 650.",
    ),
    "0 lamps": (
        ("expose", "0 x 650 tungsten 3m"),
        "0 lights are none that shine on one place",
        "0 x 650 tungsten 3m",
        "Write 1 to 1000, as in 2 x 650; or leave it out for one.",
    ),
    "0 m": (
        ("expose", "650 tungsten", "--to", "0m"),
        "a distance of 0 is inside the light",
        "--to",
        "Give the distance from the light to the subject, for example 3m.",
    ),
    "a distance without unit": (
        ("expose", "650 tungsten", "--to", "3"),
        '"3" is not a distance',
        "--to",
        "Write 3m, 2.5m, 80cm or 10ft.",
    ),
    "0 lx": (
        ("expose", "tungsten", "--lux", "0"),
        "0 is not above 0",
        "--lux",
        "Write a number such as 1000.",
    ),
    "a lux that no sun gives": (
        ("expose", "tungsten", "--lux", "1e308"),
        "1e+308 is beyond anything met on a set",
        "--lux",
        "Write a number such as 1000.",
    ),
    "a distance to the moon": (
        ("expose", "650 tungsten", "--to", "384400000m"),
        "3.844e+08 m is no distance from a light to a subject",
        "--to",
        "Write 0.01 to 10000 m.",
    ),
    "-5 fc": (
        ("expose", "tungsten", "--fc", "-5"),
        "-5 is not above 0",
        "--fc",
        "Write a number such as 100.",
    ),
    "no number of lux": (
        ("expose", "tungsten", "--lux", "nan"),
        "nan is not above 0",
        "--lux",
        "Write a number such as 1000.",
    ),
    "EV beyond": (
        ("expose", "tungsten", "--ev", "99"),
        "EV 99 is beyond any meter",
        "--ev",
        "Write the exposure value for ISO 100, -10 to 30.",
    ),
    "index 0": (
        ("expose", "tungsten", "--lux", "9", "--ei", "0"),
        "0 is not above 0",
        "--ei",
        "Write a number such as 800.",
    ),
    "no frames": (
        ("expose", "tungsten", "--lux", "9", "--fps", "-24"),
        "-24 is not above 0",
        "--fps",
        "Write a number such as 24.",
    ),
    "no shutter": (
        ("expose", "tungsten", "--lux", "9", "--shutter", "wide"),
        '"wide" is not a shutter',
        "--shutter",
        "Write 180, 172.8, 1/50 or 0.02s.",
    ),
    "shutter longer than a frame": (
        ("expose", "tungsten", "--lux", "9", "--shutter", "1/20"),
        "the shutter 1/20 is longer than one frame at 24 frames per second",
        "--shutter",
        "Use at most 360 degrees, or fewer frames per second with --fps.",
    ),
    "shutter 0": (
        ("expose", "tungsten", "--lux", "9", "--shutter", "0"),
        "0 is not above 0",
        "--shutter",
        "Write a number such as 180.",
    ),
    "no such meter": (
        ("expose", "tungsten", "--lux", "9", "--constant", "12.5"),
        "no meter by ISO 2720 has a constant of 12.5",
        "--constant",
        "A disc has 240 to 400, a dome 320 to 540; leave it out to see both.",
    ),
    "no stop": (
        ("expose", "tungsten", "--stop", "four"),
        '"four" is not a stop',
        "--stop",
        "Write f/4, T2.8 or 5.6.",
    ),
    "no index of a stop": (
        ("expose", "tungsten", "--stop", "f/4 at dusk"),
        '"dusk" is not an exposure index',
        "--stop",
        'Write "f/4", "f/4 at 400" or "f/4 at 400 1/50".',
    ),
    "wanted stop 0": (
        ("expose", "tungsten", "--lux", "9", "--want", "f/0"),
        "0 is not above 0",
        "--want",
        "Write a number such as f/4.",
    ),
    "candelas that run down": (
        ("expose", "tungsten 3m", "--candela", "60000-9000"),
        "60000 to 9000 candelas runs downwards",
        "--candela",
        "Write the lower end first: 9000-60000.",
    ),
    "no candelas": (
        ("expose", "tungsten 3m", "--candela", "many"),
        '"many" is no number of candelas',
        "--candela",
        "Write 9000, from flood to spot 9000-60000, or a file ending in .ies, .ldt or .gdtf.",
    ),
    "ratio without unit": (
        ("ratio", "400", "100lx"),
        '"400" has no unit',
        "KEY",
        "Write 400lx, 37fc or f/4.",
    ),
    "ratio of words": (
        ("ratio", "400lx", "dim"),
        '"dim" is not a reading',
        "FILL",
        "Write 400lx, 37fc or f/4.",
    ),
    "ratio of 0": (
        ("ratio", "400lx", "0lx"),
        "0 is not above 0",
        "FILL",
        "Write a number such as 400lx.",
    ),
    "ratio in two units": (
        ("ratio", "400lx", "f/4"),
        "400lx and f/4 are not read alike",
        "FILL",
        "Give both in lux, both in foot-candles, or both as stops at one index and shutter.",
    ),
    "fill over key": (
        ("ratio", "100lx", "400lx"),
        "the fill (400lx) is brighter than the key (100lx)",
        "FILL",
        "Write the brighter of the two first: it is the key.",
    ),
    "ratio of one to one": (
        ("ratio", "400lx", "1:1"),
        "a ratio of 1:1 leaves no light that is the key",
        "FILL",
        "Write the larger number first, such as 4:1.",
    ),
    "load of words": (
        ("load", "kettle", "--volts", "230", "--breaker", "16"),
        '"kettle" is not a load',
        "LOAD",
        'Write 650, 2x650 or "1.2kW pf 0.6".',
    ),
    "load of 0": (
        ("load", "0", "--volts", "230", "--breaker", "16"),
        "0 is not above 0",
        "0",
        "Write a number such as 650.",
    ),
    "power factor above 1": (
        ("load", "650 pf 6", "--volts", "230", "--breaker", "16"),
        "a power factor of 6 is above 1",
        "650 pf 6",
        "Write the one on the plate, such as pf 0.6; leave it out for tungsten.",
    ),
    "no volts": (
        ("load", "650", "--volts", "0", "--breaker", "16"),
        "0 is not above 0",
        "--volts",
        "Write a number such as 230.",
    ),
    "negative breaker": (
        ("load", "650", "--volts", "230", "--breaker", "-16"),
        "-16 is not above 0",
        "--breaker",
        "Write a number such as 16.",
    ),
    "margin above the breaker": (
        ("load", "650", "--volts", "230", "--breaker", "16", "--margin", "120"),
        "a margin of 120 percent is none that a breaker holds",
        "--margin",
        "Write the share of the breaker to use, above 0 to 100; 80 is usual for hours.",
    ),
    "a hall of lamps": (
        ("load", "5000x100", "--volts", "230", "--breaker", "16"),
        "5000 loads are more than any circuit is asked to carry",
        "5000x100",
        "Give at most 1000.",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_is_refused_in_words(case: str) -> None:
    arguments, what, where, remedy = REFUSED[case]
    ran = run(*arguments, "--json")
    assert ran.code == BAD_CALL
    assert ran.error == {"what": what, "where": where, "remedy": remedy}


def answer(*arguments: str) -> dict[str, Any]:
    ran = run(*arguments, "--json")
    assert ran.code == ANSWERED, ran.out
    return ran.answer


def test_a_stop_needs_no_constant() -> None:
    """f/4 on the person's own meter stays f/4; at twice the index it is f/5.6, exactly."""
    told = answer("expose", "tungsten", "--stop", "f/4")
    assert told["f_number"] == [4.0, 4.0]
    assert told["meter_constants"] is None
    assert told["illuminance_lux"] is None
    told = answer("expose", "tungsten", "--stop", "f/4 at 400", "--ei", "800")
    assert told["f_number"] == pytest.approx([32**0.5] * 2, abs=1e-4)
    told = answer("expose", "tungsten", "--stop", "f/4 at 800 1/96", "--shutter", "1/48")
    assert told["f_number"] == pytest.approx([32**0.5] * 2, abs=1e-4)


@pytest.mark.parametrize(
    ("reading", "f_number"),
    [
        (("--lux", "1000"), [7.1067, 8.165]),
        (("--fc", "92.90304"), [7.1067, 8.165]),
        (("--ev", "9"), [9.2376, 9.2376]),
        (("--lux", "1000", "--constant", "250"), [8.165, 8.165]),
        (("--lux", "1000", "--mains", "50"), [6.9631, 8.0]),
        (("--lux", "1000", "--fps", "50"), [4.9237, 5.6569]),
    ],
)
def test_readings_become_stops(reading: tuple[str, ...], f_number: list[float]) -> None:
    """N^2 = E S t / C by hand; EV 9 is f/3.27 at 1/48 s and ISO 100, f/9.24 at 800."""
    assert answer("expose", "tungsten", *reading)["f_number"] == pytest.approx(f_number, abs=1e-3)


def test_two_lamps_moved_nearer_behind_scrims() -> None:
    """Two of 500 lx at 4 m, moved to 2 m: 4000 lx; a double and a half single leave 1414 to
    2000."""
    told = answer(
        *("expose", "2x tungsten", "--lux", "500", "--at", "4m", "--to", "2m"),
        *("--scrim", "double", "--scrim", "half single"),
    )
    assert told["bare_lux"] == [4000.0, 4000.0]
    assert told["loss_stops"] == [1.0, 1.5]
    assert told["illuminance_lux"] == pytest.approx([1414.2136, 2000.0], rel=5e-6)


def test_the_band_of_a_sheet_widens_the_stop() -> None:
    """The stop ends where the loss of the sheet ends."""
    bare = answer("expose", "tungsten", "--stop", "f/8")
    told = answer("expose", "tungsten", "--stop", "f/8", "--through", "full CTB")
    least, most = told["loss_stops"]
    assert least < told["filter_loss_stops"] < most
    assert most - least > 0.2
    wide = [stops_between(each, bare["f_number"][0]) for each in told["f_number"]]
    assert wide == pytest.approx([most, least], abs=1e-3)


def cures(*arguments: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = answer("expose", *arguments)["cures"]
    return found


def test_cures_for_too_little_light() -> None:
    """Two stops short: half the distance, four times the index; a shutter gives one at most."""
    found = cures(
        *("tungsten 4m flood", "--stop", "f/4", "--want", "f/8"),
    )
    assert [(each["text"], each["gain_stops"], each["enough"]) for each in found] == [
        (
            "Closer: 2 m from the subject; hot, so keep the clearance on its label",
            [2.0, 2.0],
            True,
        ),
        (
            "Spot: 2 stops to 3 1/3 stops on a Fresnel (common practice, no source), and a "
            "narrower beam",
            [2.0, 3.3],
            True,
        ),
        ("Index 3200: noisier by as many stops", [2.0, 2.0], True),
        ("Shutter: 1 stop at most, fully open, and more motion blur", [0.0, 1.0], False),
    ]


def test_cures_name_each_sheet_and_scrim() -> None:
    """What it gives back alone."""
    found = cures(
        *("tungsten", "--stop", "f/4", "--want", "f/4", "--shutter", "360"),
        *("--through", "full CTB", "--through", "quarter CTB", "--scrim", "half double"),
    )
    texts = [each["text"] for each in found]
    assert texts[:3] == [
        "Scrims out: no stop to 1 stop",
        "Without full CTB: 1 2/3 stop, and its colour is another",
        "Without quarter CTB: 2/3 stop, and its colour is another",
    ]
    assert [each["enough"] for each in found[:3]] == [False, False, False]
    assert texts[3].startswith("Index ")
    assert len(texts) == 4


def test_cures_for_too_much_light() -> None:
    """Two stops over: a quarter of the light, twice the distance, a quarter of the index; down
    by two stops a filament of 3200 K is 58 mired warmer."""
    found = cures("tungsten 2m", "--stop", "f/8", "--want", "f/4")
    assert [each["text"] for each in found] == [
        "Scrim or ND: 2 stops, without a change of colour (double + double, or ND 0.6)",
        "Dimmer: 2 stops, and up to 58 mired warmer",
        "Further: 4 m from the subject",
        "Index 200",
    ]


def test_nothing_to_cure_where_it_is_as_wanted() -> None:
    """Within half of the smallest step."""
    assert cures("tungsten", "--stop", "f/4", "--want", "T4") == []


def cautions(*arguments: str) -> str:
    return " ".join(answer("expose", *arguments)["cautions"])


def test_flicker_is_told_of_lights_that_pulse() -> None:
    """Not of filaments. 1/50 s takes whole pulses at 50 Hz, 1/48 s swings by 0.1 stop."""
    assert "Flicker" not in cautions("tungsten", "--stop", "f/4")
    assert "1/50 s on 50 Hz takes whole pulses." in cautions(
        "FL2", "--stop", "f/4", "--mains", "50"
    )
    told = cautions("FL2", "--stop", "f/4", "--mains", "50", "--fps", "24")
    assert (
        "1/48 s on 50 Hz: exposure may swing by up to 0.1 stop; safe: 1/100 s, 1/50 s, "
        "1/33.33 s, 1/25 s." in told
    )
    told = cautions("FL2", "--stop", "f/4", "--mains", "60")
    assert (
        "1/48 s on 60 Hz: frames come out alike at 24 frames per second, but a sensor read "
        "line by line may show standing bands of up to 0.4 stop" in told
    )
    assert "Not covered: LED dimmed by pulses of their own" in told


def test_the_near_field_is_told() -> None:
    """Under five times the size; where the size is not said, wherever a level was moved."""
    near = ("tungsten", "--lux", "900", "--at", "4m", "--to", "2m")
    assert "Near: 2 m is under 5 times the 0.6 m of the light." in cautions(*near, "--size", "60cm")
    assert "Inverse square" not in cautions(*near, "--size", "10cm")
    assert "Say with --size how large it is" in cautions(*near)
    assert "inverse square" not in cautions("tungsten", "--lux", "900", "--at", "4m")


def test_watts_far_from_those_the_range_was_made_from() -> None:
    """It is said, once, beside the range."""
    notes = answer("expose", "5kW tungsten 5m spot")["notes"]
    assert "The range per watt was made from lamps of 150 to 1000 W; 5000 W lies beyond it." in (
        notes
    )


def test_a_power_factor_counts() -> None:
    """A 575 W ballast at 0.6 draws 958 VA: 4.2 A at 230 V, where its watts say 2.5."""
    told = answer("load", "575 pf 0.6", "--volts", "230", "--breaker", "16")
    assert told["watts"] == 575
    assert told["amps"] == pytest.approx(575 / 0.6 / 230, abs=1e-4)
    assert "A power factor below 1 draws more amps than its watts say." in told["notes"]


def test_one_load_that_is_too_much_alone_is_not_split() -> None:
    """It needs a larger circuit."""
    told = answer("load", "2kW", "100", "--volts", "120", "--breaker", "15")
    assert (told["fits"], told["split"]) == (False, [])
    assert "One load alone is too much for this circuit: it needs a larger one." in told["notes"]


def test_a_split_holds_on_every_circuit() -> None:
    """As few as the rule finds, none above the limit, nothing lost."""
    told = answer("load", "7x650", "3x200", "--volts", "120", "--breaker", "20")
    assert all(each["amps"] <= told["limit_a"] for each in told["split"])
    assert sum(len(each["loads"]) for each in told["split"]) == 10
    assert sum(each["amps"] for each in told["split"]) == pytest.approx(told["amps"], abs=1e-3)


@pytest.mark.parametrize("lux", ["1e-6", "1e9"])
@pytest.mark.parametrize("to", ["1cm", "10000m"])
@pytest.mark.parametrize("shutter", ["180", "1/1000000", "0.000001s"])
def test_the_ends_of_what_is_accepted_still_answer(lux: str, to: str, shutter: str) -> None:
    """In words and as one object; a stop above 0 whatever was asked."""
    asked = ("expose", "FL2", "--lux", lux, "--at", "10m", "--to", to, "--shutter", shutter)
    dark = (*asked, "--want", "f/4", "--ei", "0.000001")
    assert run(*dark).code == ANSWERED
    assert answer(*dark)["f_number"][0] > 0


def test_a_reading_at_another_frame_rate() -> None:
    """f/5.6 read at 1/48 s; at 50 frames per second the shutter is 1/100 s: log2(100 / 48) = 1.06
    stop are missing. The meter may have stood at more than a frame of today's."""
    told = run(
        *("expose", "tungsten", "--stop", "f/5.6 at 800 1/48", "--at", "3m"),
        *("--fps", "50", "--want", "f/5.6", "--json"),
    ).answer
    assert told["gap_stops"] == pytest.approx([math.log2(100 / 48)] * 2, abs=1e-4)
    assert told["known_by"] == "f/5.6 read at 800 and 1/48 at 3 m"
    text = run(
        *("expose", "tungsten", "--stop", "f/5.6 at 800 1/48", "--at", "3m"),
        *("--fps", "50", "--want", "f/5.6"),
    ).out
    assert "gap       +1.06 stop to f/5.6, + too little" in text


def test_a_fill_on_the_mark_is_told_once() -> None:
    """f/3.2 is 5.6 / sqrt(3); f/4.6 is none of an iris and has its mark beside it."""
    assert "fill f/3.2, which is 3:1 in the other" in run("ratio", "f/5.6", "4:1").out
    assert "fill f/4.6 (f/4.5), which is" in run("ratio", "f/8", "4:1").out


def test_scrims_in_a_hot_lamp_bring_a_caution() -> None:
    """They are changed by hand; in front of a panel there is no heat to speak of."""
    said = "scrims, frames and doors stay hot for minutes"

    def cautions(light: str, *more: str) -> str:
        asked = ("expose", light, "--stop", "f/8", "--at", "3m", *more, "--json")
        return " ".join(run(*asked).answer["cautions"])

    assert said in cautions("tungsten", "--scrim", "double")
    assert said not in cautions("tungsten")
    assert said not in cautions("LED-B3", "--scrim", "double")
