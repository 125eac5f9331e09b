"""How often a wrong code may be tried, from one address and in all.

Short codes have 36 bits. One address gets twelve tries in the first hour and one an hour
after that; all together get no more than one every two minutes for long. Whoever tries for a
month finds one of the two codes with odds below one in a million.
"""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock

FREE_TRIES, FREE_TRIES_IN_ALL = 5, 40
FIRST_PAUSE_S, LONGEST_PAUSE_S = 15.0, 3600.0
LONGEST_PAUSE_IN_ALL_S = 120.0
FORGOTTEN_S = 4 * 3600.0
"""After so long without a wrong try, counting begins anew."""
MOST_ADDRESSES = 2000


@dataclass(slots=True)
class _Tries:
    """How many were wrong, when the last one was, and the pauses that follow."""

    free: int
    longest_pause_s: float
    wrong: int = 0
    last_s: float = 0.0

    def left_s(self, now_s: float) -> float:
        over = self.wrong - self.free
        if over < 0:
            return 0.0
        pause_s = min(FIRST_PAUSE_S * 2.0 ** min(over, 20), self.longest_pause_s)
        return max(0.0, self.last_s + pause_s - now_s)

    def count(self, now_s: float) -> None:
        if now_s - self.last_s > FORGOTTEN_S:
            self.wrong = 0
        self.wrong += 1
        self.last_s = now_s


class Lockout:
    """Wrong tries, and until when nothing is tried."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """clock : seconds; never set back"""
        self._clock = clock
        self._lock = Lock()
        self._all = _Tries(FREE_TRIES_IN_ALL, LONGEST_PAUSE_IN_ALL_S)
        self._by_address: OrderedDict[str, _Tries] = OrderedDict()

    def take(self, address: str) -> float:
        """Ask for a try: 0 where it may be made, which counts it as wrong until `right` is told,
        so that many at once count too; else the seconds that are left until the next."""
        with self._lock:
            now_s = self._clock()
            left_s = self._left_s(address, now_s)
            if left_s > 0.0:
                return left_s
            own = self._by_address.setdefault(address, _Tries(FREE_TRIES, LONGEST_PAUSE_S))
            self._by_address.move_to_end(address)
            while len(self._by_address) > MOST_ADDRESSES:
                self._by_address.popitem(last=False)
            own.count(now_s)
            self._all.count(now_s)
            return 0.0

    def left_s(self, address: str) -> float:
        """Seconds until that address may try again; 0 where it may now."""
        with self._lock:
            return self._left_s(address, self._clock())

    def right(self, address: str) -> None:
        """The try was right: that address begins anew. What others tried stays counted, or
        somebody with one code could try on for the other."""
        with self._lock:
            self._by_address.pop(address, None)
            self._all.wrong = max(0, self._all.wrong - 1)

    def _left_s(self, address: str, now_s: float) -> float:
        own = self._by_address.get(address)
        return max(own.left_s(now_s) if own else 0.0, self._all.left_s(now_s))
