"""IES TM-27 against colour-science 0.4.7: the names it knows, what it reads and what it writes."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from evencast.spectra import Quantity, Spectrum, read_spectrum, spectrum_text
from evencast.spectra.tm27 import (
    HEADER,
    MEASURED,
    OF_A_LIGHT,
    OF_A_SHEET,
    OF_NEITHER,
    REFLECTION,
    TRANSMISSION,
    read_tm27,
)
from tests.oracle import colour
from tests.unit.spectra.tm27_texts import (
    refusal,
)

Header = colour.io.tm2714.Header_IESTM2714
SpectralDistribution = colour.SpectralDistribution_IESTM2714


def test_the_twelve_quantities_and_the_geometries_are_those_of_the_oracle() -> None:
    """colour-science's documentation of its class lists them, citing IES TM-27-14."""
    types = str(SpectralDistribution.__init__.__annotations__)
    listed = set(re.findall(r"[\"']([\w:-]+)[\"']", types.partition("bandwidth_FWHM")[0]))
    listed -= {"path", "header", "spectral_quantity"}
    listed -= {"reflection_geometry", "transmission_geometry"}
    assert listed == {*OF_A_LIGHT, *OF_A_SHEET, *OF_NEITHER, *TRANSMISSION, *REFLECTION}


def test_the_elements_are_those_of_the_oracle() -> None:
    """Names of the header and of the measurement; the order of the header is the standard's
    own example's, where the oracle puts UniqueIdentifier before Laboratory."""
    oracle = SpectralDistribution()
    assert sorted(HEADER) == sorted(each.element for each in oracle.header.mapping.elements)
    assert [each.element for each in oracle.mapping.elements] == list(MEASURED)


def written(spectrum: Spectrum, quantity: Quantity, *, description: str = "x") -> str:
    return spectrum_text(
        spectrum,
        quantity=quantity,
        where="out.spdx",
        description=description,
        created="2031-05-04",
    )


def drawn(seed: int) -> Spectrum:
    """A spectrum at odd wavelengths with values of every size up to 1."""
    rng = np.random.default_rng(seed)
    nm = np.cumsum(np.append(379.7, rng.uniform(0.5, 3, 250)))
    return Spectrum(nm, rng.uniform(0, 1, len(nm)) ** 9)


@pytest.mark.parametrize("quantity", ["power", "transmittance"])
def test_what_is_written_departs_from_no_rule_and_reads_back(quantity: Quantity) -> None:
    """Digit for digit; header, quantity and geometry as they should be."""
    spectrum = drawn(6)
    text = written(spectrum, quantity)
    said = read_tm27(text, where="out.spdx")
    assert said.departures == ()
    assert said.edition == "IESTM2714"
    assert list(said.header) == [
        "Description",
        "DocumentCreator",
        "DocumentCreationDate",
        "Comments",
    ]
    assert said.measured == (
        {"SpectralQuantity": "relative"}
        if quantity == "power"
        else {"SpectralQuantity": "transmittance", "TransmissionGeometry": "other"}
    )
    again = read_spectrum(text, quantity=quantity, where="out.spdx").spectrum
    np.testing.assert_array_equal(again.wavelengths_nm, spectrum.wavelengths_nm)
    np.testing.assert_array_equal(again.values, spectrum.values)


@pytest.mark.parametrize(
    ("description", "read"),
    [
        ("half & half <frost>", "half & half <frost>"),
        ("]]>", "]]>"),
        ("a\x00b\x1b[2Jc\nd", "ab[2Jcd"),
        ("\x01", "unnamed"),
        ("Grün 中", "Grün 中"),
    ],
)
def test_any_name_can_be_written(description: str, read: str) -> None:
    """What XML cannot hold is left out."""
    text = written(drawn(7), "power", description=description)
    assert read_tm27(text, where="out.spdx").header["Description"] == read


@pytest.mark.parametrize("quantity", ["power", "transmittance"])
def test_the_oracle_reads_what_is_written(quantity: Quantity, tmp_path: Path) -> None:
    """colour-science 0.4.7's reader gets the same samples, quantity and header."""
    spectrum, path = drawn(8), tmp_path / "out.spdx"
    path.write_text(written(spectrum, quantity, description="half & <half>"), "utf-8")
    oracle = SpectralDistribution(str(path)).read()
    np.testing.assert_array_equal(oracle.wavelengths, spectrum.wavelengths_nm)
    np.testing.assert_array_equal(oracle.values, spectrum.values)
    assert oracle.spectral_quantity == ("relative" if quantity == "power" else "transmittance")
    assert oracle.transmission_geometry == (None if quantity == "power" else "other")
    assert oracle.header.description == "half & <half>"
    assert oracle.header.document_creation_date == "2031-05-04"


@pytest.mark.parametrize("name", ["A", "D65", "FL2", "FL11", "LED-B3", "HP1"])
def test_what_the_oracle_writes_is_read(name: str, tmp_path: Path) -> None:
    """Every value of six CIE illuminants, the oracle's empty elements taken as empty."""
    path = tmp_path / "oracle.spdx"
    original = colour.SDS_ILLUMINANTS[name]
    header = Header(
        description=name, document_creator="someone", document_creation_date="2031-05-04"
    )
    SpectralDistribution(
        str(path),
        header=header,
        spectral_quantity="relative",
        bandwidth_FWHM=2.5,
        bandwidth_corrected=True,
        data=original,
    ).write()
    file = read_spectrum(path.read_text("utf-8"), quantity="power", where="oracle.spdx")
    np.testing.assert_array_equal(file.spectrum.wavelengths_nm, original.wavelengths)
    np.testing.assert_array_equal(file.spectrum.values, original.values)
    assert file.description == name
    assert file.remarks[:2] == ("IESTM2714, relative", "bandwidth 2.5 nm corrected")
    assert not any("rules" in remark for remark in file.remarks)


RESOURCES = Path(colour.__file__).parent


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (
            "examples/io/resources/TM27 Sample Spectral Data.spdx",
            (
                "it covers 400 to 650 nm only",
                "lamp.spdx",
                "Give at least 400 to 700 nm; 380 to 780 nm is better.",
            ),
        ),
        (
            "io/tests/resources/Fluorescent.spdx",
            (
                "a gap: nothing between 438.9 and 460 nm",
                "lamp.spdx, line 30",
                "Fill it in; 20 nm is the most.",
            ),
        ),
    ],
)
def test_the_samples_of_the_oracle_follow_the_rules_but_lack_samples(
    file: str, said: tuple[str, str, str]
) -> None:
    """Read by the rules without a departure; one ends at 650 nm, one leaves out 21 nm."""
    text = (RESOURCES / file).read_text("utf-8")
    document = read_tm27(text, where="lamp.spdx")
    oracle = SpectralDistribution(str(RESOURCES / file)).read()
    np.testing.assert_array_equal(document.wavelengths_nm, oracle.wavelengths)
    np.testing.assert_array_equal(document.values, oracle.values)
    assert document.departures == ()
    assert refusal(text) == said
