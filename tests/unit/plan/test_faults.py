from __future__ import annotations

import re
from datetime import date, datetime, time
from typing import Any

import pytest
from pydantic import ValidationError

from evencast.plan.document import read_kit, read_plan
from evencast.plan.faults import field_at, part_in, problems_of, written
from evencast.plan.light import Light
from evencast.plan.part import Part
from evencast.plan.plan import Plan

JARGON = re.compile(
    r"Input should|[Vv]alid (dictionary|string|number|integer|tuple)|instance of|pydantic|"
    r"\bNone\b|Field required|Extra inputs|_type\b|Literal|Value error|type="
)
VALUES = ["true", '"text"', '""', "-1", "2.5", "inf", "nan", "[]", "[1]", "{}", "2031-05-04"]
VALUES += ["07:30:00", "2031-05-04T07:30:00", "[[]]", "[{}]", "'''\n'''", "9" * 400]


def every_place(model: type[Part], inside: str = "") -> list[str]:
    """Every key of a document as a dotted path; lists of tables are left to their parents."""
    places = []
    for name, field in model.model_fields.items():
        places.append(inside + name)
        inner = part_in(field.annotation)
        if inner is not None and "tuple" not in str(field.annotation):
            places += every_place(inner, f"{inside}{name}.")
    return places


@pytest.mark.parametrize("value", VALUES)
def test_any_value_in_any_key_is_answered_in_plain_words(value: str) -> None:
    """Whatever stands in whatever key of plan, light or setup: no word of the library shows."""
    texts = [f"{key} = {value}" for key in every_place(Plan) if not key.startswith("format")]
    texts += [f"[[light]]\n{key} = {value}" for key in every_place(Light)]
    texts += [f"[[setup]]\n[[setup.light]]\n{key} = {value}" for key in every_place(Light)]
    problems = [
        problem
        for text in texts
        for problem in read_plan(f"format = 1\n{text}", where="job.toml")[1]
    ]
    assert len(problems) > len(texts)
    for problem in problems:
        assert not JARGON.search(f"{problem.where} {problem.message} {problem.remedy}"), problem


@pytest.mark.parametrize("value", VALUES)
def test_any_value_in_a_filter_is_answered_in_plain_words(value: str) -> None:
    """The same for the keys of a filter and its numbers."""
    keys = ["name", "role", "generic", "spectrum", "kelvin", "kelvin.to_k", "kelvin.stops", "xyy"]
    keys += ["stock", "evidence", "note", "series", "kelvin.from_locus", "kelvin.rounding_k"]
    for key in keys:
        _, problems = read_kit(f"format = 1\n[[filter]]\n{key} = {value}", where="van.toml")
        assert problems
        for problem in problems:
            assert not JARGON.search(f"{problem.message} {problem.remedy}"), problem


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (5600, "5600"),
        (5600.0, "5600"),
        (0.25, "0.25"),
        (True, "true"),
        ('a "b"', '"a \\"b\\""'),
        (["x", 1], '["x", 1]'),
        ({"low_k": 2700, "aim": {"mired": 3}}, "{ low_k = 2700, aim = { mired = 3 } }"),
    ],
)
def test_examples_are_written_as_a_person_would(value: object, text: str) -> None:
    """Values as TOML on one line, whole numbers without a decimal point."""
    assert written(value) == text


def test_a_field_is_found_by_its_place() -> None:
    """Through tables and lists, and None where the model has no such key."""
    found = field_at(Plan, ("light", 3, "aim", "mired"))
    assert found is not None
    assert found.examples == [30]
    assert field_at(Plan, ("light", 3, "aim", "nonsense", "deeper")) is None


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (date(2031, 5, 4), "a date"),
        (datetime(2031, 5, 4, 7, 30), "a date"),
        (time(7, 30), "a time of day"),
        (10**400, "a huge number"),
        (False, "false"),
    ],
)
def test_a_wrong_value_is_named_as_a_person_would(value: Any, said: str) -> None:
    """Dates, times, truth values and endless numbers have names of their own."""
    data = {"format": 1, "name": "job", "kit": "kit.toml", "mains_hz": 50}
    data |= {"camera": {"balance": {"fixed_k": 3200}, "t_stop": value}, "light": []}
    with pytest.raises(ValidationError) as raised:
        Plan.model_validate(data)
    told = problems_of(raised.value, model=Plan, data=data, where="job.toml")
    assert told[0].where == "job.toml, camera.t_stop"
    assert told[0].message.startswith(f'"t_stop" is {said} and should be ')
