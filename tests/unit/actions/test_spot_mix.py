"""What lights are together on a spot, which of them is to blame, and how much less of it does."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from evencast.colour import mired_duv, uv_of_xyz, white, xyz
from evencast.filters import Filter, generic
from evencast.lights import builtin, of_reading
from evencast.lights.level import Level
from evencast.quantities import Floats
from evencast.results.spot import SpotAnswer
from tests.spots import Lit, light_at, told, white_light

SHADOW = {
    "sun": white_light("key", 5500.0, 1600.0),
    "bounce": white_light("fill", 5500.0, 400.0),
    "bench lamp": white_light("practical", 2700.0, 100.0),
}
"""4:1, and a practical 4 stops under the key: 2 stops under the fill."""


def by_hand(*lights: tuple[Floats, float]) -> tuple[float, float]:
    """Mired and Duv of spectra and how much there is of each: X, Y, Z added."""
    total = sum(level * xyz(power) / xyz(power)[1] for power, level in lights)
    at_mired, at_duv = mired_duv(uv_of_xyz(np.asarray(total)))
    return float(at_mired), float(at_duv)


def test_the_mix_and_every_pull_by_hand() -> None:
    """A tungsten key, a daylight fill and a green tube, each left out in turn."""
    of = {name: builtin(name).power for name in ("tungsten 3200 K", "daylight D65")}
    of["tube"] = builtin("daylight tube FL5").power
    powers = list(of.values())
    levels = [800.0, 250.0, 90.0]
    roles = ["key", "fill", "other"]
    lights = {
        role: Lit(role, replace(builtin("tungsten 3200 K"), power=power), Level(lux, lux, "lux"))
        for role, power, lux in zip(roles, powers, levels, strict=True)
    }
    key = told(lights)["key side"]
    mixed = by_hand(*zip(powers, levels, strict=True))
    assert key.mix is not None
    assert (key.mix.mired, key.mix.duv) == pytest.approx(mixed, abs=1e-3)
    assert key.residual_mired == pytest.approx(mixed[0] - 1e6 / 5500, abs=1e-3)
    for place, role in enumerate(roles):
        others = [pair for row, pair in enumerate(zip(powers, levels, strict=True)) if row != place]
        without = by_hand(*others)
        light = light_at(key, role)
        assert light.pull_mired == pytest.approx(mixed[0] - without[0], abs=1e-3)
        assert light.pull_duv == pytest.approx(mixed[1] - without[1], abs=1e-6)
    assert sum(each.share for each in key.lights) == pytest.approx(1.0, abs=3e-6)


def test_a_practical_four_stops_under_the_key() -> None:
    """Published arithmetic on this scene: 2 stops under the fill it pulls the shadow 32 mired
    warm; by the rule of thumb it could be left."""
    answers = told(SHADOW)
    fill = light_at(answers["fill side"], "bench lamp")
    assert fill.pull_mired == pytest.approx(32.0, abs=0.1)
    assert not fill.within
    assert fill.away
    assert fill.off_colour
    assert answers["fill side"].within_tolerance is False
    assert answers["fill side"].blames == "bench lamp"
    key = light_at(answers["key side"], "bench lamp")
    assert key.pull_mired == pytest.approx(7.2, abs=0.1)
    assert not key.within


@pytest.mark.parametrize(("lux", "is_left"), [(25.0, True), (100.0, False)])
def test_leave_a_practical_where_every_spot_takes_its_pull(lux: float, is_left: bool) -> None:
    """Two stops further down its pull is 9 mired in the shadow and 2 on the key side: leave it."""
    lights = SHADOW | {"bench lamp": white_light("practical", 2700.0, lux)}
    answers = told(lights)
    sides = [light_at(answers[side], "bench lamp") for side in ("key side", "fill side")]
    assert [each.within for each in sides] == [is_left, is_left]
    assert all(each.advice == "leave it" for each in sides) == is_left
    assert answers["fill side"].blames == (None if is_left else "bench lamp")


@pytest.mark.parametrize("side", ["key side", "fill side"])
def test_so_many_stops_less_bring_the_pull_inside(side: str) -> None:
    """Taken by a scrim of just as much the pull is inside; with 0.01 stop more light it is not."""
    less = light_at(told(SHADOW)[side], "bench lamp").stops_less
    assert less is not None
    assert 0.4 < less < 2.0

    def with_scrim(stops: float) -> SpotAnswer:
        lamp = replace(SHADOW["bench lamp"], taken=(stops, stops))
        return told(SHADOW | {"bench lamp": lamp})[side]

    assert light_at(with_scrim(less), "bench lamp").within
    assert not light_at(with_scrim(less - 0.01), "bench lamp").within
    assert with_scrim(less).within_tolerance


def test_the_verdict_names_the_light_and_the_cure() -> None:
    """In thirds of a stop, rounded up: 1.5 stops would do, 1 2/3 are said."""
    fill = told(SHADOW)["fill side"]
    assert light_at(fill, "bench lamp").stops_less == pytest.approx(1.5, abs=0.1)
    assert fill.verdict == (
        "reads 32 mired warm, clearly magenta: outside 12 mired and 0.003 Duv; bench lamp pulls "
        "it 32 mired warm, clearly magenta: 1 2/3 stop less of it would do"
    )
    assert light_at(fill, "bench lamp").advice == "1 2/3 stop less of it would do"


def test_inside_is_said_in_words() -> None:
    """With no light to blame."""
    lights = SHADOW | {"bench lamp": white_light("practical", 2700.0, 12.5)}
    fill = told(lights)["fill side"]
    assert fill.verdict == "reads 5 mired warm, a trace magenta: inside 12 mired and 0.003 Duv"
    assert (fill.within_tolerance, fill.blames) == (True, None)


def test_less_of_a_filament_is_not_said_without_a_word_on_dimming() -> None:
    """A dimmer warms a tungsten light; other lamps need no such word."""
    plain = told(SHADOW)["fill side"]
    lamp = replace(SHADOW["bench lamp"], light=replace(SHADOW["bench lamp"].light, kind="tungsten"))
    filament = told(SHADOW | {"bench lamp": lamp})["fill side"]
    assert not any("dimmed filament" in note for note in plain.notes)
    assert any("dimmed filament" in note for note in filament.notes)


def test_what_lights_the_spot_is_corrected_not_dimmed() -> None:
    """A key that is itself too warm."""
    lights = {"sun": white_light("key", 4300.0, 1600.0), "bounce": SHADOW["bounce"]}
    key = told(lights)["key side"]
    assert key.blames == "sun"
    assert key.verdict.endswith(
        "sun, which lights it, is 51 mired warm, a little magenta by itself: correct it"
    )
    assert light_at(key, "sun").advice == "correct it"


def test_a_light_of_the_role_of_the_spot_lights_it_however_little() -> None:
    """A warm fill under a white stray: less fill is no cure."""
    lights = {
        "bounce": white_light("fill", 3600.0, 100.0),
        "yard": white_light("other", 5500.0, 150.0),
    }
    fill = told(lights)["fill side"]
    assert fill.blames == "bounce"
    assert light_at(fill, "bounce").share == pytest.approx(0.4)
    assert light_at(fill, "bounce").advice == "correct it"


def test_a_measured_sheet_counts_in_the_mix() -> None:
    """By its product with the lamp, and by the light it takes."""
    sheet = Filter("measured", "correction", np.linspace(0.9, 0.2, 81), measured=True)
    lights = SHADOW | {"bench lamp": replace(SHADOW["bench lamp"], filters=[sheet])}
    fill = told(lights)["fill side"]
    lamp = white(2700.0)
    through = lamp * sheet.transmittance
    passed = float(xyz(through)[1] / xyz(lamp)[1])
    assert fill.mix is not None
    assert fill.mix.mired is not None
    assert fill.mix.mired == pytest.approx(
        by_hand((white(5500.0), 400.0), (through, 100.0 * passed))[0], abs=1e-3
    )
    assert fill.residual_mired == pytest.approx(fill.mix.mired - 1e6 / 5500.0, abs=1e-3)


def test_alone_a_light_is_the_mix() -> None:
    """No pull to tell; it is judged by its own colour."""
    warm = told({"sun": white_light("key", 4300.0, 1600.0)})["key side"]
    light = warm.lights[0]
    assert (light.pull_mired, light.pull_duv, light.band, light.stops_less) == (None,) * 4
    assert (light.share, light.stops, light.within, light.off_colour) == (1.0, 0.0, False, True)
    assert warm.verdict.endswith(
        "sun, which lights it, is 51 mired warm, a little magenta by itself: correct it"
    )
    white_one = told({"sun": white_light("key", 5500.0, 1600.0)})["key side"]
    assert white_one.within_tolerance
    assert white_one.lights[0].within
    assert white_one.lights[0].advice == "leave it"


def test_a_pull_towards_the_aim_does_no_harm() -> None:
    """A white key against a warm fill pulls the mix far, and home: it is left, no word of it."""
    lights = {
        "sun": white_light("key", 5500.0, 1600.0),
        "bounce": white_light("fill", 4300.0, 100.0),
    }
    key = told(lights)["key side"]
    sun = light_at(key, "sun")
    assert sun.pull_mired is not None
    assert sun.pull_mired < -40
    assert (sun.within, sun.away, sun.stops_less) == (False, False, None)
    assert sun.advice == "leave it, it pulls towards the aim"
    assert key.within_tolerance
    assert key.blames is None


def test_two_strays_that_make_up_for_each_other_are_left() -> None:
    """A warm and a cool practical of one strength: each pulls far, the mix is inside."""
    lights = {
        "bounce": white_light("fill", 5500.0, 400.0),
        "bench lamp": white_light("practical", 3600.0, 100.0),
        "monitor": white_light("practical", 12000.0, 100.0),
    }
    fill = told(lights)["fill side"]
    assert fill.within_tolerance
    assert [light_at(fill, each).within for each in ("bench lamp", "monitor")] == [False, False]
    assert fill.blames is None


def test_two_small_pulls_add_up() -> None:
    """Two lamps that could each be left: the spot is outside, less of the stronger would do."""
    lights = {
        "bounce": white_light("fill", 5500.0, 400.0),
        "bench lamp": white_light("practical", 2700.0, 26.0),
        "yard": white_light("other", 2700.0, 24.0),
    }
    fill = told(lights)["fill side"]
    strays = [light_at(fill, each) for each in ("bench lamp", "yard")]
    assert [each.within for each in strays] == [True, True]
    assert fill.within_tolerance is False
    assert fill.blames == "bench lamp"
    assert strays[0].stops_less == 0.0
    assert strays[0].advice == "1 2/3 stop less of it would do"
    scrimmed = replace(lights["bench lamp"], taken=(5 / 3, 5 / 3))
    assert told(lights | {"bench lamp": scrimmed})["fill side"].within_tolerance


def test_less_of_one_of_two_strays_is_not_enough() -> None:
    """Two strong ones: without either the spot is still outside, and the sentence says so."""
    lights = {
        "bounce": white_light("fill", 5500.0, 400.0),
        "bench lamp": white_light("practical", 2700.0, 200.0),
        "yard": white_light("other", 2700.0, 180.0),
    }
    fill = told(lights)["fill side"]
    assert fill.blames == "bench lamp"
    assert "would bring that inside, but not the spot" in fill.verdict
    assert light_at(fill, "yard").advice == "1 2/3 stop less of it would bring that inside"


def test_alike_lights_that_are_all_off_are_all_to_be_corrected() -> None:
    """Four tubes of one colour: none of them moves the mix, and leaving them is no advice."""
    levels = {"a": 100.0, "b": 77.7, "c": 33.1, "d": 89.3}
    lights = {f"tube {each}": white_light("other", 4300.0, lux) for each, lux in levels.items()}
    names = [{"name": name, "stops": 0.0} for name in lights]
    spot = told(lights, spot=[{"name": "desk", "role": "fill", "light": names}])["desk"]
    assert spot.blames is None
    assert spot.verdict.endswith("outside 12 mired and 0.003 Duv; no single light is to blame")
    assert [each.away for each in spot.lights] == [False] * 4
    assert [each.advice for each in spot.lights] == ["correct it"] * 4


def test_a_mix_without_a_colour_temperature() -> None:
    """A green line of light that swamps the fill: no Kelvin, no mired, nothing invented."""
    line = np.zeros(81)
    line[30] = 1.0
    lights = SHADOW | {
        "sign": Lit("other", replace(builtin("tungsten"), power=line), Level(4000.0, 4000.0, "lux"))
    }
    fill = told(lights)["fill side"]
    assert fill.mix is not None
    assert (fill.mix.state, fill.mix.cct_k, fill.residual_mired) == ("no_cct", None, None)
    assert fill.within_tolerance is False
    assert fill.blames == "sign"
    sign = light_at(fill, "sign")
    assert (sign.pull_mired, sign.within) == (None, False)
    assert sign.stops_less is not None
    assert fill.verdict.startswith("reads no colour temperature: outside 12 mired and 0.003 Duv; ")
    dimmed = replace(lights["sign"], taken=(sign.stops_less, sign.stops_less))
    assert light_at(told(lights | {"sign": dimmed})["fill side"], "sign").within


def test_where_everything_is_known_there_is_no_band() -> None:
    """And one level that is a range makes one, of the mix and of every pull."""
    fill = told(SHADOW)["fill side"]
    assert fill.band is None
    assert all(each.band is None for each in fill.lights)
    lamp = replace(SHADOW["bench lamp"], level=Level(50.0, 200.0, "lux"))
    fill = told(SHADOW | {"bench lamp": lamp})["fill side"]
    assert fill.band is not None
    assert all(each.band is not None for each in fill.lights)


def test_the_ends_of_a_level_are_the_ends_of_pull_and_mix() -> None:
    """50 to 200 lx beside 300 to 500 lx: by hand at the least of one with the most of the other."""
    lights = {
        "bounce": replace(SHADOW["bounce"], level=Level(300.0, 500.0, "lux")),
        "bench lamp": replace(SHADOW["bench lamp"], level=Level(50.0, 200.0, "lux")),
    }
    fill = told(lights)["fill side"]
    daylight, lamp = white(5500.0), white(2700.0)
    least, most = (
        by_hand((daylight, 500.0), (lamp, 50.0)),
        by_hand((daylight, 300.0), (lamp, 200.0)),
    )
    own = by_hand((daylight, 1.0))
    pull = light_at(fill, "bench lamp").band
    assert pull is not None
    assert fill.band is not None
    wanted = (least[0] - own[0], most[0] - own[0])
    assert pull["pull_mired"] == pytest.approx(wanted, abs=1e-3)
    assert fill.band["residual_mired"] == pytest.approx(wanted, abs=1e-3)
    assert fill.band["duv"] == pytest.approx((most[1], least[1]), abs=1e-6)
    assert fill.band["cct_k"] == pytest.approx((1e6 / most[0], 1e6 / least[0]), abs=0.05)
    middle = by_hand((daylight, math.sqrt(300.0 * 500.0)), (lamp, 100.0))
    assert fill.residual_mired == pytest.approx(middle[0] - own[0], abs=1e-3)


def test_what_a_reading_leaves_open_goes_through_the_mix() -> None:
    """240 spectra of one reading behind a sheet: the band of the mix holds what each would do."""
    doubtful = of_reading(3000.0, 0.001, kind="phosphor LED")
    sheet = generic("half CTB")
    lights = {
        "bounce": SHADOW["bounce"],
        "bench lamp": Lit("practical", doubtful, Level(100.0, 100.0, "lux"), filters=[sheet]),
    }
    fill = told(lights)["fill side"]
    assert fill.band is not None
    found = []
    for bare, through in zip(doubtful.members, sheet.members, strict=True):
        passed = float(xyz(bare * through)[1] / xyz(bare)[1])
        found.append(by_hand((white(5500.0), 400.0), (bare * through, 100.0 * passed))[0])
    found.sort()
    assert fill.band["mired"] == pytest.approx((found[12], found[227]), abs=1e-3)
    assert fill.mix is not None
    assert fill.mix.mired == pytest.approx(found[120], abs=1e-3)
    assert fill.mix.assumed
    assert fill.mix.ra is None


def test_a_mix_of_known_lights_has_a_quality() -> None:
    """Two whites between them leave nothing out; a three-colour LED does."""
    good = told({"sun": SHADOW["sun"], "bounce": white_light("fill", 4300.0, 400.0)})["key side"]
    led = Lit("key", builtin("LED three-colour 2850 K RGB1"), Level(1600.0, 1600.0, "lux"))
    poor = told({"sun": led, "bounce": SHADOW["bounce"]})["key side"]
    assert good.mix is not None
    assert poor.mix is not None
    assert good.mix.ssi is not None
    assert poor.mix.ssi is not None
    assert good.mix.ssi > 95
    assert poor.mix.ssi < 75


def test_doubt_is_said_where_it_crosses_the_edge() -> None:
    """Inside by its middle and not for sure; outside and perhaps not."""
    lamp = SHADOW["bench lamp"]

    def verdict(low: float, high: float) -> str:
        level = Level(low, high, "lux")
        return told(SHADOW | {"bench lamp": replace(lamp, level=level)})["fill side"].verdict

    assert verdict(10.0, 60.0) == (
        "reads 9 mired warm, a trace magenta: inside 12 mired and 0.003 Duv, not sure: 4 to 20 "
        "mired warm, a little magenta to neutral"
    )
    assert ", not sure: 7 to 37 mired warm, " in verdict(20.0, 120.0)
    assert "not sure" not in verdict(10.0, 12.0)
    assert "not sure" not in verdict(80.0, 120.0)
