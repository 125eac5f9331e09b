"""Cures of a plan's light: what each gives, and which of them are open to it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evencast.actions.cures import cures, plan_cures, say_nd
from evencast.actions.standing import Around, OtherBalance, OtherLight, Stands
from evencast.actions.taking import Taking
from evencast.filters import generic
from evencast.lights import Fitting, builtin
from evencast.lights.level import Level
from evencast.results.expose import Cure, Range
from evencast.solver.aim import aim_at_kelvin

CAMERA = Taking(800.0, 1 / 48, 24.0, (250.0, 330.0), 60)
FRESNEL, PANEL = builtin("tungsten 3200 K"), builtin("two-colour LED panel")
WINDOW = replace(builtin("daylight D65"), fitting="window")
CTB = [generic(f"{grade} CTB") for grade in ("eighth", "quarter", "half", "full")]
FULL = CTB[-1]
AIM = aim_at_kelvin("5600K", 5600.0, 0.0)
ALONE = Around()


def told(
    gap: Range, stands: Stands, around: Around = ALONE, *, met_stops: float = 1 / 6
) -> list[Cure]:
    return plan_cures(gap, stands, around, camera=CAMERA, met_stops=met_stops)


def texts(gap: Range, stands: Stands, around: Around = ALONE) -> list[str]:
    return [each.text for each in told(gap, stands, around)]


def beginning(word: str, found: list[Cure]) -> Cure:
    (cure,) = [each for each in found if each.text.startswith(word)]
    return cure


EVERYTHING = Stands(
    FRESNEL,
    distance_m=3.0,
    focus="flood",
    filters=[FULL],
    scrim_stops=(0.5, 0.5),
    dim_stops=0.5,
    frost=[generic("light frost")],
    frost_stops=(0.17, 0.6),
    aim=AIM,
)


def test_the_order_is_that_of_the_costs() -> None:
    """What only takes light, moves, colour, camera, other lights, time, blur."""
    around = Around(
        shot_f_number=8.0,
        at_hand=CTB,
        balances=[OtherBalance("3200K", 0.0)],
        level=Level(1000.0, 1000.0, "lux", 3.0),
        others=[OtherLight("spare", FRESNEL, Level(9000.0, 9000.0, "lux", 3.0))],
    )
    found = texts((1.94, 2.34), EVERYTHING, around)
    begins = [each.split(":")[0].split(" for ")[0] for each in found]
    assert begins == [
        *("Scrims out", "Dimmer up", "Closer", "Spot"),
        *("half CTB", "Without full CTB", "Without light frost", "Balance 3200K"),
        *("Lens at f/3.5 to f/4", "Index 3100 to 4100"),
        *('Swap places with "spare"', "Shutter"),
    ]


def test_the_taught_half_blue_and_what_it_leaves() -> None:
    """Half in place of full CTB gives the difference of their losses and leaves 67 mired warm;
    without any it is 134 mired warm."""
    stands = Stands(FRESNEL, filters=[FULL], aim=AIM)
    found = told((1.94, 2.34), stands, Around(at_hand=CTB))
    half = beginning("half CTB for full CTB", found)
    assert ", and it is 67 mired warm" in half.text
    assert half.gain_stops[0] == pytest.approx(0.71, abs=0.1)
    assert half.enough is False
    without = beginning("Without full CTB", found)
    assert ", and it is 134 mired warm" in without.text
    assert without.gain_stops[0] == pytest.approx(1.66, abs=0.1)


def test_the_strongest_weaker_sheet_that_is_enough_is_named() -> None:
    """One stop missing: beside the next grade the one that gives it."""
    stands = Stands(FRESNEL, filters=[FULL], aim=AIM)
    found = [each.text for each in told((1.0, 1.0), stands, Around(at_hand=CTB))]
    assert found[0].startswith("half CTB for full CTB")
    assert found[1].startswith("quarter CTB for full CTB")
    assert told((1.0, 1.0), stands, Around(at_hand=CTB))[1].enough is True
    assert not any(each.startswith("eighth") for each in found)


def test_a_weaker_sheet_is_one_that_moves_the_same_way() -> None:
    """By what it does on this light, whatever its series is called: never a green or an orange,
    nor one that is as strong."""
    at_hand = [
        *(generic(name) for name in ("half CTO", "half plus green", "deep blue", "full CTB")),
        replace(generic("half CTB"), name="blue 2", series=""),
        generic("ND 0.3"),
    ]
    stands = Stands(FRESNEL, filters=[FULL, generic("ND 0.6")], aim=AIM)
    found = [each.text.split(":")[0] for each in told((0.5, 0.5), stands, Around(at_hand=at_hand))]
    assert [each for each in found if " for " in each] == [
        "blue 2 for full CTB",
        "ND 0.3 for ND 0.6",
    ]


def test_a_sheet_among_others_is_told_once_and_with_the_rest_in_place() -> None:
    """Two of one kind are one line; what stays hangs on."""
    stands = Stands(FRESNEL, filters=[CTB[2], CTB[2]], aim=AIM)
    found = [each for each in told((1.0, 1.0), stands) if each.text.startswith("Without")]
    (one,) = found
    assert ", and it is 6" in one.text
    assert one.gain_stops[0] == pytest.approx(0.9, abs=0.2)


def test_a_gap_to_another_light_is_not_cured_by_the_camera() -> None:
    """A higher index or an open lens makes that one brighter too; but it may fall by itself."""
    against = Around(against="window", falls=True, shot_f_number=8.0)
    found = texts((2.0, 2.0), Stands(FRESNEL, distance_m=4.0), against)
    assert [each.split(":")[0].split(" ")[0] for each in found] == ["Closer", "Wait"]
    assert found[1] == (
        'Wait until "window" has fallen by 2 stops: dusk, cloud or shade; then read its colour '
        "again"
    )
    steady = Around(against="lamp", falls=False)
    assert not any("Wait" in each for each in texts((2.0, 2.0), EVERYTHING, steady))
    over = texts((-2.0, -2.0), Stands(FRESNEL, distance_m=4.0), against)
    assert not any(each.startswith(("Index", "Lens")) for each in over)


def test_a_window_stays_where_it_is() -> None:
    """Neither closer nor swapped nor scrimmed nor dimmed."""
    others = [OtherLight("spare", FRESNEL, Level(9000.0, 9000.0, "lux", 3.0))]
    around = Around(against="key", level=Level(10.0, 10.0, "lux", 3.0), others=others)
    assert texts((2.0, 2.0), Stands(WINDOW, distance_m=3.0), around) == [
        '"key" down by 2 stops instead, and the lens open by as much'
    ]
    assert texts((-2.0, -2.0), Stands(WINDOW, distance_m=3.0), around) == [
        "ND: 2 stops, without a change of colour (ND 0.6)"
    ]


def test_too_near_for_its_size_is_said() -> None:
    """1.2 m of frost at 1 m gains less than inverse square says; nearer than its own width the
    move is not enough."""
    closer = beginning("Closer", told((2.0, 2.0), Stands(PANEL, distance_m=2.0, size_m=1.2)))
    assert closer.text == (
        "Closer: 1 m from the subject; near for its 1.2 m, so it gains less than that: meter it"
    )
    assert closer.enough is False
    far = beginning("Closer", told((2.0, 2.0), Stands(PANEL, distance_m=8.0, size_m=0.3)))
    assert far.text == "Closer: 4 m from the subject"
    assert far.enough is True


def test_another_light_changes_places_if_it_is_brighter_and_can_spare_it() -> None:
    """Moved to where this one stands, 4000 lx at 1.5 m are 1000 lx at 3 m: one stop over 500."""
    here = Level(500.0, 500.0, "lux", 3.0)

    def swaps(gap_stops: float | None, level: Level, fitting: Fitting = "fixture") -> list[Cure]:
        other = OtherLight("spare", replace(FRESNEL, fitting=fitting), level, gap_stops)
        around = Around(against="key", level=here, others=[other])
        return [e for e in told((1.0, 1.0), Stands(FRESNEL), around) if "Swap" in e.text]

    bright = Level(4000.0, 4000.0, "lux", 1.5)
    (cure,) = swaps(-1.0, bright)
    assert cure.gain_stops == (1.0, 1.0)
    assert cure.enough is True
    assert cure.text == (
        'Swap places with "spare": 1 stop before sheets, and as much less where that one stands'
    )
    assert len(swaps(None, bright)) == 1
    assert swaps(0.0, bright) == []
    assert swaps(-1.0, Level(900.0, 900.0, "lux", 1.5)) == []
    assert swaps(-1.0, bright, fitting="street") == []
    assert swaps(-1.0, replace(bright, distance_m=None)) == []
    read_as_stop = Level(1000.0 / 250, 1000.0 / 250, "meter", 3.0)
    (mixed,) = swaps(None, read_as_stop)
    assert mixed.gain_stops == pytest.approx((1.0, 1.4005), abs=1e-3)


def test_the_two_balances_that_give_most_are_named() -> None:
    """What its sheets take now, less what they would take there."""
    balances = [OtherBalance(f"{k}K", loss) for k, loss in ((5000, 1.6), (4300, 0.9), (3200, 0.0))]
    stands = Stands(FRESNEL, filters=[FULL])
    found = [
        each
        for each in told((1.0, 1.0), stands, Around(balances=balances))
        if each.text.startswith("Balance")
    ]
    assert [each.text.split(":")[0] for each in found] == ["Balance 3200K", "Balance 4300K"]
    assert found[0].gain_stops[0] - found[1].gain_stops[0] == pytest.approx(0.9, abs=1e-3)
    assert "its sheets take no stop there" in found[0].text


def test_too_much_light_is_taken_away() -> None:
    """2 stops: two doubles or ND 0.6, twice the distance; a filament warms by 58 mired on its
    dimmer, here from 0 to 58 beside its own white."""
    warm = Stands(FRESNEL, distance_m=2.0, aim=aim_at_kelvin("3200K", 3200.0, 0.0))
    found = texts((-2.0, -2.0), warm, Around(shot_f_number=4.0))
    assert found == [
        "Scrim or ND: 2 stops, without a change of colour (double + double, or ND 0.6)",
        "Dimmer: 2 stops, and it is 58 mired warm",
        "Further: 4 m from the subject",
        "Lens at f/8: all else darker by as much",
        "Index 200",
    ]
    panel = texts((-1.0, -1.0), Stands(PANEL), Around(against="key"))
    assert panel == [
        "ND: 1 stop, without a change of colour (ND 0.3)",
        "Dimmer of its own: 1 stop; read its colour again",
    ]


def test_a_filament_dimmed_too_far_is_not_proposed() -> None:
    assert not any("Dimmer" in each for each in texts((-5.0, -5.0), Stands(FRESNEL)))


@pytest.mark.parametrize(
    ("stops", "said"),
    [
        (0.1, ""),
        (0.5, "ND 0.15"),
        (1.0, "ND 0.3"),
        (1.5, "ND 0.3 + ND 0.15"),
        (2.0, "ND 0.6"),
        (4.0, "ND 1.2"),
        (5.0, "ND 0.9 + ND 0.6"),
        (8.0, "ND 1.2 + ND 1.2"),
    ],
)
def test_nd_by_its_density(stops: float, said: str) -> None:
    """0.3 of density takes 0.997 stop; one sheet before two that take the same."""
    assert say_nd(stops) == said


def test_within_what_is_allowed_there_is_nothing_to_cure() -> None:
    """To either side, at the worst end."""
    for gap in ((-0.5, 0.5), (0.0, 0.4), (-0.4, 0.0)):
        assert told(gap, EVERYTHING, met_stops=0.5) == []
    assert told((0.0, 0.6), EVERYTHING, met_stops=0.5) != []
    assert told((-0.6, 0.0), EVERYTHING, met_stops=0.5) != []


@pytest.mark.parametrize("gap", [(1e308, 1e308), (-1e308, -1e308)])
def test_a_gap_beyond_all_light_still_answers(gap: Range) -> None:
    assert told(gap, EVERYTHING)


def test_one_light_alone_has_no_plan_around_it() -> None:
    assert cures((2.0, 2.0), EVERYTHING, camera=CAMERA) == told((2.0, 2.0), EVERYTHING)
