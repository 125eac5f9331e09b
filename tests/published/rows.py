"""The published values: one table beside each test, one row per value.

A row passes when the result lies within `tolerance` of `expected`, in `unit`.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent


@dataclass(frozen=True, slots=True)
class Row:
    """One published value."""

    id: str
    quantity: str
    input: str
    expected: float
    tolerance: float
    unit: str
    source: str

    def numbers(self) -> list[float]:
        """Every number that stands alone in the input, in order."""
        return [float(found) for found in re.findall(r"(?<![\w.])[+-]?\d+(?:\.\d+)?", self.input)]

    def holds(self, result: float) -> None:
        """Assert that a result meets this row."""
        assert result == pytest.approx(self.expected, abs=self.tolerance, rel=0), (
            self.id,
            self.source,
        )


def read(name: str) -> dict[str, Row]:
    """The rows of a table by id; ids are unique."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    rows = {line["id"]: _row(line) for line in lines}
    assert len(rows) == len(lines), f"{name}.csv names a row twice"
    return rows


def _row(line: dict[str, str]) -> Row:
    return Row(
        id=line["id"],
        quantity=line["quantity"],
        input=line["input"],
        expected=float(line["expected"]),
        tolerance=float(line["tolerance"]),
        unit=line["unit"],
        source=line["source"],
    )
