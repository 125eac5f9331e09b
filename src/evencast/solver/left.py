"""What is known of stacks that were left out of a pool: enough to show that none is missed."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from evencast.quantities import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Left:
    """Stacks left out of a pool, in groups, each (n,).

    spare    : how much more than the cheapest kept one they cost at least; where inside and
               outside are told apart, what outside costs is counted too
    loss_low, loss_high : what they lose, where levels are judged; 0 where they are not [stop]
    """

    spare: Floats
    loss_low: Floats
    loss_high: Floats

    def raises(self, per_stop: float) -> float:
        """How much dearer than the cheapest kept they are at least, where a stop of loss is worth
        `per_stop`."""
        worth = np.minimum(per_stop * self.loss_low, per_stop * self.loss_high)
        return float((self.spare + worth).min(initial=math.inf))

    def and_more(self, *others: Left) -> Left:
        """These groups and others."""
        every = (self, *others)
        return Left(
            np.concatenate([each.spare for each in every]),
            np.concatenate([each.loss_low for each in every]),
            np.concatenate([each.loss_high for each in every]),
        )


NOTHING_LEFT = Left(np.zeros(0), np.zeros(0), np.zeros(0))
