"""The CIE standard observers."""

from __future__ import annotations

import colour
import numpy as np

from builders.table import provenance, table_text, write

OBSERVERS = {
    "cie_1931_2deg": (
        "CIE 1931 2 Degree Standard Observer",
        "Colour-matching functions, CIE 1931 standard observer (2 degrees)",
        "CIE 018:2019 table 6",
        "tests/published/test_cie_illuminants.py",
    ),
    "cie_1964_10deg": (
        "CIE 1964 10 Degree Standard Observer",
        "Colour-matching functions, CIE 1964 standard observer (10 degrees)",
        "ISO/CIE 11664-1:2019 table 2",
        "tests/published/test_against_colour_science.py",
    ),
}


def build() -> dict[str, str]:
    """Table name to text."""
    texts = {}
    for name, (key, title, source, checked) in OBSERVERS.items():
        cmf = colour.MSDS_CMFS[key]
        values = np.column_stack([cmf.wavelengths, cmf.values])
        header = provenance(
            title=title,
            source=f"{source}, 360-830 nm at 1 nm",
            builder="observers",
            quantity="tristimulus value, unit 1",
            values=values,
            checked=checked,
        )
        texts[name] = table_text(header, ["wavelength_nm", "x_bar", "y_bar", "z_bar"], values)
    return texts


if __name__ == "__main__":
    write(build())
