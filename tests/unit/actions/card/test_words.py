from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from evencast.actions.card.numbers import Numbers, lamp_of, numbers, order
from evencast.actions.card.pictures import light_of_grey, tint
from evencast.actions.card.words import say_factor, say_percent, told
from evencast.camera.patches import Patch
from evencast.errors import EvencastError
from evencast.filters import Filter, generic
from evencast.lights import builtin
from evencast.lights.expression import light_of

BALANCES = (3200.0, 5600.0)
FLAT = np.ones(81)


def before(light: str, name: str) -> Numbers:
    return numbers(light_of(light), generic(name))


def grey_sheet(stops: float, role: str = "ND") -> Filter:
    return Filter("grey", role, FLAT * 2.0**-stops, measured=True)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("light", "name", "purpose"),
    [
        ("tungsten", "half CTB", "cools tungsten half the way to daylight, 3200 K to 4070 K"),
        ("tungsten", "full CTB", "cools tungsten all the way to daylight, 3200 K to 5600 K"),
        ("daylight", "quarter CTO", "warms daylight a quarter of the way to tungsten"),
        ("daylight", "double CTO", "warms daylight twice the way to tungsten"),
        ("tungsten", "full CTO", "warms tungsten by 1"),  # nothing to lead it to
        ("FL2", "half CTB", "cools cool white tube FL2 all the way to daylight, 4220 K"),
        ("low-pressure sodium", "full CTB", "hardly changes the colour of low-pressure sodium: no"),
        ("tungsten", "deep green", "turns tungsten green: so strong a colour"),
        ("daylight", "ND 0.6", "takes 2 stops and keeps the colour"),
        ("daylight", "light frost", "spreads the light; takes 1/3 stop to 2/3 stop by beam"),
        ("daylight", "half plus green", "adds green to daylight: strongly green, +0.0140"),
        ("daylight", "eighth minus green", "takes green away: daylight turns clearly magenta"),
    ],
)
def test_a_purpose_says_what_the_numbers_are(light: str, name: str, purpose: str) -> None:
    assert told(before(light, name), BALANCES).purpose.startswith(purpose)


@pytest.mark.parametrize("name", ["eighth CTB", "half CTB", "full CTB", "double CTB"])
def test_what_is_missing_is_the_way_less_the_shift(name: str) -> None:
    """134 mired from 3200 to 5600 K (1e6/3200 - 1e6/5600), less what the sheet does."""
    each = before("tungsten", name)
    rest = 1e6 / 3200 - 1e6 / 5600 + each.shift_mired
    (said,) = [text for text in told(each, BALANCES).limits if "mired" in text] or [""]
    if rest > 12:
        assert said == f"Too weak alone to make daylight of it: {round(rest)} mired are missing."
    elif rest < -12:
        assert said == f"Too strong to make daylight of it: it goes {round(-rest)} mired past."
    else:
        assert said == ""


def test_use_at_a_balance_says_what_is_left() -> None:
    use = told(before("tungsten", "half CTB"), BALANCES).use
    assert use == [
        "At 3200 K use it for a cool light on purpose: 67 mired cool.",
        "At 5600 K it takes tungsten from 134 mired warm to 67 mired warm: for a light that may "
        "stay warm.",
    ]
    use = told(before("tungsten", "full CTB"), BALANCES).use
    assert use[1] == "At 5600 K use it to bring tungsten to the balance: nothing is left."
    use = told(before("daylight", "full straw"), BALANCES).use
    assert re.fullmatch(
        r"At 3200 K it makes daylight as warm as the balance, and clearly green is left\.", use[0]
    )
    use = told(before("low-pressure sodium", "full CTB"), BALANCES).use
    assert use[0] == "At 3200 K low-pressure sodium stays 270 mired warm: leave it out."
    weak = Filter("weak", "correction", FLAT * np.linspace(0.9, 0.86, 81), measured=True)
    use = told(numbers(builtin("tungsten"), weak), BALANCES).use
    assert use[0] == "At 3200 K tungsten is near the balance with it and without: leave it out."


def test_darkness_is_told_in_percent_and_on_the_lens() -> None:
    """3 stops: an eighth is left, and f/8 becomes f/8 / 2^1.5 = f/2.8."""
    limits = told(numbers(builtin("daylight"), grey_sheet(3.0, "effect")), BALANCES).limits
    assert limits == ["It takes 3 stops: 12 % of the light is left, and f/8 becomes f/2.8."]
    limits = told(numbers(builtin("daylight"), grey_sheet(12.0, "effect")), BALANCES).limits
    assert "0.024 % of the light is left, and f/8 becomes less than f/0.7" in limits[0]


