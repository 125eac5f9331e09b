"""Which lights fall on a spot and how much of each: by role, by the plan's own tables."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from evencast.actions.taking import taking
from evencast.filters import Filter, generic
from evencast.lights.level import Level
from tests.spots import CAMERA, Lit, balanced, light_at, told, white_light

LIGHTS = {
    "sun": white_light("key", 5500.0, 1600.0),
    "bounce": white_light("fill", 5500.0, 400.0),
    "wall lamp": white_light("background", 5500.0, 200.0),
    "bench lamp": white_light("practical", 2700.0, 100.0),
    "yard": white_light("other", 5500.0, 10.0),
    "garden": white_light("view", 5500.0, 5000.0),
}


def names(lights: list[Any]) -> list[str]:
    return [each.name for each in lights]


def test_three_spots_are_assumed_by_role() -> None:
    """Key side, fill side, background; each says that it is assumed. A view lights nothing."""
    answers = told(LIGHTS)
    assert {name: names(each.lights) for name, each in answers.items()} == {
        "key side": ["sun", "bounce", "bench lamp", "yard"],
        "fill side": ["bounce", "bench lamp", "yard"],
        "background": ["wall lamp", "bench lamp", "yard"],
    }
    assert all(each.assumed for each in answers.values())
    assert all(each.notes[0].startswith("No spots are given") for each in answers.values())
    assert [each.role for each in answers.values()] == ["key", "fill", "background"]
    assert [each.tolerance.mired_high for each in answers.values()] == [5.0, 12.0, 12.0]


def test_no_spot_is_assumed_without_a_light_of_its_role() -> None:
    """Strays alone are no fill side and no background: what the walls throw back is not known."""
    assert list(told({"bounce": LIGHTS["bounce"]})) == ["fill side"]
    assert list(told({"sun": LIGHTS["sun"], "bench lamp": LIGHTS["bench lamp"]})) == ["key side"]
    assert list(told({"yard": LIGHTS["yard"], "garden": LIGHTS["garden"]})) == []


def test_shares_stops_and_lux_by_hand() -> None:
    """Levels are what counts: 1600, 400, 100 and 10 lx of 2110."""
    key = told(LIGHTS)["key side"]
    assert key.lux == (2110.0, 2110.0)
    assert [each.lux for each in key.lights] == [1600.0, 400.0, 100.0, 10.0]
    assert [each.share for each in key.lights] == pytest.approx(
        [1600 / 2110, 400 / 2110, 100 / 2110, 10 / 2110], abs=1e-6
    )
    assert [each.stops for each in key.lights] == pytest.approx(
        [math.log2(each / 2110) for each in (1600, 400, 100, 10)], abs=1e-4
    )


def test_levels_against_the_key_side_and_both_ratios() -> None:
    """2110 lx beside 510 is 2.05 stops. Key alone to all else 1600:510, with it 2110:510."""
    answers = told(LIGHTS)
    assert answers["key side"].level_stops == 0.0
    assert answers["fill side"].level_stops == pytest.approx(-math.log2(2110 / 510), abs=1e-4)
    assert answers["background"].level_stops == pytest.approx(-math.log2(2110 / 310), abs=1e-4)
    assert answers["fill side"].notes[1] == (
        "Ratio: 3.14 to 1 as key : fill side, 4.14 to 1 as (key + fill side) : fill side."
    )


def test_the_stop_by_iso_2720() -> None:
    """N^2 = E S t / C with S 800, t 1/50, C 330 and 250; over the stop that is set."""
    key = told(LIGHTS, shot=8.0)["key side"]
    low, high = (math.sqrt(2110 * 800 / 50 / constant) for constant in (330, 250))
    assert key.f_number == pytest.approx((low, high), rel=1e-5)
    assert key.over_stops == pytest.approx(
        (2 * math.log2(low / 8), 2 * math.log2(high / 8)), abs=1e-4
    )
    assert told(LIGHTS)["key side"].over_stops is None


def test_what_takes_light_without_colour() -> None:
    """A double scrim on the sun; frost that takes 1/2 to 1 1/2 stop; a third number is the
    middle."""
    lights = LIGHTS | {"sun": replace(LIGHTS["sun"], taken=(1.0, 1.0))}
    assert told(lights)["key side"].lux == (1310.0, 1310.0)
    lights["sun"] = replace(LIGHTS["sun"], taken=(0.5, 1.5))
    frosted = told(lights)["key side"]
    assert frosted.lux == pytest.approx((1600 * 2**-1.5 + 510, 1600 * 2**-0.5 + 510), rel=1e-5)
    assert light_at(frosted, "sun").lux == pytest.approx(800.0)
    lights["sun"] = replace(LIGHTS["sun"], taken=(0.5, 0.75, 1.5))
    assert light_at(told(lights)["key side"], "sun").lux == pytest.approx(1600 * 2**-0.75, rel=1e-5)


def test_sheets_take_their_loss() -> None:
    """A neutral of two stops and nothing else: a quarter of the light."""
    neutral = Filter("two stops", "ND", np.full(81, 0.25), measured=True)
    lights = LIGHTS | {"sun": replace(LIGHTS["sun"], filters=[neutral])}
    key = told(lights)["key side"]
    assert light_at(key, "sun").lux == pytest.approx(400.0, rel=1e-6)
    assert key.lux == pytest.approx((910.0, 910.0), rel=1e-6)


def test_a_light_through_which_nothing_comes_is_not_there() -> None:
    """Black foil in front of it: as if it were off."""
    foil = Filter("foil", "effect", np.zeros(81), measured=True)
    lights = LIGHTS | {"bench lamp": replace(LIGHTS["bench lamp"], filters=[foil])}
    assert names(told(lights)["fill side"].lights) == ["bounce", "yard"]


def test_without_a_level_a_light_is_left_out_and_named() -> None:
    """The mix is told of the others, and says whom it lacks."""
    lights = LIGHTS | {"bench lamp": white_light("practical", 2700.0, None)}
    fill = told(lights)["fill side"]
    assert fill.left_out == ["bench lamp"]
    assert names(fill.lights) == ["bounce", "yard"]
    assert fill.verdict == (
        "reads 0 mired, neutral: inside 12 mired and 0.003 Duv; without bench lamp, whose level "
        "is not known"
    )


def test_a_spot_is_not_known_without_what_it_is_lit_by() -> None:
    """No mix of a key side whose key has no level; nor of anything where no level is known."""
    lights = LIGHTS | {"sun": white_light("key", 5500.0, None)}
    key = told(lights, shot=4.0)["key side"]
    assert (key.mix, key.residual_mired, key.within_tolerance, key.f_number) == (None,) * 4
    assert (key.lights, key.left_out) == ([], ["sun"])
    assert key.verdict == "not known: the level of sun must be read first"
    fill = told(lights)["fill side"]
    assert fill.level_stops is None
    assert fill.within_tolerance is False
    none = {name: replace(each, level=None) for name, each in LIGHTS.items()}
    assert told(none)["background"].verdict == (
        "not known: the level of wall lamp must be read first"
    )


def test_one_of_two_fills_without_a_level_is_left_out() -> None:
    """The other one still lights the spot."""
    fill = told(LIGHTS | {"second": white_light("fill", 5500.0, None)})["fill side"]
    assert fill.left_out == ["second"]
    assert fill.within_tolerance is False


SPOT = {"name": "her cheek", "role": "fill"}


def cheek(*lights: dict[str, Any], **more: Any) -> Any:
    return told(LIGHTS, spot=[SPOT | {"light": list(lights)}], **more)["her cheek"]


def test_a_table_says_exactly_what_falls() -> None:
    """Stops against the light's own level at the subject, whatever its capitals; no other light."""
    spot = cheek({"name": "Sun", "stops": -3.0}, {"name": "bench lamp", "stops": 0.0})
    assert [(each.name, each.lux) for each in spot.lights] == [
        ("sun", 200.0),
        ("bench lamp", 100.0),
    ]
    assert not spot.assumed
    assert spot.level_stops is None
    assert list(told(LIGHTS, spot=[SPOT])) == ["her cheek"]
    assert told(LIGHTS, spot=[SPOT])["her cheek"].verdict == "not known: no light falls here"


