"""How long a question may be thought about, however many programmes it takes."""

from __future__ import annotations

import time

LEAST_S = 2.0
"""What even the last programme of a question is given."""


class Patience:
    """Seconds that are used up. What is not proven by then is told as a gap, so an answer depends
    on the clock only where it says that it is not proven."""

    def __init__(self, seconds: float) -> None:
        """seconds : from the first time that it is asked"""
        self._seconds = seconds
        self._began: float | None = None

    @property
    def left_s(self) -> float:
        """What the next programme may take."""
        now = time.monotonic()
        if self._began is None:
            self._began = now
        return max(LEAST_S, self._began + self._seconds - now)

    @property
    def is_over(self) -> bool:
        """Whether what there is has to do."""
        return self.left_s <= LEAST_S
