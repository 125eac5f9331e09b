"""What sees: the eye, two published cameras, or a person's own camera."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from evencast import tables
from evencast.colour import cie_1931_2deg
from evencast.errors import EvencastError
from evencast.quantities import Floats, listed
from evencast.spectra import GRID_NM, on_grid

_TABLES = {"camera A": "camera_a", "camera B": "camera_b"}
CAMERAS = ("eye", *_TABLES)
"""What is built in: the eye of 1931, a camera with a mosaic of filters, one with a layered
sensor. Any other camera sees otherwise than these two, and they differ from each other."""


@dataclass(frozen=True, eq=False)
class Sensitivities:
    """Three spectral sensitivities, on any scale.

    name           : "eye", "camera A", "camera B", or that of the person's own camera
    wavelengths_nm : (n,) as measured, rising
    values         : (3, n) red, green, blue; x-bar, y-bar, z-bar of the eye
    is_eye         : whether it is the standard observer, whose colours need no matrix
    """

    name: str
    wavelengths_nm: Floats
    values: Floats
    is_eye: bool = False

    @cached_property
    def weights(self) -> Floats:
        """Weights that sum a spectrum on the grid to three raw values; beyond the ends of what
        was measured nothing is seen. [(81, 3), read-only]

        Coarse samples are interpolated rather than the lamp picked at their wavelengths: at
        10 nm the green line of mercury would fall between two samples, and a cool white tube
        would want 2.5 % less red.
        """
        first, last = self.wavelengths_nm[0], self.wavelengths_nm[-1]
        seen = (GRID_NM >= first) & (GRID_NM <= last)
        columns = [np.where(seen, on_grid(self.wavelengths_nm, each), 0.0) for each in self.values]
        weights = np.column_stack(columns)
        weights.setflags(write=False)
        return weights

    def raw(self, power: Floats) -> Floats:
        """What it records of spectra, before any balance. [(..., 81) to (..., 3)]"""
        result: Floats = power @ self.weights
        return result


def camera_named(name: str) -> Sensitivities:
    """A built-in one by name, in any case.

    Raises  EvencastError that lists the names
    """
    for known in CAMERAS:
        if name.strip().casefold() == known.casefold():
            return _built_in(known)
    raise EvencastError(
        f'there is no camera "{name}"',
        where="camera",
        remedy=f"Use {listed(CAMERAS, last='or')}, or a file of your camera's sensitivities such "
        "as ./camera.csv, with the columns wavelength_nm,r,g,b.",
    )


@cache
def _built_in(name: str) -> Sensitivities:
    if name == "eye":
        observer = cie_1931_2deg()
        return Sensitivities(name, GRID_NM, observer.cmf_grid.T, is_eye=True)
    values = tables.read(_TABLES[name]).values
    return Sensitivities(name, values[:, 0], values[:, 1:].T)
