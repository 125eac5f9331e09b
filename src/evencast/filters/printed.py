"""Printed chromaticities: what a sheet's x, y and percentage say, as arrays to fit against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast import tables
from evencast.colour import cie_1931_2deg
from evencast.filters.declared import CLEAREST
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, on_grid

CLEAREST_DENSITY = float(-np.log10(CLEAREST))
"""No sheet has less density than this at any wavelength."""

_LEAST_ROUNDING = 1e-6
"""A rounding declared as 0 counts as this: sums at 5 nm agree with print no better."""


@dataclass(frozen=True, slots=True)
class PrintedColour:
    """What is printed for a sheet under one illuminant.

    illuminant : name of a CIE illuminant: A, D50, D55, D65, D75, E, FL1 ... FL12
    x, y       : CIE 1931 chromaticity of the light through it
    Y_percent  : light that gets through
    rounding_xy, rounding_Y_percent : how far the real values may lie from those printed
    """

    illuminant: str
    x: float
    y: float
    Y_percent: float
    rounding_xy: float
    rounding_Y_percent: float  # noqa: N815 - Y is the CIE's capital


@dataclass(frozen=True, slots=True, eq=False)
class Printed:
    """The numbers of one sheet under k illuminants; Y as a fraction.

    colours  : in the order of their illuminants' names, so that the order written is nothing
    weights  : (3k, 81) what each wavelength adds to X, Y, Z, with Y 1 for no sheet at all
    values   : (3k,) x, y, Y of each illuminant
    rounding : (3k,) how far the real values may lie from them
    """

    colours: tuple[PrintedColour, ...]
    weights: Floats
    values: Floats
    rounding: Floats

    def numbers(self, transmittance: Floats) -> Floats:
        """x, y, Y of sheets under each illuminant. [(..., 81) to (..., 3k)]"""
        tristimulus = (transmittance @ self.weights.T).reshape(*transmittance.shape[:-1], -1, 3)
        total = tristimulus.sum(axis=-1)
        x, y = tristimulus[..., 0] / total, tristimulus[..., 1] / total
        by_illuminant = np.stack([x, y, tristimulus[..., 1]], axis=-1)
        return by_illuminant.reshape(*transmittance.shape[:-1], -1)

    def miss(self, transmittance: Floats) -> Floats:
        """How far sheets are from print, in roundings. [(..., 81) to (..., 3k)]"""
        result: Floats = (self.numbers(transmittance) - self.values) / self.rounding
        return result

    def log_tristimulus(self, off: Floats | float = 0.0) -> Floats:
        """Natural logarithm of X, Y, Z that are so many roundings off print. [(..., 3k)]

        None counts as less than what half a rounding of it would be.
        """
        least = self.rounding.reshape(-1, 3) / 2.0
        off_print = self.values + off * self.rounding
        x, y, Y = np.moveaxis(
            np.maximum(off_print.reshape(*off_print.shape[:-1], -1, 3), least), -1, 0
        )
        z = np.maximum(1.0 - x - y, least[:, 0])
        logs = np.stack([np.log(x / y * Y), np.log(Y), np.log(z / y * Y)], axis=-1)
        result: Floats = logs.reshape(off_print.shape)
        return result

    def roundings_per_log(self) -> Floats:
        """Change of x, y, Y, in roundings, by the logarithms of X, Y, Z, at print. [(3k, 3k)]"""
        result = np.zeros((len(self.values), len(self.values)))
        for start in range(0, len(self.values), 3):
            own = slice(start, start + 3)
            x, y, Y = self.values[own]
            shares = np.array([x, y, 1.0 - x - y])
            unit = np.eye(3)
            result[own, own] = [x * (unit[0] - shares), y * (unit[1] - shares), Y * unit[1]]
        scaled: Floats = result / self.rounding[:, None]
        return scaled

    def name(self, place: int) -> str:
        """What one of the numbers is called: "y under D65"."""
        quantity = ("x", "y", "Y_percent")[place % 3]
        return f"{quantity} under {self.colours[place // 3].illuminant}"

    def only(self, *places: int) -> Printed:
        """The numbers under some of the illuminants alone."""
        return printed([self.colours[place] for place in places])


def printed(colours: Sequence[PrintedColour]) -> Printed:
    """The arrays of what is printed."""
    ordered = tuple(sorted(colours, key=lambda each: each.illuminant))
    values = [[each.x, each.y, each.Y_percent / 100.0] for each in ordered]
    rounding = [
        [each.rounding_xy, each.rounding_xy, each.rounding_Y_percent / 100.0] for each in ordered
    ]
    return Printed(
        ordered,
        np.concatenate([_weights(each.illuminant) for each in ordered]),
        np.ravel(values),
        np.maximum(np.ravel(rounding), _LEAST_ROUNDING),
    )


def _weights(illuminant: str) -> Floats:
    """What each wavelength adds to X, Y, Z. [(3, 81)]"""
    weighted = illuminant_power(illuminant) * cie_1931_2deg().cmf_grid.T
    result: Floats = weighted / weighted[1].sum()
    return result


def illuminant_power(name: str) -> Floats:
    """Relative power of a CIE illuminant. [(81,)]"""
    if name == "E":
        return np.ones_like(GRID_NM)
    table = tables.read("cie_illuminants_fl" if name.startswith("FL") else "cie_illuminants_a_d")
    return on_grid(table.column("wavelength_nm"), table.column(name))
