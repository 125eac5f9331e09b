"""Charts hold the numbers of the answers they are made from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from evencast import tables
from evencast.actions.charts import (
    colours_chart,
    is_changed,
    lights_chart,
    lights_of,
    plan_numbers,
    residuals_chart,
)
from evencast.actions.charts_colour import CARD, NO_COLOUR, shown_at, shown_beside
from evencast.actions.charts_levels import ladder_chart
from evencast.actions.charts_sheets import (
    lights_in_uv,
    losses_chart,
    power_chart,
    transmittance_chart,
)
from evencast.actions.hangs import hangs
from evencast.actions.kit import LoadedKit
from evencast.actions.planned import load_plan
from evencast.actions.reading import reading
from evencast.actions.solve import solve
from evencast.actions.through import through
from evencast.camera.rendering import render
from evencast.camera.sensitivities import camera_named
from evencast.colour import white, xy_of_xyz, xyz
from evencast.errors import EvencastError
from evencast.filters import generic
from evencast.handouts.charts import LightsChart, rows
from evencast.handouts.charts.values import Tolerance
from evencast.lights import light_of
from evencast.quantities import say_left
from evencast.results.hangs import HangsAnswer
from evencast.results.light import LightReading
from evencast.results.plan import SolveAnswer

NUMBERS = {
    "key Fresnel": 1,
    "north window": 2,
    "garden": 3,
    "ceiling tubes": 4,
    "stair tubes": 5,
    "bench lamp": 6,
    "edge panel": 7,
    "yard lamp": 8,
}
"""Places in the demo's plan."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("bindery")
    for name, text in tables.demo_documents().items():
        (made / name).write_text(text, "utf-8")
    return made


@pytest.fixture(scope="module")
def solved(folder: Path) -> SolveAnswer:
    return solve(folder / "plan.toml")


@pytest.fixture(scope="module")
def hanging(folder: Path) -> HangsAnswer:
    return hangs(folder / "plan.toml", setup=None, balance="4300K")


def grey(_: LightReading) -> str:
    return NO_COLOUR


def test_lights_stand_where_their_readings_say(solved: SolveAnswer) -> None:
    """Each reading minus the balance, to the last digit told; tolerance and aim as answered."""
    chart = lights_chart(solved, grey, NUMBERS)
    assert [each.name for each in chart.lights] == [each.name for each in solved.lights]
    for drawn, told in zip(chart.lights, solved.lights, strict=True):
        assert drawn.bare.mired == pytest.approx(_minus(told.bare.mired, solved.balance.mired))
        assert drawn.bare.duv == pytest.approx(_minus(told.bare.duv, solved.balance.duv))
        assert drawn.hung is not None
        assert drawn.hung.mired == pytest.approx(_minus(told.filtered.mired, solved.balance.mired))
        assert drawn.tolerance == Tolerance(
            told.role, told.tolerance.mired_low, told.tolerance.mired_high, told.tolerance.duv
        )
        assert drawn.aim_mired == pytest.approx(_minus(told.aim.mired, solved.balance.mired))
        if told.band is not None and drawn.band_mired is not None:
            ends = [_minus(end, solved.balance.mired) for end in told.band["mired"]]
            assert list(drawn.band_mired) == pytest.approx(ends)
        else:
            assert told.band is None
            assert drawn.band_mired is None


def _minus(value: float | None, other: float | None) -> float:
    assert value is not None
    assert other is not None
    return value - other


def test_the_table_says_what_the_answer_says(solved: SolveAnswer) -> None:
    """A light whose aim is the balance: its residual in the same words as on the terminal."""
    table = rows(lights_chart(solved, grey, NUMBERS))
    for row, told in zip(table.rows, solved.lights, strict=True):
        if told.aim.mired == solved.balance.mired and is_changed(told):
            assert row[3] == say_left(told.residual_mired, told.residual_duv)
        assert row[-1] == ("yes" if told.within_tolerance else "no")
    left = rows(residuals_chart(solved, grey, NUMBERS))
    assert [row[2] for row in left.rows] == [
        say_left(each.residual_mired, each.residual_duv) for each in solved.lights
    ]


def test_a_light_switched_off_has_only_its_bare_place(solved: SolveAnswer) -> None:
    off = replace(solved.lights[0], move="switch off", residual_mired=None, residual_duv=None)
    dark = replace(solved, lights=[off, *solved.lights[1:]])
    (first, *_) = lights_chart(dark, grey, NUMBERS).lights
    assert first.hung is None
    assert first.bare.mired is not None
    assert residuals_chart(dark, grey, NUMBERS).lights[0].off
    assert colours_chart(dark, grey, NUMBERS).lights[0].hung is None


