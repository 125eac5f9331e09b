"""Every stack of a kit in front of one light, kept where it comes near one of many aims.

What a stack does to a light does not depend on the camera's balance. So a scene multiplies
every stack with a light once, and each balance only looks up what lies near its aim.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.colour import mired_duv, uv_of_mired_duv
from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.stacks import Float32s, Half, functionals, halves

_SLACK_UV = np.float32(2e-6)  # single precision
_LINE_SLACK = 1e-4
_CELLS = 4096
_WIDEST_DUV = 0.03
"""Up to here a line of one Duv has one v for every u."""


class Region:
    """A part of the colours: a box in CIE 1960 u, v, and in it a range of Duv."""

    def __init__(self, points: Floats, *, duv_low: float, duv_high: float) -> None:
        """points : (n, 2) that the box shall just hold; duv_low, duv_high : the range"""
        self.duv_low, self.duv_high = duv_low, duv_high
        (self._u_low, v_low), (u_high, v_high) = points.min(axis=0), points.max(axis=0)
        self._cells_per_u = _CELLS / max(u_high - self._u_low, 1e-6)
        # every cell of u has a least and a greatest v; one more to either side is outside
        low, high = np.full(_CELLS + 2, v_low), np.full(_CELLS + 2, v_high)
        if max(-duv_low, duv_high) < _WIDEST_DUV:
            edges = np.linspace(self._u_low, u_high, _CELLS + 1)
            below, above = (np.interp(edges, *_line(each)) for each in (duv_low, duv_high))
            low[1:-1] = np.maximum(v_low, np.minimum(below[:-1], below[1:]) - _LINE_SLACK)
            high[1:-1] = np.minimum(v_high, np.maximum(above[:-1], above[1:]) + _LINE_SLACK)
        low[[0, -1]] = np.inf
        self._low, self._high = (each.astype(np.float32) for each in (low, high))

    def about(self, u: Float32s, v: Float32s, weight: Float32s) -> Ints:
        """Which colours may lie in it, as flat indices; u and v come times their weight."""
        at_u = u / weight
        at_u -= np.float32(self._u_low)
        at_u *= np.float32(self._cells_per_u)
        cell = np.clip(at_u, -1, _CELLS).astype(np.int32).ravel()
        cell[at_u.ravel() < 0] = -1
        cell += 1
        flat_v, flat_weight = v.ravel(), weight.ravel()
        inside = flat_v >= (self._low[cell] - _SLACK_UV) * flat_weight
        inside &= flat_v <= (self._high[cell] + _SLACK_UV) * flat_weight
        return np.flatnonzero(inside)


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
        of_light = functionals(light, np.zeros(2))
        parts = [self._block(of_light, left, right, region) for left, right in self._halves]
        members = np.vstack([each[0] for each in parts])
        sums = np.vstack([each[1] for each in parts]).astype(float)
        at_uv = sums[:, :2] / sums[:, 2:]
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
        of_light = functionals(light, at_uv)
        best, found = np.inf, np.full(self.layers, len(self.sheets))
        for left, right in self._halves:
            du, dv, total = _products(of_light, left, right)
            squared = (du * du + dv * dv) / (total * total)
            squared[(left.layers[:, None] + right.layers) == 0] = np.inf
            place = int(np.argmin(squared))
            if squared.flat[place] < best:
                row, column = divmod(place, squared.shape[1])
                best = float(squared.flat[place])
                found = np.sort(np.hstack([left.members[row], right.members[column]]))
        return found

    def _block(
        self, of_light: Float32s, left: Half, right: Half, region: Region
    ) -> tuple[Ints, Float32s]:
        u, v, weight = _products(of_light, left, right)
        row, column = np.divmod(region.about(u, v, weight), weight.shape[1])
        once = right.joint[column] >= left.joint[row]  # others are the same stacks once more
        once &= left.layers[row] + right.layers[column] > 0
        row, column = row[once], column[once]
        members = np.hstack([left.members[row], right.members[column]])
        sums = np.stack([u[row, column], v[row, column], weight[row, column]], axis=-1)
        return members, sums


def _products(of_light: Float32s, left: Half, right: Half) -> Float32s:
    """Three sums over the spectrum for every pair of halves. [(3, left, right)]"""
    rows = len(left.members)
    weighted = (of_light[:, None, :] * left.through).reshape(3 * rows, -1)
    product: Float32s = np.matmul(weighted, right.through.T)
    return product.reshape(3, rows, -1)


def _line(duv: float) -> Floats:
    """The colours of one Duv: u, ascending, and v. [(2, n)]"""
    mireds = np.linspace(10.0, 1000.0, 500)
    line: Floats = uv_of_mired_duv(mireds, np.full_like(mireds, duv)).T
    return line
