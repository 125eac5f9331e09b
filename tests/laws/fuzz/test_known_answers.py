"""Sound texts of every shape, made from values that are known: they must come back exactly."""

from __future__ import annotations

import math
from dataclasses import dataclass
from xml.sax.saxutils import escape

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evencast.actions import resolve
from evencast.colour import mired_duv, uv, uv_of_xy
from evencast.filters import generic, generic_names
from evencast.quantities import mired
from evencast.spectra import Quantity, read_spectrum
from evencast.spectra.tm27 import OF_A_LIGHT, TRANSMISSION
from tests.laws.fuzz.readers import check_spectrum

SHORT, LONG = 100, 20_000
QUANTITIES = st.sampled_from(["power", "transmittance"])


@dataclass(frozen=True)
class Known:
    """What a text must be read as: (n,) wavelengths and values as written, rising."""

    text: str
    wavelengths_nm: list[float]
    values: list[float]
    in_percent: bool


@st.composite
def spectra(draw: st.DrawFn, quantity: str) -> tuple[list[str], list[str], bool]:
    """Wavelengths and values as written with a point, and whether the values are percent."""
    step = draw(st.sampled_from(["1", "2", "5", "10", "12.5", "20"]))
    count = math.ceil(320 / float(step)) + draw(st.integers(1, 8))
    first = draw(st.sampled_from([380.0, 390.0, 395.5, 400.0]))
    decimals = draw(st.sampled_from([1, 2, 4]))
    nm = [f"{first + index * float(step):.{decimals}f}" for index in range(count)]
    in_percent = quantity == "transmittance" and draw(st.booleans())
    highest = (
        100
        if in_percent
        else (1 if quantity == "transmittance" else 10 ** draw(st.integers(-9, 9)))
    )
    shares = draw(st.lists(st.floats(0.01, 1), min_size=7, max_size=7))
    spell = draw(st.sampled_from([repr, "{:.12f}".format, "{:.5e}".format, "{:g}".format]))
    values = [spell(shares[index % 7] * highest) for index in range(count)]
    values[0] = spell(0.9 * highest)
    assume(not any("." in each for each in values) or any(_ends_oddly(each) for each in values))
    return nm, values, in_percent


def _ends_oddly(value: str) -> bool:
    """Whether a value cannot be thousands with a mark between them."""
    _, mark, end = value.partition(".")
    return bool(mark) and (len(end) != 3 or value.startswith("0"))


@st.composite
def csv_texts(draw: st.DrawFn, quantity: str) -> Known:
    """A CSV text in any of the shapes that are accepted."""
    nm, values, in_percent = draw(spectra(quantity))
    separator, mark = draw(
        st.sampled_from(
            [(",", "."), (", ", "."), (";", "."), (";", ","), (" ; ", ","), ("\t", ",")]
        )
        | st.sampled_from([("\t", "."), (" ", "."), ("   ", ","), (" ", ",")])
    )
    sign = "%" if in_percent and draw(st.booleans()) else ""
    quote = '"' if separator.strip() and draw(st.booleans()) else ""
    swapped, falling = draw(st.booleans()), draw(st.booleans())
    rows = [
        [f"{quote}{cell.replace('.', mark)}{quote}" for cell in (here, value + sign)]
        for here, value in zip(nm, values, strict=True)
    ]
    lines = [separator.join(row[::-1] if swapped else row) for row in rows]
    lines = lines[::-1] if falling else lines
    name = "T in percent" if in_percent else "value"
    heading = ["name", name] if separator.isspace() else [f"{quote}wavelength{quote}", name]
    if separator.isspace():
        heading = ["wavelength", "T%" if in_percent else "value"]
    if in_percent or swapped or draw(st.booleans()):
        lines.insert(0, separator.join(heading[::-1] if swapped else heading))
        if draw(st.booleans()):
            lines.insert(0, f"Taken by{separator}somebody")
    for _ in range(draw(st.integers(0, 2))):
        lines.insert(draw(st.integers(0, len(lines))), draw(st.sampled_from(["", "# 1,2", "  #x"])))
    tail = draw(st.sampled_from(["", separator.strip() or ""]))
    end = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    text = draw(st.sampled_from(["", "\ufeff"])) + end.join(
        line + tail if line and "#" not in line else line for line in lines
    )
    return Known(text, [float(each) for each in nm], [float(each) for each in values], in_percent)


@st.composite
def spdx_texts(draw: st.DrawFn, quantity: str) -> Known:
    """An IES TM-27 text in any of the shapes that XML allows."""
    nm, values, in_percent = draw(spectra(quantity))
    prefix = draw(st.sampled_from(["", "s:"]))
    space = draw(st.sampled_from(["http://www.ies.org/iestm2714", "iestm2714"]))
    quote = draw(st.sampled_from(["'", '"']))
    wrap = draw(st.sampled_from(["{}", " {}\n", "<![CDATA[{}]]>", "<!-- 9 -->{}<?x 9?>"]))
    said = draw(st.sampled_from(OF_A_LIGHT)) if quantity == "power" else "transmittance"
    header = draw(
        st.lists(st.text("ab<&>'\" ü中", min_size=1).filter(str.strip), min_size=2, max_size=2)
    )
    pieces = [
        "<Header>",
        f"<Description>{escape(header[0])}</Description>",
        f"<DocumentCreator>{escape(header[1])}</DocumentCreator>",
        "<DocumentCreationDate>2031-05-04T10:00:00Z</DocumentCreationDate></Header>",
        f"<SpectralDistribution><SpectralQuantity>{said}</SpectralQuantity>",
        f"<TransmissionGeometry>{draw(st.sampled_from(TRANSMISSION))}</TransmissionGeometry>",
        *(
            f"<SpectralData wavelength={quote}{here}{quote}>{wrap.format(value)}</SpectralData>"
            for here, value in zip(nm, values, strict=True)
        ),
        "</SpectralDistribution>",
    ]
    body = draw(st.sampled_from(["", "\n", "\r\n\t"])).join(pieces)
    if prefix:
        for name in ("Header", "Description", "Document", "Spectral", "Transmission"):
            body = body.replace(f"<{name}", f"<{prefix}{name}").replace(
                f"</{name}", f"</{prefix}{name}"
            )
    declared = f"xmlns{':s' if prefix else ''}={quote}{space}{quote}"
    text = f"<{prefix}IESTM2714 {declared} version='1.0'>{body}</{prefix}IESTM2714>"
    begin = draw(
        st.sampled_from(["", '<?xml version="1.0"?>', "\ufeff<?xml version='1.0'?>\n<!-- -->"])
    )
    numbers = ([float(each) for each in nm], [float(each) for each in values])
    return Known(begin + text, *numbers, in_percent)


