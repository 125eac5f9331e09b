from __future__ import annotations

from typing import Any

import pytest

from evencast.plan.document import read_kit
from evencast.plan.kit import KelvinNumbers, Kit


def kit(numbers: str) -> Kit:
    text = f'format = 1\nname = "van"\n[[filter]]\nname = "a"\nrole = "effect"\n{numbers}\n'
    document, problems = read_kit(text, where="van.toml")
    assert problems == []
    assert document is not None
    return document.model


@pytest.mark.parametrize(
    ("numbers", "rounding_k", "rounding_stops"),
    [
        ("from_k = 3200, to_k = 5600, stops = 1.67", 50, 1 / 6),
        ("from_k = 3205, to_k = 5550, stops = 0.5", 25, 0.05),
        ("from_k = 3200, to_k = 5600.0, stops = 0.50", 0.05, 0.005),
        ("from_k = 3200, to_k = 5600, stops = 1, rounding_k = 20", 20, 1 / 6),
        ("from_k = 3200, to_k = 5600, stops = 1, rounding_stops = 0", 50, 0),
    ],
)
def test_declared_kelvins_carry_their_rounding(
    numbers: str, rounding_k: float, rounding_stops: float
) -> None:
    """Read from the written digits of `to_k` and `stops` unless it is given."""
    found = kit(f"kelvin = {{ {numbers} }}").filter[0].kelvin
    assert found is not None
    assert found.rounding_k == pytest.approx(rounding_k)
    assert found.rounding_stops == pytest.approx(rounding_stops)


def test_declared_chromaticities_carry_their_rounding() -> None:
    """The finer of x and y counts, since a final 0 may have been left out."""
    rows = (
        kit(
            'xyy = [ { illuminant = "A", x = 0.31, y = 0.334, Y_percent = 31 },'
            '{ illuminant = "D65", x = 0.3, y = 0.3, Y_percent = 31.0, rounding_xy = 0.001 } ]'
        )
        .filter[0]
        .xyy
    )
    assert rows is not None
    assert [row.rounding_xy for row in rows] == pytest.approx([0.0005, 0.001])
    assert [row.rounding_Y_percent for row in rows] == pytest.approx([0.5, 0.05])


def test_numbers_without_digits_are_rounded_by_value() -> None:
    """Numbers that come from elsewhere than a document are taken as they are."""
    made = KelvinNumbers.model_validate({"from_k": 3200, "to_k": 5600, "stops": 0.33})
    assert (made.rounding_k, made.rounding_stops) == pytest.approx((50, 1 / 6))


@pytest.mark.parametrize("date", ["2031-05-04", '"2031-05-04"'])
def test_a_date_is_kept_as_text_quoted_or_not(date: str) -> None:
    """Year-month-day, however it was written."""
    evidence = kit(f'generic = "x"\nevidence = [ {{ date = {date} }} ]').filter[0].evidence
    assert [each.date for each in evidence] == ["2031-05-04"]


@pytest.mark.parametrize(
    "filters", [{}, {"filter": []}, {"filter": [{"name": "a", "role": "ND", "generic": "x"}]}]
)
def test_a_kit_may_hold_any_number_of_filters(filters: dict[str, Any]) -> None:
    """None, or some: an empty kit is for the checks to judge."""
    made = Kit.model_validate({"format": 1, "name": "van"} | filters)
    assert len(made.filter) == len(filters.get("filter", []))
