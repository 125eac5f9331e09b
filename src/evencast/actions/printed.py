"""Sheets of a kit that are known by printed x, y and percentage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from evencast.colour import low_middle_high, spread_of_power, white
from evencast.errors import Problem
from evencast.filters import Filter
from evencast.filters.dyes import shift_mired
from evencast.filters.printed import PrintedColour
from evencast.filters.smoothest import STRAIN_LIMIT
from evencast.filters.xyy import PrintedSheet, from_xyy, with_another
from evencast.lights import builtin
from evencast.quantities import Floats, listed

if TYPE_CHECKING:  # loads pydantic
    from evencast.plan.kit import KitFilter

_FOUR_DECIMALS, _TENTH_PERCENT = 5e-5, 0.05
"""Roundings where neither the digits nor a rounding tell them."""

_SMOOTH = {"A": ("tungsten", "tungsten"), "D65": ("daylight", "daylight")}
_OTHERS = (("a phosphor LED", "LED-B3"), ("a three-band tube", "FL11"))
"""Lamps that a sheet's doubt is told on: in words, and by name."""

_KEPT = 128


@dataclass(frozen=True, slots=True)
class Gain:
    """What one more illuminant would tell of a sheet.

    declared, missing     : names of illuminants
    lamps                 : in words, those on which the sheet leaves a colour temperature
    now_mired, then_mired : half the width of the band of the shift there, without and with it
    """

    declared: str
    missing: str
    lamps: tuple[str, ...]
    now_mired: tuple[float, ...]
    then_mired: tuple[float, ...]

    @property
    def said(self) -> str:
        """In a sentence without its full stop."""
        what = f"printed under {self.declared} alone"
        if not self.lamps:
            return what
        now = [
            f"{_round(half)} {'mired either way ' * (place == 0)}on {lamp}"
            for place, (half, lamp) in enumerate(zip(self.now_mired, self.lamps, strict=True))
        ]
        return (
            f"{what}, which leaves its shift open by {listed(now)}; under {self.missing} as "
            f"well by {listed([_round(half) for half in self.then_mired])}"
        )


def printed_filter(entry: KitFilter) -> Filter:
    """The filter that an entry's printed numbers tell of.

    Raises  EvencastError where no sheet has them
    """
    sheet = _sheet(_colours(entry), entry.name)
    gain = _gain(_colours(entry), entry.name)
    cools = float(shift_mired(white(3200.0), sheet.transmittance)) < 0.0
    return Filter(
        entry.name,
        entry.role,
        sheet.transmittance,
        measured=False,
        possible=sheet.possible,
        note=gain.said if gain else "",
        on_k=3200.0 if cools else 5600.0,
    )


def printed_problems(entries: Sequence[KitFilter], *, where: str) -> list[Problem]:
    """Warnings of sheets that are known by printed numbers, all of which some sheet has: of
    numbers that hardly fit together, and of an illuminant that is missing."""
    known = [each for each in entries if each.xyy is not None]
    strained = [problem for each in known for problem in _strained(each, where=where)]
    return strained + _lacking(known, where=where)


def _strained(entry: KitFilter, *, where: str) -> list[Problem]:
    sheet = _sheet(_colours(entry), entry.name)
    strain = np.abs(sheet.strain)
    worst = int(strain.argmax())
    if strain[worst] <= STRAIN_LIMIT:
        return []
    return [
        Problem(
            "warning",
            f'{where}, filter "{entry.name}".xyy',
            "hardly any sheet has these numbers: a smooth one misses "
            f"{sheet.printed.name(worst)} by {strain[worst]:.1f} times its rounding",
            "Check the digits and the illuminants.",
        )
    ]


def _lacking(entries: Sequence[KitFilter], *, where: str) -> list[Problem]:
    """One warning for all sheets that lack an illuminant, told of the most doubtful one."""
    found = [(each.name, _gain(_colours(each), each.name)) for each in entries]
    gains = {name: gain for name, gain in found if gain is not None}
    if not gains:
        return []
    worst = max(gains, key=lambda name: max(gains[name].now_mired, default=0.0))
    others = [f'"{name}"' for name in gains if name != worst]
    remedy = f"Add its x, y and Y_percent under {gains[worst].missing}."
    if others:
        remedy += f" The same goes for {listed(others)}."
    return [Problem("warning", f'{where}, filter "{worst}".xyy', gains[worst].said, remedy)]


def _colours(entry: KitFilter) -> tuple[PrintedColour, ...]:
    return tuple(
        PrintedColour(
            each.illuminant,
            each.x,
            each.y,
            each.Y_percent,
            _FOUR_DECIMALS if each.rounding_xy is None else each.rounding_xy,
            _TENTH_PERCENT if each.rounding_Y_percent is None else each.rounding_Y_percent,
        )
        for each in entry.xyy or ()
    )


@lru_cache(maxsize=_KEPT)
def _sheet(colours: tuple[PrintedColour, ...], name: str) -> PrintedSheet:
    return from_xyy(colours, key=name, where="xyy")


@lru_cache(maxsize=_KEPT)
def _gain(colours: tuple[PrintedColour, ...], name: str) -> Gain | None:
    """What A, or else D65, would tell; None where A and a daylight are there."""
    declared = [each.illuminant for each in colours]
    has_daylight = any(each.startswith("D") for each in declared)
    if "A" in declared and has_daylight:
        return None
    missing = "D65" if "A" in declared else "A"
    sheet = _sheet(colours, name)
    now = sheet.possible
    then = with_another(sheet, missing, key=name)
    told = [
        (word, _half_width_mired(now, lamp), _half_width_mired(then, lamp))
        for word, lamp in (_SMOOTH[missing], *_OTHERS)
    ]
    lamps = [each for each in told if np.isfinite(each[1:]).all()]
    return Gain(
        " and ".join(declared),
        missing,
        tuple(each[0] for each in lamps),
        tuple(each[1] for each in lamps),
        tuple(each[2] for each in lamps),
    )


def _half_width_mired(possible: Floats, lamp: str) -> float:
    """Half the width of the band of colours; infinite or nan where some have no CCT."""
    low, _, high = low_middle_high(spread_of_power(builtin(lamp).power * possible).mired)
    with np.errstate(invalid="ignore"):
        return float(high - low) / 2.0


def _round(half_mired: float) -> str:
    return f"{half_mired:.1f}" if half_mired < 1.5 else f"{half_mired:.0f}"
