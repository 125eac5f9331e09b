from __future__ import annotations

from evencast.plan.checks import kits
from tests.unit.plan.checks.made import kit, places


def test_names_and_ids_of_a_kit_are_unique() -> None:
    """Two filters of one name, and two pieces of one id, are errors."""
    piece = {"form": "sheet", "width_mm": 1, "length_mm": 1}
    bag = kit(
        {"name": "a", "stock": [piece | {"id": "B1"}, piece, piece]},
        {"name": "b", "stock": [piece | {"id": "b1"}]},
        {"name": "A"},
    )
    assert places(kits.check_filter_names(bag)) == [("error", 'filter "A"')]
    assert places(kits.check_stock_ids(bag)) == [("error", 'filter "b".stock "b1"')]


def test_an_empty_kit_is_worth_a_word() -> None:
    """A kit without filters is a warning, a kit with one is none."""
    assert places(kits.check_empty_kit(kit())) == [("warning", "filter")]
    assert kits.check_empty_kit(kit({"name": "a"})) == []


def test_generic_names_are_known_whatever_their_capitals() -> None:
    """An unknown filter names the nearest known ones."""
    bag = kit({"name": "a", "generic": "FULL CTB"}, {"name": "b", "generic": "ful CTB"})
    (problem,) = kits.check_generic_filters(bag, ["full CTB"])
    assert problem.where == 'filter "b".generic'
    assert problem.remedy == 'Did you mean "full CTB"? `evencast filters` lists them.'
