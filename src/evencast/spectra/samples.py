"""Samples as a file gives them: what they must satisfy, and what was made out about them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np

from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra.spectrum import Quantity, Spectrum

MUST_COVER_NM = (400.0, 700.0)
FARTHEST_NM = (100.0, 5000.0)
"""No meter for light gives samples beyond these."""
WIDEST_STEP_NM = 20.0
CLOSEST_STEP_NM = 0.001
FEWEST_SAMPLES = 16
MOST_SAMPLES = 100_000
LARGEST_POWER = 1e100
SMALLEST_POWER = 1e-100
NOISE = 0.001
"""A meter's noise may go this far below zero, as a share of the peak; it is read as zero."""
LARGEST_SHARE = 1.5
"""Transmittances that stay below this are shares of 1 unless the file says percent."""

_DARK = {"power": "there is no light in it", "transmittance": "nothing passes"}
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")


@dataclass(frozen=True, slots=True, eq=False)
class Samples:
    """The two columns of a file, not yet judged.

    wavelengths_nm : (n,) in the file's order
    values         : (n,)
    lines          : the line each sample stands on
    percent        : by what the file says that its values are percent; "" if it does not
    remarks        : what was made out about the file, phrases without a full stop
    """

    wavelengths_nm: Floats
    values: Floats
    lines: list[int]
    percent: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class SpectrumFile:
    """A spectrum read from a file.

    spectrum    : its samples; transmittance as a share, 0 to 1
    remarks     : what was made out about the file, phrases without a full stop
    description : what the file itself says it is; "" if it does not
    """

    spectrum: Spectrum
    remarks: tuple[str, ...]
    description: str = ""

    @property
    def transmittance(self) -> Floats:
        """A sheet's values on the grid, where cubics through a steep edge swing above 1. [(81,)]"""
        return np.minimum(self.spectrum.grid, 1.0)

    @property
    def note(self) -> str:
        """All of it as one phrase, for the note of a light or a filter."""
        said = (f'"{self.description}"',) if self.description else ()
        return "; ".join((*said, *self.remarks))


def fail(what: str, where: str, remedy: str) -> NoReturn:
    """An EvencastError: what, where and what to do."""
    raise EvencastError(what, where=where, remedy=remedy)


def number(text: str) -> float | None:
    """A decimal number with a point; None for anything else, infinity and nan included."""
    if not _NUMBER.fullmatch(text):
        return None
    value = float(text)
    return value if np.isfinite(value) else None


def shown(text: str, *, most: int = 40) -> str:
    """A piece of a file fit for a sentence: one line, "�" for what cannot be printed, cut
    where long."""
    line = " ".join(text[: 4 * most].split())
    plain = "".join(each if each.isprintable() else "\ufffd" for each in line)
    return plain if len(plain) <= most else plain[: most - 1] + "…"


def checked(samples: Samples, *, quantity: Quantity, where: str) -> SpectrumFile:
    """The spectrum of a file.

    quantity : power is relative, any scale; transmittance is 0 to 1, or 0 to 100
               percent where the file says so or a value is above 1.5
    Raises  EvencastError that names the line and what would be accepted
    """
    if not FEWEST_SAMPLES <= len(samples.lines) <= MOST_SAMPLES:
        _wrong_count(len(samples.lines), where)
    samples = _rising(samples)
    _check_unit(samples.wavelengths_nm, where=where)
    _check_wavelengths(samples, where=where)
    _check_not_negative(samples, where=where)
    judge = _share if quantity == "transmittance" else _power
    values, said = judge(samples, where=where)
    spectrum = Spectrum(samples.wavelengths_nm, values)
    if not spectrum.grid.any():
        fail(
            f"{_DARK[quantity]} between 380 and 780 nm",
            where,
            "Check that the values are in the second column.",
        )
    remarks = (*samples.remarks, _sampling(samples.wavelengths_nm), *said, *_noise(samples))
    return SpectrumFile(spectrum, remarks)


def _wrong_count(count: int, where: str) -> NoReturn:
    if count < FEWEST_SAMPLES:
        fail(
            f"only {count} samples: too few for a spectrum",
            where,
            f"Give at least {FEWEST_SAMPLES}, from 400 to 700 nm, no more than "
            f"{WIDEST_STEP_NM:g} nm apart.",
        )
    fail(
        f"more than {MOST_SAMPLES} samples: too many for a spectrum",
        where,
        "Check that this is the right file; one sample for each nm is plenty.",
    )


def _rising(samples: Samples) -> Samples:
    """From blue to red; a file written from red to blue is turned round."""
    if not (np.diff(samples.wavelengths_nm) < 0).all():
        return samples
    return replace(
        samples,
        wavelengths_nm=samples.wavelengths_nm[::-1],
        values=samples.values[::-1],
        lines=samples.lines[::-1],
        remarks=(*samples.remarks, "written from red to blue"),
    )


def _sampling(nm: Floats) -> str:
    steps = np.diff(nm)
    apart = (
        f"{steps.mean():.4g}" if np.ptp(steps) < 1e-6 else f"{steps.min():.3g} to {steps.max():.3g}"
    )
    return f"{len(nm)} samples, {nm[0]:g} to {nm[-1]:g} nm, {apart} nm apart"


