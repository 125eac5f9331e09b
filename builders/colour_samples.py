"""The reflectances that quality of light is judged by: CIE 13.3 and CIE 224 (TM-30)."""

from __future__ import annotations

import colour
import numpy as np
from colour.quality.cfi2017 import load_TCS_CIE2017
from colour.quality.datasets.tcs import SDS_TCS

from builders.table import provenance, table_text, write

CHECKED = "tests/published/test_colour_rendering.py"


def build() -> dict[str, str]:
    """Table name to text."""
    return {"cie_13_3_samples": _fourteen(), "cie_224_samples": _ninety_nine()}


def _fourteen() -> str:
    """Fourteen samples at 5 nm; the library carries them to 360-830 nm, of which the grid's."""
    shape = colour.SpectralShape(380, 780, 5)
    spectra = [SDS_TCS["CIE 1995"][f"TCS{number:02d}"].copy() for number in range(1, 15)]
    values = np.column_stack([shape.wavelengths, *(each.trim(shape).values for each in spectra)])
    header = provenance(
        title="Test-colour samples 1 to 14 of the colour rendering index",
        source="CIE 13.3-1995, 380-780 nm at 5 nm",
        builder="colour_samples",
        quantity="spectral radiance factor, unit 1",
        values=values,
        checked=CHECKED,
    )
    columns = ["wavelength_nm", *(f"tcs{number:02d}" for number in range(1, 15))]
    return table_text(header, columns, values)


def _ninety_nine() -> str:
    """Every fifth of the samples at 1 nm, as CIE 224 allows for lights at 5 nm."""
    samples = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5))
    values = np.column_stack([samples.wavelengths, samples.values])
    header = provenance(
        title="Colour evaluation samples 1 to 99 of the colour fidelity index",
        source="CIE 224:2017 (the samples of ANSI/IES TM-30-20), 380-780 nm at 5 nm",
        builder="colour_samples",
        quantity="spectral radiance factor, unit 1",
        values=values,
        checked=CHECKED,
    )
    columns = ["wavelength_nm", *(f"ces{number:02d}" for number in range(1, 100))]
    return table_text(header, columns, values)


if __name__ == "__main__":
    write(build())
