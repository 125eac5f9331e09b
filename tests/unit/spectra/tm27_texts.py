"""IES TM-27 texts to read, and what is said of them."""

from __future__ import annotations

import pytest

from evencast.errors import EvencastError
from evencast.spectra import Quantity, read_spectrum
from evencast.spectra.tm27 import NAMESPACE

FIVE_NM = range(400, 705, 5)
DATA = "\n".join(f'<SpectralData wavelength="{nm}">0.{nm}</SpectralData>' for nm in FIVE_NM)
HEAD = (
    "<Header><Description>shed lamp</Description><DocumentCreator>me</DocumentCreator>"
    "<DocumentCreationDate>2031-05-04</DocumentCreationDate></Header>\n"
)
GEOMETRY = "<TransmissionGeometry>0:di</TransmissionGeometry>"
EXPORT = "Export it again, or save the spectrum as CSV: wavelength in nm, then the value."


def document(
    *,
    head: str = HEAD,
    said: str = "<SpectralQuantity>relative</SpectralQuantity>",
    data: str = DATA,
    root: str = f'IESTM2714 xmlns="{NAMESPACE}" version="1.0"',
    before: str = '<?xml version="1.0"?>\n',
) -> str:
    """A sound text but for what is given; the first sample stands on line 4."""
    body = f"<SpectralDistribution>{said}\n{data}</SpectralDistribution>"
    return f"{before}<{root}>{head}{body}</{root.partition(' ')[0]}>"


def quantity_said(quantity: str) -> str:
    geometry = GEOMETRY if quantity == "transmittance" else ""
    return f"<SpectralQuantity>{quantity}</SpectralQuantity>{geometry}"


def refusal(text: str, quantity: Quantity = "power") -> tuple[str, str, str]:
    """What, where and remedy of the error that a text meets."""
    with pytest.raises(EvencastError) as caught:
        read_spectrum(text, quantity=quantity, where="lamp.spdx")
    return caught.value.what, caught.value.where, caught.value.remedy


def remarks(text: str, quantity: Quantity = "power") -> tuple[str, ...]:
    return read_spectrum(text, quantity=quantity, where="lamp.spdx").remarks
