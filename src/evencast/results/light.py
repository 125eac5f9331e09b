"""What is told of a light."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evencast.quantities import say_duv

Band = dict[str, tuple[float | None, float | None]]
"""By quantity its 5th and 95th percentile over the ensemble, each a value that one member
has; None for an end without a colour temperature."""


@dataclass(frozen=True)
class LightReading:
    """The colour of a light.

    state         : "ok", or "no_cct" above 100 000 K, below 1000 K or beyond 0.05 Duv
    cct_k         : correlated colour temperature, K; None without one
    duv           : distance from the Planckian locus, CIE 1960 uv, + greener
    mired         : 1e6 / cct_k; None without one
    green_duv     : Duv beside that of the white this Kelvin stands for (daylight has
                    +0.003), + greener; None without a CCT
    x, y          : CIE 1931 chromaticity
    ra, r9        : colour rendering of CIE 13.3, in all and of saturated red; 100 at best
    rf, rg        : fidelity and gamut of ANSI/IES TM-30-20; 100 as under the reference, of rg
                    more is more saturated
    rcs_h1        : chroma shift of reds by TM-30-20, percent, + more saturated
    ssi           : spectral similarity of SMPTE ST 2122 to `ssi_reference`; 100 the same
    ssi_reference : "blackbody 3200 K" or "CIE daylight 5600 K": of the light's own CCT
                    these seven are None without a CCT or above 25 000 K, and where the
                    spectrum is assumed
    kind          : technology of the light
    assumed       : True where the spectrum was made up to fit a reading
    """

    state: Literal["ok", "no_cct"]
    cct_k: float | None
    duv: float | None
    mired: float | None
    green_duv: float | None
    x: float | None
    y: float | None
    kind: str
    assumed: bool
    ra: float | None = None
    r9: float | None = None
    rf: float | None = None
    rg: float | None = None
    rcs_h1: float | None = None
    ssi: float | None = None
    ssi_reference: str | None = None


@dataclass(frozen=True)
class LightAnswer(LightReading):
    """`light`: a light's colour, its name and a note.

    band       : of cct_k, mired and duv, for a light known by a reading; else None
    quality    : what the indices mean for skin and for cutting with other lights
    written_to : the file its spectrum was written to; None if none was asked for
    """

    name: str = ""
    note: str = ""
    band: Band | None = None
    quality: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
    written_to: str | None = None


def say_colour(reading: LightReading) -> str:
    """A colour in one phrase, its green against the white of that Kelvin: "4225 K, neutral"."""
    if reading.cct_k is None:
        return "a colour without a colour temperature"
    return f"{say_kelvin(reading)}, {say_duv(reading.green_duv or 0.0)}"


def say_kelvin(reading: LightReading) -> str:
    """Kelvin in whole numbers; "none" without a CCT."""
    return "none" if reading.cct_k is None else f"{reading.cct_k:.0f} K"


def say_reading_duv(reading: LightReading) -> str:
    """Duv, and how green that is for a light of its colour temperature."""
    if reading.duv is None:
        return "none"
    told = f"{reading.duv + 0.0:+.4f}"
    return told if reading.green_duv is None else f"{told}, {say_duv(reading.green_duv)}"
