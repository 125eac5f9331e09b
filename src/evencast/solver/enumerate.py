"""Every stack of a kit in front of one light, kept where it comes near one of many aims.

What a stack does to a light does not depend on the camera's balance. So a scene multiplies
every stack with a light once, and each balance only looks up what lies near its aim.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast.colour import cie_1931_2deg, mired_duv, uv_of_mired_duv
from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.stacks import Float32s, Half, halves

_SLACK_UV = 2e-6  # single precision
_LINE_SLACK = 1e-4
_WIDEST_DUV = 0.03
"""Up to here a line of one Duv has one v for every u."""


@dataclass(frozen=True, slots=True, eq=False)
class Region:
    """A part of the colours: a box in CIE 1960 u, v and a range of Duv.

    low, high         : (2,) corners of the box
    duv_low, duv_high : range of Duv
    """

    low: Floats
    high: Floats
    duv_low: float
    duv_high: float

    def about(self, at_uv: Floats) -> Ints:
        """Which colours may lie in it, without asking for their CCT: those between the lines of
        least and greatest Duv. [(n, 2) to indices]"""
        if max(-self.duv_low, self.duv_high) >= _WIDEST_DUV:
            return np.arange(len(at_uv))
        below = _line(self.duv_low - _LINE_SLACK)
        above = _line(self.duv_high + _LINE_SLACK)
        u, v = at_uv.T
        return np.flatnonzero((v >= np.interp(u, *below)) & (v <= np.interp(u, *above)))


@dataclass(frozen=True, slots=True, eq=False)
class Near:
    """Stacks whose colour lies in a region, in order of mired, each (n,) unless said.

    members : (n, layers) indices of filters, ascending; the filter count means none
    uv      : (n, 2)
    luminous : share of the bare light that is left
    """

    members: Ints
    layers: Ints
    uv: Floats
    mired: Floats
    duv: Floats
    luminous: Floats

    def between(self, low_mired: float, high_mired: float) -> slice:
        """Those from one mired to another."""
        first, last = np.searchsorted(self.mired, [low_mired, high_mired])
        return slice(int(first), int(last))


class Kit:
    """A kit's sheets, with every half stack multiplied out once for all lights.

    sheets : (n, 81) transmittances
    layers : most sheets in a stack, 1 to 4
    """

    def __init__(self, sheets: Floats, *, layers: int) -> None:
        self.sheets = sheets
        self.layers = layers
        self._halves = list(halves(sheets, layers))

    def near(self, light: Floats, region: Region) -> Near:
        """Every stack in front of a light that ends in a region. The bare light is left out."""
        cmf = cie_1931_2deg().cmf_grid
        power = light[:, None] * cmf / float(light @ cmf[:, 1])
        weight = power @ np.array([1.0, 15.0, 3.0])
        functionals = np.stack([4 * power[:, 0], 6 * power[:, 1], weight]).astype(np.float32)
        parts = [self._block(functionals, left, right, region) for left, right in self._halves]
        members = np.vstack([each[0] for each in parts])
        sums = np.vstack([each[1] for each in parts]).astype(float)
        at_uv = sums[:, :2] / sums[:, 2:]
        about = region.about(at_uv)
        members, sums, at_uv = members[about], sums[about], at_uv[about]
        at_mired, at_duv = mired_duv(at_uv)
        beyond = (at_duv < region.duv_low) | (at_duv > region.duv_high)
        keep = np.flatnonzero(~beyond)  # what has no CCT stays, last of all
        keep = keep[np.argsort(at_mired[keep], kind="stable")]
        clear = len(self.sheets)
        return Near(
            members=members[keep],
            layers=(members[keep] != clear).sum(axis=1),
            uv=at_uv[keep],
            mired=at_mired[keep],
            duv=at_duv[keep],
            luminous=sums[keep, 1] / 6.0,
        )

    def nearest(self, light: Floats, at_uv: Floats) -> Ints:
        """The stack that comes nearest to a colour, of at least one sheet. [(layers,)]"""
        cmf = cie_1931_2deg().cmf_grid
        power = light[:, None] * cmf
        weight = power @ np.array([1.0, 15.0, 3.0])
        functionals = np.stack(
            [4 * power[:, 0] - at_uv[0] * weight, 6 * power[:, 1] - at_uv[1] * weight, weight]
        ).astype(np.float32)
        best, found = np.inf, np.full(self.layers, len(self.sheets))
        for left, right in self._halves:
            du, dv, total = _products(functionals, left, right)
            squared = (du * du + dv * dv) / (total * total)
            squared[(left.layers[:, None] + right.layers) == 0] = np.inf
            place = int(np.argmin(squared))
            if squared.flat[place] < best:
                row, column = divmod(place, squared.shape[1])
                best = float(squared.flat[place])
                found = np.sort(np.hstack([left.members[row], right.members[column]]))
        return found

    def _block(
        self, functionals: Float32s, left: Half, right: Half, region: Region
    ) -> tuple[Ints, Float32s]:
        u, v, weight = _products(functionals, left, right)
        u_low, v_low = region.low - _SLACK_UV
        u_high, v_high = region.high + _SLACK_UV
        inside = (u >= u_low * weight) & (u <= u_high * weight)
        inside &= (v >= v_low * weight) & (v <= v_high * weight)
        row, column = np.divmod(np.flatnonzero(inside), inside.shape[1])
        once = right.joint[column] >= left.joint[row]  # others are the same stacks once more
        once &= left.layers[row] + right.layers[column] > 0
        row, column = row[once], column[once]
        members = np.hstack([left.members[row], right.members[column]])
        sums = np.stack([u[row, column], v[row, column], weight[row, column]], axis=-1)
        return members, sums


def _products(functionals: Float32s, left: Half, right: Half) -> Float32s:
    """Three sums over the spectrum for every pair of halves. [(3, left, right)]"""
    rows = len(left.members)
    weighted = (functionals[:, None, :] * left.through).reshape(3 * rows, -1)
    product: Float32s = np.matmul(weighted, right.through.T)
    return product.reshape(3, rows, -1)


def _line(duv: float) -> Floats:
    """The colours of one Duv: u, ascending, and v. [(2, n)]"""
    mireds = np.linspace(10.0, 1000.0, 500)
    line: Floats = uv_of_mired_duv(mireds, np.full_like(mireds, duv)).T
    return line


def region_around(corners: Sequence[Floats], duvs: Sequence[float]) -> Region:
    """The smallest region that holds points of u, v and values of Duv."""
    points = np.concatenate([each.reshape(-1, 2) for each in corners])
    return Region(points.min(axis=0), points.max(axis=0), min(duvs), max(duvs))
