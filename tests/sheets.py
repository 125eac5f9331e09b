"""True sheets to judge by: spectra of families and seeds that no model here was tuned on.

Every sheet is solved to a colour and a loss on its reference light by general least squares,
not by the dyes' own solver, and then known to the model by its rounded numbers alone.

- "sigmoid": a sigmoid of a quadratic in wavelength (W. Jakob, J. Hanika, Computer Graphics
  Forum 38 (2019) 147-155), ceiling 1
- "smoothest": the density of least second difference, clearest 0.92
- "wobble": three fixed dyes, each scaled by 1 + a smooth random curve of 20 % and 45 nm
- "dyes": three Gaussian dyes at random places, in a random base
- "tails": three dyes at random places, of Lorentzian shape to the power 3/2
- "Wien": exp(-a/wavelength) and a grey, as the ideal mired filter; misses green by up to 0.003
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares, lsq_linear

from evencast.colour import cie_1931_2deg, mired_duv, uv, uv_of_mired_duv, white
from evencast.filters.declared import KelvinDeclaration
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

HALF_STEP_K = 50.0
HALF_STEP_STOPS = 1 / 6
LOOSE_DUV = 0.002

FAMILIES = ("sigmoid", "smoothest", "wobble")


@dataclass(frozen=True)
class Grade:
    """A trade sheet by what is commonly said of it: common practice, no source."""

    name: str
    from_k: float
    to_k: float
    duv: float
    stops: float


GRADES = (
    Grade("double CTB", 3200, 26000, 0.000, 2.67),
    Grade("full CTB", 3200, 5600, 0.000, 1.51),
    Grade("half CTB", 3200, 4300, 0.000, 1.00),
    Grade("quarter CTB", 3200, 3600, 0.000, 0.55),
    Grade("eighth CTB", 3200, 3400, 0.000, 0.38),
    Grade("full CTO", 6504, 3200, 0.000, 0.95),
    Grade("seven-eighths CTO", 5600, 3200, 0.000, 0.92),
    Grade("half CTO", 6504, 3800, 0.000, 0.72),
    Grade("quarter CTO", 6504, 4600, 0.000, 0.49),
    Grade("eighth CTO", 6504, 5550, 0.000, 0.38),
    Grade("full plus green", 5600, 5600, 0.031, 0.68),
    Grade("half plus green", 5600, 5600, 0.017, 0.42),
    Grade("quarter plus green", 5600, 5600, 0.010, 0.33),
    Grade("full minus green", 5600, 5600, -0.030, 0.81),
    Grade("half minus green", 5600, 5600, -0.013, 0.49),
    Grade("quarter minus green", 5600, 5600, -0.005, 0.35),
    Grade("tube green for tungsten", 3200, 4300, 0.026, 1.66),
)


@dataclass(frozen=True, eq=False)
class Sheet:
    """A true sheet.

    grade, family : what it is
    transmittance : (81,)
    declared      : its numbers on the reference light, rounded: all that the model is told
    """

    grade: Grade
    family: str
    transmittance: Floats
    declared: KelvinDeclaration


def sheets(
    *,
    each: int,
    seed: int,
    families: tuple[str, ...] = FAMILIES,
    grades: tuple[Grade, ...] = GRADES,
) -> list[Sheet]:
    """`each` true sheets per grade and family, those that the family cannot make left out."""
    random = np.random.default_rng(seed)
    found = []
    for grade in grades:
        for family in families:
            tried = (_sheet(grade, family, random) for _ in range(each))
            found += [sheet for sheet in tried if sheet is not None]
    return found


def _sheet(grade: Grade, family: str, random: np.random.Generator) -> Sheet | None:
    """One sheet near its grade: any colour and loss that may be printed so."""
    light = white(grade.from_k)
    for _ in range(20):
        to_k = grade.to_k + random.uniform(-HALF_STEP_K, HALF_STEP_K)
        duv = grade.duv + random.uniform(-LOOSE_DUV, LOOSE_DUV)
        stops = grade.stops + random.uniform(-HALF_STEP_STOPS, HALF_STEP_STOPS)
        aim = uv_of_mired_duv(np.array(1e6 / to_k), np.array(duv))
        if family == "Wien":
            through = _wien(grade, to_k, stops)
        else:
            through = _MAKERS[family](_Target(light, aim, stops), random)
        if through is not None:
            return Sheet(grade, family, through, _declared(grade, light, through))
    return None


def _declared(grade: Grade, light: Floats, through: Floats) -> KelvinDeclaration:
    """What is printed of a sheet: Kelvin in hundreds, loss in thirds; Duv as its grade's."""
    at_mired, _ = mired_duv(uv(light * through))
    luminous = cie_1931_2deg().cmf_grid[:, 1]
    stops = -np.log2((light * through) @ luminous / (light @ luminous))
    return KelvinDeclaration(
        from_k=grade.from_k,
        to_k=round(1e6 / float(at_mired) / (2 * HALF_STEP_K)) * 2 * HALF_STEP_K,
        stops=round(float(stops) / (2 * HALF_STEP_STOPS)) * 2 * HALF_STEP_STOPS,
        duv=grade.duv,
        rounding_k=HALF_STEP_K,
        rounding_stops=HALF_STEP_STOPS,
    )


