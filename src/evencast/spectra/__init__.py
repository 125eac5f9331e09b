"""Spectra: samples as they were measured, and the one grid everything is summed on."""

from evencast.spectra.csv_text import parse_spectrum
from evencast.spectra.daylight import daylight
from evencast.spectra.draws import MEMBERS, normal, uniform
from evencast.spectra.grid import GRID_NM, on_grid
from evencast.spectra.spectrum import Spectrum
from evencast.spectra.thermal import C2_M_K, planckian

__all__ = [
    "C2_M_K",
    "GRID_NM",
    "MEMBERS",
    "Spectrum",
    "daylight",
    "normal",
    "on_grid",
    "parse_spectrum",
    "planckian",
    "uniform",
]
