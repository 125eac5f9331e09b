"""`--write`: the spectrum an answer is about, as a file of its own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evencast.filters import Filter, stack
from evencast.lights import Light
from evencast.spectra import GRID_NM, Quantity, Spectrum, spectrum_text
from evencast.store.files import write_text


def write_light(to: Path | None, light: Light) -> str | None:
    """The relative power of a light in a new file, .csv or .spdx; None if none is wanted.

    A measured light is written at its own samples, any other from 380 to 780 nm at 5 nm.
    Raises  EvencastError for another ending, or rather than overwrite a file
    """
    own = light.spectrum or Spectrum(GRID_NM, light.power)
    return _write(to, own, quantity="power", description=light.name)


def write_stack(to: Path | None, filters: Sequence[Filter]) -> str | None:
    """The transmittance of filters in series in a new file; None if none is wanted.

    Raises  as `write_light`
    """
    spectrum = Spectrum(GRID_NM, stack(filters))
    description = " + ".join(each.name for each in filters)
    return _write(to, spectrum, quantity="transmittance", description=description)


def _write(
    to: Path | None, spectrum: Spectrum, *, quantity: Quantity, description: str
) -> str | None:
    if to is None:
        return None
    from datetime import date  # only files carry one

    text = spectrum_text(
        spectrum,
        quantity=quantity,
        where=str(to),
        description=description,
        created=date.today().isoformat(),
    )
    write_text(to, text)
    return str(to)