def test_a_grey_that_is_not_neutral_says_so() -> None:
    tinted = replace(grey_sheet(1.0), transmittance=0.5 * np.linspace(0.8, 1.2, 81))
    words = told(numbers(builtin("daylight"), tinted), BALANCES)
    assert "changes the colour" in words.purpose
    assert any("warmer" in each for each in words.limits)


def test_a_magenta_names_the_tubes_that_it_makes_clean() -> None:
    """FL6 reads +0.0060 and FL5 +0.0107 (CIE 15): a quarter of 0.007 leaves little of either."""
    (use,) = told(before("daylight", "quarter minus green"), BALANCES).use
    assert "light white tube FL6" in use
    assert "FL2" not in use
    (use,) = told(before("daylight", "full minus green"), BALANCES).use
    assert use.endswith("no common tube is.")


def test_a_plus_green_names_the_tubes_that_are_as_green() -> None:
    (use,) = told(before("daylight", "quarter plus green"), BALANCES).use
    assert "light white tube FL6" in use
    assert "tint" in use


def test_each_filter_is_meant_for_a_lamp() -> None:
    assert lamp_of(generic("half CTB")).name == "tungsten 3200 K"
    assert lamp_of(generic("half CTO")).name == "daylight 5600 K"
    cool = np.linspace(0.9, 0.4, 81)
    for role, curve, lamp in (
        ("correction", cool, "tungsten 3200 K"),
        ("correction", cool[::-1], "daylight 5600 K"),
        ("ND", cool, "daylight 5600 K"),
    ):
        each = Filter("m", role, curve, measured=True)  # type: ignore[arg-type]
        assert lamp_of(each).name == lamp
    declared = Filter("p", "correction", cool, measured=False, on_k=4300.0)
    assert lamp_of(declared).name == "4300K"


def test_a_sheet_that_passes_nothing_is_refused() -> None:
    with pytest.raises(EvencastError, match="nothing of daylight 5600 K passes"):
        numbers(builtin("daylight"), replace(grey_sheet(1.0), transmittance=0.0 * FLAT))


def test_order_is_by_role_series_and_strength() -> None:
    names = ["full CTB", "ND 0.3", "half CTB", "full CTO", "deep red", "ND 0.15", "heavy frost"]
    names += [
        "half plus green",
        "eighth plus green",
        "full CTO with ND 0.6",
        "full CTO with ND 0.3",
    ]
    found = sorted((numbers(lamp_of(generic(each)), generic(each)) for each in names), key=order)
    assert [each.filter.name for each in found] == [
        "half CTB",
        "full CTB",
        "full CTO",
        "full CTO with ND 0.3",
        "full CTO with ND 0.6",
        "eighth plus green",
        "half plus green",
        "ND 0.15",
        "ND 0.3",
        "heavy frost",
        "deep red",
    ]


@pytest.mark.parametrize(
    ("off_mired", "green", "looks"),
    [
        (0.0, 0.0, "neutral"),
        (0.0, 0.004, "clearly green"),
        (10.0, 0.0, "all but neutral"),
        (-30.0, 0.0, "a little cool"),
        (60.0, -0.002, "warm and a little magenta"),
        (134.0, 0.0, "orange"),
        (-134.0, 0.0005, "blue"),
        (-250.0, 0.0, "deep blue"),
        (None, 0.0, "a strong colour"),
    ],
)
def test_how_a_card_looks(off_mired: float | None, green: float, looks: str) -> None:
    assert tint(off_mired, green) == looks


@pytest.mark.parametrize(
    ("percent", "said"),
    [
        *((100.0, "100 %"), (51.8, "52 %"), (9.95, "10 %"), (9.94, "9.9 %"), (0.5, "0.50 %")),
        *((0.02441, "0.024 %"), (1e-5, "0.000010 %")),
    ],
)
def test_a_share_is_said_to_two_figures(percent: float, said: str) -> None:
    assert say_percent(percent) == said


def test_factors_are_said_to_two_figures() -> None:
    assert [say_factor(each) for each in (1.0, 1.93, 9.949, 9.951, 4096.0)] == [
        *("1.0", "1.9", "9.9", "10", "4096")
    ]


def test_grey_is_as_bright_as_its_code_says() -> None:
    """#767676 is the code of 18 percent (IEC 61966-2-1)."""
    assert light_of_grey([Patch("grey", "#767676", False)]) == pytest.approx(18.1, abs=0.1)
    assert light_of_grey([Patch("grey", "#ffffff", False)]) == pytest.approx(100.0)
