from __future__ import annotations

from typing import Any

import pytest

from evencast.plan.checks import together
from tests.unit.plan.checks.made import kit, night, places, plan

SHEETS = [{"form": "sheet", "width_mm": 530, "length_mm": 1220, "count": 2}]
NONE_LEFT = [{"form": "sheet", "width_mm": 530, "length_mm": 1220, "count": 0}]
OPENING = [{"width_mm": 170, "height_mm": 170}]


def test_a_kit_of_diffusion_alone_cannot_correct() -> None:
    """Only told where a light may be filtered, and not again for an empty kit."""
    frost = kit({"name": "frost", "role": "diffusion"})
    made = plan({"name": "a"}, {"name": "b", "moves": ["leave"]}, {"name": "c"})
    (problem,) = together.check_something_to_correct_with(made, frost)
    assert problem.message == (
        'nothing in the kit can correct "a", "c": no filter has the role correction, green or ND'
    )
    assert together.check_something_to_correct_with(made, kit()) == []
    assert together.check_something_to_correct_with(made, kit({"name": "blue"})) == []
    left = plan({"name": "b", "moves": ["leave"]})
    assert together.check_something_to_correct_with(left, frost) == []


def test_filters_of_unknown_number_are_told_in_one_warning() -> None:
    """Those that may be used: to correct, or as a frost that a light has. None left is known."""
    bag = kit(
        {"name": "full", "stock": SHEETS},
        {"name": "half", "stock": NONE_LEFT},
        {"name": "quarter"},
        {"name": "eighth", "stock": []},
        {"name": "frost", "role": "diffusion"},
        {"name": "silk", "role": "diffusion"},
        {"name": "rose", "role": "effect"},
    )
    (problem,) = together.check_unlimited(plan({"name": "a", "frost": ["Frost"]}), bag)
    assert (problem.severity, problem.where) == ("warning", "filter")
    assert problem.message == (
        'nothing says how much there is of "quarter", "eighth", "frost": not limited'
    )
    assert "count = 0" in problem.remedy
    (without,) = together.check_unlimited(plan({"name": "a"}), bag)
    assert '"quarter", "eighth": not' in without.message
    assert together.check_unlimited(plan({"name": "a", "moves": ["leave"]}), bag) == []


def test_a_kit_that_counts_nothing_is_told_without_its_names() -> None:
    """Sixty names in a row would help nobody."""
    (problem,) = together.check_unlimited(plan(), kit({"name": "full"}, {"name": "half"}))
    assert problem.message == "nothing says how much there is of any filter: not limited"
    (one,) = together.check_unlimited(plan(), kit({"name": "full"}))
    assert one.message == 'nothing says how much there is of "full": not limited'


def test_a_light_that_may_be_filtered_has_an_opening_to_cover() -> None:
    """Also where a set-up alone allows it; nothing is said where no filter is counted."""
    lights: tuple[dict[str, Any], ...] = (
        {"name": "a"},
        {"name": "b", "aperture": OPENING},
        {"name": "c", "moves": ["leave"]},
        {"name": "d", "moves": ["leave"]},
    )
    made = plan(*lights, setup=night({"name": "c", "moves": ["filter"]}))
    counted = kit({"name": "full", "stock": SHEETS})
    (problem,) = together.check_openings(made, counted)
    assert (problem.severity, problem.where) == ("warning", "light")
    assert problem.message == (
        '"a", "c" may be filtered and have no aperture: their pieces cannot be counted against '
        "the stock"
    )
    assert together.check_openings(made, kit({"name": "full"})) == []
    assert together.check_openings(plan(lights[1], lights[2]), counted) == []
    only_frost = kit({"name": "frost", "role": "diffusion", "stock": SHEETS})
    assert together.check_openings(made, only_frost) == []


def test_a_frost_is_diffusion_of_the_kit() -> None:
    """Another role and an unknown name are errors that name the kit's diffusion."""
    bag = kit({"name": "half CTB"}, {"name": "light frost", "role": "diffusion"})
    made = plan(
        {"name": "a", "frost": ["Light Frost", "half CTB"]},
        setup=night({"name": "a", "frost": ["light frst"]}),
    )
    role, name = together.check_frosts(made, bag)
    assert (role.severity, role.where) == ("error", 'light "a".frost')
    assert role.message == '"half CTB" has the role correction in the kit, and a frost is diffusion'
    assert (name.severity, name.where) == ("error", 'setup "night".light "a".frost')
    assert name.message == 'no filter of the kit is called "light frst"'
    assert name.remedy == role.remedy == 'Name one of the kit, such as "light frost".'
    (without,) = together.check_frosts(plan({"name": "a", "frost": ["silk"]}), kit())
    assert without.remedy == 'Add it to the kit, with role = "diffusion".'


@pytest.mark.parametrize("record", ["planned", "rigged"])
def test_what_was_planned_and_rigged_is_of_the_kit(record: str) -> None:
    """A sheet that the kit does not hold is worth a word; it may hang there all the same."""
    made = plan(setup=night({"name": "key", record: {"filters": ["FULL", "ful", "moss"]}}))
    found = together.check_hung(made, kit({"name": "full"}))
    where = f'setup "night".light "key".{record}.filters'
    assert places(found) == [("warning", where), ("warning", where)]
    assert found[0].message == 'no filter of the kit is called "ful"'
    assert found[0].remedy == 'Name one of the kit, such as "full".'
    assert together.check_hung(made, kit())[0].remedy == "Add it to the kit."
