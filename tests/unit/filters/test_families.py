from __future__ import annotations

from typing import get_args

import numpy as np
import pytest

from evencast.colour import white, xyz
from evencast.errors import EvencastError
from evencast.filters import SEARCHED_ROLES, Filter, Role, generic, generic_names
from evencast.filters.dyes import shift_duv, shift_mired
from evencast.quantities import mired_shift, stops_of_density, stops_of_ratio

ROW_DIGITS_MIRED = 1e-4
"""The table of families is written to four decimals of a mired."""

GRADES = {
    "eighth": 1 / 8,
    "quarter": 1 / 4,
    "half": 1 / 2,
    "three-quarter": 3 / 4,
    "full": 1.0,
    "one and a half": 1.5,
    "double": 2.0,
}


def loss_stops(each: Filter, on_k: float) -> float:
    light = white(on_k)
    return stops_of_ratio(float(xyz(light * each.transmittance)[1] / xyz(light)[1]))


def test_every_name_builds_a_filter_that_could_exist() -> None:
    """Under its own name, of a known role, between nothing and everything, nominal."""
    names = generic_names()
    assert len({name.casefold() for name in names}) == len(names) > 40
    for name in names:
        each = generic(name)
        assert each.name == name
        assert each.role in get_args(Role)
        assert each.transmittance.shape == (81,)
        assert (each.transmittance > 0).all(), name
        assert (each.transmittance < 1).all(), name
        assert not each.measured
        assert each.note


@pytest.mark.parametrize(
    ("series", "on_k", "to_k"),
    [("CTB", 3200.0, 5600.0), ("CTO", 5600.0, 3200.0), ("straw", 5600.0, 3200.0)],
)
def test_the_warming_and_cooling_series_go_in_even_mired_steps(
    series: str, on_k: float, to_k: float
) -> None:
    """Full is 3200 K to 5600 K or back on the white it is named for; the others its shares."""
    found = [name for name in generic_names() if name.endswith(f" {series}")]
    assert len(found) >= 5
    for name in found:
        share = GRADES[name.removesuffix(f" {series}")]
        each = generic(name)
        wanted = share * mired_shift(from_k=on_k, to_k=to_k)
        assert each.on_k == on_k
        assert shift_mired(white(on_k), each.transmittance) == pytest.approx(
            wanted, abs=ROW_DIGITS_MIRED
        )


@pytest.mark.parametrize(("series", "side"), [("plus green", 1.0), ("minus green", -1.0)])
def test_the_greens_go_in_even_duv_steps(series: str, side: float) -> None:
    """Full is 0.028 Duv on 5600 K; the others its shares, exactly."""
    found = [name for name in generic_names() if name.endswith(f" {series}")]
    assert len(found) == 4
    for name in found:
        wanted = side * 0.028 * GRADES[name.removesuffix(f" {series}")]
        shift = shift_duv(white(5600.0), generic(name).transmittance)
        assert shift == pytest.approx(wanted, abs=1e-8)


@pytest.mark.parametrize("density", ["0.15", "0.3", "0.6", "0.9", "1.2"])
def test_neutrals_lose_their_density_on_any_light(density: str) -> None:
    """Density over log10 of 2, surface loss within it."""
    for on_k in (2000.0, 3200.0, 10000.0):
        lost = loss_stops(generic(f"ND {density}"), on_k)
        assert lost == pytest.approx(stops_of_density(float(density)), abs=1e-12)


@pytest.mark.parametrize("colour", ["half CTO", "full CTO"])
def test_orange_with_neutral_is_orange_and_neutral(colour: str) -> None:
    """The same colour as the plain sheet, darker by the density."""
    found = [name for name in generic_names() if name.startswith(f"{colour} with ND")]
    assert found
    for name in found:
        density = float(name.rsplit(" ", 1)[1])
        plain, both = generic(colour), generic(name)
        np.testing.assert_allclose(
            both.transmittance, plain.transmittance * 10.0**-density, rtol=1e-9
        )


def test_within_a_series_stronger_sheets_lose_more() -> None:
    """Weakest first, as the list is ordered."""
    for series in ("CTB", "CTO", "straw", "plus green", "minus green"):
        names = [name for name in generic_names() if name.endswith(f" {series}")]
        lost = [loss_stops(generic(name), generic(name).on_k) for name in names]
        assert lost == sorted(lost), series


def test_frosts_state_the_range_of_their_loss() -> None:
    """Their own loss lies within it, and no other filter has a range."""
    ranged = [name for name in generic_names() if generic(name).loss_range_stops is not None]
    assert ranged == ["light frost", "medium frost", "heavy frost"]
    for name in ranged:
        low, high = generic(name).loss_range_stops or (0.0, 0.0)
        assert low < loss_stops(generic(name), 5600.0) < high, name


def test_frosts_warm_a_little() -> None:
    """2, 5 and 10 mired on 5600 K."""
    for name, wanted in (("light frost", 2.0), ("medium frost", 5.0), ("heavy frost", 10.0)):
        shift = shift_mired(white(5600.0), generic(name).transmittance)
        assert shift == pytest.approx(wanted, abs=ROW_DIGITS_MIRED)


def test_a_search_may_pick_correction_green_and_neutral_only() -> None:
    """Frost and effect colours are never picked to correct."""
    assert SEARCHED_ROLES == ("correction", "green", "ND")
    kept_out = [name for name in generic_names() if generic(name).role not in SEARCHED_ROLES]
    assert kept_out == [
        "light frost",
        "medium frost",
        "heavy frost",
        "deep red",
        "deep amber",
        "deep green",
        "deep blue",
        "street amber",
    ]


@pytest.mark.parametrize("written", ["full CTB", "FULL ctb", "  full   CTB ", "Full Ctb"])
def test_names_are_found_in_any_case_and_spacing(written: str) -> None:
    """As people type them."""
    assert generic(written).name == "full CTB"


def test_an_unknown_name_is_told_its_nearest() -> None:
    """What, where, remedy."""
    with pytest.raises(EvencastError) as caught:
        generic("ful CTB")
    assert caught.value.what == 'no filter is called "ful CTB"'
    assert caught.value.where == "filters"
    assert caught.value.remedy == (
        "Did you mean full CTB or full CTO or double CTB? `evencast filters` lists them; "
        "a file needs a / in its name, or ends in .csv or .spdx."
    )


def test_a_name_like_nothing_else_is_told_where_to_look() -> None:
    """No guess is better than a wild one."""
    with pytest.raises(EvencastError) as caught:
        generic("zzzzzz")
    assert caught.value.remedy == (
        "`evencast filters` lists them; a file needs a / in its name, or ends in .csv or .spdx."
    )
