from __future__ import annotations

import numpy as np
import pytest

from evencast.errors import EvencastError
from evencast.spectra import GRID_NM, Spectrum, parse_spectrum
from evencast.spectra.csv_text import Quantity

FIVE_NM = list(range(400, 705, 5))
ONE_PER_LINE = "Write one wavelength in nm and one value per line, such as 400,0.123"
CELLS = f"{ONE_PER_LINE}; leave no cell empty."


def sampled(wavelengths: list[float] | list[int], value: str = "0.5", separator: str = ",") -> str:
    """One line per wavelength, all with the same value."""
    return "".join(f"{nm:g}{separator}{value}\n" for nm in wavelengths)


GOOD = sampled(FIVE_NM)
"""Line 1 is 400 nm, line 2 is 405 nm and so on; 61 lines."""


def with_line(number: int, line: str) -> str:
    """The good spectrum with one line changed."""
    lines = GOOD.splitlines()
    lines[number - 1] = line
    return "\n".join(lines)


def read(text: str, quantity: Quantity = "power") -> Spectrum:
    return parse_spectrum(text, quantity=quantity, where="lamp.csv")


def refusal(text: str, quantity: Quantity = "power") -> tuple[str, str, str]:
    """What, where and remedy of the error that a text meets."""
    with pytest.raises(EvencastError) as caught:
        read(text, quantity)
    return caught.value.what, caught.value.where, caught.value.remedy


TOO_FEW = "Give at least 16, from 400 to 700 nm, no more than 20 nm apart."


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("", 0),
        ("\n\n# only a remark\n", 0),
        ("wavelength_nm,power\n", 0),
        ("nan,nan\n", 0),
        (sampled([400, 500, 600, 700]), 4),
        (sampled(list(range(400, 700, 20))), 15),
    ],
)
def test_too_few_points(text: str, count: int) -> None:
    """An empty file, a heading alone, or a handful of samples."""
    assert refusal(text) == (f"only {count} samples: too few for a spectrum", "lamp.csv", TOO_FEW)


def test_a_gap_inside_what_must_be_covered() -> None:
    """Three missing lines at 5 nm leave 20 nm open, more than three usual steps."""
    text = sampled([nm for nm in FIVE_NM if not 550 < nm < 570])
    assert refusal(text) == (
        "a gap: nothing between 550 and 570 nm",
        "lamp.csv, line 32",
        "Fill it in; elsewhere the samples are 5 nm apart.",
    )


def test_a_gap_is_told_by_the_line_in_the_file() -> None:
    """Heading, remarks and blank lines count as lines."""
    text = "# a lamp\n\nnm,power\n" + sampled([nm for nm in FIVE_NM if not 550 < nm < 570])
    assert refusal(text)[1] == "lamp.csv, line 35"


def test_a_gap_outside_what_must_be_covered_is_no_matter() -> None:
    """Below 400 and above 700 nm samples may be far apart."""
    spectrum = read(sampled([300, *FIVE_NM, 900]))
    assert len(spectrum.values) == len(FIVE_NM) + 2


def test_one_missing_line_at_5_nm_is_read_across() -> None:
    """10 nm at most are interpolated without a word."""
    assert len(read(sampled([nm for nm in FIVE_NM if nm != 550])).values) == 60


def test_samples_too_far_apart() -> None:
    """25 nm say too little of any lamp."""
    assert refusal(sampled(list(range(300, 825, 25)))) == (
        "the samples are 25 nm apart: too coarse",
        "lamp.csv",
        "Sample every 20 nm or closer.",
    )


def test_a_negative_value() -> None:
    """Beyond a meter's noise, light cannot be less than none."""
    assert refusal(with_line(7, "430,-0.2")) == (
        "-0.2 is negative",
        "lamp.csv, line 7",
        "Set noise to 0, or measure again: light cannot be less than none.",
    )


def test_a_negative_transmittance() -> None:
    """The same for a sheet."""
    assert refusal(with_line(7, "430,-0.2"), "transmittance") == (
        "-0.2 is negative",
        "lamp.csv, line 7",
        "Set noise to 0, or measure again: light cannot be less than none.",
    )


@pytest.mark.parametrize("quantity", ["power", "transmittance"])
def test_noise_below_zero_is_read_as_zero(quantity: Quantity) -> None:
    """Up to a thousandth of the peak."""
    spectrum = read(with_line(7, "430,-0.0005"), quantity)
    assert spectrum.values[6] == 0.0
    assert spectrum.values.min() == 0.0


