from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.plan.checks import kit_problems, plan_problems, problems_together
from evencast.plan.document import sketch_kit, sketch_plan
from evencast.plan.kit import Kit
from evencast.plan.light import Aperture, Light, LightKeys
from evencast.plan.plan import Balance, Plan
from evencast.plan.sketch import sketched

FORMAT_1 = Path(__file__).parents[2] / "documents" / "format-1"
LIGHT = {"name": "key", "role": "key", "cct_k": 3200}


def test_what_is_sound_is_read_as_ever() -> None:
    """Every sample of a plan and of a kit is its own sketch."""
    for path in FORMAT_1.glob("*.toml"):
        data = tomllib.loads(path.read_text("utf-8-sig"))
        kind = Kit if path.stem == "kit" else Plan
        assert sketched(kind, data) == kind.model_validate(data)


def test_a_key_that_cannot_be_read_is_there_and_equals_nothing() -> None:
    """A number is nan, a text and a choice are empty, a table holds nothing, a list too."""
    found = sketched(
        Light,
        {
            "name": 3,
            "role": "kee",
            "cct_k": "warm",
            "distance_m": 3,
            "level": 800,
            "moves": 1,
            "watts": -1,
        },
    )
    assert (found.name, found.role, found.moves) == ("", "", ())
    assert math.isnan(found.cct_k or 0.0)
    assert math.isnan(found.watts or 0.0)
    assert found.distance_mm == 3000.0
    assert found.level is not None
    assert found.level.model_fields_set == set()
    assert found.circuit is None
    assert "circuit" not in found.model_fields_set
    assert "level" in found.model_fields_set


def test_a_key_that_is_needed_and_missing_is_empty() -> None:
    """So that a rule may ask for it."""
    assert (sketched(Light, {}).name, sketched(Plan, {}).light) == ("", ())
    assert sketched(Plan, {"camera": 5}).camera.balance == Balance.model_construct()
    assert sketched(Plan, []).kit == ""


def test_a_list_keeps_the_entries_that_can_be_read() -> None:
    """Of values and of tables; a wrong entry leaves its neighbours alone."""
    found = sketched(
        Light,
        LIGHT
        | {
            "moves": ["filter", "fliter", 3, "leave"],
            "aperture": [{"width_m": 1}, 7, {"width_mm": 1, "height_mm": 2}],
        },
    )
    assert found.moves == ("filter", "leave")
    assert [each.width_mm for each in found.aperture] == [1000.0, 1.0]
    assert math.isnan(found.aperture[0].height_mm)
    assert found.aperture[1] == Aperture(width_mm=1, height_mm=2)


def test_what_makes_no_plan_or_kit_has_no_sketch() -> None:
    """No TOML, the other document, and what a newer version wrote."""
    for text in ("[[", "format = 7\nlight = []", "format = 0"):
        assert sketch_plan(text) is None
        assert sketch_kit(text) is None
    assert sketch_plan("format = 1\nfilter = []") is None
    assert sketch_kit("format = 1\nlight = []") is None
    plan = sketch_plan('kit = "van.toml"\nlight = [{ frost = ["silk"] }]')
    assert plan is not None
    assert (plan.kit, plan.light[0].frost) == ("van.toml", ("silk",))


def values(keys: list[str]) -> st.SearchStrategy[Any]:
    """Anything a TOML document may hold, with the format's own keys in its tables."""
    plain = st.one_of(
        st.none().map(lambda _: "key"),
        st.text(max_size=3),
        st.integers(-3, 9000),
        st.floats(),
        st.booleans(),
        st.sampled_from(["filter", "swap", "view", "tungsten", "light frost", "dim"]),
    )
    return st.recursive(
        plain,
        lambda inner: (
            st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(keys), inner, max_size=6)
        ),
        max_leaves=30,
    )


KEYS = sorted(
    {*Plan.known_keys(), *LightKeys.known_keys(), "lux", "cd", "balance", "at_k", "stops"}
)


@settings(max_examples=150, deadline=None)
@given(
    lights=st.lists(values(KEYS), max_size=4),
    rest=st.dictionaries(st.sampled_from(Plan.known_keys()), values(KEYS), max_size=6),
    filters=st.lists(values([*Kit.known_keys(), "role", "stock"]), max_size=3),
)
def test_every_rule_runs_on_any_sketch(
    lights: list[Any], rest: dict[str, Any], filters: list[Any]
) -> None:
    """However wrong the document: a rule may find something in it and never fails on it."""
    plan = sketched(Plan, rest | {"light": lights})
    kit = sketched(Kit, {"filter": filters})
    found = plan_problems(plan, where="plan", known_lights=["D65"], known_looks=["candle"])
    found += kit_problems(kit, where="kit", known_filters=["full CTB"])
    found += problems_together(plan, kit, where="plan", kit_where="kit")
    assert all("nan" not in each.message for each in found)
    assert all(each.message and each.remedy for each in found)


@pytest.mark.parametrize(
    "lights",
    [
        '{ name = "a", role = "view", behind = "b" }, { name = "b", role = "x" }',
        '{ name = "a", role = "fill", distance_m = 1, level = { lux = "x", distance_m = "y" } }',
        '{ name = "a", role = "fill", distance_m = 1, level = { watts = 1 }, kind = "x" }',
        '{ name = "a", role = "key", level = 3 }',
    ],
)
def test_what_cannot_be_read_is_not_called_missing(lights: str) -> None:
    """A role, a distance, a kind and a level that are written wrongly are written."""
    plan = sketch_plan(
        f'light = [{lights}]\nspot = [{{ name = "s", light = [{{ name = "a", stops = 1 }}] }}]'
    )
    assert plan is not None
    found = plan_problems(plan, where="plan.toml")
    assert [each.where for each in found] == (
        [] if "level" in lights else ['plan.toml, spot "s".light "a".stops']
    )
