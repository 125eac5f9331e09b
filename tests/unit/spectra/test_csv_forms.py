"""CSV in every shape that is accepted says the same."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.spectra import GRID_NM, Quantity
from tests.unit.spectra.csv_texts import FIVE_NM, read, sampled, slope


@pytest.mark.parametrize(
    "text",
    [
        slope(","),
        slope(", "),
        slope(";"),
        slope(";", comma=True),
        slope("\t"),
        slope("\t", comma=True),
        slope(" "),
        slope("   "),
        "\ufeff" + slope(","),
        "\ufeffwavelength_nm,value\n" + slope(","),
        slope(",").replace("\n", "\r\n"),
        slope(",").rstrip("\n"),
        "# a remark\n" + slope(","),
        "wavelength_nm,value\n" + slope(","),
        "Wavelength (nm);T\n" + slope(";"),
        "Instrument;X\nTaken;2031-05-04\nwavelength;value\nnm;1\n" + slope(";"),
        "value,nm\n" + slope(",", swapped=True),
        slope(",", swapped=True),
        slope(" ", comma=True),
        slope(";", comma=True, swapped=True),
        "\n".join(slope(",").splitlines()[::-1]),
        slope(",").replace("\n", ",,\n"),
        slope("\t").replace("\n", "\t\n"),
        '"nm","T"\n' + slope(","),
        "nm value\n" + slope(" "),
        "\n\n  # indented remark\n\n" + slope(","),
        slope(",").replace("\n", ",\n"),
        slope(",").replace("0.", "."),
        "".join(
            f'"{line.split()[0]}","{line.split()[1]}"\n'
            for line in slope(" ", comma=True).splitlines()
        ),
        "".join(f'"{line.split(",")[0]}","{line.split(",")[1]}"\n' for line in slope(",").split()),
        "".join(f"{line.replace(',', ',+')}\n" for line in slope(",").split()),
        "".join(f"{line}e0\n" for line in slope(",").split()),
    ],
)
@pytest.mark.parametrize("quantity", ["power", "transmittance"])
def test_accepted_forms_all_say_the_same(text: str, quantity: Quantity) -> None:
    """Comma, semicolon, tab, spaces; decimal comma; byte order mark; line ends; remarks;
    heading or none; quotes; a comma at the end of each line."""
    spectrum = read(text, quantity)
    np.testing.assert_array_equal(spectrum.wavelengths_nm, GRID_NM)
    np.testing.assert_allclose(spectrum.values, (GRID_NM - 300) / 500, atol=1e-12)
    np.testing.assert_allclose(spectrum.grid, (GRID_NM - 300) / 500, atol=1e-12)


@pytest.mark.parametrize(
    "text",
    [slope(",", scale=100), slope(";", scale=100, comma=True), slope(",", scale=100, suffix="%")],
)
def test_percent_becomes_a_share(text: str) -> None:
    """0 to 100 percent, with or without the sign in each cell."""
    np.testing.assert_allclose(
        read(text, "transmittance").values, (GRID_NM - 300) / 500, atol=1e-12
    )


@pytest.mark.parametrize("heading", ["nm,T (%)", "wavelength,T in percent", "wavelength,T\nnm,%"])
def test_a_heading_in_percent_makes_a_dark_sheet_percent(heading: str) -> None:
    """The heading decides before the size, wherever it says so."""
    text = f"{heading}\n" + sampled(FIVE_NM, "1.0")
    np.testing.assert_allclose(read(text, "transmittance").values, 0.01)


def test_percent_elsewhere_in_the_file_says_nothing_of_the_values() -> None:
    """The humidity of the room, and a remark."""
    text = "Humidity,45%\nnm,T\n# 5 %\n" + sampled(FIVE_NM, "1.0")
    np.testing.assert_allclose(read(text, "transmittance").values, 1.0)


def test_a_percent_sign_makes_a_dark_sheet_percent() -> None:
    """A deep colour of at most 1 % is not a clear sheet: the sign decides before the size."""
    values = read(sampled(FIVE_NM, "1.0%"), "transmittance").values
    np.testing.assert_allclose(values, 0.01)


def test_power_keeps_its_scale() -> None:
    """Relative power may be any size; 150 is not percent."""
    assert read(sampled(FIVE_NM, "150")).values.max() == 150.0
