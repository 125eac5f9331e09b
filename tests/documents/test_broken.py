"""Wrong documents, each with the whole of what is said about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencast.errors import Problem
from evencast.plan.document import read_kit, read_plan

BROKEN = sorted((Path(__file__).parent / "broken").glob("*.toml"))
LIGHTS = (
    "tungsten 3200 K",
    "daylight D65",
    "cool white tube FL2",
    "filament bulb",
    "two-colour LED panel",
)
LOOKS = ("candle light", "blue hour")
FILTERS = ("full CTB", "half CTB", "full CTO", "ND 0.6", "light frost")


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_every_problem_of_a_broken_document_is_told(path: Path) -> None:
    """Severity, place, message and remedy of every problem are those written beside it."""
    assert said(problems(path)) == path.with_suffix(".expected").read_text("utf-8")


def test_no_expected_text_is_left_without_its_document() -> None:
    """Every `.expected` file belongs to a document, and there are documents."""
    expected = sorted((Path(__file__).parent / "broken").glob("*.expected"))
    assert [path.stem for path in expected] == [path.stem for path in BROKEN]
    assert len(BROKEN) > 25


def problems(path: Path) -> list[Problem]:
    text = path.read_bytes().decode("utf-8")
    if path.stem.startswith("kit-"):
        return read_kit(text, where=path.name, known_filters=FILTERS)[1]
    return read_plan(text, where=path.name, known_lights=LIGHTS, known_looks=LOOKS)[1]


def said(problems: list[Problem]) -> str:
    return "".join(
        f"{each.severity}: {each.where}: {each.message}\n    {each.remedy}\n" for each in problems
    )
