from __future__ import annotations

import re

import numpy as np
import pytest

from evencast.spectra import Quantity, read_spectrum
from evencast.spectra.tm27 import (
    NAMESPACE,
    OF_A_LIGHT,
    OF_A_SHEET,
    OF_NEITHER,
    TRANSMISSION,
    read_tm27,
)
from tests.unit.spectra.tm27_texts import (
    DATA,
    EXPORT,
    FIVE_NM,
    HEAD,
    document,
    quantity_said,
    refusal,
    remarks,
)

SAMPLING = "61 samples, 400 to 700 nm, 5 nm apart"
SHARES = "values as shares of 1, since none is above 1"


def test_a_sound_text_is_read_without_a_word_on_rules() -> None:
    """Edition, quantity and sampling are told; the description comes with it."""
    file = read_spectrum(document(), quantity="power", where="lamp.spdx")
    assert file.remarks == ("IESTM2714, relative", SAMPLING)
    assert file.note == f'"shed lamp"; IESTM2714, relative; {SAMPLING}'
    np.testing.assert_array_equal(file.spectrum.wavelengths_nm, list(FIVE_NM))
    np.testing.assert_array_equal(file.spectrum.values, [float(f"0.{nm}") for nm in FIVE_NM])


def test_the_content_tells_xml_from_csv() -> None:
    """XML under another name is read as XML, CSV named .spdx is not read as CSV."""
    file = read_spectrum("\ufeff\n" + document(before=""), quantity="power", where="lamp.csv")
    assert file.remarks[0] == "IESTM2714, relative"
    assert refusal("400,0.5\n") == (
        "is not well-formed XML: syntax error",
        "lamp.spdx, line 1",
        EXPORT,
    )


@pytest.mark.parametrize("quantity", [*OF_A_LIGHT, *OF_A_SHEET, *OF_NEITHER])
@pytest.mark.parametrize("wanted", ["power", "transmittance"])
def test_each_quantity_is_a_light_or_a_filter_or_neither(quantity: str, wanted: Quantity) -> None:
    """The twelve quantities of IES TM-27-14, each in both places."""
    text = document(said=quantity_said(quantity))
    fitting = OF_A_LIGHT if wanted == "power" else OF_A_SHEET
    if quantity in fitting:
        assert remarks(text, wanted)[0] == f"IESTM2714, {quantity}"
        return
    thing, other = ("light", "filter") if wanted == "power" else ("filter", "light")
    accepted = (
        "relative, flux, intensity, irradiance, radiance or exitance"
        if wanted == "power"
        else "transmittance or T-Factor"
    )
    assert refusal(text, wanted) == (
        f'the values are "{quantity}", which tells neither a light nor what a filter passes'
        if quantity in OF_NEITHER
        else f'the values are "{quantity}": they belong to a {other}, not to a {thing}',
        "lamp.spdx",
        f"For a {thing} SpectralQuantity is {accepted}: correct it if the values are that.",
    )


DEPARTURES = {
    "no description": (
        document(head=HEAD.replace("<Description>shed lamp</Description>", "")),
        "no Description",
    ),
    "empty creator": (document(head=HEAD.replace(">me<", "> <")), "no DocumentCreator"),
    "the word None": (document(head=HEAD.replace(">me<", ">None<")), "no DocumentCreator"),
    "no header": (
        document(head=""),
        "no Description, DocumentCreator, DocumentCreationDate; "
        "not one Header and then one SpectralDistribution",
    ),
    "no date": (
        document(head=HEAD.replace("2031-05-04", "last week")),
        'the DocumentCreationDate "last week" is no date',
    ),
    "version": (
        document(root=f'IESTM2714 xmlns="{NAMESPACE}" version="2.0"'),
        "the version is not 1.0",
    ),
    "no version": (document(root=f'IESTM2714 xmlns="{NAMESPACE}"'), "the version is not 1.0"),
    "two headers": (
        document(head=HEAD + HEAD),
        "not one Header and then one SpectralDistribution",
    ),
    "geometry": (
        document(said=quantity_said("flux") + "<ReflectionGeometry>8</ReflectionGeometry>"),
        '"8" is no ReflectionGeometry',
    ),
    "bandwidth": (
        document(said=quantity_said("flux") + "<BandwidthFWHM>-2</BandwidthFWHM>"),
        '"-2" is no BandwidthFWHM',
    ),
    "corrected": (
        document(said=quantity_said("flux") + "<BandwidthCorrected>yes</BandwidthCorrected>"),
        '"yes" is no BandwidthCorrected',
    ),
    "element": (document(said=quantity_said("flux") + "<Tint>3</Tint>"), "unknown: Tint"),
    "foreign element": (
        document(said=quantity_said("flux") + '<Tint xmlns="urn:x">3</Tint>'),
        "unknown: urn:x Tint",
    ),
    "attribute": (
        document(data=DATA.replace('"400"', '"400" unit="nm"')),
        "unknown: SpectralData",
    ),
}