def test_a_balance_without_a_colour_temperature_has_no_chart_in_mired(solved: SolveAnswer) -> None:
    nowhere = replace(solved, balance=replace(solved.balance, mired=None, cct_k=None))
    with pytest.raises(EvencastError) as raised:
        lights_chart(nowhere, grey, NUMBERS)
    assert "--chart colours" in raised.value.remedy
    assert len(colours_chart(nowhere, grey, NUMBERS).lights) == len(solved.lights)


def test_a_plan_as_it_hangs_makes_the_same_charts(hanging: HangsAnswer) -> None:
    """Nothing hangs: every light is where it is bare."""
    chart = lights_chart(hanging, grey, NUMBERS)
    assert isinstance(chart, LightsChart)
    frosted = {each.name for each in lights_of(hanging) if is_changed(each)}
    assert {each.name for each in chart.lights if each.changed} == frosted
    assert len(residuals_chart(hanging, grey, NUMBERS).lights) == len(hanging.lights)
    assert ladder_chart(hanging, grey, NUMBERS).f_number == 4.0


def test_levels_are_those_of_the_answer(solved: SolveAnswer) -> None:
    """Bars are the answer's stops against the shot; what is allowed lies about the aim: the light
    itself and what is missing to it, plus and minus the tolerance."""
    chart = ladder_chart(solved, grey, NUMBERS)
    exposure = solved.exposure
    assert exposure is not None
    rungs = {each.name: each for each in chart.rungs}
    for told in exposure.lights:
        rung = rungs[told.name]
        assert rung.over == told.over_shot_stops
        assert rung.f_number == told.f_number
        if told.gap_stops is None:
            assert rung.aim is None
        else:
            low, high = rung.aim or (0.0, 0.0)
            centre = rung.over[1] + told.gap_stops[1]
            assert (low + high) / 2 == pytest.approx(centre, abs=1e-4)
            assert (high - low) / 2 == pytest.approx(told.tolerance_stops, abs=1e-4)
            within = low <= rung.over[1] <= high
            assert within is told.within_tolerance
    key = rungs["key Fresnel"].aim
    assert key == pytest.approx((-0.25, 0.25), abs=1e-4)
    assert exposure.subject is not None
    assert rungs["key and fill together"].over == exposure.subject.over_shot_stops
    garden = rungs["garden"]
    assert (garden.kind, garden.aim) == ("view", (1.0, 3.0))
    assert {each.name: each.number for each in chart.rungs} == NUMBERS | {
        "key and fill together": 9
    }


def test_numbers_are_places_in_the_plan(folder: Path, solved: SolveAnswer) -> None:
    """Views counted, as on every document, though the answer's lights leave them out."""
    assert plan_numbers(load_plan(folder / "plan.toml").plan) == NUMBERS
    for chart in (lights_chart, residuals_chart, colours_chart):
        drawn = chart(solved, grey, NUMBERS).lights
        assert [each.number for each in drawn] == [1, 2, 4, 5, 6, 7, 8]


def test_without_a_shot_levels_are_counted_from_the_key(solved: SolveAnswer) -> None:
    """By f-numbers: twice the square of their ratio, and no view, which knows only the shot."""
    exposure = solved.exposure
    assert exposure is not None
    subject = exposure.subject
    assert subject is not None
    blind = replace(
        exposure,
        shot_f_number=None,
        lights=[replace(each, over_shot_stops=None) for each in exposure.lights],
        subject=replace(subject, over_shot_stops=None),
    )
    chart = ladder_chart(replace(solved, exposure=blind), grey, NUMBERS)
    key, window = exposure.lights[0].f_number, exposure.lights[1].f_number
    assert chart.reference == "key Fresnel"
    middle = np.log2(window[0] * window[1]) - np.log2(key[0] * key[1])
    assert chart.rungs[1].over[1] == pytest.approx(middle, abs=1e-3)
    assert chart.rungs[0].over[1] == 0.0
    assert all(each.kind != "view" for each in chart.rungs)


def test_no_level_is_said(solved: SolveAnswer) -> None:
    with pytest.raises(EvencastError, match="no light has a level"):
        ladder_chart(replace(solved, exposure=None), grey, NUMBERS)


@pytest.mark.parametrize("name", ["tungsten", "FL2", "D65", "LED phosphor 2700 K B1", "HP1"])
def test_the_colour_shown_is_that_of_a_card_rendered_from_spectra(name: str) -> None:
    """From x, y alone the same as the eye's rendering of a flat card with the whole spectrum."""
    light, balance = light_of(name), white(4300.0)
    x, y = (float(each) for each in xy_of_xyz(xyz(balance)))
    card = np.full((1, 81), CARD)
    rendered = render(light.power, card, balance_power=balance, camera=camera_named("eye"))
    assert shown_at(x, y)(reading(light)) == rendered.hexes()[0]