@pytest.mark.parametrize(
    ("reading", "lux"),
    [
        ({"lux": 150.0}, 150.0),
        ({"fc": 10.0}, 107.639),
    ],
)
def test_a_table_may_hold_readings_in_lux(reading: dict[str, float], lux: float) -> None:
    """One foot-candle is 10.7639 lx. The sheets count on top, the level at the subject does not."""
    spot = cheek({"name": "bench lamp"} | reading)
    assert spot.lights[0].lux == pytest.approx(lux, rel=1e-5)
    assert spot.lux == pytest.approx((lux, lux), rel=1e-5)


@pytest.mark.parametrize(
    ("reading", "f_number"),
    [
        ({"f_stop": 4.0}, 4.0),
        ({"f_stop": 4.0, "exposure_index": 400.0}, 4.0 * math.sqrt(2)),
        ({"f_stop": 4.0, "shutter_s": 0.04}, 4.0 / math.sqrt(2)),
        ({"ev": 8.0}, math.sqrt(2.0**8 / 100 * 800 / 50)),
    ],
)
def test_a_table_may_hold_stops(reading: dict[str, float], f_number: float) -> None:
    """Read with the camera's index and shutter unless said otherwise; no constant is needed."""
    spot = cheek({"name": "sun"} | reading)
    assert spot.f_number == pytest.approx((f_number, f_number), rel=1e-5)
    assert spot.lux is None
    assert spot.lights[0].lux is None


def test_stops_against_a_level_that_is_not_known() -> None:
    """The light is left out; a view lights nothing even where a table names it."""
    lights = LIGHTS | {"sun": white_light("key", 5500.0, None)}
    table = [{"name": each, "stops": 0.0} for each in ("sun", "bounce", "garden")]
    spot = told(lights, spot=[SPOT | {"light": table}])["her cheek"]
    assert (names(spot.lights), spot.left_out) == (["bounce"], ["sun"])


