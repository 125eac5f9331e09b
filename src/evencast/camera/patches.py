"""What is lit in a picture: a grey card, two skins, and the chart."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from evencast import tables
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

GREY = 0.18
"""Reflectance of the grey card at every wavelength: perfectly neutral, as no real card is."""

FACES = ("light skin", "dark skin")
"""Patches of the chart that were made for the colour of skin. A painted patch can be held beside
a face and put before the camera, so that the picture can be checked."""


@dataclass(frozen=True, slots=True)
class Patch:
    """One evenly lit patch of a picture.

    name    : "grey", "light skin", "dark skin", or a patch of the chart
    hex     : "#rrggbb", encoded for the display of the picture
    limited : whether it lies beyond what the display shows, so that it is drawn paler or at
              most as bright as the display
    """

    name: str
    hex: str
    limited: bool


@cache
def names() -> tuple[str, ...]:
    """Grey, light skin, dark skin, then the chart from its first patch to its last."""
    return ("grey", *FACES, *tables.read("chart").columns[1:])


@cache
def reflectances() -> Floats:
    """Spectral reflectances of the patches, in the order of `names`. [(27, 81), read-only]"""
    chart = tables.read("chart")
    grey = np.full_like(GRID_NM, GREY)
    every = np.stack([grey, *(chart.column(each) for each in FACES), *chart.values[:, 1:].T])
    every.setflags(write=False)
    return every
