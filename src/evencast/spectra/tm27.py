"""A spectrum as IES TM-27: an XML text that ends in .spdx.

The rules, as far as they can be had without the paid document:
- the names of the elements, the allowed quantities and geometries, and Description,
  DocumentCreator, DocumentCreationDate and SpectralQuantity as required: documentation of
  colour-science's `SpectralDistribution_IESTM2714`, which cites IES TM-27-14;
- root, namespace, version and order: the example of IES TM-27-14, as restated in public;
- a geometry is required with transmittance and reflectance: section 4.2, as restated in public.
What breaks a rule without touching the numbers is read and told; anything else is refused.
Other editions than TM-27-14 could not be looked at: they are read by its rules, and told so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from evencast.quantities import Floats
from evencast.spectra.samples import (
    Samples,
    SpectrumFile,
    checked,
    fail,
    number,
    shown,
)
from evencast.spectra.spectrum import Quantity, Spectrum
from evencast.spectra.xml_text import EXPORT, Element, elements_of

NAMESPACE = "http://www.ies.org/iestm2714"
ROOT = "IESTM2714"
HEADER = (
    "Manufacturer",
    "CatalogNumber",
    "Description",
    "DocumentCreator",
    "Laboratory",
    "UniqueIdentifier",
    "MeasurementEquipment",
    "ReportNumber",
    "ReportDate",
    "DocumentCreationDate",
    "Comments",
)
REQUIRED = ("Description", "DocumentCreator", "DocumentCreationDate")
OF_A_LIGHT = ("relative", "flux", "intensity", "irradiance", "radiance", "exitance")
OF_A_SHEET = ("transmittance", "T-Factor")
OF_NEITHER = ("reflectance", "R-Factor", "absorptance", "other")
QUANTITIES = (*OF_A_LIGHT, *OF_A_SHEET, *OF_NEITHER)
TRANSMISSION = ("0:0", "di:0", "de:0", "0:di", "0:de", "d:d", "other")
REFLECTION = (
    *("di:8", "de:8", "8:di", "8:de", "d:d", "d:0"),
    *("45a:0", "45c:0", "0:45a", "45x:0", "0:45x", "other"),
)
MEASURED = (
    "SpectralQuantity",
    "ReflectionGeometry",
    "TransmissionGeometry",
    "BandwidthFWHM",
    "BandwidthCorrected",
)
_EDITION = re.compile(r"(?:http://www\.ies\.org/)?(iestm27[0-9]{2}) (IESTM27[0-9]{2})")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}(?:T[0-9:.]+)?(?:Z|[+-][0-9]{2}:[0-9]{2})?")
_CAUTIONS = {
    "0:0": "measured straight through (0:0): what a diffuser scatters is missing",
    "de:0": "measured without what passes straight through (de:0): too dark for a clear sheet",
    "0:de": "measured without what passes straight through (0:de): too dark for a clear sheet",
}


@dataclass(frozen=True, slots=True, eq=False)
class Tm27:
    """What an IES TM-27 text says.

    edition : name of the root element, IESTM2714
    header  : text by element name, empty ones left out
    measured : SpectralQuantity and the other statements on how it was measured, likewise
    wavelengths_nm, values : (n,) in the text's order
    lines   : the line each sample stands on
    departures : where the text departs from the rules without touching the numbers
    """

    edition: str
    header: dict[str, str]
    measured: dict[str, str]
    wavelengths_nm: Floats
    values: Floats
    lines: list[int]
    departures: tuple[str, ...]


def parse_tm27(text: str, *, quantity: Quantity, where: str) -> SpectrumFile:
    """A spectrum from IES TM-27 text, with remarks on what was made out.

    quantity : power takes relative, flux, intensity, irradiance, radiance and exitance;
               transmittance takes transmittance and T-Factor, percent above 1.5 as in CSV
    Raises  EvencastError that names the line and what would be accepted
    """
    document = read_tm27(text, where=where)
    _check_quantity(document.measured["SpectralQuantity"], quantity, where=where)
    samples = Samples(
        document.wavelengths_nm,
        document.values,
        document.lines,
        remarks=tuple(_remarks(document)),
    )
    found = checked(samples, quantity=quantity, where=where)
    return replace(found, description=shown(document.header.get("Description", ""), most=80))


def read_tm27(text: str, *, where: str) -> Tm27:
    """All that an IES TM-27 text says, not yet judged as light or filter.

    Raises  EvencastError where it is no such text, or its numbers cannot be trusted
    """
    root, *elements = elements_of(text, where=where)
    edition = _edition(root, where=where)
    _check_one(elements, "SpectralDistribution", root.name, where=where)
    _check_one(elements, "SpectralQuantity", "SpectralDistribution", where=where)
    data = [
        each
        for each in elements
        if (each.name, each.parent) == ("SpectralData", "SpectralDistribution")
    ]
    numbers = [_sample(each, where=where) for each in data]
    columns = np.array(numbers, dtype=float).reshape(-1, 2)
    return Tm27(
        edition,
        _said(elements, "Header", HEADER),
        _said(elements, "SpectralDistribution", MEASURED),
        columns[:, 0],
        columns[:, 1],
        [each.line for each in data],
        tuple(_departures(root, elements)),
    )


def tm27_of(spectrum: Spectrum, *, quantity: Quantity, description: str, created: str) -> str:
    """IES TM-27-14 text that reads back to the same samples, digit for digit.

    created : date as year-month-day
    """
    from evencast import __version__

    measured = "    <SpectralQuantity>relative</SpectralQuantity>\n"
    comments = "Relative spectral power."
    if quantity == "transmittance":
        measured = (
            "    <SpectralQuantity>transmittance</SpectralQuantity>\n"
            "    <TransmissionGeometry>other</TransmissionGeometry>\n"
        )
        comments = (
            "Total transmittance, surface loss included. Transmission geometry: other, "
            "since sheets measured in different ways may be part of it."
        )
    rows = zip(spectrum.wavelengths_nm.tolist(), spectrum.values.tolist(), strict=True)
    data = "".join(
        f'    <SpectralData wavelength="{nm!r}">{value!r}</SpectralData>\n' for nm, value in rows
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<{ROOT} xmlns="{NAMESPACE}" version="1.0">\n'
        "  <Header>\n"
        f"    <Description>{_escaped(description)}</Description>\n"
        f"    <DocumentCreator>evencast {__version__}</DocumentCreator>\n"
        f"    <DocumentCreationDate>{created}</DocumentCreationDate>\n"
        f"    <Comments>{comments}</Comments>\n"
        "  </Header>\n"
        f"  <SpectralDistribution>\n{measured}{data}  </SpectralDistribution>\n"
        f"</{ROOT}>\n"
    )


def _escaped(text: str) -> str:
    """Text as the content of an element; what XML cannot hold is left out."""
    printable = "".join(each for each in text if each.isprintable())
    return printable.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;") or "unnamed"


def _edition(root: Element, *, where: str) -> str:
    """The name of the root element, if the file is IES TM-27 at all."""
    match = _EDITION.fullmatch(root.name)
    if match is None or match[1].upper() != match[2]:
        space, _, name = root.name.rpartition(" ")
        named = f"<{shown(name)}>" + (f' in the namespace "{shown(space)}"' if space else "")
        fail(
            f"is XML, but not IES TM-27: it begins with {named}",
            f"{where}, line {root.line}",
            f'IES TM-27 begins with <{ROOT} xmlns="{NAMESPACE}">. {EXPORT}',
        )
    return match[2]


def _check_one(elements: list[Element], name: str, parent: str, *, where: str) -> None:
    found = [each for each in elements if each.name == name and each.parent == parent]
    if len(found) == 1:
        return
    line = f", line {found[1].line}" if found else ""
    fail(
        f"{len(found) or 'no'} {name} where one belongs",
        f"{where}{line}",
        "Split the file into one for each spectrum." if found else EXPORT,
    )


def _sample(element: Element, *, where: str) -> tuple[float, float]:
    numbers = []
    for said, cell in (
        ("wavelength", element.attributes.get("wavelength", "").strip()),
        ("value", element.content),
    ):
        value = number(cell)
        if value is None:
            fail(
                f'"{shown(cell)}" is not a number' if cell else f"SpectralData without a {said}",
                f"{where}, line {element.line}",
                'Write <SpectralData wavelength="400">0.123</SpectralData>, wavelength in nm.',
            )
        numbers.append(value)
    return numbers[0], numbers[1]


def _said(elements: list[Element], parent: str, names: tuple[str, ...]) -> dict[str, str]:
    """What the elements of one parent say, the first of each name."""
    said: dict[str, str] = {}
    for each in elements:
        if each.parent == parent and each.name in names and each.content:
            said.setdefault(each.name, each.content)
    return said


def _check_quantity(said: str, wanted: Quantity, *, where: str) -> None:
    """Whether a file of that quantity can be the light or the filter it is to be."""
    fitting = OF_A_SHEET if wanted == "transmittance" else OF_A_LIGHT
    if said in fitting:
        return
    thing, other = ("filter", "light") if wanted == "transmittance" else ("light", "filter")
    if said not in QUANTITIES:
        what = f'"{shown(said)}" is no SpectralQuantity of IES TM-27'
    elif said in OF_NEITHER:
        what = f'the values are "{said}", which tells neither a light nor what a filter passes'
    else:
        what = f'the values are "{said}": they belong to a {other}, not to a {thing}'
    fail(
        what,
        where,
        f"For a {thing} SpectralQuantity is {', '.join(fitting[:-1])} or {fitting[-1]}: correct "
        "it if the values are that.",
    )


def _departures(root: Element, elements: list[Element]) -> Iterator[str]:
    """Where a text departs from the rules without touching the numbers."""
    header = _said(elements, "Header", HEADER)
    measured = _said(elements, "SpectralDistribution", MEASURED)
    missing = [name for name in REQUIRED if name not in header]
    if missing:
        yield f"no {', '.join(missing)}"
    if root.attributes.get("version") != "1.0":
        yield "the version is not 1.0"
    order = [each.name for each in elements if each.parent == root.name]
    if order != ["Header", "SpectralDistribution"]:
        yield "not one Header and then one SpectralDistribution"
    date = header.get("DocumentCreationDate", "")
    if date and not _DATE.fullmatch(date):
        yield f'the DocumentCreationDate "{shown(date)}" is no date'
    yield from _departures_of_measurement(measured)
    strange = [each for each in elements if not _is_known(each, root.name)]
    if strange:
        yield "unknown: " + ", ".join(dict.fromkeys(shown(each.name) for each in strange[:3]))


def _departures_of_measurement(measured: dict[str, str]) -> Iterator[str]:
    transmission = measured.get("TransmissionGeometry", "")
    if measured.get("SpectralQuantity") == "transmittance" and not transmission:
        yield "no TransmissionGeometry"
    if measured.get("SpectralQuantity") == "reflectance" and "ReflectionGeometry" not in measured:
        yield "no ReflectionGeometry"
    for name, allowed in (
        ("TransmissionGeometry", TRANSMISSION),
        ("ReflectionGeometry", REFLECTION),
        ("BandwidthCorrected", ("true", "false")),
    ):
        if name in measured and measured[name] not in allowed:
            yield f'"{shown(measured[name])}" is no {name}'
    width = measured.get("BandwidthFWHM", "")
    if width and not (number(width) or 0) > 0:
        yield f'"{shown(width)}" is no BandwidthFWHM'


def _is_known(element: Element, root: str) -> bool:
    name, parent = element.name, element.parent
    if parent == "SpectralDistribution":
        return name in MEASURED or (
            name == "SpectralData" and set(element.attributes) == {"wavelength"}
        )
    return (
        (parent == "Header" and name in HEADER)
        or (parent == root and name in ("Header", "SpectralDistribution"))
        or name == root
    )


def _remarks(document: Tm27) -> Iterator[str]:
    measured = document.measured
    yield f"{document.edition}, {measured['SpectralQuantity']}"
    if document.edition != ROOT:
        yield f"this edition of IES TM-27 was read by the rules of {ROOT}"
    if "BandwidthFWHM" in measured:
        corrected = " corrected" * (measured.get("BandwidthCorrected") == "true")
        yield f"bandwidth {shown(measured['BandwidthFWHM'])} nm{corrected}"
    geometry = measured.get("TransmissionGeometry", "")
    if geometry in _CAUTIONS:
        yield _CAUTIONS[geometry]
    if measured["SpectralQuantity"] == "T-Factor":
        yield "a T-Factor is taken as the total transmittance"
    if document.departures:
        yield f"not quite by the rules ({'; '.join(document.departures)})"
