"""Laws of a trim: it never makes worse, it is one change, and what it says it does."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import asdict
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st

from evencast.actions.trim import trim
from evencast.errors import EvencastError
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.results.trim import Left, TrimAnswer
from tests.unit.actions.test_trim import PLAN, SHEETS, kit

HUNG = st.lists(st.sampled_from([each for each in SHEETS if "ND" not in each]), max_size=3)
LIGHTS = st.sampled_from(
    ["tungsten 3200 K", "daylight D65", "cool white tube FL2", "LED phosphor 2700 K B1"]
)
KELVIN = st.floats(2400.0, 9000.0)
DUV = st.floats(-0.012, 0.012)


def asked(light: str, sheets: list[str], read: str) -> TrimAnswer | None:
    """A trim of a key at 4300 K; None where no change of that light explains the reading."""
    with TemporaryDirectory() as folder:
        lights = f'[[light]]\nname = "lamp"\nrole = "key"\nbuiltin = "{light}"\n'
        hung = f"rigged = {{ filters = {json.dumps(sheets)} }}"
        text = PLAN.format(balance="{ fixed_k = 4300 }", camera="", lights=lights, hung=hung)
        (Path(folder) / "kit.toml").write_text(kit(), "utf-8")
        path = Path(folder) / "plan.toml"
        path.write_text(text, "utf-8")
        try:
            return trim(path, "lamp", read=read)
        except EvencastError as error:
            if "cannot have become one that reads" not in error.what:
                raise
            return None


def strain(left: Left) -> float:
    """Share of a key's tolerance, 1 at its edge."""
    if left.residual_mired is None or left.residual_duv is None:
        return np.inf
    allowed = DEFAULT_ALLOWED["key"]
    return float(allowed.strain(np.array(left.residual_mired), np.array(left.residual_duv)))


@given(LIGHTS, HUNG, KELVIN, DUV)
@example("cool white tube FL2", [], 4514.0, 0.00390625)  # 9 mired less, and a little greener
def test_a_trim_is_one_change_that_helps(
    light: str, sheets: list[str], cct_k: float, duv: float
) -> None:
    """At most one sheet goes and one comes; where the middle was outside it ends nearer or inside;
    where it was inside, or within half a grade, nothing is done."""
    found = asked(light, sheets, f"{cct_k:.0f}K{duv:+.4f}")
    if found is None:
        return
    before, after = (Counter(each.filters) for each in (found.hangs, found.after_hangs))
    out, into = (before - after).total(), (after - before).total()
    assert (out, into) == {
        "leave": (0, 0),
        "take out": (1, 0),
        "add": (0, 1),
        "exchange": (1, 1),
    }[found.move]
    if strain(found.before) <= 1.0:
        assert found.move == "leave"
    if found.move == "leave":
        assert found.before == found.after
    else:
        assert strain(found.after) < strain(found.before)
    assert "light frost" not in (before - after)
    json.dumps(asdict(found), allow_nan=False)


@given(LIGHTS, KELVIN, DUV)
def test_what_moved_and_what_is_left_are_the_same_where_nothing_hangs(
    light: str, cct_k: float, duv: float
) -> None:
    """A bare light has moved from what it was to what is read, and what is left is the reading
    against the balance: plain arithmetic."""
    found = asked(light, [], f"{cct_k:.0f}K{duv:+.4f}")
    if found is None:
        return
    assert found.expected_k is not None
    assert found.aim.mired is not None
    at_mired = 1e6 / round(cct_k)
    assert found.moved_mired is not None
    assert abs(found.moved_mired - (at_mired - 1e6 / found.expected_k)) < 0.01
    assert found.before.residual_mired is not None
    assert abs(found.before.residual_mired - (at_mired - found.aim.mired)) < 0.01
