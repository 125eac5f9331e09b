"""Kits with printed x, y and percentage, from the document to the answer."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from evencast.actions.kit import LoadedKit, load_kit
from evencast.actions.match import match
from evencast.actions.through import through
from evencast.colour import xy_of_xyz, xyz
from evencast.errors import DocumentErrors, Problem
from evencast.lights import builtin
from evencast.spectra import MEMBERS

# A full blue, 3200 to 5600 K: the generic one's own numbers, rounded.
UNDER_A = '{ illuminant = "A", x = 0.3572, y = 0.3658, Y_percent = 30.9 }'
UNDER_D65 = '{ illuminant = "D65", x = 0.2331, y = 0.2426, Y_percent = 34.4 }'


NUMBER = r"(\d+(?:\.\d)?)"
TOLD = re.compile(
    f"printed under A alone, which leaves its shift open by {NUMBER} mired either way on "
    f"daylight, {NUMBER} on a phosphor LED and {NUMBER} on a three-band tube; under D65 as well "
    f"by {NUMBER}, {NUMBER} and {NUMBER}"
)


def load(folder: Path, **sheets: str) -> LoadedKit:
    """A kit of sheets, each with the entries of its `xyy`."""
    path = folder / "kit.toml"
    filters = [
        f'[[filter]]\nname = "{name}"\nrole = "correction"\nxyy = [ {entries} ]'
        for name, entries in sheets.items()
    ]
    path.write_text("\n".join(['format = 1\nname = "x"', *filters, ""]), "utf-8")
    return load_kit(path)


def problem_of(folder: Path, entries: str) -> Problem:
    with pytest.raises(DocumentErrors) as raised:
        load(folder, blue=entries)
    (problem,) = raised.value.problems
    return problem


def test_a_sheet_printed_under_both_is_taken_as_printed(tmp_path: Path) -> None:
    """Its x, y and percentage under A and D65 are those printed, within half a digit; it has an
    ensemble, no note and no warning."""
    kit = load(tmp_path, blue=f"{UNDER_A}, {UNDER_D65}")
    blue = kit.find("blue")
    assert blue is not None
    for name, wanted in (("A", (0.3572, 0.3658, 30.9)), ("D65", (0.2331, 0.2426, 34.4))):
        power = builtin(name).power
        passed = xyz(power * blue.transmittance)
        percent = 100.0 * passed[1] / xyz(power)[1]
        np.testing.assert_allclose(xy_of_xyz(passed), wanted[:2], atol=5.001e-5)
        assert percent == pytest.approx(wanted[2], abs=0.05001)
    assert (blue.measured, blue.note, blue.on_k) == (False, "", 3200.0)
    assert blue.possible is not None
    assert blue.possible.shape == (MEMBERS, 81)
    assert kit.problems == ()


def test_one_illuminant_alone_asks_for_the_other(tmp_path: Path) -> None:
    """What D65 would buy is told with this very sheet's numbers, and is its note as well."""
    kit = load(tmp_path, blue=UNDER_A)
    (problem,) = kit.problems
    assert (problem.severity, problem.where) == ("warning", 'kit.toml, filter "blue".xyy')
    assert problem.remedy == "Add its x, y and Y_percent under D65."
    told = TOLD.fullmatch(problem.message)
    assert told is not None, problem.message
    now, then = (float(each) for each in told.groups()[:3]), map(float, told.groups()[3:])
    assert all(after < before for before, after in zip(now, then, strict=True))
    blue = kit.find("blue")
    assert blue is not None
    assert blue.note == problem.message


def test_what_the_other_is_foretold_to_buy_it_buys(tmp_path: Path) -> None:
    """The band on a phosphor LED is as wide as told, with A alone and once D65 is written: to a
    mired and a third of it, for the real numbers are not those foretold."""
    alone = load(tmp_path, blue=UNDER_A)
    told = TOLD.fullmatch(alone.problems[0].message)
    assert told is not None
    now, then = float(told[2]), float(told[5])
    for entries, half_mired in ((UNDER_A, now), (f"{UNDER_A}, {UNDER_D65}", then)):
        load(tmp_path, blue=entries)
        answer = through("LED-B3", ["blue"], kind=None, kit=tmp_path / "kit.toml")
        assert answer.band is not None
        low, high = answer.band["shift_mired"]
        assert low is not None
        assert high is not None
        assert (high - low) / 2 == pytest.approx(half_mired, abs=1.0 + half_mired / 3)


def test_sheets_that_lack_an_illuminant_are_told_in_one_warning(tmp_path: Path) -> None:
    """The most doubtful one with its numbers, the others by name; one with both is not named."""
    kit = load(
        tmp_path,
        pale='{ illuminant = "D65", x = 0.2908, y = 0.3090, Y_percent = 61.5 }',
        blue=UNDER_A,
        known=f"{UNDER_A}, {UNDER_D65}",
    )
    (problem,) = kit.problems
    assert problem.where == 'kit.toml, filter "blue".xyy'
    assert problem.remedy == 'Add its x, y and Y_percent under D65. The same goes for "pale".'
    pale = kit.find("pale")
    assert pale is not None
    assert pale.note.startswith("printed under D65 alone, which leaves its shift open by ")
    assert " mired either way on tungsten, " in pale.note
    assert "; under A as well by " in pale.note


def test_numbers_that_hardly_go_together_are_told(tmp_path: Path) -> None:
    """White under A, and a percent brighter under D65: some sheet does that, no smooth one."""
    kit = load(
        tmp_path,
        grey='{ illuminant = "A", x = 0.4476, y = 0.4074, Y_percent = 50.0 },'
        '{ illuminant = "D65", x = 0.3127, y = 0.3290, Y_percent = 51.0 }',
    )
    (problem,) = kit.problems
    assert (problem.severity, problem.where) == ("warning", 'kit.toml, filter "grey".xyy')
    assert problem.message == (
        "hardly any sheet has these numbers: a smooth one misses Y_percent under A by 6.4 times "
        "its rounding"
    )
    assert problem.remedy == "Check the digits and the illuminants."


def test_numbers_no_sheet_has_keep_the_kit_from_use(tmp_path: Path) -> None:
    """With the filter's name and where in it."""
    problem = problem_of(tmp_path, '{ illuminant = "A", x = 0.3420, y = 0.3440, Y_percent = 60.0 }')
    assert (problem.severity, problem.where) == ("error", 'kit.toml, filter "blue" (xyy)')
    assert problem.message == (
        "60 percent is more than any sheet of x 0.342, y 0.344 under A passes: the clearest "
        "passes 35.71, 485.71 times its rounding less"
    )
    assert problem.remedy == (
        "Check x, y, Y_percent and the illuminant, or give a measured spectrum."
    )


def test_one_illuminant_given_twice_is_told(tmp_path: Path) -> None:
    problem = problem_of(tmp_path, f"{UNDER_A}, {UNDER_A}")
    assert problem.message == "the numbers under A are given twice"


def test_a_printed_sheet_is_searched_like_any_other(tmp_path: Path) -> None:
    """It cools tungsten, and the best stack for daylight has it, with a band."""
    load(tmp_path, blue=f"{UNDER_A}, {UNDER_D65}")
    answer = match(
        "tungsten",
        kind=None,
        aim_text="5600K",
        balance=None,
        role="fill",
        layers=2,
        most=3,
        kit=tmp_path / "kit.toml",
    )
    assert answer.choices[0].filters == ["blue"]
    assert answer.choices[0].band is not None
    assert answer.problems == []
