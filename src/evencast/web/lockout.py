"""How often a wrong code may be tried, from one address and in all.

Short codes have 36 bits. With some tries free and pauses that double, one address gets about 25
tries in the first hour and one an hour after that; all together get no more than one every half
minute for long. Somebody who tries for a month has seen less than one code in a million.
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
"""After so long without a wrong try, an address begins anew."""
MOST_ADDRESSES = 2000


@dataclass(slots=True)
class _Tries:
    wrong: int = 0
    last: float = 0.0
    until: float = 0.0


class Lockout:
    """Wrong tries, and until when nothing is tried."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """clock : seconds; never set back"""
        self._clock = clock
        self._lock = Lock()
        self._all = _Tries()
        self._by_address: OrderedDict[str, _Tries] = OrderedDict()

    def left_s(self, address: str) -> float:
        """Seconds until that address may try again; 0 where it may now."""
        with self._lock:
            own = self._by_address.get(address, _Tries())
            return max(0.0, max(own.until, self._all.until) - self._clock())

    def wrong(self, address: str) -> None:
        """A wrong code from there."""
        with self._lock:
            own = self._by_address.setdefault(address, _Tries())
            self._by_address.move_to_end(address)
            while len(self._by_address) > MOST_ADDRESSES:
                self._by_address.popitem(last=False)
            self._count(own, FREE_TRIES, LONGEST_PAUSE_S)
            self._count(self._all, FREE_TRIES_IN_ALL, LONGEST_PAUSE_IN_ALL_S)

    def right(self, address: str) -> None:
        """A right code from there: that address begins anew. What all tried stays counted, or
        somebody with a code could try on for the other."""
        with self._lock:
            self._by_address.pop(address, None)

    def _count(self, tries: _Tries, free: int, longest_s: float) -> None:
        now = self._clock()
        if now - tries.last > FORGOTTEN_S:
            tries.wrong = 0
        tries.wrong += 1
        tries.last = now
        over = tries.wrong - free
        if over >= 0:
            tries.until = now + min(FIRST_PAUSE_S * 2.0 ** min(over, 20), longest_s)
