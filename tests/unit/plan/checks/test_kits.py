from __future__ import annotations

from evencast.plan.checks import kits
from evencast.plan.kit import Kit
from evencast.plan.sketch import sketched
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


FRAME = {"kind": "Frame", "file": "a.jpg", "state": "bare", "balance_k": 3200.0}


def test_a_frame_says_what_it_shows() -> None:
    """A frame without state, balance or file is told with all that it lacks, and shown is the
    earlier of two alike; a state on anything else is a slip."""
    bag = kit(
        {"name": "sound", "evidence": [FRAME, FRAME | {"state": "filtered"}, {"kind": "a note"}]},
        {"name": "bare", "evidence": [{"kind": "frame"}, {"kind": "frame", "file": "a.jpg"}]},
        {"name": "twice", "evidence": [FRAME, FRAME | {"balance_k": 5600.0}, FRAME]},
        {"name": "slip", "evidence": [{"state": "bare", "balance_k": 3200.0}]},
    )
    told = kits.check_frames(bag)
    assert {each.severity for each in told} == {"warning"}
    assert [(each.where, each.message) for each in told] == [
        (
            'filter "bare".evidence[1]',
            'the frame is not shown: "file", "state" and "balance_k" are missing',
        ),
        (
            'filter "bare".evidence[2]',
            'the frame is not shown: "state" and "balance_k" are missing',
        ),
        ('filter "twice".evidence[3]', "an earlier frame shows the light bare at 3200 K too"),
        ('filter "slip".evidence[1]', '"state" and "balance_k" belong to a test frame'),
    ]


def test_a_frame_that_is_wrong_in_itself_is_not_told_twice() -> None:
    """A misspelt state and a balance that is no number are the only things said of a frame."""
    wrong = FRAME | {"state": "with", "balance_k": "warm"}
    sketch = sketched(
        Kit,
        {
            "format": 1,
            "name": "van",
            "filter": [{"name": "a", "role": "correction", "evidence": [wrong, wrong]}],
        },
    )
    assert kits.check_frames(sketch) == []