def assert_read(known: Known, quantity: Quantity, where: str) -> None:
    """The same numbers, digit for digit, and percent told as percent."""
    file = read_spectrum(known.text, quantity=quantity, where=where)
    check_spectrum(file, quantity)
    np.testing.assert_array_equal(file.spectrum.wavelengths_nm, known.wavelengths_nm)
    expected = np.array(known.values) / (100.0 if known.in_percent else 1.0)
    np.testing.assert_array_equal(file.spectrum.values, expected)
    assert known.in_percent == any("values in percent" in remark for remark in file.remarks)


CASES = QUANTITIES.flatmap(
    lambda quantity: st.tuples(
        st.just(quantity),
        st.one_of(
            csv_texts(quantity).map(lambda known: (known, "x.csv")),
            spdx_texts(quantity).map(lambda known: (known, "x.spdx")),
        ),
    )
)


@settings(max_examples=SHORT, deadline=None)
@given(case=CASES)
def test_a_spectrum_of_any_shape_comes_back(case: tuple[Quantity, tuple[Known, str]]) -> None:
    """CSV and IES TM-27, a light and a filter."""
    quantity, (known, where) = case
    assert_read(known, quantity, where)


@pytest.mark.long
@settings(max_examples=LONG, deadline=None)
@given(case=CASES)
def test_a_spectrum_of_any_shape_comes_back_at_length(
    case: tuple[Quantity, tuple[Known, str]],
) -> None:
    """The full count."""
    quantity, (known, where) = case
    assert_read(known, quantity, where)


SPACES = st.sampled_from(["", " ", "  "])


@settings(max_examples=30, deadline=None)
@given(
    cct_k=st.floats(2500, 12_000).map(lambda kelvin: f"{kelvin:.1f}"),
    duv=st.floats(-0.01, 0.01).map(lambda duv: f"{duv:+.4f}"),
    space=SPACES,
    unit=st.sampled_from("kK"),
)
def test_a_reading_comes_back(cct_k: str, duv: str, space: str, unit: str) -> None:
    """As a light and as an aim: the Kelvin and the Duv that were written."""
    text = f"{space}{cct_k}{space}{unit}{duv}{space}"
    aim = resolve.aim(text, balance=None, kit=None)
    for found in (uv(resolve.light(text).power), aim.uv):
        at_mired, at_duv = mired_duv(found)
        assert at_mired == pytest.approx(mired(float(cct_k)), abs=1e-3)
        assert at_duv == pytest.approx(float(duv), abs=1e-6)


@settings(max_examples=50, deadline=None)
@given(
    shift=st.floats(-100, 100).map(lambda shift: f"{shift:+.1f}"),
    stops=st.sampled_from(["", "+0.5stop", " -1 stop", "-.3stops"]),
    space=SPACES,
)
def test_an_offset_from_the_balance_comes_back(shift: str, stops: str, space: str) -> None:
    """Mired beside the balance, and the level at the end."""
    aim = resolve.aim(f"balance{space}{shift}{space}mired{stops}", balance="4300K", kit=None)
    at_balance = mired_duv(resolve.balance_aim("4300K").uv)[0]
    assert mired_duv(aim.uv)[0] == pytest.approx(at_balance + float(shift), abs=1e-3)
    assert aim.stops == float(stops.strip(" stop").replace(" ", "") or 0)


@settings(max_examples=50, deadline=None)
@given(x=st.floats(0.25, 0.45), y=st.floats(0.3, 0.4), space=SPACES)
def test_a_chromaticity_comes_back(x: float, y: float, space: str) -> None:
    """x, y as written."""
    aim = resolve.aim(f"{x:.5f}{space},{space}{y:.5f}", balance=None, kit=None)
    np.testing.assert_allclose(aim.uv, uv_of_xy(np.array([round(x, 5), round(y, 5)])), rtol=1e-12)


@settings(max_examples=50, deadline=None)
@given(name=st.sampled_from(sorted(generic_names())), upper=st.booleans(), space=st.integers(1, 3))
def test_a_filter_is_found_however_it_is_spelt(name: str, upper: bool, space: int) -> None:
    """Upper or lower case, wide spaces: the same transmittance."""
    spelt = (name.upper() if upper else name.lower()).replace(" ", " " * space)
    found = resolve.filter_named(spelt, None)
    assert found.name == name
    np.testing.assert_array_equal(found.transmittance, generic(name).transmittance)
