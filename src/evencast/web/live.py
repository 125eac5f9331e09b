"""Changes told to every open page, as server-sent events.

One watcher looks at the library for all pages; a page is told the numbers of the documents that
changed and asks for what it shows of them.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable, Collection
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from starlette.responses import StreamingResponse
from starlette.types import Message, Send

LOOK_EVERY_S = 0.5
STILL_HERE_EVERY_S = 15.0
MOST_WAITING = 100
MOST_PAGES = 16
"""Of one session; the oldest goes when another opens."""
SLOW_S = 20.0


@dataclass(eq=False, slots=True)
class Listener:
    """One page that listens.

    person : id of its session
    queue  : what it has not taken in yet; None lets it go
    """

    person: str
    queue: asyncio.Queue[str | None]


class Live:
    """What happens, told to whoever listens."""

    def __init__(self, changes: Callable[[], list[dict[str, Any]]]) -> None:
        """changes : asked now and then; what has changed since it was last asked"""
        self._changes = changes
        self._listening: list[Listener] = []
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
        for each in list(self._listening):
            self._drop(each)

    def tell(self, what: str, told: dict[str, Any]) -> None:
        """Tell all pages at once; from any thread."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._tell, what, told)

    def end(self, people: Collection[str]) -> None:
        """Let every page of these sessions go; from any thread."""
        gone = frozenset(people)

        def drop() -> None:
            for each in [each for each in self._listening if each.person in gone]:
                self._drop(each)

        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(drop)

    async def listen(self, person: str = "") -> AsyncIterator[str]:
        """Events as they go over the wire, until the page leaves or its session ends.

        person : id of the session
        """
        own = [each for each in self._listening if each.person == person]
        for each in own[: max(0, len(own) + 1 - MOST_PAGES)]:
            self._drop(each)
        listener = Listener(person, asyncio.Queue(MOST_WAITING + 1))
        self._listening.append(listener)
        try:
            yield "retry: 1000\n\n"
            while True:
                try:
                    event = await asyncio.wait_for(listener.queue.get(), STILL_HERE_EVERY_S)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                if event is None:
                    return
                yield event
        finally:
            if listener in self._listening:
                self._listening.remove(listener)

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
            if each.queue.qsize() >= MOST_WAITING:
                self._drop(each)  # it asks for all when it comes back
            else:
                each.queue.put_nowait(event)

    def _drop(self, listener: Listener) -> None:
        """Let a page go; what still waits for it is forgotten."""
        self._listening.remove(listener)
        while not listener.queue.empty():
            listener.queue.get_nowait()
        listener.queue.put_nowait(None)


class EventStream(StreamingResponse):
    """Events over the wire. A page that takes nothing in for a while is let go: nothing waits for
    it, and it comes back by itself."""

    def __init__(self, events: AsyncIterator[str], *, slow_s: float = SLOW_S) -> None:
        super().__init__(
            events, media_type="text/event-stream", headers={"x-accel-buffering": "no"}
        )
        self._slow_s = slow_s

    async def stream_response(self, send: Send) -> None:
        """Send each event in time, or end."""

        async def in_time(message: Message) -> None:
            await asyncio.wait_for(send(message), self._slow_s)

        with suppress(TimeoutError):
            await super().stream_response(in_time)
