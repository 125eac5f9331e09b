from __future__ import annotations

from typing import get_args

import numpy as np
import pytest

from evencast.colour import cct_duv, uv
from evencast.lights import (
    Fitting,
    aliases,
    builtin,
    builtin_names,
    builtin_names_and_aliases,
)


def test_every_name_builds_a_light_that_shines() -> None:
    """Under its own name, finite, nowhere negative, of a known fitting."""
    for name in builtin_names():
        light = builtin(name)
        assert light.name == name
        assert light.power.shape == (81,)
        assert np.isfinite(light.power).all()
        assert (light.power >= 0).all()
        assert light.power.max() > 0
        assert light.kind
        assert light.fitting in get_args(Fitting)
        assert not light.assumed


def test_no_two_lights_share_a_name() -> None:
    """Names and short names, without regard to case; a light may have itself as short name."""
    seen: dict[str, str] = {}
    for name in builtin_names():
        for each in (name, *aliases(name)):
            assert seen.setdefault(each.casefold(), name) == name, each
            assert builtin(each).name == name
    assert {each.casefold() for each in builtin_names_and_aliases()} == set(seen)


@pytest.mark.parametrize(("name", "cct_k"), [("tungsten 3200 K", 3200), ("daylight 5600 K", 5600)])
def test_the_two_whites_of_a_camera_are_exact(name: str, cct_k: float) -> None:
    """Within 0.01 K."""
    assert cct_duv(uv(builtin(name).power))[0] == pytest.approx(cct_k, abs=0.01)


def test_kelvin_in_a_name_or_note_is_about_right() -> None:
    """Names are rounded by their makers: within 8 % of what the spectrum gives."""
    checked = 0
    for name in builtin_names():
        found = float(cct_duv(uv(builtin(name).power))[0])
        if " K" not in name or not np.isfinite(found):
            continue
        named_k = float(name.split(" K")[0].split()[-1])
        assert found == pytest.approx(named_k, rel=0.08), name
        checked += 1
    assert checked > 30
