from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import mired_duv, uv, white, white_uv
from evencast.errors import EvencastError
from evencast.solver import Aim, aim_at_kelvin, aim_at_look, aim_at_uv


def balance(cct_k: float) -> Aim:
    return aim_at_uv(f"{cct_k:g}K", white_uv(cct_k))


@pytest.mark.parametrize(("at_k", "to_k"), [(5600, 3200), (3200, 5600), (4300, 6500), (5600, 2000)])
def test_a_neutral_look_is_the_white_of_its_kelvin(at_k: float, to_k: float) -> None:
    """Tungsten seen from daylight is no magenta and daylight from tungsten no green, though
    their Duv differ by 0.003: the aim is the place of that white itself."""
    aim = aim_at_look(balance(at_k), label="x", mired_offset=1e6 / to_k - 1e6 / at_k, duv_offset=0)
    assert np.hypot(*(aim.uv - uv(white(to_k)))) < 2e-6
    assert aim.mired == pytest.approx(1e6 / to_k, abs=1e-3)


def test_green_comes_on_top_and_the_balance_keeps_its_own() -> None:
    """A balance 0.002 green of its white gives looks 0.002 greener; a look's own adds to it."""
    _, white_duv = mired_duv(white_uv(5600))
    greener = aim_at_kelvin("5600K", 5600, float(white_duv) + 0.002)
    aim = aim_at_look(greener, label="x", mired_offset=133.93, duv_offset=0.004, stops=-1)
    assert aim.duv == pytest.approx(0.006, abs=1e-5)  # a Planckian white has none of its own
    assert aim.stops == -1


def test_an_offset_off_the_whites_is_refused() -> None:
    with pytest.raises(EvencastError, match="is no white that light can have"):
        aim_at_look(balance(5600), label="x", mired_offset=900, duv_offset=0)
