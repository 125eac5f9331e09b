"""Colour: observers, chromaticity, colour temperature, and what N Kelvin stands for."""

from evencast.colour.chromaticity import (
    is_real_xy,
    uv,
    uv_of_xy,
    uv_of_xyz,
    xy_of_uv,
    xy_of_xyz,
    xyz,
)
from evencast.colour.observers import Observer, cie_1931_2deg, cie_1964_10deg
from evencast.colour.spread import Spread, low_middle_high, spread_of, spread_of_power
from evencast.colour.temperature import DUV_LIMIT, cct_duv, mired_duv, uv_of_mired_duv
from evencast.colour.whites import LOCI, Locus, check_kelvin, locus_of, white, white_uv

__all__ = [
    "DUV_LIMIT",
    "LOCI",
    "Locus",
    "Observer",
    "Spread",
    "cct_duv",
    "check_kelvin",
    "cie_1931_2deg",
    "cie_1964_10deg",
    "is_real_xy",
    "locus_of",
    "low_middle_high",
    "mired_duv",
    "spread_of",
    "spread_of_power",
    "uv",
    "uv_of_mired_duv",
    "uv_of_xy",
    "uv_of_xyz",
    "white",
    "white_uv",
    "xy_of_uv",
    "xy_of_xyz",
    "xyz",
]
