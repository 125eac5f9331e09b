"""Mired arithmetic, and the glass conversion and light-balancing series of two printed tables.

Shifts are mired arithmetic on the printed Kelvin pairs; neutral densities are their own
definition. The printed stops are met by declaring the pair and the stops: a spectrum is found
that takes one white to the other exactly, at that loss. `NOT_MET` names the rows for which
there is none, with the numbers.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from evencast.colour import cct_duv, uv, white, white_uv
from evencast.errors import EvencastError
from evencast.filters.declared import KelvinDeclaration, from_kelvin, least_loss_stops
from evencast.quantities import kelvin, mired, mired_shift, stops_of_density
from tests.published import rows

ROWS = rows.read("mired_filters")
GLASS_STOPS = [name for name in ROWS if name.endswith("-stops") and not name.startswith("nd-")]

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class NotMet:
    """A row that these dyes do not meet.

    least_stops : what the clearest possible sheet of that colour loses (an optimal colour)
    dyes_stops  : the least that the dyes of the series lose
    """

    pair: Pair
    least_stops: float
    dyes_stops: float


NOT_MET = {
    # Possible for an ideal sheet, but these dyes lose a little more than was printed in thirds.
    "conv-85C-stops": [NotMet((5500, 3800), 0.290, 0.507)],
    "conv-85B-stops": [NotMet((5500, 3200), 0.401, 0.697)],
}
IMPOSSIBLE = "conv-80D-stops"
"""Printed 1/3 stop here and 2/3 in the other table; no sheet of that colour loses under 0.55."""


def shift(row: rows.Row) -> float:
    from_k, to_k = kelvins(row)
    return mired_shift(from_k=from_k, to_k=to_k)


def kelvins(row: rows.Row) -> Pair:
    """The Kelvin pair of an input such as "series 82, 3100 K brought to 3200 K"."""
    pair = re.search(r"(\d+) K (?:brought )?to (\d+) K", row.input)
    assert pair is not None, row.input
    return float(pair[1]), float(pair[2])


def mired_of(row: rows.Row) -> float:
    return mired(row.numbers()[0])


def applied(row: rows.Row) -> float:
    start_k, by_mired = row.numbers()
    return kelvin(mired(start_k) + by_mired)


def percent_of_density(row: rows.Row) -> float:
    return 100.0 / math.exp2(stops_of_density(row.numbers()[0]))


COMPARED: dict[str, Callable[[rows.Row], float]] = {
    "mired shift printed for the filter": shift,
    "mired shift printed for the filter (or sum of two)": shift,
    "mired shift": shift,
    "mired of a colour temperature": mired_of,
    "result of a shift": applied,
    "transmittance of neutral density": percent_of_density,
    "exposure increase of neutral density": lambda row: stops_of_density(row.numbers()[0]),
}
ARITHMETIC = {name: row for name, row in ROWS.items() if row.quantity in COMPARED}


@pytest.mark.parametrize("row", ARITHMETIC.values(), ids=ARITHMETIC)
def test_row(row: rows.Row) -> None:
    row.holds(COMPARED[row.quantity](row))


def pairs_of(stops_row: str) -> list[Pair]:
    """Kelvin pairs that the table gives for the filter of a `-stops` row."""
    stem = stops_row.removesuffix("stops")
    return [kelvins(ROWS[stem + end]) for end in ("shift", "3200", "3400") if stem + end in ROWS]


def declared(pair: Pair, stops: float) -> KelvinDeclaration:
    return KelvinDeclaration(from_k=pair[0], to_k=pair[1], stops=stops)


MET = [
    (name, pair)
    for name in GLASS_STOPS
    if name not in NOT_MET and name != IMPOSSIBLE
    for pair in pairs_of(name)
]


@pytest.mark.parametrize(("name", "pair"), MET, ids=[f"{n}-{p[0]:g}" for n, p in MET])
def test_declared_glass_has_its_printed_loss_and_kelvin(name: str, pair: Pair) -> None:
    sheet = from_kelvin(declared(pair, ROWS[name].expected), key="sheet", where=name)
    ROWS[name].holds(sheet.loss_stops)
    cct_k, _ = cct_duv(uv(white(pair[0]) * sheet.transmittance))
    assert float(cct_k) == pytest.approx(pair[1], abs=0.5)


LEFT_OUT = [(name, each) for name, several in NOT_MET.items() for each in several]


@pytest.mark.parametrize(
    ("name", "left"), LEFT_OUT, ids=[f"{n}-{each.pair[0]:g}" for n, each in LEFT_OUT]
)
def test_rows_not_met_are_not_met_by_these_numbers(name: str, left: NotMet) -> None:
    row = ROWS[name]
    least = least_loss_stops(white(left.pair[0]), white_uv(left.pair[1]))
    assert least == pytest.approx(left.least_stops, abs=1e-3)
    sheet = from_kelvin(declared(left.pair, row.expected), key="sheet", where=name)
    assert sheet.loss_stops == pytest.approx(left.dyes_stops, abs=1e-3)
    assert sheet.loss_stops > row.expected + row.tolerance


def test_the_impossible_row_is_refused_with_the_least_loss() -> None:
    with pytest.raises(EvencastError) as raised:
        from_kelvin(declared((4200, 5500), ROWS[IMPOSSIBLE].expected), key="80D", where="80D")
    assert str(raised.value) == (
        "80D: 4200 K to 5500 K at 1/3 stop (0.333) is physically impossible: the clearest "
        "possible sheet of that colour loses 0.55 stop\n"
        "Declare at least 0.55 stop, check from_k and to_k, or give a measured spectrum."
    )


def test_the_impossible_row_is_met_as_the_other_table_prints_it() -> None:
    sheet = from_kelvin(declared((4200, 5500), 2 / 3), key="80D", where="80D")
    assert sheet.loss_stops == pytest.approx(2 / 3, abs=1e-3)


def test_all_but_one_row_not_met_lie_within_half_a_third() -> None:
    """Printed in thirds, so 1/6 stop is what the print itself allows."""
    beyond = {n for n, left in LEFT_OUT if left.dyes_stops - ROWS[n].expected > 1 / 6}
    assert beyond == {"conv-85C-stops"}
