"""Correlated colour temperature and Duv: the nearest point of the Planckian locus.

The locus is the 1931 observer's over 360-830 nm at 1 nm with c2 = 1.4388e-2 m K, the
convention that meets the published values. It is tabulated on an even mired grid with
its exact derivatives; a Taylor polynomial about the nearest node stands for the curve
between nodes, and Newton's method finds the foot of the perpendicular on it.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import NDArray

from evencast.colour.observers import cie_1931_2deg
from evencast.quantities import Floats
from evencast.spectra import C2_M_K

DUV_LIMIT = 0.05
COOLEST_MIRED = 10.0
WARMEST_MIRED = 1000.0
"""A colour has a CCT from 1000 K to 100 000 K and within 0.05 Duv; elsewhere it has none."""

_STEP = 4.0
_ORDER = 4
_NODES = np.arange(4.0, 1300.0 + _STEP, _STEP)
_PIVOT = (0.34, 0.15)
_MAP_U, _MAP_V, _MAP_CELL = 0.1, 0.15, 0.004
_BLOCK = 8192
_NODES_AT_ONCE = 27
_LEAST_SLOPE = 1e-12
_SETTLED = 1e-3
"""A last step of Newton's method no longer than this, in mired, has come to the foot."""

Nodes = NDArray[np.intp]


def cct_duv(uv_value: Floats) -> tuple[Floats, Floats]:
    """Correlated colour temperature and signed distance from the Planckian locus. [K, uv]

    uv_value : (..., 2) CIE 1960 u, v
    Returns  two (...,) arrays; Duv is positive above the locus, the green side. CCT is
             nan above 100 000 K, below 1000 K or where abs(Duv) > 0.05: no such colour
             temperature; Duv is then still the distance where it can be measured
    Source   Planckian locus of CIE 015:2018; sign of Duv as in ANSI C78.377
    Error    1e-5 mired and 1e-9 Duv over 1000-30 000 K (docs/accuracy.md#cct)
    """
    mired, duv = mired_duv(uv_value)
    return 1e6 / mired, duv


def mired_duv(uv_value: Floats) -> tuple[Floats, Floats]:
    """As `cct_duv`, with the temperature as reciprocal megakelvin. [mired, uv]"""
    points = np.ascontiguousarray(uv_value, dtype=float).reshape(-1, 2)
    mired, duv = np.empty(len(points)), np.empty(len(points))
    for start in range(0, len(points), _BLOCK):
        block = slice(start, start + _BLOCK)
        mired[block], duv[block] = _nearest(points[block, 0], points[block, 1])
    shape = np.shape(uv_value)[:-1]
    return mired.reshape(shape), duv.reshape(shape)


def uv_of_mired_duv(mired: Floats, duv: Floats) -> Floats:
    """CIE 1960 u, v of a place named by mired and Duv. [(...,), (...,) to (..., 2)]

    mired : 4 to 1300
    duv   : positive is greener
    """
    mired = np.asarray(mired, dtype=float)
    node = np.rint((mired - _NODES[0]) / _STEP).astype(np.intp)
    point, tangent, _ = _expand(_locus().take(node, axis=-1), mired - _NODES.take(node))
    reach = duv / np.hypot(*tangent)
    return np.stack([point[0] - reach * tangent[1], point[1] + reach * tangent[0]], axis=-1)


def _nearest(u: Floats, v: Floats) -> tuple[Floats, Floats]:
    """Foot of the perpendicular for one block of points."""
    known = np.isfinite(u) & np.isfinite(v)
    uv = np.stack([np.where(known, u, 0.25), np.where(known, v, 0.34)])
    mired, duv, last_step = _foot(uv, _near_foot(uv, _start(*uv)))
    lost = np.flatnonzero(np.abs(last_step) > _SETTLED)
    if len(lost):  # far from the locus, where a guess may lead astray
        mired[lost], duv[lost], _ = _foot(uv[:, lost], _nearest_node(uv[:, lost]))
    named = known & (mired >= COOLEST_MIRED - 1e-6) & (mired <= WARMEST_MIRED + 1e-6)
    named &= np.abs(duv) <= DUV_LIMIT + 1e-9
    return np.where(named, mired, np.nan), np.where(known, duv, np.nan)


def _foot(uv: Floats, near: Floats) -> tuple[Floats, Floats, Floats]:
    """Mired and Duv of the foot from a place near it, by two steps of Newton's method, and the
    last of these steps. [mired, uv, mired]"""
    node = np.rint((near - _NODES[0]) / _STEP).astype(np.intp)
    beside = _NODES.take(node)
    derivatives, offset = _locus().take(node, axis=-1), near - beside
    for _ in range(2):
        point, tangent, bend = _expand(derivatives, offset)
        away, squared = uv - point, _dot(tangent, tangent)
        step = _dot(away, tangent) / np.maximum(squared - _dot(away, bend), _LEAST_SLOPE)
        offset = np.clip(offset + step, -_STEP, _STEP)
    duv = (away[1] * tangent[0] - away[0] * tangent[1]) / np.sqrt(squared)
    return beside + offset, duv, step


def _nearest_node(uv: Floats) -> Floats:
    """Where of all nodes the nearest is. [mired]"""
    nodes = _locus()[0]
    squared = (nodes[0] - uv[0][:, None]) ** 2 + (nodes[1] - uv[1][:, None]) ** 2
    return np.asarray(_NODES.take(squared.argmin(axis=-1)))


