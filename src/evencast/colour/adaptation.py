"""Chromatic adaptation: what a colour under one white corresponds to under another."""

from __future__ import annotations

import numpy as np

from evencast.quantities import Floats

CAT02 = np.array([[0.7328, 0.4296, -0.1624], [-0.7036, 1.6975, 0.0061], [0.0030, 0.0136, 0.9834]])
"""Tristimulus values to the sharpened cones of CIECAM02 (CIE 159:2004)."""
CAT02.setflags(write=False)


def adapting(*, from_white: Floats, to_white: Floats) -> Floats:
    """The matrix that takes tristimulus values under one white to another, fully adapted. [(3, 3)]

    from_white, to_white : (3,); the one comes out as the other exactly
    Source  von Kries on the cones of CAT02, CIE 159:2004
    """
    gain = (CAT02 @ to_white) / (CAT02 @ from_white)
    matrix: Floats = np.linalg.solve(CAT02, gain[:, None] * CAT02)
    return matrix
