"""What an answer pays for, in sheets: the one scale on which a scene's plans are compared.

All prices are our own. They are those of a single light's search (`stacks`), whose sheet
costs 0.0004 u, v, carried over to a whole scene: there a sheet is one piece cut and hung.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.quantities import Floats
from evencast.solver.stacks import PRICE_OF_THE_EDGE_UV, PRICE_PER_LAYER_UV, Evaluated

OFF_COLOUR = 40.0
"""A light left outside its tolerance weighs as much as so many pieces."""

KEY_WEIGHS = 2.0
"""A key off its colour is as bad as two other lights: where sheets do not reach for all, the face
goes first."""

PER_UV = 1.0 / PRICE_PER_LAYER_UV
"""How far off such a light is, in sheets for each unit of CIE 1960 u, v."""

FARTHEST_UV = 0.05
"""A light this far off is hopeless; further off is no worse."""

OFF_LEVEL_PER_STOP = 20.0
"""A stop too dark or too bright beyond the tolerance: two stops off weigh as much as a light
off its colour."""

SWITCHED_OFF = 12.0
"""What is lost with a light that is switched off."""

HARMLESS = 0.5
"""A light off its aim that moves no spot out of its tolerance is left before it is filtered."""

TRIM = 0.05
"""A scrim or a dimmer is used where it helps, and left alone where it does not."""

TINT_STEP = 0.01
"""Likewise one step of a camera's tint."""


@dataclass(frozen=True, slots=True)
class Weights:
    """What one unit weighs, in sheets.

    stops         : a stop lost to sheets on one light
    pieces        : a piece cut and hung
    square_metres : a square metre of sheet
    minutes       : a minute of work
    """

    stops: float = 1.25
    pieces: float = 1.0
    square_metres: float = 1.0
    minutes: float = 0.1


def off_cost(miss_uv: Floats, weight: float) -> Floats:
    """What a light outside its tolerance costs, by how far off it is. [(n,)]

    weight : how many lights it counts for
    """
    result: Floats = weight * (OFF_COLOUR + PER_UV * np.minimum(miss_uv, FARTHEST_UV))
    return result


def colour_cost(found: Evaluated, weight: float) -> Floats:
    """What lights' colours cost against their aims. [(n,)]

    Inside is what the middle of all that it may be is inside; the rest of what it may be counts
    by how near the edge it lies. The bare light never loses to a sheet for that.
    """
    price = PRICE_OF_THE_EDGE_UV / PRICE_PER_LAYER_UV
    near = np.minimum(price * found.edge, OFF_COLOUR / 2)
    near = np.where(found.layers == 0, np.minimum(near, price), near)
    return np.where(found.within, near, off_cost(found.miss_uv, weight))