def _near_foot(uv: Floats, node: Nodes) -> Floats:
    """The foot to within a node or so: one step of Halley's method from a node. [mired]"""
    point, tangent, bend, twist = _locus()[:4].take(node, axis=-1)
    away = uv - point
    slope = np.maximum(_dot(tangent, tangent) - _dot(away, bend), _LEAST_SLOPE)
    step = _dot(away, tangent) / slope
    turn = step * (_dot(away, twist) - 3.0 * _dot(tangent, bend)) / slope
    foot = _NODES.take(node) + step / np.maximum(1.0 - 0.5 * turn, 0.5)
    return np.asarray(np.clip(foot, _NODES[0], _NODES[-1]))


def _dot(a: Floats, b: Floats) -> Floats:
    """Sum over u and v. [(2, ...) to (...)]"""
    both = a * b
    return np.asarray(both[0] + both[1])


def _expand(c: Floats, h: Floats) -> tuple[Floats, Floats, Floats]:
    """Taylor value and first two derivatives of u and v, `h` mired beside the node. [(2, ...)]

    c : (5, 2, ...) the value and its derivatives at the node
    """
    point = c[0] + h * (c[1] + h * (c[2] / 2 + h * (c[3] / 6 + h * c[4] / 24)))
    tangent = c[1] + h * (c[2] + h * (c[3] / 2 + h * c[4] / 6))
    bend = c[2] + h * (c[3] + h * c[4] / 2)
    return point, tangent, bend


def _start(u: Floats, v: Floats) -> Nodes:
    """First guess: the node that a coarse map of the u, v plane holds there."""
    cells = _start_map()
    column = np.clip((u - _MAP_U) / _MAP_CELL, 0, cells.shape[0] - 1).astype(np.intp)
    row = np.clip((v - _MAP_V) / _MAP_CELL, 0, cells.shape[1] - 1).astype(np.intp)
    guess: Nodes = cells[column, row]
    return guess


@cache
def _start_map() -> Nodes:
    """Nodes in cells of 0.004 over the plane: as seen from a pivot under the locus, and
    near the locus by marking every cell that a walk along and across it meets."""
    columns, rows = np.arange(_MAP_U, 0.62, _MAP_CELL), np.arange(_MAP_V, 0.45, _MAP_CELL)
    locus = _locus()
    u, v = np.meshgrid(columns + _MAP_CELL / 2, rows + _MAP_CELL / 2, indexing="ij")
    seen = (locus[0, 0] - _PIVOT[0]) / (locus[0, 1] - _PIVOT[1])
    nodes = np.arange(len(_NODES))
    at_pivot = np.interp((u - _PIVOT[0]) / np.maximum(v - _PIVOT[1], 1e-3), seen, nodes)
    cells: Nodes = np.rint(at_pivot).astype(np.intp)
    across = np.linspace(-1.2 * DUV_LIMIT, 1.2 * DUV_LIMIT, 41)
    walk = uv_of_mired_duv(_NODES[:, None], across)
    column = ((walk[..., 0] - _MAP_U) / _MAP_CELL).astype(np.intp)
    row = ((walk[..., 1] - _MAP_V) / _MAP_CELL).astype(np.intp)
    on_map = (column >= 0) & (column < len(columns)) & (row >= 0) & (row < len(rows))
    cells[column[on_map], row[on_map]] = np.broadcast_to(nodes[:, None], on_map.shape)[on_map]
    return cells


@cache
def _locus() -> Floats:
    """u, v of the locus at each node and their derivatives by mired. [(5, 2, nodes)]"""
    tristimulus = _locus_tristimulus()
    above = [t[:, :2] * np.array([4.0, 6.0]) for t in tristimulus]
    below = [t @ np.array([1.0, 15.0, 3.0]) for t in tristimulus]
    result = np.empty((len(_NODES), _ORDER + 1, 2))
    for n in range(_ORDER + 1):  # Leibniz: (uv * below) differentiated n times is above
        spent = sum(math.comb(n, k) * below[k][:, None] * result[:, n - k] for k in range(1, n + 1))
        result[:, n] = (above[n] - spent) / below[0][:, None]
    return np.ascontiguousarray(result.transpose(1, 2, 0))


def _locus_tristimulus() -> Floats:
    """X, Y, Z of the locus at each node and four derivatives by mired. [(5, nodes, 3)]

    A few nodes at a time, so that what lies between stays in the processor's cache: this is
    a good part of the time that a single question takes.
    """
    observer = cie_1931_2deg()
    rate = C2_M_K * 1e3 / observer.wavelengths_nm  # exponent of Planck's law per mired
    cmf = observer.cmf * (560.0 / observer.wavelengths_nm)[:, None] ** 5
    weights = [cmf * rate[:, None] ** order for order in range(_ORDER + 1)]
    result = np.empty((_ORDER + 1, len(_NODES), 3))
    for start in range(0, len(_NODES), _NODES_AT_ONCE):
        part = slice(start, start + _NODES_AT_ONCE)
        b = 1.0 / np.expm1(np.outer(_NODES[part], rate))
        even = b * (1 + b)
        odd = even * (1 + 2 * b)
        by_order = (b, -even, odd, -even * (1 + 6 * even), odd * (1 + 12 * even))
        for order, value in enumerate(by_order):
            result[order, part] = value @ weights[order]
    return result
