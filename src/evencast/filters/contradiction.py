"""Why no sheet has the printed numbers, and by how much they are out, in roundings."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from evencast.errors import EvencastError
from evencast.filters.declared import CLEAREST
from evencast.filters.printed import Printed
from evencast.filters.smoothest import smoothest
from evencast.quantities import Floats


def contradiction(numbers: Printed, *, where: str) -> EvencastError:
    """The reason why no smooth sheet has the numbers: the first that is found of

    one illuminant's numbers are those of no sheet, or of none without sharp edges; two
    illuminants' contradict each other; those of all do.
    """
    places = range(len(numbers.colours))
    for size in sorted({1, min(2, len(places)), len(places)}):
        for chosen in combinations(places, size):
            part = numbers.only(*chosen)
            if not smoothest(part).reached:
                return _one(part, where=where) if size == 1 else _several(part, where=where)
    raise AssertionError("numbers that are met do not contradict each other")


def _one(numbers: Printed, *, where: str) -> EvencastError:
    """Why no sheet has the numbers under one illuminant."""
    colour = numbers.colours[0]
    named = f"x {colour.x:g}, y {colour.y:g} under {colour.illuminant}"
    check = "Check x, y, Y_percent and the illuminant, "
    brightest = 100.0 * _brightest(numbers)
    if brightest == 0.0:
        return EvencastError(
            f"no sheet has the colour {named}",
            where=where,
            remedy=check + "and that x, y and not u, v were copied.",
        )
    over = (colour.Y_percent - brightest) / (100.0 * numbers.rounding[2])
    if over > 1.0:
        return EvencastError(
            f"{colour.Y_percent:g} percent is more than any sheet of {named} passes: the "
            f"clearest passes {brightest:.2f}, {over:.2f} times its rounding less",
            where=where,
            remedy=check + "or give a measured spectrum.",
        )
    return _edged(numbers, f"the numbers {named}, {colour.Y_percent:g} percent", where=where)


def _several(numbers: Printed, *, where: str) -> EvencastError:
    """Why no sheet has the numbers under several illuminants, though one has each."""
    names = [each.illuminant for each in numbers.colours]
    together = f"the numbers under {', '.join(names[:-1])} and {names[-1]}"
    least = _least_miss(numbers)
    if least <= 1.0:
        return _edged(numbers, together, where=where)
    foretold = numbers.only(len(names) - 1).numbers(
        10.0 ** -smoothest(numbers.only(*range(len(names) - 1))).density
    )
    return EvencastError(
        f"{together} contradict each other: no sheet comes nearer to all of them than "
        f"{least:.2f} times their rounding. By the others, those under {names[-1]} would be "
        f"about x {foretold[0]:.4f}, y {foretold[1]:.4f}, {100 * foretold[2]:.1f} percent",
        where=where,
        remedy="Check the digits and the illuminants, leave one illuminant out, or give "
        "rounding_xy and rounding_Y_percent where the numbers are less sure than their digits.",
    )


def _edged(numbers: Printed, what: str, *, where: str) -> EvencastError:
    """Numbers that need a spectrum with edges no dye has."""
    miss = np.abs(smoothest(numbers).miss)
    worst = int(miss.argmax())
    return EvencastError(
        f"only a sheet with sharper edges than any dye has could have {what}: a smooth one "
        f"misses {numbers.name(worst)} by {miss[worst]:.2f} times its rounding",
        where=where,
        remedy="Check the digits and the illuminants, or give a measured spectrum.",
    )


def _brightest(numbers: Printed) -> float:
    """Greatest Y of any sheet with the x, y printed under one illuminant; 0 for none.

    Source  optimal colours: the brightest is a linear programme, solved by HiGHS in scipy
    """
    from scipy.optimize import linprog  # slow to import, rarely needed

    high, low = _either_side(numbers, by=1.0)
    answer = linprog(
        -numbers.weights[1],
        A_ub=np.concatenate([high[:2], -low[:2]]),
        b_ub=np.zeros(4),
        bounds=(0.0, CLEAREST),
    )
    return float(-answer.fun) if answer.status == 0 else 0.0


def _least_miss(numbers: Printed) -> float:
    """The least that the worst number of any sheet misses by, in roundings.

    A miss of x or y is taken by the printed X + Y + Z, which makes it a linear programme;
    that of a sheet within the rounding is not changed by it.
    Source  HiGHS in scipy
    """
    from scipy.optimize import linprog  # as above

    y, Y = numbers.values[1::3], numbers.values[2::3]
    size = np.stack([Y / y, Y / y, np.ones_like(Y)], axis=1).ravel() * numbers.rounding
    above = _either_side(numbers, by=0.0)[0] / size[:, None]
    aim = np.where(np.arange(len(size)) % 3 == 2, numbers.values / size, 0.0)
    slack = np.full((len(size), 1), -1.0)
    answer = linprog(
        np.append(np.zeros(above.shape[1]), 1.0),
        A_ub=np.block([[above, slack], [-above, slack]]),
        b_ub=np.concatenate([aim, -aim]),
        bounds=[(0.0, CLEAREST)] * above.shape[1] + [(0.0, None)],
    )
    return float(answer.fun)


def _either_side(numbers: Printed, *, by: float) -> tuple[Floats, Floats]:
    """Rows whose product with a sheet is how far X, Y are above x, y times X + Y + Z, with x
    and y raised and lowered by so many roundings; the third row of each illuminant is Y's.
    [(3k, 81) twice]"""
    xyz = numbers.weights.reshape(-1, 3, numbers.weights.shape[1])
    xyy = xyz[:, [0, 1, 1]].reshape(numbers.weights.shape)
    total = np.repeat(xyz.sum(axis=1), 3, axis=0)
    of_colour = (np.arange(len(numbers.values)) % 3 < 2)[:, None]
    sides = []
    for side in (by, -by):
        share = (numbers.values + side * numbers.rounding)[:, None]
        sides.append(xyy - np.where(of_colour, share * total, 0.0))
    return sides[0], sides[1]
