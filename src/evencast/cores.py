"""How many cores a matrix product takes."""

from __future__ import annotations

from contextlib import AbstractContextManager


def one_core_products() -> AbstractContextManager[object]:
    """Inside it every matrix product keeps to one core.

    A product that spreads itself over all cores waits for the slowest of them at every step:
    eight to ten times as long where anything else runs on the machine.
    """
    from threadpoolctl import threadpool_limits  # most questions do without

    limits: AbstractContextManager[object] = threadpool_limits(limits=1, user_api="blas")
    return limits