@pytest.mark.parametrize("name", DEPARTURES)
def test_a_departure_that_leaves_the_numbers_alone_is_told(name: str) -> None:
    """The spectrum is read all the same."""
    text, departure = DEPARTURES[name]
    assert f"not quite by the rules ({departure})" in remarks(text)
    np.testing.assert_array_equal(
        read_spectrum(text, quantity="power", where="x.spdx").spectrum.values,
        read_spectrum(document(), quantity="power", where="x.spdx").spectrum.values,
    )


@pytest.mark.parametrize(
    ("quantity", "wanted"), [("transmittance", True), ("T-Factor", False), ("relative", False)]
)
def test_transmittance_needs_its_geometry(quantity: str, wanted: bool) -> None:
    """Section 4.2 of IES TM-27-14, as restated in public."""
    said = f"<SpectralQuantity>{quantity}</SpectralQuantity>"
    departures = read_tm27(document(said=said), where="x.spdx").departures
    assert departures == (("no TransmissionGeometry",) if wanted else ())


def test_reflectance_needs_its_geometry() -> None:
    """The same section; such a text is no light and no filter, but its rules are known."""
    said = "<SpectralQuantity>reflectance</SpectralQuantity>"
    departures = read_tm27(document(said=said), where="x.spdx").departures
    assert departures == ("no ReflectionGeometry",)


@pytest.mark.parametrize("geometry", TRANSMISSION)
def test_a_geometry_that_misses_light_is_told(geometry: str) -> None:
    """Straight through alone, or all but that: neither is the total that a sheet passes."""
    said = quantity_said("transmittance").replace("0:di", geometry)
    told = [each for each in remarks(document(said=said), "transmittance") if "measured" in each]
    assert told == {
        "0:0": ["measured straight through (0:0): what a diffuser scatters is missing"],
        "de:0": [
            "measured without what passes straight through (de:0): too dark for a clear sheet"
        ],
        "0:de": [
            "measured without what passes straight through (0:de): too dark for a clear sheet"
        ],
    }.get(geometry, [])


def test_bandwidth_and_factor_are_told() -> None:
    """How it was measured goes with the spectrum."""
    said = (
        "<SpectralQuantity>T-Factor</SpectralQuantity><BandwidthFWHM>2.0</BandwidthFWHM>"
        "<BandwidthCorrected>true</BandwidthCorrected>"
    )
    assert remarks(document(said=said), "transmittance") == (
        "IESTM2714, T-Factor",
        "bandwidth 2.0 nm corrected",
        "a T-Factor is taken as the total transmittance",
        SAMPLING,
        SHARES,
    )


@pytest.mark.parametrize("namespace", [NAMESPACE, "iestm2714"])
def test_both_namespaces_in_use_are_read(namespace: str) -> None:
    """With the address in front as in the standard's example, and bare as in older files."""
    root = f'IESTM2714 xmlns="{namespace}" version="1.0"'
    assert remarks(document(root=root)) == ("IESTM2714, relative", SAMPLING)


def test_a_prefix_is_the_same_as_a_default_namespace() -> None:
    """XML lets a namespace be written either way."""
    text = re.sub(r"<(/?)(?=[A-Z])", r"<\1s:", document()).replace("xmlns=", "xmlns:s=")
    assert "<s:SpectralData " in text
    assert remarks(text) == ("IESTM2714, relative", SAMPLING)


def test_another_edition_is_read_by_these_rules_and_told() -> None:
    """IES TM-27-20 could not be looked at."""
    root = 'IESTM2720 xmlns="http://www.ies.org/iestm2720" version="1.0"'
    assert remarks(document(root=root)) == (
        "IESTM2720, relative",
        "this edition of IES TM-27 was read by the rules of IESTM2714",
        SAMPLING,
    )


