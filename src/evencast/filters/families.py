"""The generic filters: even series of our own, as nominal spectra."""

from __future__ import annotations

from functools import cache
from typing import cast

import numpy as np

from evencast import tables
from evencast.colour import mired_duv, uv, white, xyz
from evencast.errors import EvencastError, nearest
from evencast.filters.dyes import dye_set, shift_duv, shift_mired, solve_factor
from evencast.filters.ensemble import DeclaredNumbers, fitting_spectra, unfitted_spectra
from evencast.filters.filter import Filter, Role
from evencast.quantities import Floats, stops_of_ratio
from evencast.spectra import GRID_NM, uniform

_ROUNDING_MIRED = 2.0
"""How far the colour of one grade varies about its step, either way, and 1/6 stop in its
loss: common practice, no source. What makers' grades differ by comes on top."""

_CLEAR_DENSITY = 0.05
"""A neutral sheet: so much of its density is a clear base with its surfaces."""


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
            + "`evencast filters` lists them; a file needs a / in its name, or ends in .csv or "
            ".spdx.",
        )
    return _build(row)


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {row["name"]: row for row in tables.read_rows("filter_families")}


def _build(row: dict[str, str]) -> Filter:
    limits = (row["loss_low_stops"], row["loss_high_stops"])
    spread = (float(limits[0]), float(limits[1])) if all(limits) else None
    transmittance = _dyed(row) * 10.0 ** -float(row["density"])
    return Filter(
        name=row["name"],
        role=cast(Role, row["role"]),
        transmittance=transmittance,
        measured=False,
        possible=_possible(row, transmittance, spread),
        series=row["series"],
        note=row["note"],
        on_k=float(row["on_k"] or 5600.0),
        loss_range_stops=spread,
    )


def _dyed(row: dict[str, str]) -> Floats:
    """Transmittance of the dyes alone, at the factor the row asks for."""
    if not row["dye_set"]:
        return np.ones_like(GRID_NM)
    return dye_set(row["dye_set"]).transmittance(_factor(row))


def _factor(row: dict[str, str]) -> float:
    if row["fitted"] == "none":
        return 1.0
    light = white(float(row["on_k"]))
    measure = shift_mired if row["fitted"] == "shift_mired" else shift_duv
    dyes = dye_set(row["dye_set"])
    return solve_factor(dyes, lambda through: measure(light, through), float(row["amount"]))


def _possible(
    row: dict[str, str], transmittance: Floats, loss_range_stops: tuple[float, float] | None
) -> Floats:
    """All the spectra a sheet of that grade may have. [(MEMBERS, 81)]"""
    if loss_range_stops is not None:
        return _scattered(row, loss_range_stops)
    if row["fitted"] == "none" and row["dye_set"]:
        return unfitted_spectra(dye_set(row["dye_set"]), key=row["name"])
    light = white(float(row["on_k"] or 5600.0))
    at_mired, at_duv = mired_duv(uv(light * transmittance))
    numbers = DeclaredNumbers(
        light=light,
        mired=float(at_mired),
        duv=float(at_duv),
        stops=stops_of_ratio(float(xyz(light * transmittance)[1] / xyz(light)[1])),
        rounding_mired=_ROUNDING_MIRED,
        rounding_stops=1 / 6,
        grey=10.0 ** -max(float(row["density"]) - (0.0 if row["dye_set"] else _CLEAR_DENSITY), 0.0),
    )
    return fitting_spectra(numbers, key=row["name"])


def _scattered(row: dict[str, str], loss_range_stops: tuple[float, float]) -> Floats:
    """A diffuser's: any loss of its range, any warm shift from none to twice the usual."""
    warm, light_lost = uniform(row["name"], 2).T
    low, high = loss_range_stops
    tinted = dye_set(row["dye_set"]).transmittance(2.0 * warm * _factor(row))
    result: Floats = tinted * 0.5 ** (low + (high - low) * light_lost)[:, None]
    return result
