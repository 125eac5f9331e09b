from __future__ import annotations

import pytest

from evencast.spectra import Quantity
from tests.unit.spectra.csv_texts import FIVE_NM, GOOD, read, refusal, sampled, slope, with_line

ONE_PER_LINE = "Write one wavelength in nm and one value per line, such as 400,0.123"
CELLS = f"{ONE_PER_LINE}; leave no cell empty."
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
        assert (what, remedy) == ("1 column where two belong", f"{ONE_PER_LINE}.")
    else:
        assert (what, remedy) == (f'"{cell}" is not a number', CELLS)


EXTRA = (
    "Keep the wavelength and the one value you want, and a point as decimal mark where a comma "
    "stands between the columns."
)


@pytest.mark.parametrize(
    "line", ["430,0.\x005", '"430","0.\x005"', '"430","0.5' + "5" * 200_000 + "x"]
)
def test_null_bytes_and_endless_cells(line: str) -> None:
    """Neither is passed over, quoted or not."""
    what, where, remedy = refusal(with_line(7, line))
    assert what in ('"0.\ufffd5" is not a number', f'"0.5{"5" * 36}…" is not a number')
    assert (where, remedy) == ("lamp.csv, line 7", CELLS)


@pytest.mark.parametrize(("line", "count"), [("430,0.5,0.6", 3), ("430,0,5", 3), ("430,,1,2", 4)])
def test_more_than_two_columns(line: str, count: int) -> None:
    """Two readings side by side, a decimal comma among commas."""
    assert refusal(with_line(7, line)) == (
        f"{count} columns where two belong",
        "lamp.csv, line 7",
        EXTRA,
    )


@pytest.mark.parametrize("line", ["430", "430;0.5;0.6;0.7", "430\t0.5"])
def test_fewer_than_two_columns(line: str) -> None:
    """A lone wavelength, or another separator than in the lines before."""
    assert refusal(with_line(7, line)) == (
        "1 column where two belong",
        "lamp.csv, line 7",
        f"{ONE_PER_LINE}.",
    )


def test_a_file_of_three_columns_fails_on_its_first_line() -> None:
    """The heading passes; the first row tells."""
    text = "nm,warm,cool\n" + sampled(FIVE_NM, "0.5,0.6")
    assert refusal(text) == ("3 columns where two belong", "lamp.csv, line 2", EXTRA)


def test_nothing_but_words() -> None:
    """The last line of them is named."""
    assert refusal("nm,power\nfour,five\n") == ('"four" is not a number', "lamp.csv, line 2", CELLS)


def test_words_among_the_numbers_are_no_heading() -> None:
    """Once numbers have begun, a line of words is a fault."""
    assert refusal(GOOD + "nm,power\n") == ('"nm" is not a number', "lamp.csv, line 62", CELLS)


ABOVE_ALL = (
    "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 with a percent "
    "sign in the heading."
)


def test_percent_above_100() -> None:
    """One value above 1.5 makes the column percent; then 100 is the end."""
    text = with_line(7, "430,101.5")
    assert refusal(text, "transmittance") == (
        "101.5 is above 100 percent",
        "lamp.csv, line 7",
        ABOVE_ALL,
    )


def test_a_transmittance_just_above_one() -> None:
    """Between 1 and 1.5 it is a bad measurement, not percent."""
    assert refusal(with_line(7, "430,1.02"), "transmittance") == (
        "1.02 is above 1",
        "lamp.csv, line 7",
        ABOVE_ALL,
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
        "0 to 60 are no visible wavelengths in nm",
        "lamp.csv",
        "Give wavelengths in nm, from 400 to 700 at least.",
    )


@pytest.mark.parametrize(("low", "high"), [(405, 700), (400, 695), (420, 680), (380, 690)])
def test_not_covering_400_to_700_nm(low: int, high: int) -> None:
    """What lies outside cannot be guessed."""
    assert refusal(sampled(list(range(low, high + 1, 5)))) == (
        f"it covers {low} to {high} nm only",
        "lamp.csv",
        "Give at least 400 to 700 nm; 380 to 780 nm is better.",
    )


SORT = "Sort the lines by wavelength, each wavelength once."


def test_a_wavelength_twice() -> None:
    """Two values for one wavelength: which one holds?"""
    assert refusal(with_line(7, "425,0.5")) == (
        "425 nm stands twice",
        "lamp.csv, line 7",
        SORT,
    )


def test_a_wavelength_out_of_order() -> None:
    """Neither rising nor falling all through."""
    assert refusal(with_line(7, "423,0.5")) == (
        "423 nm comes after 425 nm",
        "lamp.csv, line 7",
        SORT,
    )


@pytest.mark.parametrize(("line", "number"), [("0.0038,0.5", 1), ("7000,0.5", 61)])
def test_a_wavelength_that_is_none(line: str, number: int) -> None:
    """In its place, but far from any light: a slip of the pen or the file."""
    assert refusal(with_line(number, line)) == (
        f"{line.split(',')[0]} nm is no wavelength of light",
        f"lamp.csv, line {number}",
        "Check that wavelength, or leave the line out.",
    )


