"""A camera's balance as a white: Kelvin, Kelvin and Duv, or Kelvin and tint."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from evencast.colour import check_kelvin, mired_duv, uv_of_mired_duv, white, white_uv
from evencast.errors import EvencastError
from evencast.lights import parse_kelvin, parse_tint
from evencast.lights.bend import STEEPEST, bend
from evencast.lights.reading import TINT_STEP_DUV, TINT_STEP_FACTOR
from evencast.lights.tint import say_tint
from evencast.quantities import Floats, mired

BALANCE_FORMS = '4300K, 4300K+0.002 (Kelvin and Duv) or "4300K 4 toward magenta"'
MOST_DUV = 0.03
"""No camera's tint reaches farther from the white of its Kelvin."""

TINT_NOTE = (
    f"A step of tint is taken as {TINT_STEP_DUV:g} Duv, common practice without a source; cameras "
    f"differ by a factor of {TINT_STEP_FACTOR:g} either way. Kelvin and Duv say it exactly."
)

_WITH_TINT = re.compile(r"(\d+(?:\.\d+)?)\s*k\s+(\S.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Balance:
    """A camera's balance.

    cct_k : Kelvin
    duv   : Duv of the white that comes out neutral, + greener; None for the white of that Kelvin
    tint  : steps toward magenta, where that is how it was given; its Duv is then `duv`
    """

    cct_k: float
    duv: float | None = None
    tint: float | None = None

    def __str__(self) -> str:
        """As it is said: "3200 K", "4300 K, Duv +0.0040", "4300 K, 4 toward magenta"."""
        if self.tint is not None:
            return f"{self.cct_k:g} K, {say_tint(self.tint)}"
        return f"{self.cct_k:g} K" + ("" if self.duv is None else f", Duv {self.duv:+.4f}")

    @property
    def power(self) -> Floats:
        """Spectrum of the white that comes out neutral. [(81,)]

        Raises  EvencastError for a Kelvin or a Duv that no camera is balanced to
        """
        check_kelvin(self.cct_k)
        return white(self.cct_k) if self.duv is None else _bent(self.cct_k, self.duv)


@lru_cache(maxsize=64)
def _bent(cct_k: float, duv: float) -> Floats:
    """The white of that Kelvin, bent to another Duv. [(81,), read-only]"""
    _, own_duv = mired_duv(white_uv(cct_k))
    aim = uv_of_mired_duv(np.array(mired(cct_k)), np.array(duv))
    bent, steepness = bend(white(cct_k)[None], aim)
    if abs(duv - own_duv) > MOST_DUV or not steepness[0] <= STEEPEST:
        raise EvencastError(
            f"no camera is balanced to {Balance(cct_k, duv)}",
            where="balance",
            remedy=f"Give a Duv within {MOST_DUV:g} of {own_duv:+.4f}, the Duv of the white "
            f"of {cct_k:g} K.",
        )
    power: Floats = bent[0]
    power.setflags(write=False)
    return power


def parse_balance(text: str, *, where: str = "--balance") -> Balance:
    """The balance a text names: "4300K", "4300K+0.002" or "4300K 4 toward magenta".

    Raises  EvencastError naming the forms that are accepted
    """
    plain = parse_kelvin(text)
    if plain is not None:
        return Balance(*plain)
    match = _WITH_TINT.fullmatch(text.strip())
    tint = parse_tint(match[2].casefold()) if match else None
    if match is None or tint is None:
        raise EvencastError(
            f'"{text[:80]}" is not a balance', where=where, remedy=f"Write {BALANCE_FORMS}."
        )
    cct_k = float(match[1])
    if tint == 0.0:
        return Balance(cct_k)
    check_kelvin(cct_k)
    _, white_duv = mired_duv(white_uv(cct_k))
    return Balance(cct_k, float(white_duv) + tint * TINT_STEP_DUV, tint)