def test_lux_and_stops_meet_by_the_geometric_mean_of_both_constants() -> None:
    """E / C: 287.23 lx is worth what a meter of that constant reads as 1."""
    mean = math.sqrt(250 * 330)
    lights = {
        "sun": Lit("key", white_light("key", 5500.0, 1.0).light, Level(3.0, 3.0, "meter")),
        "bench lamp": white_light("practical", 2700.0, mean),
    }
    key = told(lights)["key side"]
    assert [each.share for each in key.lights] == pytest.approx([0.75, 0.25], abs=1e-6)
    assert [each.lux for each in key.lights] == [None, pytest.approx(mean, rel=1e-5)]
    assert key.lux is None
    assert key.notes[1] == (
        "Levels in lux and levels as a stop are compared by a meter constant of 287, the "
        "geometric mean of 250 (disc) and 330 (dome); the bands hold both. Read all of them "
        "alike, and they narrow."
    )
    low, high = (3 + mean / constant for constant in (330, 250))
    assert key.f_number == pytest.approx(
        (math.sqrt(low * 800 / 50), math.sqrt(high * 800 / 50)), rel=1e-5
    )
    pulled = light_at(key, "bench lamp").band
    assert pulled is not None
    at_constants = [
        light_at(told(lights, camera=_with_constant(each))["key side"], "bench lamp").pull_mired
        for each in (330, 250)
    ]
    assert pulled["pull_mired"] == pytest.approx(at_constants, abs=1e-3)


def _with_constant(constant: float) -> Any:
    return taking(ei=800, shutter="180", fps=25, mains=50, constant=constant)


def test_of_ones_own_constant_there_is_no_doubt() -> None:
    """It is named, and no band comes of it."""
    lights = {
        "sun": Lit("key", white_light("key", 5500.0, 1.0).light, Level(3.0, 3.0, "meter")),
        "bench lamp": white_light("practical", 2700.0, 300.0),
    }
    key = told(lights, camera=_with_constant(300))["key side"]
    assert key.band is None
    assert light_at(key, "bench lamp").share == pytest.approx(0.25, abs=1e-6)
    assert "by your meter's constant, 300." in key.notes[1]


def test_one_unit_needs_no_constant() -> None:
    """All in lux, or all as stops: no word of it, and one and the same mix."""
    as_stops = {
        name: replace(each, level=Level(each.level.low / 280, each.level.high / 280, "meter"))
        for name, each in LIGHTS.items()
        if each.level is not None
    }
    for name, spot in told(as_stops).items():
        in_lux = told(LIGHTS)[name]
        assert not any("constant" in note for note in spot.notes)
        assert spot.residual_mired == pytest.approx(in_lux.residual_mired, abs=1e-3)
        assert [each.share for each in spot.lights] == pytest.approx(
            [each.share for each in in_lux.lights], abs=1e-6
        )


def test_a_tolerance_of_the_plan_holds() -> None:
    """A fill that may be 40 mired off takes the bench lamp."""
    assert told(LIGHTS)["fill side"].within_tolerance is False
    wide = {"fill": {"mired": 40.0, "duv": 0.006}}
    assert told(LIGHTS, tolerance=wide)["fill side"].within_tolerance is True


def test_a_spot_is_held_against_what_its_own_light_shall_look_like() -> None:
    """A key that shall be 4300 K at a balance of 5500 K, and is."""
    lights = {"sun": white_light("key", 4300.0, 1600.0), "bounce": LIGHTS["bounce"]}
    aim = balanced(4300.0)
    plain, aimed = told(lights), told(lights, aims={"sun": aim})
    off = 1e6 / 4300 - 1e6 / 5500
    assert plain["key side"].residual_mired == pytest.approx(off * 0.8, abs=2.0)
    assert aimed["key side"].residual_mired == pytest.approx(-off * 0.2, abs=2.0)
    assert aimed["key side"].aim.label == "4300K"
    assert aimed["fill side"].aim.label == "5500K"
    assert aimed["fill side"].residual_mired == pytest.approx(0.0, abs=1e-3)


def test_the_middle_of_a_level_is_its_geometric_mean() -> None:
    """100 to 400 lx count as 200, and every number that hangs on it has a band."""
    lights = LIGHTS | {
        "bench lamp": replace(LIGHTS["bench lamp"], level=Level(100.0, 400.0, "lux"))
    }
    fill = told(lights)["fill side"]
    assert light_at(fill, "bench lamp").lux == 200.0
    assert fill.lux == (510.0, 810.0)
    assert fill.band is not None
    assert CAMERA.f_numbers(Level(510.0, 810.0, "lux")) == pytest.approx(fill.f_number, rel=1e-5)


def test_a_grade_in_front_moves_what_it_brings() -> None:
    """A full CTB on the bench lamp brings the fill side inside, and less light."""
    lamp = replace(LIGHTS["bench lamp"], filters=[generic("full CTB")])
    fill = told(LIGHTS | {"bench lamp": lamp})["fill side"]
    blued = light_at(fill, "bench lamp")
    assert blued.lux is not None
    assert blued.lux < 40.0
    assert fill.within_tolerance is True
    assert blued.within
