"""What a photometric file says of a light: its candelas in every direction, and the rest.

Directions are those of type C photometry: the vertical angle is counted from straight down (the
way a light points when it hangs) to straight up, 0 to 180; the horizontal angle runs once round,
0 to 360.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Literal

import numpy as np

from evencast.quantities import Floats
from evencast.spectra.samples import fail

Symmetry = Literal["round", "quarters", "halves about 0-180", "halves about 90-270", "none"]
"""How much of the round a file holds; the rest follows by mirroring."""

BRIGHTEST_CD = 1e12
SAME_DEG = 1e-6


@dataclass(frozen=True, slots=True)
class Opening:
    """The luminous opening. [m; 0 is a point or a line]

    width_m, length_m : as the file names them; both the diameter where it is round
    height_m : of its luminous sides
    """

    width_m: float
    length_m: float
    height_m: float
    is_round: bool = False

    @property
    def largest_m(self) -> float:
        """The farthest two points of its face are apart: what near-field cautions go by."""
        if self.is_round:
            return max(self.width_m, self.length_m)
        return hypot(self.width_m, self.length_m)


@dataclass(frozen=True, slots=True, eq=False)
class Tilt:
    """How a lamp's output changes as the light is tilted from its usual way of hanging.

    lamp       : 1 upright, 2 level and staying so, 3 level and tilting along
    angles_deg : (n,) rising
    factors    : (n,) on the candelas
    """

    lamp: int
    angles_deg: Floats
    factors: Floats

    def factor(self, tilt_deg: float) -> float:
        """The factor on the candelas at a tilt; the last one is held beyond the ends."""
        return float(np.interp(tilt_deg, self.angles_deg, self.factors))


@dataclass(frozen=True, slots=True, eq=False)
class Photometry:
    """One light as measured.

    standard       : what the file follows, such as "IES LM-63-2002"
    name           : what the file calls the light, or ""
    vertical_deg   : (V,) rising, within 0 to 180; dark beyond its ends
    horizontal_deg : (H,) rising from 0 to 360 with both ends, or (1,) for a light the same all
                     round
    candelas       : (H, V), every multiplier included
    symmetry       : how much of the round the file held
    lamps          : number of lamps
    lumens_per_lamp : rated flux of one bare lamp; None where the candelas were measured as such
                     ("absolute" photometry) or the file does not say
    input_w        : power drawn with its ballast or driver; None where not given
    opening, tilt  : the luminous opening; the table of a lamp that minds its position, or None
    keywords       : what else the file says, (name, text) in its order
    remarks        : what was made out about the file, phrases without a full stop
    """

    standard: str
    name: str
    vertical_deg: Floats
    horizontal_deg: Floats
    candelas: Floats
    symmetry: Symmetry
    lamps: int
    lumens_per_lamp: float | None
    input_w: float | None
    opening: Opening
    tilt: Tilt | None = None
    keywords: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def lamp_lm(self) -> float | None:
        """Rated flux of all its bare lamps together; None for absolute photometry. [lm]"""
        return None if self.lumens_per_lamp is None else self.lamps * self.lumens_per_lamp


def all_round(planes_deg: Floats, candelas: Floats, symmetry: Symmetry) -> tuple[Floats, Floats]:
    """The planes a file holds and those that follow: from 0 to 360 with both ends, and (H, V).

    A plane at 0 that does not follow lies on a straight line between its neighbours.

    planes_deg : (n,) rising. One plane for "round"; 0 to 90 for "quarters"; 0 to 180 for "halves
                 about 0-180"; 90 to 270 or -90 to 90 for "halves about 90-270"; from 0 to
                 360, the last plane left out or not, for "none"
    candelas   : (n, V)
    """
    if symmetry == "round":
        return np.zeros(1), candelas[:1]
    if symmetry in ("quarters", "halves about 90-270"):
        planes_deg, candelas = _with_mirrored(planes_deg, candelas, 180.0)
    if symmetry in ("quarters", "halves about 0-180"):
        planes_deg, candelas = _with_mirrored(planes_deg, candelas, 0.0)
    if symmetry == "none" and planes_deg[-1] > 360.0 - SAME_DEG:
        return np.concatenate([[0.0], planes_deg[1:-1], [360.0]]), candelas
    planes_deg = planes_deg % 360.0
    planes_deg[planes_deg > 360.0 - SAME_DEG] = 0.0
    order = np.argsort(planes_deg, kind="stable")
    planes_deg, candelas = planes_deg[order], candelas[order]
    new = np.concatenate([[True], np.diff(planes_deg) > SAME_DEG])
    planes_deg, candelas = planes_deg[new], candelas[new]
    if planes_deg[0] > 0:
        share = planes_deg[0] / (planes_deg[0] + 360.0 - planes_deg[-1])
        at_0 = candelas[0] + share * (candelas[-1] - candelas[0])
        planes_deg, candelas = np.append(0.0, planes_deg), np.concatenate([at_0[None], candelas])
    return np.append(planes_deg, 360.0), np.concatenate([candelas, candelas[:1]])


def _with_mirrored(planes_deg: Floats, candelas: Floats, sum_deg: float) -> tuple[Floats, Floats]:
    """Each plane also at `sum_deg` minus its angle."""
    return (
        np.concatenate([planes_deg, sum_deg - planes_deg]),
        np.concatenate([candelas, candelas]),
    )


def scaled(written: Floats, factor: float, *, where: str) -> Floats:
    """Candelas: what is written times a factor above 0.

    Raises  EvencastError for candelas that no light has
    """
    with np.errstate(over="ignore", under="ignore"):
        candelas = np.asarray(written * factor)
    if (candelas < 0).any():
        fail(
            f"{candelas[candelas < 0][0]:g} cd is negative",
            where,
            "Export the file again: a light cannot give less than none.",
        )
    peak = float(candelas.max())
    if not peak > 0:
        fail(
            "all candelas are 0: there is no light in it",
            where,
            "Export the file again, with the candelas of the light.",
        )
    if not peak <= BRIGHTEST_CD:
        fail(
            f"{peak:.3g} cd is more than any light gives",
            where,
            f"Check the multipliers: at most {BRIGHTEST_CD:.0e} cd is read.",
        )
    return candelas
