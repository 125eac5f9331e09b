"""The generic filters: even series of our own, as nominal spectra."""

from __future__ import annotations

from functools import cache
from typing import cast

import numpy as np

from evencast import tables
from evencast.colour import white
from evencast.errors import EvencastError, nearest
from evencast.filters.dyes import dye_set, shift_duv, shift_mired, solve_factor
from evencast.filters.filter import Filter, Role
from evencast.quantities import Floats
from evencast.spectra import GRID_NM


def generic_names() -> list[str]:
    """Names of the generic filters, weakest first within a series."""
    return list(_rows())


@cache
def generic(name: str) -> Filter:
    """The generic filter of that name, upper or lower case.

    Raises  EvencastError naming the nearest ones
    """
    by_folded = {known.casefold(): row for known, row in _rows().items()}
    row = by_folded.get(" ".join(name.casefold().split()))
    if row is None:
        close = nearest(name, _rows())
        raise EvencastError(
            f'no filter is called "{name}"',
            where="filters",
            remedy=(f"Did you mean {' or '.join(close)}? " if close else "")
            + "`evencast filters` lists them; a file needs a / or .csv in its name.",
        )
    return _build(row)


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["name"]: row for row in tables.read_rows("filter_families")}


def _build(row: dict[str, str]) -> Filter:
    limits = (row["loss_low_stops"], row["loss_high_stops"])
    return Filter(
        name=row["name"],
        role=cast(Role, row["role"]),
        transmittance=_dyed(row) * 10.0 ** -float(row["density"]),
        measured=False,
        series=row["series"],
        note=row["note"],
        on_k=float(row["on_k"] or 5600.0),
        loss_range_stops=(float(limits[0]), float(limits[1])) if all(limits) else None,
    )


def _dyed(row: dict[str, str]) -> Floats:
    """Transmittance of the dyes alone, at the factor the row asks for."""
    if not row["dye_set"]:
        return np.ones_like(GRID_NM)
    dyes = dye_set(row["dye_set"])
    if row["fitted"] == "none":
        return dyes.transmittance(1.0)
    light = white(float(row["on_k"]))
    measure = shift_mired if row["fitted"] == "shift_mired" else shift_duv
    factor = solve_factor(dyes, lambda through: measure(light, through), float(row["amount"]))
    return dyes.transmittance(factor)
