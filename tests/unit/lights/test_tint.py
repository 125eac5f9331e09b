from __future__ import annotations

import re

import pytest

from evencast.lights.tint import TINT_PATTERN, parse_tint, say_tint


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("4 toward magenta", 4.0),
        ("4 toward green", -4.0),
        ("2.5 toward green", -2.5),
        ("none", 0.0),
    ],
)
def test_a_tint_in_words_there_and_back(text: str, steps: float) -> None:
    """Positive is how far the picture moves toward magenta."""
    assert parse_tint(text) == steps
    assert say_tint(steps) == text


@pytest.mark.parametrize(
    "text",
    ["4", "-4", "+4", "", "4 magenta", "-4 toward magenta", "4 toward blue", "4 Toward Green"],
)
def test_anything_else_is_no_tint(text: str) -> None:
    """A sign would mean opposite things on two cameras."""
    assert parse_tint(text) is None


def test_the_pattern_for_others_accepts_what_is_accepted_here() -> None:
    """It is written into the schema of plans."""
    assert re.fullmatch(TINT_PATTERN, "4 toward magenta")
    assert not re.fullmatch(TINT_PATTERN, "4")
