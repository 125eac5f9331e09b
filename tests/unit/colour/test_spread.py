"""The middle of an ensemble and its band, with members that have no colour temperature."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import low_middle_high, mired_duv, spread_of_power, uv, white
from evencast.spectra import GRID_NM


def test_low_middle_and_high_are_members_at_5_50_and_95_percent() -> None:
    """Of 0 to 100 in any order, over the last axis."""
    values = np.random.default_rng(1).permutation(101).astype(float)
    np.testing.assert_array_equal(low_middle_high(values), [5.0, 50.0, 95.0])
    both = np.stack([values, -values])
    np.testing.assert_array_equal(low_middle_high(both), [[5, -95], [50, -50], [95, -5]])


def test_a_single_member_is_its_own_band() -> None:
    np.testing.assert_array_equal(low_middle_high(np.array([3.0])), [3.0, 3.0, 3.0])


def test_members_without_cct_are_counted_beyond_the_others() -> None:
    """Six in a hundred bluer than any Planckian: the cool end does not exist, the middle does."""
    values = np.concatenate([np.full(6, -np.inf), np.linspace(100, 200, 94)])
    low, middle, high = low_middle_high(values)
    assert low == -np.inf
    assert 140 < middle < 150
    assert 190 < high < 200


def test_bluish_and_reddish_colours_without_cct_go_to_their_ends() -> None:
    """A 430 nm band has no CCT and counts as bluer than all; one at 650 nm as redder."""
    blue = np.exp(-(((GRID_NM - 430) / 20) ** 2))
    red = np.exp(-(((GRID_NM - 650) / 20) ** 2))
    spread = spread_of_power(np.stack([blue, white(5600), red]))
    assert spread.mired[0] == -np.inf
    assert spread.mired[1] == pytest.approx(float(mired_duv(uv(white(5600)))[0]), abs=1e-9)
    assert spread.mired[2] == np.inf


def test_leading_axes_and_empty_stacks_pass_through() -> None:
    power = np.stack([white(3200), white(5600)])
    spread = spread_of_power(np.broadcast_to(power, (3, 2, 81)))
    assert spread.uv.shape == (3, 2, 2)
    assert spread.mired.shape == spread.duv.shape == spread.luminous.shape == (3, 2)
    assert spread_of_power(np.empty((0, 81))).mired.shape == (0,)
