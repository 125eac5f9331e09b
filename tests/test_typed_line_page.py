"""The page about the typed line: each of its examples is what the program makes of it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from evencast.actions.entry import typed_light
from evencast.actions.entry.reading import typed_reading

PAGE = (Path(__file__).parents[1] / "docs" / "typed-line.md").read_text("utf-8")


def rows(heading: str) -> list[list[str]]:
    """The cells of every row below a table's heading."""
    tables = re.findall(rf"^\| {heading} \|\n\|[-|]+\|\n((?:\|.*\|\n)+)", PAGE, re.MULTILINE)
    lines = [line for table in tables for line in table.splitlines()]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines]


def code(cell: str) -> str:
    return cell.strip("`")


def keys_of(cell: str) -> dict[str, Any]:
    found: dict[str, Any] = tomllib.loads(f"keys = {{ {code(cell)} }}")["keys"]
    return found


LIGHTS = rows(r"typed \| keys of the light")
READINGS = rows(r"typed \| keys of the reading")
NAMES = rows(r"typed \| name")
ASKS = rows(r"typed \| asked \| accepted")


@pytest.mark.parametrize(("line", "keys"), LIGHTS)
def test_a_line_of_the_page_becomes_those_keys(line: str, keys: str) -> None:
    """And nothing is asked."""
    entry = typed_light(code(line))
    assert entry.asks == []
    assert entry.keys == keys_of(keys)


@pytest.mark.parametrize(("line", "keys"), READINGS)
def test_a_reading_of_the_page_becomes_those_keys(line: str, keys: str) -> None:
    """As a set-up has them."""
    assert typed_reading(code(line)).keys == keys_of(keys)


@pytest.mark.parametrize(("line", "name"), NAMES)
def test_a_line_of_the_page_gets_that_name(line: str, name: str) -> None:
    """Typed or made up."""
    assert typed_light(code(line)).name == code(name)


@pytest.mark.parametrize(("line", "question", "accepted"), ASKS)
def test_a_line_of_the_page_is_asked_that(line: str, question: str, accepted: str) -> None:
    """With those words to answer it."""
    ask = typed_light(code(line)).asks[0]
    assert ask.question == question
    assert ask.accepted == [code(each) for each in accepted.split(", ") if each]


def test_the_page_has_examples_of_each_sort() -> None:
    """None of its tables is missed."""
    assert (len(LIGHTS), len(READINGS), len(NAMES), len(ASKS)) == (29, 5, 4, 7)
    assert PAGE.count("| typed |") == 9