@pytest.mark.parametrize(
    ("line", "cell"),
    [
        ("430,abc", "abc"),
        ("430,", None),
        (",0.5", ""),
        ("430,nan", "nan"),
        ("430,NaN", "NaN"),
        ("430,inf", "inf"),
        ("430,-Infinity", "-Infinity"),
        ("430,1e999", "1e999"),
        ("1e999,0.5", "1e999"),
        ("430,0x10", "0x10"),
        ("430,1_000", "1_000"),
        ("430,0.5.5", "0.5.5"),
        ("430,#N/A", "#N/A"),
        ("430,--", "--"),
        ("four hundred,0.5", "four hundred"),
    ],
)
def test_a_cell_that_is_no_number(line: str, cell: str | None) -> None:
    """NaN and infinity are no numbers here; a missing cell leaves one column."""
    what, where, remedy = refusal(with_line(7, line))
    assert where == "lamp.csv, line 7"
    if cell is None:
        assert (what, remedy) == ("1 columns where two belong", f"{ONE_PER_LINE}.")
    else:
        assert (what, remedy) == (f'"{cell}" is not a number', CELLS)


@pytest.mark.parametrize(
    ("line", "count"), [("430,0.5,0.6", 3), ("430", 1), ("430,0,5", 3), ("430;0.5;0.6;0.7", 4)]
)
def test_more_or_fewer_than_two_columns(line: str, count: int) -> None:
    """Two readings side by side, a lone wavelength, a decimal comma among commas."""
    assert refusal(with_line(7, line)) == (
        f"{count} columns where two belong",
        "lamp.csv, line 7",
        f"{ONE_PER_LINE}.",
    )


def test_a_file_of_three_columns_fails_on_its_first_line() -> None:
    """The heading passes; the first row tells."""
    text = "nm,warm,cool\n" + sampled(FIVE_NM, "0.5,0.6")
    assert refusal(text) == (
        "3 columns where two belong",
        "lamp.csv, line 2",
        f"{ONE_PER_LINE}.",
    )


def test_a_second_heading_is_no_row() -> None:
    """Only the first line may be words."""
    assert refusal("a,b\nnm,power\n" + GOOD) == ('"nm" is not a number', "lamp.csv, line 2", CELLS)


def test_percent_above_100() -> None:
    """One value above 1.5 makes the column percent; then 100 is the end."""
    text = with_line(7, "430,101.5")
    assert refusal(text, "transmittance") == (
        "101.5 is above 100 percent",
        "lamp.csv, line 7",
        "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 percent.",
    )


def test_a_transmittance_just_above_one() -> None:
    """Between 1 and 1.5 it is a bad measurement, not percent."""
    assert refusal(with_line(7, "430,1.02"), "transmittance") == (
        "1.02 is above 1",
        "lamp.csv, line 7",
        "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 percent.",
    )


def test_swapped_columns_by_their_numbers() -> None:
    """Wavelengths where values belong."""
    text = "".join(f"0.5,{nm}\n" for nm in FIVE_NM)
    assert refusal(text) == (
        "the columns are swapped",
        "lamp.csv",
        "Put the wavelength first, then the value.",
    )


@pytest.mark.parametrize("heading", ["power,wavelength_nm", "value,nm", "T,Wavelength (nm)"])
def test_swapped_columns_by_their_heading(heading: str) -> None:
    """The heading tells before any number does."""
    assert refusal(f"{heading}\n{GOOD}") == (
        "the columns are swapped",
        "lamp.csv, line 1",
        "Put the wavelength first, then the value.",
    )


@pytest.mark.parametrize(
    ("factor", "unit", "ends", "remedy"),
    [
        (1e-3, "micrometres", "0.4 to 0.7", "multiply by 1000"),
        (10.0, "ångström", "4000 to 7000", "divide by 10"),
        (1e-9, "metres", "4e-07 to 7e-07", "multiply by 1e9"),
    ],
)
def test_wavelengths_in_another_unit(factor: float, unit: str, ends: str, remedy: str) -> None:
    """Told by their size, with the way to nanometres."""
    text = "".join(f"{nm * factor:.10g},0.5\n" for nm in FIVE_NM)
    assert refusal(text) == (
        f"the wavelengths look like {unit}, not nm ({ends})",
        "lamp.csv",
        f"Convert them to nm: {remedy}.",
    )