def test_two_wavelengths_but_for_a_hair() -> None:
    """Nothing can be told of a step between them."""
    assert refusal(with_line(7, "425.0001,0.5")) == (
        "425 nm and the wavelength before it are the same but for a hair",
        "lamp.csv, line 7",
        SORT,
    )


COLUMN = "Check that the values are in the second column."


@pytest.mark.parametrize(
    "text", [sampled(FIVE_NM, "0"), sampled(range(380, 805, 5), "0") + "900,1\n"]
)
def test_a_lamp_without_light(text: str) -> None:
    """Nothing but zeros where anyone can see."""
    what = "there is no light in it between 380 and 780 nm"
    assert refusal(text) == (what, "lamp.csv", COLUMN)


@pytest.mark.parametrize(
    "text", [sampled(FIVE_NM, "0"), sampled(range(380, 805, 5), "0") + "900,1\n"]
)
def test_a_sheet_that_passes_nothing(text: str) -> None:
    """Likewise."""
    what = "nothing passes between 380 and 780 nm"
    assert refusal(text, "transmittance") == (what, "lamp.csv", COLUMN)


@pytest.mark.parametrize(("value", "size"), [("1e101", "large"), ("1e-101", "small")])
def test_a_power_that_nobody_measured(value: str, size: str) -> None:
    """So far out that sums would overflow or vanish."""
    assert refusal(sampled(FIVE_NM, value)) == (
        f"{value.replace('e1', 'e+1')} is too {size} for a measurement",
        "lamp.csv",
        "Relative power will do: give a peak of 1e-100 to 1e+100.",
    )


def test_a_huge_transmittance() -> None:
    """Near the end of double precision it is above 100 like any other."""
    assert refusal(sampled(FIVE_NM, "1.7e308"), "transmittance") == (
        "1.7e+308 is above 100 percent",
        "lamp.csv, line 1",
        ABOVE_ALL,
    )


@pytest.mark.parametrize(
    ("line", "quantity"),
    [("430,50%", "transmittance"), ("430,50%", "power"), ("430%,0.5", "power")],
)
def test_percent_signs_here_and_there(line: str, quantity: Quantity) -> None:
    """50% beside 0.5: which is it?"""
    assert refusal(with_line(7, line), quantity) == (
        "some numbers have a percent sign and others none",
        "lamp.csv, line 7",
        "Write the sign behind every value or behind none.",
    )


def test_two_decimal_marks() -> None:
    """A point among decimal commas is a mark between thousands, or a slip."""
    text = slope(";", comma=True).replace("0,1700", "0.1700")
    assert refusal(text) == (
        '"0.1700" has another decimal mark than the lines before it',
        "lamp.csv, line 2",
        "Write one decimal mark all through the file and no mark between thousands.",
    )


@pytest.mark.parametrize("mark", [",", "."])
def test_thousands_or_thousandths(mark: str) -> None:
    """998 and then 1,001: a thousand times more, or a thousand times less."""
    rows = [f"{nm};{998 if nm < 550 else f'1{mark}001'}\n" for nm in FIVE_NM]
    assert refusal("".join(rows)) == (
        f'"1{mark}001" may be thousands or thousandths, beside values such as "998"',
        "lamp.csv, line 31",
        "Write the values without a mark between thousands.",
    )


def test_three_decimals_are_no_thousands() -> None:
    """Where every value has its mark, or one has other than three digits behind it."""
    assert read(sampled(FIVE_NM, "12,345", ";")).values.max() == 12.345
    text = (
        sampled(FIVE_NM, "12,345", ";").replace("400;12,345", "400;7").replace("5;12,345", "5;0,1")
    )
    assert sorted(set(read(text).values)) == [0.1, 7.0, 12.345]


@pytest.mark.parametrize(
    ("heading", "quantity", "thing"),
    [
        ("transmittance", "power", "power of a light"),
        ("Reflectance", "power", "power of a light"),
        ("absorbance", "power", "power of a light"),
        ("optical density", "transmittance", "transmittance of a filter"),
        ("Absorbance", "transmittance", "transmittance of a filter"),
        ("power", "transmittance", "transmittance of a filter"),
        ("irradiance (W/m2/nm)", "transmittance", "transmittance of a filter"),
    ],
)
def test_a_heading_that_names_another_quantity(
    heading: str, quantity: Quantity, thing: str
) -> None:
    """A sheet's file where a light belongs, or the other way round; density is no transmittance."""
    wanted = thing.split()[0]
    assert refusal(f"nm,{heading}\n{GOOD}", quantity) == (
        f'the heading says "{heading}": that is not the {thing}',
        "lamp.csv",
        f'Correct the heading if the values are that: write "{wanted}".',
    )
