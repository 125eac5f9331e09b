"""A view against the shot: its reading, its sheets and its ND, each by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from evencast.actions.cautions import WINDOW
from evencast.actions.levels import BareLevel
from evencast.actions.taking import Taking
from evencast.actions.views import NOT_JUDGED, WINDOW_ND, View, say_over, view_answer
from evencast.camera.exposure import meter_level_of_ev
from evencast.colour import uv
from evencast.filters import Filter, generic
from evencast.lights import builtin
from evencast.lights.level import Level
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.results.exposure import ViewAnswer
from evencast.solver.aim import Aim, aim_at_uv

CAMERA = Taking(800.0, 1 / 48, 24.0, (250.0, 330.0), 60)
DAY = builtin("daylight D65")
OWN_WHITE = aim_at_uv("itself", uv(DAY.power))
SHOT = 4.0


def grey(name: str, density: float) -> Filter:
    """A measured neutral: exactly so dense at every wavelength."""
    return Filter(name, "ND", np.full(81, 10.0**-density), measured=True)


GREYS = [grey("grey 0.3", 0.3), grey("grey 0.6", 0.6), grey("grey 0.9", 0.9)]


def answer(
    over_stops: float,
    *,
    filters: tuple[Filter, ...] = (),
    aim_stops: float | None = 2.0,
    at_hand: list[Filter] = GREYS,
    aim: Aim = OWN_WHITE,
    frost: tuple[float, float] = (0.0, 0.0),
) -> ViewAnswer:
    """Of a view that reads so far over a shot at f/4."""
    value = SHOT**2 * 48 / 800 * 2.0**over_stops
    bare = BareLevel(Level(value, value, "meter"), "read", ["as read"], frost)
    view = View("yard", DAY, bare, filters, aim, aim_stops, DEFAULT_ALLOWED["view"])
    return view_answer(view, camera=CAMERA, shot_f_number=SHOT, at_hand=at_hand)


def test_how_far_over_an_ev_is() -> None:
    """EV 13 at ISO 800 and 1/48 s is f/36.95: 6.42 stops over f/4."""
    value = meter_level_of_ev(13.0)
    bare = BareLevel(Level(value, value, "meter"), "EV 13", [], (0.0, 0.0))
    view = View("yard", DAY, bare, [], OWN_WHITE, None, DEFAULT_ALLOWED["view"])
    told = view_answer(view, camera=CAMERA, shot_f_number=SHOT, at_hand=[])
    by_hand = math.log2(2**13 / 100 * 800 / 48 / 16)
    assert told.bare_over_stops == pytest.approx((by_hand, by_hand), abs=1e-4)
    assert told.over_stops == pytest.approx((by_hand,) * 3, abs=1e-4)


def test_a_view_where_it_may_be_needs_nothing() -> None:
    """2 stops over, give or take one: 2.9 is inside."""
    told = answer(2.9)
    assert (told.may_be_stops, told.within_tolerance) == ((1.0, 3.0), True)
    (bare,) = told.nd
    assert bare.nd == []
    assert bare.needed_density == pytest.approx(0.2709, abs=1e-4)
    assert (told.cures, told.cautions, told.notes) == ([], [], ["as read"])


def test_the_nd_it_needs() -> None:
    """5 over and 2 wanted: 3 stops, a density of 0.903; 0.6 leaves it 3.007 over, just outside,
    0.9 at 2.01."""
    told = answer(5.0)
    (bare,) = told.nd
    assert bare.needed_stops == 3.0
    assert bare.needed_density == pytest.approx(0.9031, abs=1e-4)
    assert bare.nd == ["grey 0.9"]
    assert bare.over_stops == pytest.approx((5 - 0.9 / math.log10(2),) * 3, abs=1e-4)
    assert (bare.residual_mired, bare.residual_duv) == pytest.approx((0.0, 0.0), abs=1e-6)
    assert (bare.at_hand, bare.within_tolerance) == (True, True)
    assert bare.text == "grey 0.9: 2 stops over the shot, 0 mired"
    assert told.cautions == [WINDOW]
    assert told.notes == ["as read", WINDOW_ND]


def test_with_colour_and_without() -> None:
    """Behind full CTO it needs as much less as the orange takes, and is as much warmer."""
    orange = generic("full CTO")
    told = answer(5.0, filters=(orange,))
    with_it, alone = told.nd
    assert (with_it.filters, alone.filters) == (["full CTO"], [])
    taken = alone.needed_stops - with_it.needed_stops
    assert taken == pytest.approx(5.0 - told.over_stops[1], abs=1e-3)
    assert 0.5 < taken < 1.1
    assert told.residual_mired == pytest.approx(130, abs=10)
    assert with_it.residual_mired == pytest.approx(told.residual_mired, abs=1e-6)
    assert alone.residual_mired == pytest.approx(0.0, abs=1e-6)
    assert alone.text.startswith("grey 0.9 alone: ")
    assert told.over_stops[0] < told.over_stops[1] < told.over_stops[2]


def test_what_the_kit_lacks_is_said() -> None:
    """Without ND in the kit, that which is sold; with too weak ND, as well."""
    for at_hand in ([], [grey("grey 0.15", 0.15)]):
        (bare,) = answer(5.0, at_hand=at_hand).nd
        assert (bare.nd, bare.at_hand, bare.within_tolerance) == (["ND 0.9"], False, True)
        assert bare.text.endswith("; not all of it is in the kit")


def test_beyond_two_of_the_strongest_the_nearest_is_told() -> None:
    """20 over: two ND 1.2 are not enough, and it says so."""
    (bare,) = answer(20.0).nd
    assert (bare.nd, bare.within_tolerance) == (["ND 1.2", "ND 1.2"], False)


def test_the_cures_of_a_view_begin_with_waiting() -> None:
    """ND on the glass is the last."""
    found = answer(5.0).cures
    assert [each.text for each in found] == [
        "Wait until it has fallen by 3 stops: dusk, cloud or shade; then read its colour again",
        "Inside 3 stops more on every light, and the lens closed by as much",
        "grey 0.9: 2 stops over the shot, 0 mired",
    ]
    assert found[0].gain_stops == (-3.0, -3.0)
    assert found[2].gain_stops[0] == pytest.approx(-0.9 / math.log10(2), abs=1e-4)


def test_a_view_too_dark_gets_its_sheets_off() -> None:
    """1 stop over behind 0.9 of grey where 4 are wanted."""
    told = answer(4.0, filters=(GREYS[2],), aim_stops=4.0)
    assert told.within_tolerance is False
    assert [each.text for each in told.cures] == [
        "grey 0.6 for grey 0.9: 1 stop, and it is still as wanted",
        "Without grey 0.9: 3 stops, and it is still as wanted",
    ]
    assert [each.enough for each in told.cures] == [False, True]
    assert all(each.nd == [] for each in told.nd)


def test_frost_on_the_pane_counts() -> None:
    told = answer(5.0, frost=(1.0, 2.0))
    assert told.over_stops == (3.0, 3.5, 4.0)


def test_a_view_that_is_not_judged_says_how_it_may_be() -> None:
    told = answer(5.0, aim_stops=None)
    assert (told.may_be_stops, told.within_tolerance, told.nd, told.cures) == (None, None, [], [])
    assert told.notes == ["as read", NOT_JUDGED]


@pytest.mark.parametrize(
    ("stops", "said"),
    [
        (2.0, "2 stops over the shot"),
        (-1.0, "1 stop under the shot"),
        (0.0, "as bright as the shot"),
    ],
)
def test_over_and_under_in_words(stops: float, said: str) -> None:
    assert say_over(stops) == said
