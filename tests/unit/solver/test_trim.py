"""One sheet more, less or other, against the same worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evencast.colour import low_middle_high, mired_duv, uv, white, xyz
from evencast.filters import Filter, generic, stack
from evencast.lights import of_kelvin
from evencast.plan.tolerance import Allowed
from evencast.solver import aim_at_kelvin
from evencast.solver.trim import Change, judge_changes, one_sheet_changes

GRADES = ("eighth", "quarter", "half", "three-quarter", "full")
CTB = [generic(f"{grade} CTB") for grade in GRADES]
CTO = [generic(f"{grade} CTO") for grade in GRADES]
WITHIN_5 = Allowed(-5.0, 5.0, 0.0015, 0.25)
WITHIN_12 = Allowed(-12.0, 12.0, 0.003, 0.5)


def names(filters: list[Filter]) -> list[str]:
    return [each.name for each in filters]


def best(
    from_k: float, hangs: list[Filter], to_k: float, allowed: Allowed
) -> tuple[str, list[str]]:
    """Kind of the best change and the stack it leads to, with every grade at hand."""
    changes = one_sheet_changes(hangs, [*CTB, *CTO], movable=hangs, layers=3)
    _, duv = mired_duv(uv(white(to_k)))
    aim = aim_at_kelvin("aim", to_k, float(duv))
    result = judge_changes(of_kelvin(from_k), hangs, changes, aim, allowed)
    change = changes[result.order()[0]]
    return change.kind, names(change.of(hangs))


def test_every_change_of_one_sheet_is_there_once() -> None:
    """Leave, take out each of two, exchange each for three others, add any of four; two sheets
    of one filter are one."""
    half, quarter = CTB[2], CTB[1]
    at_hand = CTB[:4]
    changes = one_sheet_changes(
        [half, quarter, half], at_hand, movable=[half, quarter, half], layers=4
    )
    said = [
        (each.kind, each.out and each.out.name, each.into and each.into.name) for each in changes
    ]
    assert len(said) == len(set(said)) == 1 + 2 + 2 * 3 + 4
    assert said[0] == ("leave", None, None)
    assert ("exchange", "half CTB", "half CTB") not in said


def test_no_room_no_sheet_more_and_what_stays_stays() -> None:
    """Three layers are full; a sheet that may not be moved is neither taken out nor exchanged."""
    half, quarter, eighth = CTB[2], CTB[1], CTB[0]
    changes = one_sheet_changes([half, quarter, eighth], CTB, movable=[eighth], layers=3)
    assert {each.kind for each in changes} == {"leave", "take out", "exchange"}
    assert {each.out.name for each in changes if each.out} == {"eighth CTB"}


def test_an_exchange_keeps_its_place() -> None:
    """From the lamp outwards, and one of two alike alone."""
    half, quarter, full = CTB[2], CTB[1], CTB[4]
    hangs = [half, quarter, half]
    assert names(Change("exchange", half, full).of(hangs)) == [
        "full CTB",
        "quarter CTB",
        "half CTB",
    ]
    assert names(Change("take out", half).of(hangs)) == ["quarter CTB", "half CTB"]
    assert names(Change("add", into=full).of(hangs)) == [*names(hangs), "full CTB"]
    assert Change("leave").of(hangs) == hangs


def test_what_a_change_of_measured_sheets_does_is_the_product_of_spectra() -> None:
    """Residuals and loss of every change, worked out one by one."""
    sheets = [replace(each, possible=None, measured=True) for each in CTB]
    hangs = [sheets[2]]
    changes = one_sheet_changes(hangs, sheets, movable=hangs, layers=2)
    lamp, aim = of_kelvin(3200.0), aim_at_kelvin("aim", 4300.0, 0.001)
    found = judge_changes(lamp, hangs, changes, aim, WITHIN_12).found
    for row, change in enumerate(changes):
        through = lamp.power * stack(change.of(hangs))
        at_mired, duv = mired_duv(uv(through))
        lost = -np.log2(xyz(through)[1] / xyz(lamp.power)[1])
        assert found.residual_mired[row] == pytest.approx(at_mired - 1e6 / 4300.0, abs=1e-6)
        assert found.residual_duv[row] == pytest.approx(duv - 0.001, abs=1e-9)
        assert found.loss_stops[row] == pytest.approx(lost, abs=1e-9)


def test_sheets_known_by_name_are_judged_by_the_middle_of_what_they_may_be() -> None:
    """Member by member through light and sheets, two sheets of one filter alike, to single
    precision."""
    hangs, change = [CTB[1]], Change("add", into=CTB[1])
    lamp, aim = of_kelvin(3200.0), aim_at_kelvin("aim", 4073.0, 0.0)
    found = judge_changes(lamp, hangs, [Change("leave"), change], aim, WITHIN_5).found
    at_mired, duv = mired_duv(uv(lamp.power * CTB[1].members ** 2))
    middle = [float(low_middle_high(each)[1]) for each in (at_mired, duv)]
    assert found.residual_mired[1] == pytest.approx(middle[0] - 1e6 / 4073.0, abs=0.002)
    assert found.residual_duv[1] == pytest.approx(middle[1], abs=2e-6)
    inside = (np.abs(at_mired - 1e6 / 4073.0) <= 5.0) & (np.abs(duv) <= 0.0015)
    assert found.share_within[1] == pytest.approx(inside.mean())


def test_a_sheet_too_many_is_taken_out() -> None:
    """Half and eighth CTB on 3200 K where half is enough: the eighth comes out, and no CTO goes
    over it."""
    assert best(3200.0, [CTB[2], CTB[0]], 4073.0, WITHIN_5) == ("take out", ["half CTB"])


def test_a_sheet_that_works_against_one_that_hangs_is_none() -> None:
    """Half CTB where a quarter is wanted: exchanged, though a quarter CTO over it ends as near."""
    assert best(3200.0, [CTB[2]], 3584.0, WITHIN_12) == ("exchange", ["quarter CTB"])


def test_a_sheet_more_goes_before_an_exchange() -> None:
    """Half CTB where three-quarters are wanted: a quarter more, since that is one sheet in hand."""
    kind, stack_after = best(3200.0, [CTB[2]], 4712.0, WITHIN_12)
    assert (kind, stack_after) == ("add", ["half CTB", "quarter CTB"])
