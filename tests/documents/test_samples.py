"""The samples of format 1: read for ever, without a problem, and given back to the byte."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

from evencast.errors import Problem
from evencast.plan.document import KitDocument, PlanDocument, read_kit, read_plan
from evencast.plan.faults import part_in
from evencast.plan.kit import Kit
from evencast.plan.part import Part
from evencast.plan.plan import Plan

FORMAT_1 = Path(__file__).parent / "format-1"
SAMPLES = sorted(FORMAT_1.glob("*.toml"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_reads_without_a_problem_and_comes_back_to_the_byte(path: Path) -> None:
    """Nothing is wrong with a sample, and its text is that of the file."""
    document, problems = _read(path)
    assert problems == []
    assert document is not None
    assert document.text().encode() == path.read_bytes()


def test_the_samples_hold_every_key_of_the_format() -> None:
    """No key of plan or kit can be lost or renamed without a sample failing."""
    used = {key for path in SAMPLES for key in _keys_used(_model(path))}
    known = set(_keys_known(Kit)) | set(_keys_known(Plan))
    assert known - used == set()


def test_the_kit_sample_means_what_it_meant() -> None:
    """Names, lengths and roundings of the kit sample have the values they were written with."""
    kit = _model(FORMAT_1 / "kit.toml")
    assert isinstance(kit, Kit)
    assert [(each.name, each.role) for each in kit.filter] == [
        ("full CTB", "correction"),
        ("worn half CTB", "correction"),
        ("market orange", "correction"),
        ("market green", "green"),
        ("blue with numbers", "effect"),
        ("ND 0.6", "ND"),
        ("light frost", "diffusion"),
    ]
    stock = [(each.width_mm, each.length_mm, each.count) for each in kit.filter[0].stock]
    assert stock == [(530.0, 1220.0, 2), (48 * 25.4, 25 * 304.8, 1)]
    assert kit.filter[0].evidence[0].date == "2031-05-04"
    assert kit.filter[1].stock[0].count == 0
    orange, green = kit.filter[2].kelvin, kit.filter[3].kelvin
    assert orange is not None
    assert green is not None
    assert orange.rounding_k == 50.0
    assert orange.rounding_stops == pytest.approx(1 / 6)
    assert (green.to_k, green.rounding_k, green.rounding_stops) == (3250.0, 25.0, 0.1)
    rows = kit.filter[4].xyy or ()
    assert [row.rounding_xy for row in rows] == [pytest.approx(0.0005), 0.002]
    assert [row.rounding_Y_percent for row in rows] == [pytest.approx(0.05), 1.0]
    assert kit.model_extra == {"owner": "kept though nobody reads it"}


def test_the_plan_sample_means_what_it_meant() -> None:
    """Aims, openings, tolerances and set-ups of the plan sample have the values written."""
    plan = _model(FORMAT_1 / "plan.toml")
    assert isinstance(plan, Plan)
    key, window, right, panel, bench = plan.light
    assert (key.aim.mired, key.aim.stops, key.fitting) == (10.0, 0.0, "fixture")
    assert (window.cct_k, window.duv) == (5400.0, 0.0065)
    opening = window.aperture[0]
    assert (opening.width_mm, opening.height_mm) == pytest.approx((1066.8, 1524.0))
    assert right.aim.like == "window left"
    assert panel.level is not None
    assert panel.level.distance_mm == pytest.approx(2743.2)
    assert panel.adjustable is not None
    assert (panel.adjustable.low_k, panel.adjustable.high_k) == (2700.0, 6500.0)
    assert bench.moves == ("swap", "switch off", "leave")
    assert plan.allowed("practical").mired_high == 80.0
    assert plan.allowed("background").duv == 0.004
    night = plan.setup[0].light[0]
    assert (night.cct_k, night.aim.mired) == (9000.0, -60.0)
    assert night.planned is not None
    assert night.planned.filters == ("full CTB",)
    assert night.planned.model_extra == {"residual_mired": 3}


def test_the_scene_sample_means_what_it_meant() -> None:
    """Levels, swaps, spots, circuits, looks, weights and records have the values written."""
    plan = _model(FORMAT_1 / "plan-scene.toml")
    assert isinstance(plan, Plan)
    key, panel, lantern, tubes, window, yard = plan.light
    assert plan.camera.balance.at_k == (3200.0, 4300.0, 5600.0)
    assert plan.camera.balance.tint_steps == (-2, 0, 2)
    assert plan.camera.meter_constant == 330.0
    assert (plan.weights.stops, plan.weights.square_metres, plan.weights.minutes) == (1.5, 0.5, 0.2)
    assert (plan.minutes.filter, plan.minutes.switch_off, key.minutes.filter) == (3.0, 0.0, 2.0)
    assert key.minutes.dial is None
    assert key.level is not None
    assert (key.level.watts, key.level.focus, key.distance_mm) == (650.0, "flood", 3000.0)
    assert (key.size_mm, key.frost, key.frost_size_mm) == (150.0, ("light frost",), 24 * 25.4)
    assert panel.level is not None
    assert (panel.level.photometry, panel.count, panel.aim.stops) == ("panel.LDT", 2, None)
    assert (panel.watts, panel.power_factor, lantern.amps) == (120.0, 0.9, 3.1)
    assert tubes.level is not None
    assert (tubes.level.f_stop, tubes.level.exposure_index) == (2.8, 400.0)
    assert [(each.name, each.at_hand, each.stops) for each in tubes.swap] == [
        ("high-CRI tube", 4, -0.3),
        ("measured tube", None, 0.0),
        ("LED tube", None, 0.0),
    ]
    assert (window.role, yard.behind) == ("fill", "window")
    assert [(each.volts, each.breaker_a, each.margin) for each in plan.circuit] == [
        (230.0, 16.0, 0.8),
        (230.0, 10.0, 0.7),
    ]
    assert [(each.mired, each.duv, each.stops) for each in plan.look] == [
        (-40.0, 0.002, -1.5),
        (0.0, 0.0, None),
    ]
    cheek, wall = plan.spot
    assert [(each.stops, each.lux, each.f_stop) for each in cheek.light] == [
        (0.0, None, None),
        (None, 90.0, None),
        (None, None, 1.4),
    ]
    assert [(each.fc, each.ev) for each in wall.light] == [(12.0, None), (None, 4.0)]
    assert (plan.setup[0].balance_k, plan.setup[0].balance_duv) == (4300.0, -0.0012)
    dusk = plan.setup[0].light[0]
    assert dusk.planned is not None
    assert dusk.rigged is not None
    assert dusk.read is not None
    assert (dusk.planned.scrims, dusk.planned.off) == (("single", "half double"), False)
    assert (dusk.rigged.distance_mm, dusk.rigged.height_mm) == (2500.0, 8 * 304.8)
    assert (dusk.rigged.off, dusk.rigged.focus) == (True, "half way to spot")
    assert (dusk.read.duv, dusk.read.time) == (-0.001, "2031-05-04T16:20:00+02:00")


def _read(path: Path) -> tuple[KitDocument | PlanDocument | None, list[Problem]]:
    text = path.read_bytes().decode("utf-8")
    if path.stem == "kit":
        return read_kit(text, where=path.name)
    return read_plan(text, where=path.name)


def _model(path: Path) -> Part:
    document, _ = _read(path)
    assert document is not None
    return document.model


def _keys_known(model: type[Part]) -> Iterator[tuple[str, str]]:
    for name, field in model.model_fields.items():
        yield model.__name__, name
        inner = part_in(field.annotation)
        if inner is not None:
            yield from _keys_known(inner)


def _keys_used(value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, tuple):
        for each in value:
            yield from _keys_used(each)
    if isinstance(value, BaseModel):
        for name in value.model_fields_set:
            yield type(value).__name__, name
            yield from _keys_used(getattr(value, name, None))
        if type(value).__name__ == "SetupLight":  # its other keys are those of a light
            yield from (("SetupLight", name) for name in type(value).model_fields)
