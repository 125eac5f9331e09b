from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cct_duv, uv, uv_of_xy, white, white_uv, xyz
from evencast.errors import EvencastError
from evencast.filters.declared import (
    CLEAREST,
    KelvinDeclaration,
    from_kelvin,
    least_loss_stops,
)
from evencast.quantities import Floats, stops_of_ratio


def error_of(declared: KelvinDeclaration) -> EvencastError:
    with pytest.raises(EvencastError) as caught:
        from_kelvin(declared, key="sheet", where="kelvin")
    return caught.value


@pytest.mark.parametrize(
    ("from_k", "to_k", "stops"),
    [
        (3200, 5600, 1.7),
        (3200, 4300, 1.2),
        (3200, 3400, 0.5),
        (5600, 3200, 0.75),
        (6500, 3200, 0.9),
        (5600, 4500, 0.35),
        (5600, 2900, 0.9),
        (4300, 5600, 0.8),
    ],
)
def test_the_declared_kelvins_are_met_exactly(from_k: float, to_k: float, stops: float) -> None:
    """To 1e-6 uv, which is under 0.05 K at 5600 K; the loss to a hundredth of a stop."""
    sheet = from_kelvin(KelvinDeclaration(from_k, to_k, stops), key="sheet", where="kelvin")
    through = white(from_k) * sheet.transmittance
    np.testing.assert_allclose(uv(through), white_uv(to_k), atol=1e-6)
    lost = stops_of_ratio(float(xyz(through)[1] / xyz(white(from_k))[1]))
    assert sheet.loss_stops == pytest.approx(lost, abs=1e-9)
    assert lost == pytest.approx(stops, abs=0.01)
    assert (sheet.transmittance > 0).all()
    assert (sheet.transmittance <= CLEAREST + 1e-12).all()


@pytest.mark.parametrize(("from_k", "to_k", "feasible"), [(6504, 3200, 0.5), (5600, 3200, 0.42)])
def test_a_loss_these_dyes_cannot_meet_ends_as_near_as_they_can(
    from_k: float, to_k: float, feasible: float
) -> None:
    """Possible for some sheet, yet darker with real dyes: the colour stays exact, and asking
    for a little less or more ends at the same, least loss."""
    sheets = [
        from_kelvin(KelvinDeclaration(from_k, to_k, stops), key="sheet", where="kelvin")
        for stops in (feasible, feasible + 0.05)
    ]
    for sheet in sheets:
        np.testing.assert_allclose(
            uv(white(from_k) * sheet.transmittance), white_uv(to_k), atol=1e-6
        )
        assert sheet.loss_stops > feasible + 0.1
    assert sheets[0].loss_stops == pytest.approx(sheets[1].loss_stops, abs=0.005)


@pytest.mark.parametrize("duv", [-0.004, 0.0, 0.004])
def test_a_declared_duv_takes_the_place_of_the_locus(duv: float) -> None:
    """From the Planckian locus, to 1e-6 uv."""
    declared = KelvinDeclaration(3200, 5600, 1.7, duv=duv)
    sheet = from_kelvin(declared, key="sheet", where="kelvin")
    cct_k, found = cct_duv(uv(white(3200) * sheet.transmittance))
    assert cct_k == pytest.approx(5600, abs=0.2)
    assert found == pytest.approx(duv, abs=2e-6)


def test_named_loci_are_kept() -> None:
    """From daylight of 4500 K to the Planckian 5600 K."""
    declared = KelvinDeclaration(4500, 5600, 1.0, from_locus="daylight", to_locus="planckian")
    sheet = from_kelvin(declared, key="sheet", where="kelvin")
    through = white(4500, locus="daylight") * sheet.transmittance
    np.testing.assert_allclose(uv(through), white_uv(5600, locus="planckian"), atol=1e-6)


def test_an_impossible_declaration_is_told_the_least_loss() -> None:
    """3200 K to 5600 K at 1/3 stop: no transmittance up to 0.92 does it."""
    least = least_loss_stops(white(3200), white_uv(5600))
    error = error_of(KelvinDeclaration(3200, 5600, 0.33))
    assert error.what == (
        "3200 K to 5600 K at 1/3 stop (0.33) is physically impossible: "
        f"the clearest possible sheet of that colour loses {least:.2f} stop"
    )
    assert error.where == "kelvin"
    assert error.remedy == (
        f"Declare at least {least:.2f} stop, check from_k and to_k, or give a measured spectrum."
    )
    assert least == pytest.approx(1.2, abs=0.01)


def test_what_is_told_as_the_least_is_accepted() -> None:
    """A person who follows the remedy gets no second error about the loss."""
    least = least_loss_stops(white(3200), white_uv(5600))
    declared = KelvinDeclaration(3200, 5600, round(least, 2), rounding_stops=0.005)
    sheet = from_kelvin(declared, key="sheet", where="kelvin")
    np.testing.assert_allclose(uv(white(3200) * sheet.transmittance), white_uv(5600), atol=1e-6)


def test_the_rounding_of_the_printed_loss_is_allowed_for() -> None:
    """Half a step below the least loss passes; a hundredth more does not."""
    least = least_loss_stops(white(3200), white_uv(5600))
    from_kelvin(KelvinDeclaration(3200, 5600, least - 0.16), key="sheet", where="kelvin")
    error = error_of(KelvinDeclaration(3200, 5600, least - 0.17))
    assert "is physically impossible" in error.what


def test_a_colour_that_no_light_has_is_told_so() -> None:
    """A Duv that lies outside every real colour."""
    error = error_of(KelvinDeclaration(3200, 1200, 3.0, duv=0.045))
    assert error.what == (
        "3200 K to 1200 K at 3 stops (3) is physically impossible: no sheet has that colour"
    )
    assert error.remedy == "Check from_k, to_k and duv, or give a measured spectrum."


def test_the_least_loss_of_no_change_is_that_of_the_clearest_sheet() -> None:
    """-log2 of 0.92."""
    light = white(4300)
    assert least_loss_stops(light, uv(light)) == pytest.approx(-np.log2(CLEAREST), abs=1e-6)


def test_no_sheet_beats_the_least_loss() -> None:
    """200 random sheets of every kind, blocks and steps and noise: each loses at least as much
    as the least loss of its own colour."""
    rng = np.random.default_rng(5)
    light = white(4300)
    for kind in range(200):
        sheet: Floats = rng.uniform(0, CLEAREST, 81)
        if kind % 2:
            sheet = np.where(np.repeat(rng.uniform(0, 1, 9), 9) > 0.4, CLEAREST, 0.0)
        if not sheet[20:60].any():
            continue
        lost = stops_of_ratio(float(xyz(light * sheet)[1] / xyz(light)[1]))
        assert least_loss_stops(light, uv(light * sheet)) <= lost + 1e-6


def test_a_place_outside_the_horseshoe_has_no_least_loss() -> None:
    """Infinite, not an error."""
    assert least_loss_stops(white(3200), uv_of_xy(np.array([0.9, 0.9]))) == np.inf