@dataclass(frozen=True, eq=False)
class _Target:
    """A colour and a loss on a light, as tristimulus values."""

    light: Floats
    uv: Floats
    stops: float

    @property
    def stimulus(self) -> Floats:
        """(81, 3) weights that give X, Y, Z of the light through a transmittance."""
        weights = self.light[:, None] * cie_1931_2deg().cmf_grid
        return np.asarray(weights / weights[:, 1].sum())

    @property
    def xyz(self) -> Floats:
        """X, Y, Z to reach, Y as a share of the bare light's."""
        luminous = 2.0**-self.stops
        weight = 6.0 * luminous / self.uv[1]
        x = self.uv[0] * weight / 4.0
        return np.array([x, luminous, (weight - x - 15.0 * luminous) / 3.0])

    def miss(self, through: Floats) -> Floats:
        """What a transmittance misses, in X, Y, Z."""
        return np.asarray(through @ self.stimulus - self.xyz)


Maker = Callable[[_Target, np.random.Generator], Floats | None]


def _sigmoid(target: _Target, random: np.random.Generator) -> Floats | None:
    z = (GRID_NM - 580.0) / 200.0

    def through(shape: Floats) -> Floats:
        x = shape[0] + shape[1] * z + shape[2] * z * z
        return np.asarray(0.5 + x / (2.0 * np.sqrt(1.0 + x * x)))

    found = least_squares(lambda shape: target.miss(through(shape)), [0.5, 0.0, 0.0], xtol=1e-14)
    return through(found.x) if np.abs(found.fun).max() < 1e-7 else None


def _smoothest(target: _Target, random: np.random.Generator) -> Floats | None:
    bend = np.diff(np.eye(len(GRID_NM)), 2, axis=0)
    clearest = -np.log10(0.92)
    density = np.full(len(GRID_NM), max(target.stops * np.log10(2.0), clearest + 0.01))
    for _ in range(25):
        through = 10.0**-density
        slope = -np.log(10.0) * (target.stimulus * through[:, None]).T
        wanted = slope @ density - target.miss(through)
        rows = np.vstack([bend, 1e4 * slope])
        sides = np.concatenate([np.zeros(len(bend)), 1e4 * wanted])
        change = lsq_linear(rows, sides, bounds=(clearest, 6.0)).x - density
        density = density + np.clip(change, -0.5, 0.5)
        if np.abs(change).max() < 1e-7:
            break
    return 10.0**-density if np.abs(target.miss(10.0**-density)).max() < 1e-5 else None


_FIXED_DYES = {
    "blue": (0.884, ((452.0, 103.0), (539.0, 106.0), (628.0, 153.0))),
    "orange": (0.905, ((440.0, 83.0), (530.0, 110.0), (652.0, 160.0))),
}


def _wobble(target: _Target, random: np.random.Generator) -> Floats | None:
    base, places = _FIXED_DYES[random.choice(list(_FIXED_DYES))]
    curve = np.exp(-0.5 * ((GRID_NM[:, None] - GRID_NM) / 45.0) ** 2) + 1e-9 * np.eye(len(GRID_NM))
    wobble = 1.0 + 0.2 * np.linalg.cholesky(curve) @ random.standard_normal(len(GRID_NM))
    dyes = np.array(
        [np.exp(-4.0 * np.log(2.0) * ((GRID_NM - at) / wide) ** 2) * wobble for at, wide in places]
    )
    return _dosed(target, base, dyes)


def _dyes(target: _Target, random: np.random.Generator) -> Floats | None:
    places = random.uniform((415.0, 515.0, 600.0), (460.0, 570.0, 670.0))
    wide = random.uniform((60.0, 60.0, 80.0), (130.0, 130.0, 190.0))
    dyes = np.exp(-4.0 * np.log(2.0) * ((GRID_NM - places[:, None]) / wide[:, None]) ** 2)
    return _dosed(target, random.uniform(0.86, 0.92), dyes)


def _tails(target: _Target, random: np.random.Generator) -> Floats | None:
    places = random.uniform((400.0, 505.0, 595.0), (465.0, 575.0, 680.0))
    wide = random.uniform(40.0, 90.0, 3)
    dyes = (1.0 + ((GRID_NM - places[:, None]) / wide[:, None]) ** 2) ** -1.5
    return _dosed(target, random.uniform(0.86, 0.92), dyes)


def _dosed(target: _Target, base: float, dyes: Floats) -> Floats | None:
    """Amounts of three dyes, none negative, in a base."""
    found = least_squares(
        lambda amounts: target.miss(base * 10.0 ** -(amounts @ dyes)),
        np.full(3, 0.2),
        bounds=(0.0, 6.0),
        xtol=1e-14,
    )
    through = base * 10.0 ** -(found.x @ dyes)
    return np.asarray(through) if np.abs(found.fun).max() < 1e-7 else None


_MAKERS: dict[str, Maker] = {
    "sigmoid": _sigmoid,
    "smoothest": _smoothest,
    "wobble": _wobble,
    "dyes": _dyes,
    "tails": _tails,
}


def _wien(grade: Grade, to_k: float, stops: float) -> Floats | None:
    """The ideal mired filter between two Planckians, with a grey if it is too bright."""
    if abs(grade.duv) > 0.001 or grade.name == "double CTB":
        return None
    tilt = 1.4388e7 * (1.0 / grade.from_k - 1.0 / to_k)
    shape = np.exp(tilt / GRID_NM)
    shape = shape / shape[(GRID_NM >= 400) & (GRID_NM <= 700)].max()
    light = white(grade.from_k)
    luminous = light * cie_1931_2deg().cmf_grid[:, 1]
    passed = float(shape @ luminous / luminous.sum())
    return np.asarray(np.minimum(shape * min(0.92, 2.0**-stops / passed), 1.0))
