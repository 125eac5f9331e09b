"""How far a long answer is, on the terminal's error stream alone."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

WIDTH = 40


@contextmanager
def progress(doing: str) -> Iterator[Callable[[str, int, int], None] | None]:
    """A line that is written over while something is done, and gone when it is; None where
    nobody is looking."""
    if not sys.stderr.isatty():
        yield None
        return

    def told(what: str, done: int, of: int) -> None:
        sys.stderr.write(f"\r{f'{doing}: {what} {done} of {of}':<{WIDTH}}")
        sys.stderr.flush()

    try:
        yield told
    finally:
        sys.stderr.write(f"\r{'':<{WIDTH}}\r")
        sys.stderr.flush()
