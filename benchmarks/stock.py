"""Whether pieces can be cut from a stock, as a search asks it, against a linear programme each.

Run:   python -m benchmarks.stock
Bars:  a new question 25 times faster, on average, than the same question put to HiGHS; a
       question asked before 500 times.

Questions are what a search over a scene asks: for one filter, now these lights and now those.
Kits and lights are drawn from common sizes of frames, sleeves, panes, sheets and rolls (common
practice, no source), up to 10 sizes, 30 pieces and 5 entries of stock. HiGHS is timed on every
so-manieth question and has to give the same answer. For comparison a loop that cuts greedily,
the largest piece first: it is counted how often it says no to what can be cut.
"""

from __future__ import annotations

import random
import sys
import time
from statistics import mean, median

from evencast.cutting import Piece, StockItem, fits
from evencast.cutting.exact import decide
from evencast.cutting.search import Question
from evencast.cutting.ways import item_units, piece_units, ways

BAR_NEW = 25.0
BAR_AGAIN = 500.0
KITS, LIGHTS, QUESTIONS, EVERY = 40, 20, 250, 25
MOST_SIZES, MOST_PIECES = 10, 30
SEED = 1

OPENINGS = (
    *((130, 130), (150, 150), (170, 170), (200, 200), (260, 260), (190, 190), (254, 254)),
    *((250, 300), (350, 400), (500, 600), (350, 350), (350, 680), (102, 1200), (102, 600)),
    *((70, 1150), (1150, 1550), (600, 900), (650, 950)),
)
ITEMS = (
    *((530, 1220), (500, 610), (250, 300), (1220, 7620), (1520, 7620), (1220, 2440)),
    *((610, 1220), (400, 700), (530, 800)),
)
Asked = tuple[list[Piece], tuple[StockItem, ...]]


def questions() -> list[Asked]:
    """For every kit so many choices of its lights."""
    draw = random.Random(SEED)
    asked = []
    for _ in range(KITS):
        sizes = draw.sample(OPENINGS, MOST_SIZES)
        lights = [
            [Piece(*draw.choice(sizes), may_join=False)] * draw.randint(1, 4) for _ in range(LIGHTS)
        ]
        stock = tuple(
            StockItem(*size, draw.randint(1, 6)) for size in draw.sample(ITEMS, draw.randint(1, 5))
        )
        for _ in range(QUESTIONS):
            chosen = draw.sample(lights, draw.randint(1, 12))
            pieces = [piece for light in chosen for piece in light][:MOST_PIECES]
            asked.append((pieces, stock))
    return asked


def by_programme(pieces: list[Piece], stock: tuple[StockItem, ...]) -> bool:
    """The same question, put to HiGHS straight away."""
    counted: dict[tuple[int, int], int] = {}
    for piece in pieces:
        short, long = sorted((piece_units(piece.width_mm), piece_units(piece.height_mm)))
        counted[short, long] = counted.get((short, long), 0) + 1
    there = {(item_units(each.width_mm), item_units(each.length_mm)): each.count for each in stock}
    items = tuple(sorted(there))
    able = [(ways((*size, False), items, count), count) for size, count in counted.items()]
    if not all(way.makes for way, _ in able):
        return False
    return decide(Question.of(able, items, tuple(there[item] for item in items)))


def greedily(pieces: list[Piece], stock: tuple[StockItem, ...]) -> bool:
    """The largest first, into the first strip or item where there is room; no second thoughts."""
    rests = [[each.width_mm, each.length_mm] for each in stock for _ in range(each.count)]
    strips: list[tuple[tuple[float, float], float]] = []
    for piece in sorted(pieces, key=lambda each: -each.width_mm * each.height_mm):
        sides = (piece.width_mm, piece.height_mm)
        place = next(
            (n for n, (of, rest) in enumerate(strips) if of == sides and rest >= of[0]), None
        )
        if place is not None:
            strips[place] = (sides, strips[place][1] - sides[0])
            continue
        item = next((each for each in rests if each[0] >= sides[0] and each[1] >= sides[1]), None)
        if item is None:
            return False
        item[1] -= sides[1]
        strips.append((sides, item[0] - sides[0]))
    return True


def durations(asked: list[Asked]) -> list[float]:
    """How long each answer took. [s]"""
    found = []
    for pieces, stock in asked:
        start = time.perf_counter()
        fits(pieces, stock)
        found.append(time.perf_counter() - start)
    return found


def main() -> int:
    """Measure, print, and say whether both bars are met."""
    asked = questions()
    by_programme(*asked[0])  # loads scipy
    new_s, again_s = durations(asked), durations(asked)
    answers = [fits(*each) for each in asked]
    missed = sum(yes and not greedily(*each) for yes, each in zip(answers, asked, strict=True))
    programme_s = []
    for answer, each in list(zip(answers, asked, strict=True))[::EVERY]:
        start = time.perf_counter()
        assert by_programme(*each) == answer
        programme_s.append(time.perf_counter() - start)
    new, again = mean(programme_s) / mean(new_s), mean(programme_s) / mean(again_s)
    print(f"{len(asked):,} questions, {sum(answers):,} of them yes; greedy misses {missed:,}")
    print(f"HiGHS  {mean(programme_s) * 1e6:9,.0f} µs a question")
    for name, taken, ratio, bar in (
        ("new", new_s, new, BAR_NEW),
        ("again", again_s, again, BAR_AGAIN),
    ):
        verdict = "met" if ratio >= bar else "MISSED"
        print(
            f"{name:6} {mean(taken) * 1e6:9,.0f} µs, median {median(taken) * 1e6:,.0f}, longest "
            f"{max(taken) * 1e3:,.1f} ms   {ratio:,.0f} x, bar {bar:,.0f} x: {verdict}"
        )
    return 0 if new >= BAR_NEW and again >= BAR_AGAIN else 1


if __name__ == "__main__":
    sys.exit(main())
