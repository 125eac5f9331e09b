"""What holds for any lights on one place."""

from __future__ import annotations

import itertools
import json
import math
from dataclasses import asdict
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.cli.plain import WIDTH
from evencast.cli.spot_text import spots as text_of
from evencast.colour import mired_duv, uv, uv_of_xyz, white, white_uv, xyz
from evencast.filters import generic, generic_names
from evencast.lights import builtin, builtin_names, of_kelvin, of_reading
from evencast.lights.level import Level
from evencast.lights.mixing import mix, pull, pull_of
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import Floats
from evencast.solver.stray import stray_within
from tests.spots import Lit, light_at, told

spectra = st.sampled_from(builtin_names()).map(lambda name: builtin(name).power)
whites = st.floats(1800.0, 15000.0).map(lambda kelvin: white(round(kelvin)))
amounts = st.floats(1e-3, 1e4)
stops_more = st.floats(0.05, 8.0)


def given_off(power: Floats, luminous: float) -> Floats:
    return np.asarray(luminous * xyz(power) / xyz(power)[1])


@given(power=spectra, rest=amounts, light=amounts)
def test_a_light_of_the_colour_of_the_mix_pulls_nothing(
    power: Floats, rest: float, light: float
) -> None:
    """However much of it there is."""
    by_mired, by_duv = pull(given_off(power, light), given_off(power, rest))
    if np.isfinite(uv(power)).all() and np.isfinite(float(by_mired)):
        assert float(by_mired) == pytest.approx(0.0, abs=1e-6)
    assert float(by_duv) == pytest.approx(0.0, abs=1e-9)


@given(light=spectra, rest=whites, ratio=amounts, less=stops_more)
def test_a_pull_shrinks_as_its_light_is_dimmed(
    light: Floats, rest: Floats, ratio: float, less: float
) -> None:
    """In u, v always, by the straight line that mixtures lie on."""
    beside = given_off(rest, 1.0)

    def moved(luminous: float) -> float:
        mixed = uv_of_xyz(beside + given_off(light, luminous))
        return float(np.hypot(*(mixed - uv_of_xyz(beside))))

    assert moved(ratio * 2.0**-less) <= moved(ratio) + 1e-12


@given(light=whites, rest=whites, ratio=amounts, less=stops_more)
def test_a_white_pulls_less_mired_as_it_is_dimmed(
    light: Floats, rest: Floats, ratio: float, less: float
) -> None:
    """And always to its own side."""
    both, _ = pull_of(light[None], np.array([[ratio], [ratio * 2.0**-less]]), beside_uv=uv(rest))
    full, dimmed = (float(each[0]) for each in both)
    assert abs(dimmed) <= abs(full) + 1e-6
    assert dimmed * full >= -1e-9


@given(st.lists(st.tuples(spectra, amounts), min_size=1, max_size=5), st.floats(1e-3, 1e3))
def test_a_mix_adds_up_and_does_not_depend_on_the_unit(
    lights: list[tuple[Floats, float]], unit: float
) -> None:
    """Luminance is the sum; order and scale of spectra make no difference; a unit scales it."""
    powers, luminous = zip(*lights, strict=True)
    mixed = mix([each[None] for each in powers], luminous)
    assert float(xyz(mixed)[0, 1]) == pytest.approx(sum(luminous), rel=1e-12)
    turned = mix([7.0 * each[None] for each in powers[::-1]], luminous[::-1])
    np.testing.assert_allclose(turned, mixed, rtol=1e-12)
    np.testing.assert_allclose(
        mix([each[None] for each in powers], [each * unit for each in luminous]),
        unit * mixed,
        rtol=1e-12,
    )


@given(first=amounts, second=amounts, row=st.integers(0, 239))
def test_a_mix_of_members_is_the_mix_of_each_member(first: float, second: float, row: int) -> None:
    """Row with row; a light that is known goes with every one."""
    led = of_reading(3000.0, 0.001, kind="phosphor LED").members
    tube = of_reading(4200.0, 0.004, kind="tube").members
    known = white(5600.0)[None]
    mixed = mix([led, tube, known], [first, second, 1.0])
    alone = mix([led[row][None], tube[row][None], known], [first, second, 1.0])
    np.testing.assert_allclose(mixed[row], alone[0], rtol=1e-12)


@given(
    stray=spectra, kelvin=st.floats(2500.0, 8000.0), ratio=st.floats(1e-5, 10.0), less=stops_more
)
def test_a_stray_that_may_stay_may_stay_where_more_is_allowed(
    stray: Floats, kelvin: float, ratio: float, less: float
) -> None:
    """The fill's tolerance holds the key's; two spots are judged as each for itself."""
    key, fill = DEFAULT_ALLOWED["key"], DEFAULT_ALLOWED["fill"]
    balance = white_uv(round(kelvin))

    def within(ratios: list[list[float]], allowed: list[Any]) -> bool:
        found = stray_within(stray[None], np.array(ratios), balance_uv=balance, allowed=allowed)
        return bool(found[0])

    assert within([[ratio]], [fill]) or not within([[ratio]], [key])
    there = ratio * 2.0**-less
    both = within([[ratio], [there]], [fill, key])
    assert both == (within([[ratio]], [fill]) and within([[there]], [key]))


