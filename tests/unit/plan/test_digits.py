from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from evencast.plan.digits import Written, rounding_k, rounding_last_digit, rounding_stops


def as_written(text: str) -> Any:
    return tomllib.loads(f"x = {text}", parse_float=Written)["x"]


@pytest.mark.parametrize(
    ("text", "half_step"),
    [
        ("5600", 50.0),
        ("5550", 25.0),
        ("5560", 5.0),
        ("5555", 0.5),
        ("5000", 50.0),
        ("10000", 50.0),
        ("5_600", 50.0),
        ("+5600", 50.0),
        ("5600.0", 0.05),
        ("5.6e3", 50.0),
        ("-3200", 50.0),
    ],
)
def test_kelvins_are_rounded_to_their_last_step_but_no_coarser_than_100(
    text: str, half_step: float
) -> None:
    """Half of the last printed step, of which trailing zeros beyond two say nothing."""
    assert rounding_k(as_written(text)) == pytest.approx(half_step)


@pytest.mark.parametrize(
    "text", ["0.33", "0.67", "1.3", "1.67", "1", "2", "0.3", "0.7", "0.333", "1.0", "0", "2.667"]
)
def test_stops_that_look_like_thirds_are_thirds(text: str) -> None:
    """Whole stops and rounded thirds may be off by half a third."""
    assert rounding_stops(as_written(text)) == pytest.approx(1 / 6)


@pytest.mark.parametrize(
    ("text", "half_step"),
    [("0.5", 0.05), ("0.50", 0.005), ("1.25", 0.005), ("0.66", 0.005), ("0.3010", 0.00005)],
)
def test_other_stops_are_rounded_to_their_last_digit(text: str, half_step: float) -> None:
    """Half a unit of the last written digit, final zeros included."""
    assert rounding_stops(as_written(text)) == pytest.approx(half_step)


@pytest.mark.parametrize(
    ("text", "half_step"), [("0.310", 0.0005), ("61", 0.5), ("31.5", 0.05), ("3e-1", 0.05)]
)
def test_the_last_written_digit_counts(text: str, half_step: float) -> None:
    """Half a unit of the last digit, as it was written."""
    assert rounding_last_digit(as_written(text)) == pytest.approx(half_step)


@pytest.mark.parametrize("value", [True, "0.33", None, [1], as_written("inf"), as_written("nan")])
def test_what_is_no_number_has_no_rounding(value: object) -> None:
    """Text, truth values, lists, infinity and nan give None."""
    assert rounding_k(value) is None
    assert rounding_stops(value) is None
    assert rounding_last_digit(value) is None


def test_absurdly_long_numbers_are_cut_at_12_decimals() -> None:
    """A number of forty digits neither fails nor claims to be exact to its last one."""
    assert rounding_stops(as_written("0." + "3" * 40)) == pytest.approx(1 / 6)
    assert rounding_last_digit(as_written("0.1" + "2" * 40)) == pytest.approx(0.5e-12)
    assert rounding_k(as_written("9" * 400)) is None


def test_a_number_without_digits_is_read_from_its_value() -> None:
    """A plain float, as from JSON, is taken as Python writes it."""
    assert rounding_last_digit(0.25) == pytest.approx(0.005)


@pytest.mark.parametrize(
    "text",
    ["1e9", "-1e9", "1e400", "1e4003_250", "1e99999999999999999999", "1e-99999999999999999999"],
)
@pytest.mark.parametrize("rounding", [rounding_k, rounding_stops, rounding_last_digit])
def test_what_no_sheet_is_printed_with_has_no_rounding(
    text: str, rounding: Callable[[object], float | None]
) -> None:
    """Also where the exponent is more than a decimal number holds."""
    assert rounding(as_written(text)) is None
