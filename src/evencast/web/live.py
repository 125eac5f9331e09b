"""Changes told to every open page, as server-sent events.

One watcher looks at the library for all pages; a page is told the numbers of the documents that
changed and asks for what it shows of them.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from typing import Any

LOOK_EVERY_S = 0.5
STILL_HERE_EVERY_S = 15.0
MOST_WAITING = 100


class Live:
    """What happens, told to whoever listens."""

    def __init__(self, changes: Callable[[], list[dict[str, Any]]]) -> None:
        """changes : asked now and then; what has changed since it was last asked"""
        self._changes = changes
        self._listening: set[asyncio.Queue[str | None]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._watcher: asyncio.Task[None] | None = None

    async def begin(self) -> None:
        """Begin to watch."""
        self._loop = asyncio.get_running_loop()
        self._watcher = asyncio.create_task(self._watch())

    async def close(self) -> None:
        """Let every page go."""
        if self._watcher is not None:
            self._watcher.cancel()
            with suppress(asyncio.CancelledError):
                await self._watcher
        for each in self._listening:
            each.put_nowait(None)

    def tell(self, what: str, told: dict[str, Any]) -> None:
        """Tell all pages at once; from any thread."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._tell, what, told)

    async def listen(self) -> AsyncIterator[str]:
        """Events as they go over the wire, until the page leaves."""
        queue: asyncio.Queue[str | None] = asyncio.Queue(MOST_WAITING)
        self._listening.add(queue)
        try:
            yield "retry: 1000\n\n"
            while True:
                try:
                    event = await asyncio.wait_for(queue.get(), STILL_HERE_EVERY_S)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                if event is None:
                    return
                yield event
        finally:
            self._listening.discard(queue)

    @property
    def listening(self) -> int:
        """How many pages listen."""
        return len(self._listening)

    async def _watch(self) -> None:
        while True:
            await asyncio.sleep(LOOK_EVERY_S)
            for told in await asyncio.to_thread(self._changes):
                self._tell("changed", told)

    def _tell(self, what: str, told: dict[str, Any]) -> None:
        event = f"event: {what}\ndata: {json.dumps(told, ensure_ascii=False)}\n\n"
        for each in list(self._listening):
            if each.full():  # a page that takes nothing in asks for all when it comes back
                each.get_nowait()
            each.put_nowait(event)
