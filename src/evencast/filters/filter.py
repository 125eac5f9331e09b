"""A filter: what it is called, what it is for, and what it lets through."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from typing import Literal

import numpy as np

from evencast.quantities import Floats
from evencast.spectra import GRID_NM

Role = Literal["correction", "green", "diffusion", "ND", "effect"]
SEARCHED_ROLES: tuple[Role, ...] = ("correction", "green", "ND")
"""Roles a search may pick from; diffusion and effects are never picked to correct."""


@dataclass(frozen=True, slots=True, eq=False)
class Filter:
    """One filter.

    name          : as printed, unique in its kit
    role          : correction, green, diffusion, ND or effect
    transmittance : (81,) total transmittance on the grid, 0 to 1, surface loss included
    measured      : True for a measured spectrum; otherwise the spectrum is nominal
    possible      : (MEMBERS, 81) spectra that fit what is known as well; None if measured
    series        : the colour series it belongs to, or ""
    note          : one sentence for the person, or ""
    on_k          : the white it is named for: what mired arithmetic takes its shift from
    loss_range_stops : for diffusion, the least and greatest loss met in practice
    """

    name: str
    role: Role
    transmittance: Floats
    measured: bool
    possible: Floats | None = None
    series: str = ""
    note: str = ""
    on_k: float = 5600.0
    loss_range_stops: tuple[float, float] | None = None

    @property
    def members(self) -> Floats:
        """The spectra it may have: (MEMBERS, 81), or (1, 81) if it was measured."""
        return self.transmittance[None] if self.possible is None else self.possible


def stack(filters: Sequence[Filter]) -> Floats:
    """Transmittance of filters in series: the product of theirs. [(81,); ones for none]

    Surface loss counts once per sheet, since each sheet's spectrum holds its own. What
    the sheets throw back and forth between them is left out: 0.01 stop for two sheets.
    """
    return reduce(np.multiply, (each.transmittance for each in filters), np.ones_like(GRID_NM))


def stack_members(filters: Sequence[Filter]) -> Floats:
    """The transmittances that a stack may have. [(MEMBERS or 1, 81)]

    Two sheets of one filter are alike, member by member; different filters are independent.
    """
    return reduce(np.multiply, (each.members for each in filters), np.ones((1, len(GRID_NM))))