@pytest.mark.parametrize(
    "name", ["wavelength_um", "wavelength (µm)", "micrometre", "Angstrom", "wavenumber", "cm-1"]
)
def test_another_unit_by_the_heading(name: str) -> None:
    """A heading that names another unit is believed."""
    assert refusal(f"{name},power\n{GOOD}") == (
        f'"{name}" is not in nanometres',
        "lamp.csv, line 1",
        "Convert the wavelengths to nm.",
    )


def test_numbers_that_are_no_wavelength_at_all() -> None:
    """Row numbers where wavelengths belong."""
    assert refusal(sampled(list(range(61)))) == (
        "the first column, 0 to 60, is no visible wavelength in nm",
        "lamp.csv",
        f"{ONE_PER_LINE}, from 400 to 700 nm at least.",
    )


@pytest.mark.parametrize(("low", "high"), [(405, 700), (400, 695), (420, 680), (380, 690)])
def test_not_covering_400_to_700_nm(low: int, high: int) -> None:
    """What lies outside cannot be guessed."""
    assert refusal(sampled(list(range(low, high + 1, 5)))) == (
        f"it covers {low} to {high} nm only",
        "lamp.csv",
        "Give at least 400 to 700 nm; 380 to 780 nm is better.",
    )


def test_a_wavelength_twice() -> None:
    """Two values for one wavelength: which one holds?"""
    assert refusal(with_line(7, "425,0.5")) == (
        "425 nm stands twice",
        "lamp.csv, line 7",
        "Sort the lines by rising wavelength, each wavelength once.",
    )


def test_descending_wavelengths() -> None:
    """From red to blue, as some meters write; sorting is a key in any spreadsheet."""
    assert refusal(sampled(FIVE_NM[::-1])) == (
        "695 nm comes after 700 nm",
        "lamp.csv, line 2",
        "Sort the lines by rising wavelength, each wavelength once.",
    )


def test_a_lamp_without_light() -> None:
    """Nothing but zeros."""
    assert refusal(sampled(FIVE_NM, "0")) == (
        "every value is zero: there is no light in it",
        "lamp.csv",
        "Give the lamp's spectrum.",
    )


def test_a_sheet_that_passes_nothing() -> None:
    """Nothing but zeros."""
    assert refusal(sampled(FIVE_NM, "0"), "transmittance") == (
        "every value is zero: nothing passes",
        "lamp.csv",
        "Give the sheet's transmittance.",
    )


def test_a_huge_transmittance() -> None:
    """Near the end of double precision it is above 100 like any other."""
    assert refusal(sampled(FIVE_NM, "1.7e308"), "transmittance") == (
        "1.7e+308 is above 100 percent",
        "lamp.csv, line 1",
        "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 percent.",
    )


def slope(separator: str, *, comma: bool = False, suffix: str = "", scale: float = 1.0) -> str:
    """A rising spectrum as text."""
    rows = (f"{nm}{separator}{(nm - 300) / 500 * scale:.4f}{suffix}" for nm in range(380, 785, 5))
    text = "\n".join(rows) + "\n"
    return text.replace(".", ",") if comma else text


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
        "\ufeffwavelength_nm,power\n" + slope(","),
        slope(",").replace("\n", "\r\n"),
        slope(",").rstrip("\n"),
        "# a remark\n" + slope(","),
        "wavelength_nm,power\n" + slope(","),
        "wavelength_nm,transmittance\n" + slope(","),
        "Wavelength (nm);Power (W/nm)\n" + slope(";"),
        '"nm","value"\n' + slope(","),
        "nm power\n" + slope(" "),
        "\n\n  # indented remark\n\n" + slope(","),
        slope(",").replace("\n", ",\n"),
        slope(",").replace("0.", "."),
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


def test_a_percent_sign_makes_a_dark_sheet_percent() -> None:
    """A deep colour of at most 1 % is not a clear sheet: the sign decides before the size."""
    values = read(sampled(FIVE_NM, "1.0%"), "transmittance").values
    np.testing.assert_allclose(values, 0.01)


def test_power_keeps_its_scale() -> None:
    """Relative power may be any size; 150 is not percent."""
    assert read(sampled(FIVE_NM, "150")).values.max() == 150.0
