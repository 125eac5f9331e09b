"""From declared numbers (Kelvin to Kelvin, stops) to a nominal spectrum and all others.

Real sheets are printed with few numbers. Three dyes of the kind that colours such
sheets are dosed so that the declared colour is met exactly and the declared loss as
nearly as those dyes can; beside that nominal sheet stand all the spectra that fit the
numbers as well. Whether any sheet at all could do it is asked first: the brightest
transmittance of that colour is an optimal colour (a linear programme).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.colour import Locus, cie_1931_2deg, mired_duv, uv, uv_of_mired_duv, white
from evencast.errors import EvencastError
from evencast.filters.dyes import DyeSet, dye_set
from evencast.filters.ensemble import DeclaredNumbers, fitting_spectra
from evencast.quantities import Floats, mired, say_stops, stops_of_ratio

CLEAREST = 0.92
"""No sheet passes more than this at any wavelength: two surfaces of a plastic film throw
about 4 % each back (Fresnel, refractive index 1.5)."""

_COLOUR_SLACK_UV = 1e-6


@dataclass(frozen=True, slots=True)
class KelvinDeclaration:
    """What is printed for a sheet: it takes light of `from_k` to `to_k` and costs `stops`.

    from_locus, to_locus : named locus of either end, or None for what N Kelvin stands for
    duv                  : Duv of the result from the Planckian locus, instead of `to_locus`'s
    rounding_k, rounding_stops : half a step of the printed `to_k` and loss
    """

    from_k: float
    to_k: float
    stops: float
    from_locus: Locus | None = None
    to_locus: Locus | None = None
    duv: float | None = None
    rounding_k: float = 50.0
    rounding_stops: float = 1 / 6


@dataclass(frozen=True, slots=True, eq=False)
class NominalSheet:
    """The spectra found for declared numbers.

    transmittance : (81,)
    loss_stops    : its loss on the declared light; near the declared one where dyes allow
    possible      : (MEMBERS, 81) all that fit the numbers within their rounding
    """

    transmittance: Floats
    loss_stops: float
    possible: Floats


def from_kelvin(declared: KelvinDeclaration, *, key: str, where: str) -> NominalSheet:
    """A nominal spectrum that takes the declared Kelvin to the declared Kelvin exactly, and
    all that do so within the rounding.

    key     : gives the sheet its own draws, mostly its name
    Raises  EvencastError where no sheet can do it within the declared loss, with the least
            loss possible, or where dyes cannot reach the colour
    Error   Kelvin and Duv to 1e-6 uv; loss as declared unless only a darker sheet is possible
    """
    light = white(declared.from_k, locus=declared.from_locus)
    aim = _aim_uv(declared)
    least = least_loss_stops(light, aim)
    if least > declared.stops + declared.rounding_stops:
        raise _impossible(declared, least, where=where)
    transmittance, loss_stops = _dose(light, aim, declared, where=where)
    at_mired, at_duv = mired_duv(aim)
    numbers = DeclaredNumbers(
        light=light,
        mired=float(at_mired),
        duv=float(at_duv),
        stops=declared.stops,
        rounding_mired=declared.rounding_k * mired(declared.to_k) / declared.to_k,
        rounding_stops=declared.rounding_stops,
    )
    return NominalSheet(transmittance, loss_stops, fitting_spectra(numbers, key=key))


def _impossible(declared: KelvinDeclaration, least_stops: float, *, where: str) -> EvencastError:
    """What to say of numbers that no sheet can have."""
    told = (
        f"{declared.from_k:g} K to {declared.to_k:g} K at {say_stops(declared.stops)} "
        f"({declared.stops:g}) is physically impossible: "
    )
    if np.isinf(least_stops):
        return EvencastError(
            told + "no sheet has that colour",
            where=where,
            remedy="Check from_k, to_k and duv, or give a measured spectrum.",
        )
    return EvencastError(
        told + f"the clearest possible sheet of that colour loses {least_stops:.2f} stop",
        where=where,
        remedy=f"Declare at least {least_stops:.2f} stop, check from_k and to_k, or give a "
        "measured spectrum.",
    )


def least_loss_stops(light: Floats, aim_uv: Floats, *, clearest: float = CLEAREST) -> float:
    """Least loss of any transmittance that brings a light to a colour. [stop; inf for none]

    light  : (81,) relative power on the grid
    aim_uv : (2,) CIE 1960 u, v
    Source  optimal colours: the brightest is a linear programme, solved by HiGHS in scipy
    """
    from scipy.optimize import linprog  # slow to import, rarely needed

    tristimulus = light[:, None] * cie_1931_2deg().cmf_grid
    tristimulus = tristimulus / tristimulus[:, 1].sum()
    weight = tristimulus @ np.array([1.0, 15.0, 3.0])
    on_aim = np.stack(
        [4 * tristimulus[:, 0] - aim_uv[0] * weight, 6 * tristimulus[:, 1] - aim_uv[1] * weight]
    )
    answer = linprog(-tristimulus[:, 1], A_eq=on_aim, b_eq=[0, 0], bounds=(0, clearest))
    if answer.status != 0 or -answer.fun < 1e-6:
        return np.inf
    return stops_of_ratio(float(-answer.fun))


def _aim_uv(declared: KelvinDeclaration) -> Floats:
    if declared.duv is not None:
        return uv_of_mired_duv(np.array(mired(declared.to_k)), np.array(declared.duv))
    return uv(white(declared.to_k, locus=declared.to_locus))


def _dose(
    light: Floats, aim: Floats, declared: KelvinDeclaration, *, where: str
) -> tuple[Floats, float]:
    """Amounts of three dyes, blue's or orange's, whichever comes nearest to the loss: colour
    exactly. [(81,) transmittance, and its loss in stops]"""
    tried = [_dosed(light, aim, declared.stops, dye_set(name)) for name in ("CTB", "CTO")]
    found = [each for each in tried if each is not None]
    if not found:
        raise EvencastError(
            f"no plausible dyes take {declared.from_k:g} K to {declared.to_k:g} K",
            where=where,
            remedy="Check from_k, to_k and duv, or give a measured spectrum.",
        )
    return min(found, key=lambda each: abs(each[1] - declared.stops))


def _dosed(light: Floats, aim: Floats, stops: float, dyes: DyeSet) -> tuple[Floats, float] | None:
    from scipy.optimize import minimize  # slow to import, rarely needed

    y_bar = cie_1931_2deg().cmf_grid[:, 1]
    bare = float(light @ y_bar)

    def sheet(amounts: Floats) -> Floats:
        result: Floats = dyes.base * 10.0 ** -(amounts @ dyes.bands)
        return result

    def loss(amounts: Floats) -> float:
        return stops_of_ratio(float(light * sheet(amounts) @ y_bar) / bare)

    def colour_miss(amounts: Floats) -> Floats:
        return (uv(light * sheet(amounts)) - aim) * 1e3

    starts = (dyes.density, dyes.density * 0.3, np.array([0.3, 0.3, 0.3]))
    for start in starts:
        found = minimize(
            lambda amounts: (loss(amounts) - stops) ** 2,
            start,
            method="SLSQP",
            bounds=[(0.0, 6.0)] * len(start),
            constraints={"type": "eq", "fun": colour_miss},
            options={"maxiter": 200, "ftol": 1e-12},
        )
        if np.abs(colour_miss(found.x)).max() < _COLOUR_SLACK_UV * 1e3:
            return sheet(found.x), loss(found.x)
    return None
