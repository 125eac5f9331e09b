from __future__ import annotations

import itertools
import os
import subprocess
import sys
from math import inf, nan
from pathlib import Path

import pytest

from evencast.cutting import Piece, StockItem, count, exact, fits, most_of
from evencast.cutting.count import joined
from evencast.cutting.search import Question

SHEET, ROLL, PACK = (530.0, 1220.0), (1220.0, 7620.0), (250.0, 300.0)
PANE = Piece(1200, 1600, may_join=True)


def items(size: tuple[float, float], there: int) -> list[StockItem]:
    return [StockItem(*size, there)]


@pytest.mark.parametrize(
    ("pane", "size", "needed"),
    [
        (PANE, SHEET, 24),  # n x 530 - (n - 1) x 25 >= 1600: n = 4, one strip a sheet
        (PANE, ROLL, 2),  # floor(7620 / 1600) = 4 a roll, no seam
        (Piece(1140, 1540, may_join=True), SHEET, 18),  # n = 3 exactly
        (Piece(1140, 1540.5, may_join=True), SHEET, 24),  # half a millimetre more
    ],
)
def test_six_panes(pane: Piece, size: tuple[float, float], needed: int) -> None:
    """Six panes of 1.1 x 1.5 m with margins of 50 and 20 mm, by the arithmetic of the trade."""
    assert fits([pane] * 6, items(size, needed))
    assert not fits([pane] * 6, items(size, needed - 1))


def test_a_roll_holds_four_of_these_panes() -> None:
    """And two rolls eight: the rests of 1.22 m do not add up to a pane."""
    assert most_of(PANE, items(ROLL, 1)) == 4
    assert most_of(PANE, items(ROLL, 2)) == 8
    assert joined(PANE, StockItem(*ROLL)) is None


def test_a_pane_is_not_patched_from_scraps() -> None:
    """Over thirty pack sheets a pane would do it by area; joins stop at six strips."""
    assert most_of(PANE, items(PACK, 10_000)) == 0
    assert not fits([PANE], items(PACK, 10_000))
    # six strips of 1200 mm: 6 x 287.5 - 5 x 25 = 1600 mm
    assert joined(PANE, StockItem(287.5, 1200)) == (6, 0, 1200, 287.5)  # as wide as the pane
    assert joined(PANE, StockItem(287.4, 1200)) is None


def test_strips_and_what_they_have_to_spare() -> None:
    """Four strips of 530 mm reach 2045 mm; three reach 1540 mm, just enough."""
    spare_mm = 2045 - 1600 + 4 * 0.05  # tenths of 418.75
    assert joined(PANE, StockItem(*SHEET)) == (4, spare_mm, 1200, 418.7)
    assert joined(Piece(1540, 1140, may_join=True), StockItem(*SHEET)) == (3, 0, 530, 1140)
    assert joined(Piece(1200, 1600), StockItem(*SHEET)) is None


def test_the_seams_are_the_shorter_ones() -> None:
    """Two strips either way: the seam runs along 700, so strips of 462.5 x 700."""
    pane = Piece(900, 700, may_join=True)
    assert joined(pane, StockItem(600, 1000)) == (2, 2 * (600 - 462.5), 462.5, 700)
    assert fits([pane], items((463, 1400), 1))
    assert not fits([pane], items((462, 1400), 1))


def test_a_pane_is_joined_from_items_of_one_size() -> None:
    """Two sheets of one size and two of another do not make up a pane of four."""
    other = (540.0, 1220.0)
    assert fits([PANE], [*items(SHEET, 4)])
    assert fits([PANE], [*items(other, 4)])
    assert not fits([PANE], [*items(SHEET, 3), *items(other, 3)])
    assert fits([PANE], [*items(SHEET, 2), *items(other, 2), *items(SHEET, 2)])


def test_panes_are_whole_as_far_as_rolls_go_and_joined_beyond() -> None:
    """A roll for four, eight sheets for two more."""
    assert fits([PANE] * 6, [*items(ROLL, 1), *items(SHEET, 8)])
    assert not fits([PANE] * 6, [*items(ROLL, 1), *items(SHEET, 7)])


def test_only_what_may_be_joined_is() -> None:
    """A frame takes no seam."""
    assert not fits([Piece(1200, 1600)], items(SHEET, 100))
    assert most_of(Piece(1200, 1600), items(SHEET, 100)) == 0


def test_frames_from_a_sheet() -> None:
    """170 x 170 from 530 x 1220: three across, seven along."""
    assert most_of(Piece(170, 170), items(SHEET, 1)) == 21
    assert fits([Piece(170, 170)] * 21, items(SHEET, 1))
    assert not fits([Piece(170, 170)] * 22, items(SHEET, 1))
    assert most_of(Piece(170, 170), items(SHEET, 3)) == 63


def test_sleeves_of_tubes_from_a_sheet() -> None:
    """Sleeves of 102 mm: five of 1.2 m across a sheet of 530 mm, ten of 0.6 m."""
    assert most_of(Piece(102, 1200), items(SHEET, 1)) == 5
    assert most_of(Piece(102, 610), items(SHEET, 1)) == 10