def test_what_the_balance_is_set_to_is_grey() -> None:
    light = light_of("FL4")
    shown = shown_beside(light.power)(reading(light))
    parts = bytes.fromhex(shown[1:])
    assert max(parts) - min(parts) <= 1


def test_sheets_of_a_kit_do_what_through_says() -> None:
    names = ("full CTB", "half CTO", "full plus green", "heavy frost")
    kit = LoadedKit("kit", tuple(generic(each) for each in names))
    chart = losses_chart(kit, light_of("FL4"), grey)
    for drawn, name in zip(chart.sheets, names, strict=True):
        told = through("FL4", [name], kind=None, kit=None)
        assert (drawn.shift_mired, drawn.shift_duv, drawn.loss_stops) == (
            told.shift_mired,
            told.shift_duv,
            told.loss_stops,
        )
        assert told.band is not None
        assert drawn.band_mired == told.band["shift_mired"]
    assert chart.sheets[3].band_stops == generic("heavy frost").loss_range_stops
    told = through("FL4", ["full CTB"], kind=None, kit=None)
    assert told.band is not None
    assert chart.sheets[0].band_stops == told.band["loss_stops"]


def test_without_a_light_each_sheet_is_in_front_of_its_own_white() -> None:
    kit = LoadedKit("kit", (generic("full CTB"), generic("full CTO")))
    chart = losses_chart(kit, None, None)
    assert chart.on == "Each in front of the white it is named for: 3200 K or 5600 K."
    assert chart.sheets[0].shift_mired == pytest.approx(-134.0, abs=1.0)
    assert chart.sheets[1].shift_mired == pytest.approx(134.0, abs=1.0)
    assert losses_chart(LoadedKit("none", ()), None, None).on == "The kit has no filter."


def test_power_is_on_one_scale_so_that_the_loss_is_seen() -> None:
    """Bare is 1 at its peak; what comes through is that times the middle transmittance."""
    light, sheet = light_of("tungsten"), generic("full CTB")
    bare, filtered = power_chart(light, [sheet], grey).curves
    assert max(bare.values) == 1.0
    assert bare.low is None
    middle = np.median(sheet.members, axis=0)
    assert np.array(filtered.values) == pytest.approx(np.array(bare.values) * middle, rel=0.02)
    assert filtered.low is not None
    assert filtered.high is not None
    assert all(
        low <= at <= high
        for low, at, high in zip(filtered.low, filtered.values, filtered.high, strict=True)
    )


def test_a_light_known_by_a_reading_has_a_band_in_its_spectrum() -> None:
    (curve,) = power_chart(light_of("5400K+0.0065"), [], grey).curves
    assert max(curve.values) == 1.0
    assert curve.high is not None
    assert max(curve.high) > 1.0


def test_transmittances_are_those_of_the_sheets_and_their_product() -> None:
    one, other = generic("half CTO"), generic("quarter CTB")
    together, first, second = transmittance_chart(light_of("D65"), [one, other], grey).curves
    product = np.median(one.members * other.members, axis=0)
    assert np.array(together.values) == pytest.approx(product, abs=0.01)
    assert (first.name, second.name) == ("half CTO", "quarter CTB")
    assert np.array(first.values) == pytest.approx(np.median(one.members, axis=0), abs=0.01)
    assert len(transmittance_chart(light_of("D65"), [one], grey).curves) == 1
    many = transmittance_chart(light_of("D65"), [one, other] * 9, grey).curves
    assert len(many) == 3
    with pytest.raises(EvencastError, match="no sheet"):
        transmittance_chart(light_of("D65"), [], grey)


def test_lights_lie_in_uv_where_the_cie_puts_them() -> None:
    """CIE 15:2018 prints u' 0.1978, v' 0.4683 for D65 and 0.2560, 0.5243 for A."""
    lights = [light_of("D65"), light_of("A")]
    chart = lights_in_uv(lights, grey, balance=(0.3457, 0.3585), told="5000 K")
    assert chart.lights[0].bare == pytest.approx((0.1978, 0.4683), abs=1e-4)
    assert chart.lights[1].bare == pytest.approx((0.2560, 0.5243), abs=1e-4)
    assert chart.balance == pytest.approx((0.2092, 0.4881), abs=1e-4)
    with pytest.raises(EvencastError, match="too many"):
        lights_in_uv(lights * 31, grey, balance=(0.3457, 0.3585), told="")
