"""CIE illuminants and the components of CIE daylight."""

from __future__ import annotations

import colour
import numpy as np
from colour.colorimetry.datasets.illuminants import (
    SDS_BASIS_FUNCTIONS_CIE_ILLUMINANT_D_SERIES as DAYLIGHT_COMPONENTS,
)

from builders.table import provenance, table_text, write

FAMILIES = {
    "cie_illuminants_a_d": (
        "CIE illuminants A, D50, D55, D65, D75",
        "CIE 15:2004 table T.1",
        ["A", "D50", "D55", "D65", "D75"],
    ),
    "cie_illuminants_fl": (
        "CIE illuminants FL1 to FL12, fluorescent tubes",
        "CIE 015:2018 table 10.1",
        [f"FL{n}" for n in range(1, 13)],
    ),
    "cie_illuminants_fl3": (
        "CIE illuminants FL3.1 to FL3.15, fluorescent tubes",
        "CIE 015:2018 tables 10.2 and 10.3",
        [f"FL3.{n}" for n in range(1, 16)],
    ),
    "cie_illuminants_hp": (
        "CIE illuminants HP1 to HP5, high-pressure discharge lamps",
        "CIE 015:2018 table 11",
        [f"HP{n}" for n in range(1, 6)],
    ),
    "cie_illuminants_led": (
        "CIE illuminants LED-B1 to LED-V2, light-emitting diodes",
        "CIE 015:2018 tables 12.1 and 12.2",
        [f"LED-{n}" for n in ("B1", "B2", "B3", "B4", "B5", "BH1", "RGB1", "V1", "V2")],
    ),
}


def build() -> dict[str, str]:
    """Table name to text."""
    texts = {"cie_daylight_components": _components()}
    for name, (title, source, keys) in FAMILIES.items():
        spectra = [colour.SDS_ILLUMINANTS[key] for key in keys]
        grid_nm = spectra[0].wavelengths
        assert all(np.array_equal(each.wavelengths, grid_nm) for each in spectra)
        values = np.column_stack([grid_nm, *(each.values for each in spectra)])
        header = provenance(
            title=title,
            source=source,
            builder="illuminants",
            quantity="relative spectral power, unit 1",
            values=values,
            checked="tests/published/test_cie_illuminants.py",
        )
        texts[name] = table_text(header, ["wavelength_nm", *keys], values)
    return texts


def _components() -> str:
    spectra = [DAYLIGHT_COMPONENTS[key] for key in ("S0", "S1", "S2")]
    values = np.column_stack([spectra[0].wavelengths, *(each.values for each in spectra)])
    header = provenance(
        title="Components S0, S1, S2 of CIE daylight",
        source="CIE 15:2004 table T.2, 300-830 nm at 5 nm",
        builder="illuminants",
        quantity="relative spectral power, unit 1",
        values=values,
        checked="tests/published/test_cie_illuminants.py",
    )
    return table_text(header, ["wavelength_nm", "s0", "s1", "s2"], values)


if __name__ == "__main__":
    write(build())