def _check_unit(nm: Floats, *, where: str) -> None:
    """Wavelengths that are no nanometres."""
    usual = float(np.median(nm))
    if 200 <= usual <= 1200:
        return
    for low, high, unit, factor in (
        (0.2, 1.2, "micrometres", "multiply by 1000"),
        (2000, 12000, "ångström", "divide by 10"),
        (2e-7, 1.2e-6, "metres", "multiply by 1e9"),
    ):
        if low <= usual <= high:
            fail(
                f"the wavelengths look like {unit}, not nm ({nm[0]:g} to {nm[-1]:g})",
                where,
                f"Convert them to nm: {factor}.",
            )
    fail(
        f"{nm[0]:g} to {nm[-1]:g} are no visible wavelengths in nm",
        where,
        "Give wavelengths in nm, from 400 to 700 at least.",
    )


def _check_wavelengths(samples: Samples, *, where: str) -> None:
    nm, lines = samples.wavelengths_nm, samples.lines
    steps = np.diff(nm)
    if (steps < CLOSEST_STEP_NM).any():
        at = int(np.flatnonzero(steps < CLOSEST_STEP_NM)[0]) + 1
        _out_of_order(float(nm[at - 1]), float(nm[at]), f"{where}, line {lines[at]}")
    for at in (0, -1):
        if not FARTHEST_NM[0] <= nm[at] <= FARTHEST_NM[1]:
            fail(
                f"{nm[at]:g} nm is no wavelength of light",
                f"{where}, line {lines[at]}",
                "Check that wavelength, or leave the line out.",
            )
    if nm[0] > MUST_COVER_NM[0] or nm[-1] < MUST_COVER_NM[1]:
        fail(
            f"it covers {nm[0]:g} to {nm[-1]:g} nm only",
            where,
            "Give at least 400 to 700 nm; 380 to 780 nm is better.",
        )
    inside = (nm[1:] > MUST_COVER_NM[0]) & (nm[:-1] < MUST_COVER_NM[1])
    usual = float(np.median(steps[inside]))
    if usual > WIDEST_STEP_NM + 1e-9:
        fail(
            f"the samples are {usual:g} nm apart: too coarse",
            where,
            f"Sample every {WIDEST_STEP_NM:g} nm or closer.",
        )
    even = (np.abs(steps[inside] - usual) < 0.01 * usual).mean() >= 0.8
    widest = max(min(3 * usual, WIDEST_STEP_NM), usual) if even else WIDEST_STEP_NM
    gaps = np.flatnonzero(inside & (steps > widest + 1e-9))
    if len(gaps):
        at = int(gaps[0])
        elsewhere = (
            f"elsewhere the samples are {usual:g} nm apart"
            if even
            else f"{WIDEST_STEP_NM:g} nm is the most"
        )
        fail(
            f"a gap: nothing between {nm[at]:g} and {nm[at + 1]:g} nm",
            f"{where}, line {lines[at + 1]}",
            f"Fill it in; {elsewhere}.",
        )


def _out_of_order(before_nm: float, here_nm: float, where: str) -> NoReturn:
    if here_nm == before_nm:
        again = "stands twice"
    elif here_nm < before_nm:
        again = f"comes after {before_nm:g} nm"
    else:
        again = "and the wavelength before it are the same but for a hair"
    fail(
        f"{here_nm:g} nm {again}",
        where,
        "Sort the lines by wavelength, each wavelength once.",
    )


def _check_not_negative(samples: Samples, *, where: str) -> None:
    values = samples.values
    below = np.flatnonzero(values < -NOISE * max(float(values.max()), 0.0))
    if len(below):
        at = int(below[0])
        fail(
            f"{values[at]:g} is negative",
            f"{where}, line {samples.lines[at]}",
            "Set noise to 0, or measure again: light cannot be less than none.",
        )


def _noise(samples: Samples) -> tuple[str, ...]:
    count = int((samples.values < 0).sum())
    if not count:
        return ()
    return (f"{count} value{' is' if count == 1 else 's are'} a little below zero, read as 0",)


def _power(samples: Samples, *, where: str) -> tuple[Floats, tuple[str, ...]]:
    values = np.maximum(samples.values, 0.0)
    if values.any() and not SMALLEST_POWER <= values.max() <= LARGEST_POWER:
        size = "large" if values.max() > 1 else "small"
        fail(
            f"{values.max():g} is too {size} for a measurement",
            where,
            f"Relative power will do: give a peak of {SMALLEST_POWER:g} to {LARGEST_POWER:g}.",
        )
    return values, ()


def _share(samples: Samples, *, where: str) -> tuple[Floats, tuple[str, ...]]:
    """Transmittance as a share of 1, and by what it was taken as share or percent."""
    values, peak = np.maximum(samples.values, 0.0), float(samples.values.max())
    by = samples.percent or (f"{peak:g} is above {LARGEST_SHARE:g}" * (peak > LARGEST_SHARE))
    highest = 100.0 if by else 1.0
    if peak > highest:
        fail(
            f"{peak:g} is above {highest:g}{' percent' if by else ''}",
            f"{where}, line {samples.lines[int(np.argmax(values))]}",
            "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 with a "
            "percent sign in the heading.",
        )
    said = (
        f"values in percent, since {by}" if by else "values as shares of 1, since none is above 1"
    )
    if by and peak <= LARGEST_SHARE:
        said += f", though the highest is {peak:g}: take the percent away if it is a share of 1"
    return values / highest, (said,)