some_whites = st.integers(2000, 9000).map(lambda kelvin: of_kelvin(float(kelvin)))
ranges = st.tuples(st.floats(10.0, 1000.0), st.sampled_from([1.0, 1.5, 2.0, 4.0]))


@given(st.lists(st.tuples(some_whites, ranges), min_size=2, max_size=4))
@settings(max_examples=40)
def test_bands_hold_every_combination_of_levels(
    lights: list[tuple[Any, tuple[float, float]]],
) -> None:
    """Against all combinations of four levels of each light, X, Y, Z added by hand: of the mix
    within 0.002 mired and 0.0002 Duv, of a pull within a seventh of its band."""
    scene = {
        f"light {place}": Lit("key" if place == 0 else "other", light, Level(low, low * by, "lux"))
        for place, (light, (low, by)) in enumerate(lights)
    }
    answer = told(scene)["key side"]
    levels = [np.geomspace(low, low * by, 4) for _, (low, by) in lights]
    every = np.array(list(itertools.product(*levels)))
    colours = np.array([given_off(light.power, 1.0) for light, _ in lights])
    mired, duv = mired_duv(uv_of_xyz(every @ colours))
    band = answer.band or {"mired": (_only(mired),) * 2, "duv": (_only(duv),) * 2}
    _covers(band["mired"], mired, 0.002)
    _covers(band["duv"], duv, 0.0002)
    for place in range(len(lights)):
        others = every.copy()
        others[:, place] = 0.0
        without_mired, without_duv = mired_duv(uv_of_xyz(others @ colours))
        pulls = light_at(answer, f"light {place}").band
        if pulls is not None:
            for name, found in (
                ("pull_mired", mired - without_mired),
                ("pull_duv", duv - without_duv),
            ):
                _covers(pulls[name], found, float(np.ptp(found)) / 7.0 + 0.0002)


def _only(values: Floats) -> float:
    assert float(np.ptp(values)) < 1e-6
    return float(values[0])


def _covers(band: tuple[float | None, float | None], values: Floats, slack: float) -> None:
    low, high = band
    assert low is not None
    assert high is not None
    assert low - slack <= values.min()
    assert values.max() <= high + slack


roles = st.sampled_from(["key", "fill", "background", "practical", "other", "view"])
some_lights = st.one_of(
    st.sampled_from(builtin_names()).map(builtin),
    st.integers(2000, 12000).map(lambda kelvin: of_kelvin(float(kelvin))),
    st.just(of_reading(3000.0, 0.001, kind="phosphor LED")),
)
levels = st.one_of(
    st.none(),
    st.builds(
        lambda low, width, unit: Level(low, low * width, unit),
        st.floats(1e-6, 1e9),
        st.sampled_from([1.0, 1.5, 8.0]),
        st.sampled_from(["lux", "lux", "meter"]),
    ),
)
sheets = st.lists(st.sampled_from(generic_names()).map(generic), max_size=2)
taken = st.one_of(st.none(), st.just((0.5, 0.5)), st.just((0.0, 1.0)), st.just((0.0, 0.2, 1.0)))
scenes = st.dictionaries(
    st.text("ab c\u00e9\u4e2d", min_size=1, max_size=40).map(lambda name: f"L{name}"),
    st.builds(Lit, roles, some_lights, levels, taken, sheets),
    min_size=1,
    max_size=5,
)


@given(lights=scenes, shot=st.one_of(st.none(), st.just(4.0)))
@settings(max_examples=60)
def test_every_scene_has_an_answer(lights: dict[str, Lit], shot: float | None) -> None:
    """Shares add up to 1, no nan or infinity reaches JSON, bands hold their middle, the text
    keeps to its columns."""
    answers = list(told(lights, shot=shot).values())
    for answer in answers:
        json.dumps(asdict(answer), allow_nan=False)
        if answer.lights:
            assert sum(each.share for each in answer.lights) == pytest.approx(1.0, abs=1e-5)
        for light in answer.lights:
            _holds(light.band, "pull_mired", light.pull_mired)
            _holds(light.band, "pull_duv", light.pull_duv)
            assert light.stops_less is None or light.stops_less >= 0
        _holds(answer.band, "residual_mired", answer.residual_mired)
        _holds(answer.band, "residual_duv", answer.residual_duv)
        assert (answer.mix is None) == (answer.within_tolerance is None)
    assert all(len(line) <= WIDTH for line in "\n".join(text_of(answers)).split("\n"))


def _holds(band: dict[str, Any] | None, name: str, value: float | None) -> None:
    if band is None or value is None:
        return
    low, high = band[name]
    assert (-math.inf if low is None else low) <= value <= (math.inf if high is None else high)
