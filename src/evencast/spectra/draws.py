"""Reproducible draws: the same key gives the same numbers on every machine.

An ensemble has MEMBERS spectra everywhere, so that filters and lights are paired member by
member; different keys give independent draws.
"""

from __future__ import annotations

from random import Random

import numpy as np

from evencast.quantities import Floats

MEMBERS = 240
"""Spectra in every ensemble: the ends of a 5 to 95 percent band then stand within some
two percent of the members."""


def uniform(key: str, columns: int, *, rows: int = MEMBERS) -> Floats:
    """Numbers from 0 up to 1. [(rows, columns)]

    Source  the Mersenne Twister of Python's library, whose `random()` never changes; numpy's
            generators would take a third of a second question's start to import
    """
    draw = Random(key).random
    return np.array([draw() for _ in range(rows * columns)]).reshape(rows, columns)


def normal(key: str, columns: int, *, rows: int = MEMBERS) -> Floats:
    """Numbers of a normal distribution, mean 0 and deviation 1. [(rows, columns)]

    Source  G. E. P. Box, M. E. Muller, Ann. Math. Statist. 29 (1958) 610-611
    """
    radius, angle = np.split(uniform(key, 2 * columns, rows=rows), 2, axis=1)
    result: Floats = np.sqrt(-2.0 * np.log1p(-radius)) * np.cos(2.0 * np.pi * angle)
    return result
