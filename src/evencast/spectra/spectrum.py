"""A spectrum keeps its own samples; the grid is a view of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from evencast.quantities import Floats
from evencast.spectra.grid import on_grid

Quantity = Literal["power", "transmittance"]
"""What a spectrum is of: relative power of a light, any scale, or what a filter passes, 0 to 1."""


@dataclass(frozen=True, slots=True, eq=False)
class Spectrum:
    """Samples of a spectral quantity, relative power or transmittance.

    wavelengths_nm : (n,) strictly increasing
    values         : (n,) finite
    grid           : (81,) the same on 380-780 nm at 5 nm
    """

    wavelengths_nm: Floats
    values: Floats
    grid: Floats = field(init=False, repr=False)

    def __post_init__(self) -> None:
        wavelengths_nm = np.asarray(self.wavelengths_nm, dtype=float)
        values = np.asarray(self.values, dtype=float)
        object.__setattr__(self, "wavelengths_nm", wavelengths_nm)
        object.__setattr__(self, "values", values)
        object.__setattr__(self, "grid", on_grid(wavelengths_nm, values))
