"""The kit's stock as a scene asks for it."""

from __future__ import annotations

import math
from pathlib import Path

from evencast.actions.kit import load_kit
from evencast.actions.shelves import Shelves
from evencast.cutting.count import Piece

KIT = """format = 1
name = "pouch"
[[filter]]
name = "blue"
role = "correction"
generic = "full CTB"
stock = [
  { form = "offcut", width_mm = 300, length_mm = 400 },
  { form = "sheet", width_mm = 530, length_mm = 1220, count = 2 },
]
[[filter]]
name = "frost"
role = "diffusion"
generic = "light frost"
stock = [{ form = "sheet", width_mm = 530, length_mm = 1220, count = 9 }]
[[filter]]
name = "orange"
role = "correction"
generic = "full CTO"
[[filter]]
name = "green"
role = "green"
generic = "half plus green"
stock = [{ form = "sheet", width_mm = 530, length_mm = 1220, count = 0 }]
"""
BLUE, ORANGE, GREEN = range(3)
HALF_SHEET = Piece(530, 610)


def shelves(folder: Path) -> Shelves:
    (folder / "kit.toml").write_text(KIT, encoding="utf-8")
    kit = load_kit(folder / "kit.toml")
    return Shelves(kit, kit.searched())


def test_pieces_are_cut_from_what_is_counted(tmp_path: Path) -> None:
    """Two sheets hold four halves and an offcut none: by hand."""
    there = shelves(tmp_path)
    assert there.fits(BLUE, (HALF_SHEET,) * 4, 0)
    assert not there.fits(BLUE, (HALF_SHEET,) * 5, 0)
    assert there.fits(BLUE, (Piece(300, 400), *(HALF_SHEET,) * 4), 0)


def test_a_sheet_more_is_one_of_the_largest(tmp_path: Path) -> None:
    """The offcut is written first, and one more of it would hold no half sheet."""
    there = shelves(tmp_path)
    assert there.fits(BLUE, (HALF_SHEET,) * 6, 1)
    assert not there.fits(BLUE, (HALF_SHEET,) * 7, 1)
    assert math.isclose(there.room_m2(BLUE, 0), 0.12 + 2 * 0.6466)
    assert math.isclose(there.room_m2(BLUE, 2), 0.12 + 4 * 0.6466)


def test_nobody_counts_what_the_kit_is_silent_about(tmp_path: Path) -> None:
    """There is always enough of it; of what is counted as none there is none."""
    there = shelves(tmp_path)
    assert [math.isfinite(there.room_m2(index, 0)) for index in (BLUE, ORANGE, GREEN)] == [
        True,
        False,
        True,
    ]
    assert there.fits(ORANGE, (Piece(5000, 5000),) * 1000, 0)
    assert there.room_m2(ORANGE, 0) == math.inf
    assert not there.fits(GREEN, (Piece(10, 10),), 0)
    assert there.fits(GREEN, (Piece(10, 10),), 1)
    assert there.room_m2(GREEN, 0) == 0
    assert there.explain(GREEN, [Piece(10, 10)]) == "Nothing of it is in stock."


def test_the_area_of_a_piece(tmp_path: Path) -> None:
    """530 times 610 mm."""
    assert math.isclose(shelves(tmp_path).area_m2(HALF_SHEET), 0.3233)
