"""Spectra: samples as they were measured, and the one grid everything is summed on."""

from evencast.spectra.daylight import daylight
from evencast.spectra.draws import MEMBERS, normal, uniform
from evencast.spectra.formats import read_spectrum, spectrum_text
from evencast.spectra.grid import GRID_NM, on_grid
from evencast.spectra.spectrum import Quantity, Spectrum
from evencast.spectra.thermal import C2_M_K, planckian

__all__ = [
    "C2_M_K",
    "GRID_NM",
    "MEMBERS",
    "Quantity",
    "Spectrum",
    "daylight",
    "normal",
    "on_grid",
    "planckian",
    "read_spectrum",
    "spectrum_text",
    "uniform",
]