def test_strips_of_two_heights_fill_an_item_best() -> None:
    """300 x 700 from 700 x 1600: five lying, or a pair standing and three lying; not six."""
    # standing 2 x 300 <= 700 at 700 high; lying one 700 wide at 300 high
    # 1600 = 700 + 3 x 300: 2 + 3 = 5; 2 x 700: 4; 5 x 300: 5; along the other side
    # 700 = 2 x 300: 2 x floor(1600 / 700) = 4, or 700: floor(1600 / 300) = 5
    assert most_of(Piece(300, 700), items((700, 1600), 1)) == 5
    assert most_of(Piece(300, 700), items((700, 1700), 1)) == 5
    assert most_of(Piece(300, 700), items((700, 1800), 1)) == 6


def test_an_item_is_cut_across_either_side() -> None:
    """Two sleeves of a tube and squares beside them: strips along the sheet; which side is
    called the width does not matter."""
    pieces = [Piece(102, 1200)] * 2 + [Piece(170, 170)] * 7
    assert fits(pieces, items((530, 1220), 1))
    assert fits(pieces, items((1220, 530), 1))
    assert not fits([*pieces, Piece(170, 170)], items((530, 1220), 1))


def test_strips_fill_an_item_to_the_end() -> None:
    """500 wide, 300 + 200 + 100 high: just so, whatever is cut first; a millimetre less is not."""
    pieces = [Piece(500, 300), Piece(500, 200), Piece(500, 100)]
    for turn in itertools.permutations(pieces):
        assert fits(turn, items((500, 600), 1))
        assert not fits(turn, items((500, 599), 1))


def test_sizes_in_eighths_of_an_inch_fill_a_sheet() -> None:
    """Four times 5 1/8 in are 20 1/2 in, whatever the last bits of the numbers are."""
    inch = 25.4
    assert fits([Piece(5.125 * inch, 24 * inch)] * 4, items((20.5 * inch, 24 * inch), 1))
    assert not fits([Piece(5.25 * inch, 24 * inch)] * 4, items((20.5 * inch, 24 * inch), 1))


def test_nothing_to_cut_and_nothing_to_cut_from() -> None:
    """No pieces always fit; a count of none is as no entry at all."""
    assert fits([], [])
    assert fits([], items(SHEET, 1))
    assert not fits([Piece(10, 10)], [])
    assert not fits([Piece(10, 10)], items(SHEET, 0))
    assert most_of(Piece(10, 10), []) == 0
    assert most_of(PANE, items(ROLL, 0)) == 0


@pytest.mark.parametrize("length_mm", [1e-9, 1e300])
def test_sizes_beyond_all_measure(length_mm: float) -> None:
    """The smallest fits, the largest does not, not even into an item as large."""
    assert fits([Piece(length_mm, 10)], items(SHEET, 1)) == (length_mm < 1)
    assert fits([Piece(length_mm, 10)], items((length_mm, 20), 1)) == (length_mm < 1)
    assert most_of(Piece(10, 10), items((length_mm, 10), 1)) == (0 if length_mm < 1 else 9999)


def test_many_pieces_and_items() -> None:
    """Counts far beyond a van's are answered without a word about recursion."""
    assert fits([Piece(500, 1200)] * 3000, items(SHEET, 10**12))
    assert not fits([Piece(500, 1200)] * 3000, items(SHEET, 2999))


@pytest.mark.parametrize("length_mm", [0.0, -1.0, nan])
def test_what_is_no_size_is_refused(length_mm: float) -> None:
    """A caller's mistake, not a document's: documents are checked before."""
    with pytest.raises(ValueError, match="a piece of"):
        Piece(length_mm, 10)
    with pytest.raises(ValueError, match="a piece of"):
        Piece(10, length_mm)
    with pytest.raises(ValueError, match="1 items of"):
        StockItem(10, length_mm)
    with pytest.raises(ValueError, match="-1 items of"):
        StockItem(10, 10, -1)
    assert not fits([Piece(inf, 10)], items(SHEET, 1))


def test_the_linear_programme_is_asked_where_the_search_gives_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Both answers come out the same when the search may not look at a single state."""
    asked: list[Question] = []
    decided = exact.decide

    def overheard(question: Question) -> bool:
        asked.append(question)
        return decided(question)

    monkeypatch.setattr(exact, "decide", overheard)
    monkeypatch.setattr(count, "SEARCHED", -10_000)
    # heights on two squares of 101 mm: 61 + 31 and 71 + 30 fit, 61, 71 and 51 do not
    square = items((101, 101), 2)
    assert fits([Piece(101, height) for height in (61, 71, 30, 31)], square) is True
    assert fits([Piece(101, height) for height in (61, 71, 51)], square) is False
    assert len(asked) == 2


def test_a_plain_count_loads_no_solver() -> None:
    """scipy comes with the questions that need it, pydantic with a document."""
    code = (
        "import sys; from evencast.cutting import *\n"
        "assert fits([Piece(170, 170)] * 21, [StockItem(530, 1220)])\n"
        "print(sorted({'scipy', 'numpy', 'pydantic'} & set(sys.modules)))"
    )
    sources = Path(__file__).resolve().parents[3] / "src"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | {"PYTHONPATH": str(sources)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert "scipy" not in done.stdout
    assert "pydantic" not in done.stdout