@pytest.mark.parametrize(
    ("root", "named"),
    [
        ('IESTM2714 version="1.0"', "<IESTM2714>"),
        ('Spectrum xmlns="urn:x"', '<Spectrum> in the namespace "urn:x"'),
        (
            'IESTM2714 xmlns="http://www.ies.org/iestm2720"',
            '<IESTM2714> in the namespace "http://www.ies.org/iestm2720"',
        ),
        ("html", "<html>"),
    ],
)
def test_other_xml_is_refused(root: str, named: str) -> None:
    """What a file begins with is named."""
    assert refusal(document(root=root)) == (
        f"is XML, but not IES TM-27: it begins with {named}",
        "lamp.spdx, line 2",
        f'IES TM-27 begins with <IESTM2714 xmlns="{NAMESPACE}">. {EXPORT}',
    )


SPLIT = "Split the file into one for each spectrum."
SAMPLE = 'Write <SpectralData wavelength="400">0.123</SpectralData>, wavelength in nm.'
BODY = "<SpectralDistribution>{}</SpectralDistribution>"
REFUSED = {
    "no quantity": (
        document(said=""),
        ("no SpectralQuantity where one belongs", "lamp.spdx", EXPORT),
    ),
    "two quantities": (
        document(said=quantity_said("flux") + quantity_said("flux")),
        ("2 SpectralQuantity where one belongs", "lamp.spdx, line 3", SPLIT),
    ),
    "two spectra": (
        document().replace("</IESTM2714>", BODY + "</IESTM2714>"),
        ("2 SpectralDistribution where one belongs", "lamp.spdx, line 64", SPLIT),
    ),
    "unknown quantity": (
        document(said=quantity_said("W/nm")),
        (
            '"W/nm" is no SpectralQuantity of IES TM-27',
            "lamp.spdx",
            "For a light SpectralQuantity is relative, flux, intensity, irradiance, radiance or "
            "exitance: correct it if the values are that.",
        ),
    ),
    "no wavelength": (
        document(data=DATA.replace('wavelength="430"', "")),
        ("SpectralData without a wavelength", "lamp.spdx, line 10", SAMPLE),
    ),
    "no value": (
        document(data=DATA.replace("0.430", "")),
        ("SpectralData without a value", "lamp.spdx, line 10", SAMPLE),
    ),
    "falling back": (
        document(data=DATA.replace('"430"', '"420"')),
        (
            "420 nm comes after 425 nm",
            "lamp.spdx, line 10",
            "Sort the lines by wavelength, each wavelength once.",
        ),
    ),
    "twice": (
        document(data=DATA.replace('"430"', '"425"')),
        (
            "425 nm stands twice",
            "lamp.spdx, line 10",
            "Sort the lines by wavelength, each wavelength once.",
        ),
    ),
    "negative": (
        document(data=DATA.replace("0.430", "-0.430")),
        (
            "-0.43 is negative",
            "lamp.spdx, line 10",
            "Set noise to 0, or measure again: light cannot be less than none.",
        ),
    ),
    "no samples": (
        document(data=""),
        (
            "only 0 samples: too few for a spectrum",
            "lamp.spdx",
            "Give at least 16, from 400 to 700 nm, no more than 20 nm apart.",
        ),
    ),
    "micrometres": (
        document(data=re.sub(r'"(\d+)"', r'"0.\1"', DATA)),
        (
            "the wavelengths look like micrometres, not nm (0.4 to 0.7)",
            "lamp.spdx",
            "Convert them to nm: multiply by 1000.",
        ),
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_touches_the_numbers_is_refused(name: str) -> None:
    """The whole of what is said."""
    text, said = REFUSED[name]
    assert refusal(text) == said


@pytest.mark.parametrize(
    "value",
    ["NaN", "INF", "-INF", "nan", "1e999", "-1e999", "9" * 400, "0,43", "0x1", "1_0", "٣", "4 3"],
)
def test_numbers_that_are_none(value: str) -> None:
    """As value and as wavelength; XML Schema's INF and NaN are no measurement."""
    shown = value if len(value) < 40 else "9" * 39 + "…"
    for text in (DATA.replace("0.430", value), DATA.replace('"430"', f'"{value}"')):
        assert refusal(document(data=text)) == (
            f'"{shown}" is not a number',
            "lamp.spdx, line 10",
            SAMPLE,
        )


def test_comments_sections_and_stylesheets_change_nothing() -> None:
    """What XML allows around and inside the text."""
    text = document(
        before='<?xml version="1.0" encoding="iso-8859-1"?><?xml-stylesheet href="a.xsl"?>\n',
        data=DATA.replace("0.430", "0.<!-- x -->4<![CDATA[3]]>&#48;"),
    )
    assert remarks(text) == ("IESTM2714, relative", SAMPLING)
