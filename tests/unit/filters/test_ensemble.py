"""What every spectrum of an ensemble has in common, and what it has not."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cie_1931_2deg, mired_duv, uv, white
from evencast.errors import EvencastError
from evencast.filters import generic, generic_names, stack_members
from evencast.filters.declared import KelvinDeclaration, from_kelvin
from evencast.filters.ensemble import (
    CLEAREST_PRINTED,
    ROUNDING_DUV,
    DeclaredNumbers,
    fitting_spectra,
)
from evencast.quantities import Floats
from evencast.spectra import MEMBERS

EDGE = 1.0501
"""Roundings are drawn a twentieth wider, and colour converges to 1e-5 u, v."""
SLACK_MIRED, SLACK_DUV, SLACK_STOPS = 0.06, 2e-5, 2e-5

FITTED = [
    name
    for name in generic_names()
    if generic(name).loss_range_stops is None and generic(name).role != "effect"
]


def loss_stops(light: Floats, through: Floats) -> Floats:
    luminous = light * cie_1931_2deg().cmf_grid[:, 1]
    return np.asarray(-np.log2(through @ luminous / luminous.sum()))


@pytest.mark.parametrize("name", FITTED)
def test_every_member_does_what_its_grade_is_named_for(name: str) -> None:
    """Within 2 mired, 0.002 Duv and 1/6 stop of the grade's own numbers on its own white."""
    sheet = generic(name)
    light = white(sheet.on_k)
    mired, duv = mired_duv(uv(light * sheet.transmittance))
    members_mired, members_duv = mired_duv(uv(light * sheet.members))
    assert np.abs(members_mired - mired).max() <= 2.0 * EDGE + SLACK_MIRED
    assert np.abs(members_duv - duv).max() <= ROUNDING_DUV * EDGE + SLACK_DUV
    off = loss_stops(light, sheet.members) - loss_stops(light, sheet.transmittance)
    assert np.abs(off).max() <= EDGE / 6 + SLACK_STOPS


@pytest.mark.parametrize("name", generic_names())
def test_members_are_sheets_that_could_exist_and_differ(name: str) -> None:
    members = generic(name).members
    assert members.shape == (MEMBERS, 81)
    assert (members > 0).all()
    assert (members <= 1.0).all()
    assert len(np.unique(members.round(9), axis=0)) == MEMBERS


def test_a_declared_sheet_keeps_to_its_own_rounding() -> None:
    """Kelvin to half a printed step, loss to half a printed third, on the declared light."""
    declared = KelvinDeclaration(3200, 4300, 1.0, rounding_k=25, rounding_stops=0.05)
    possible = from_kelvin(declared, key="a", where="kelvin").possible
    light = white(3200)
    mired, _ = mired_duv(uv(light * possible))
    assert np.abs(1e6 / mired - 4300).max() <= 25 * EDGE + 1.5
    assert np.abs(loss_stops(light, possible) - 1.0).max() <= 0.05 * EDGE + SLACK_STOPS
    assert possible.max() <= CLEAREST_PRINTED


def test_a_key_gives_the_same_spectra_always_and_another_key_others() -> None:
    """Members of two keys are paired by chance: no correlation of their losses at 450 nm."""
    declared = KelvinDeclaration(3200, 5600, 5 / 3)
    first, again, other = (
        from_kelvin(declared, key=key, where="kelvin").possible for key in ("a", "a", "b")
    )
    np.testing.assert_array_equal(first, again)
    assert abs(np.corrcoef(first[:, 14], other[:, 14])[0, 1]) < 0.2


def test_two_sheets_of_one_filter_are_alike() -> None:
    """Their doubts add up; sheets of two filters partly cancel."""
    light = white(5600)
    twice = stack_members([generic("quarter CTO"), generic("quarter CTO")])
    mixed = stack_members([generic("quarter CTO"), generic("quarter straw")])
    spread = [float(np.std(loss_stops(light, each))) for each in (twice, mixed)]
    assert spread[0] > 1.2 * spread[1]


def test_numbers_that_no_mixture_has_are_refused() -> None:
    """A full blue that loses a tenth of a stop."""
    with pytest.raises(EvencastError) as raised:
        fitting_spectra(DeclaredNumbers(white(3200), 1e6 / 5600, 0.003, 0.1, 1.0, 0.01), key="x")
    assert str(raised.value) == (
        "x: hardly any mixture of dyes takes that light to 5600 K at 0.10 stop\n"
        "Check the Kelvins, the Duv and the loss, or give a measured spectrum."
    )
