"""The server: one process, on the laptop's own address and, for the crew, on one more."""

from __future__ import annotations

import errno
import logging
import os
import socket
import threading
from collections.abc import Callable
from contextlib import ExitStack
from logging.handlers import RotatingFileHandler

import uvicorn
from fastapi import FastAPI

from evencast.actions.library import back_up_if_due
from evencast.errors import EvencastError
from evencast.results.serving import JoinCode, Serving
from evencast.store.files import make_folder
from evencast.store.library.library import Library, utc_now
from evencast.store.places import log_file
from evencast.web.app import create_app
from evencast.web.desk import Desk
from evencast.web.door import Door, spaced
from evencast.web.interfaces import Interface
from evencast.web.loaded import keep_loaded

OVERHEARD = "Plain http can be overheard on this network: use one that only the crew is on."
HERE = "127.0.0.1"
MOST_AT_ONCE = 400
KEEP_ALIVE_S = 75
"""Longer than people pause: a connection that is closed just as a phone sends loses the request."""
LOG_BYTES, LOGS_KEPT = 1024 * 1024, 3
BACKUP_EVERY_S = 3600.0

log = logging.getLogger("evencast")


def serve(*, port: int, crew: Interface | None, ready: Callable[[Serving], None]) -> None:
    """Serve the person's library until it is interrupted.

    port  : 0 takes one that is free
    crew  : network on which others may join; None for the laptop alone
    ready : told where it is, once it listens
    Raises  EvencastError where the port is taken or the library cannot be opened
    """
    with ExitStack() as opened:
        sockets = _listening(port, crew, opened)
        library = opened.enter_context(Library.open())
        _log_to_file()
        port = sockets[0].getsockname()[1]
        desk = Desk(library)
        door = _door(library, desk, f"http://{crew.address}:{port}") if crew else None
        told = _told(library, port, door)
        app = create_app(desk, hosts=_hosts(port, crew), door=door)
        done = threading.Event()
        backups = threading.Thread(target=_back_up, args=(library, done), daemon=True)
        backups.start()
        try:
            _Server(app, desk, lambda: ready(told)).run(sockets)
        except KeyboardInterrupt:
            pass  # by now all pages are let go and all is saved
        finally:
            done.set()
            backups.join()


def _door(library: Library, desk: Desk, address: str) -> Door:
    return Door(library.crew, address=address, clock=utc_now, ended=desk.live.end)


def _hosts(port: int, crew: Interface | None) -> list[str]:
    """By which names the server may be called."""
    names = [HERE, "localhost", *([crew.address] if crew else ())]
    return [*(f"{each}:{port}" for each in names), *(names if port == 80 else ())]


def _listening(port: int, crew: Interface | None, opened: ExitStack) -> list[socket.socket]:
    """Sockets on the laptop's own address and on the crew's, both at the same port."""
    sockets: list[socket.socket] = []
    for address in (HERE, *([crew.address] if crew else ())):
        sockets.append(opened.enter_context(listening(address, port)))
        port = sockets[0].getsockname()[1]
    return sockets


def listening(address: str, port: int) -> socket.socket:
    """A socket that takes connections. Its protocol is named, since only then the loop sends small
    answers at once.

    port : 0 for any that is free
    Raises  EvencastError where the port is taken, or may not be used
    """
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "nt":  # there, reuse would let another program take the port
            made.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)  # type: ignore[attr-defined]
        else:
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((address, port))
        made.listen(128)
        made.setblocking(False)
    except OSError as error:
        made.close()
        raise _cannot_listen(address, port, error) from error
    return made


def _cannot_listen(address: str, port: int, error: OSError) -> EvencastError:
    taken = error.errno == errno.EADDRINUSE
    refused = error.errno == errno.EACCES
    what = "is taken by another program, or by evencast itself" if taken else "cannot be used"
    if refused:
        what = "may not be used by you"
    other = port + 1 if 1024 <= port < 65535 else 8765
    return EvencastError(
        what if taken or refused else f"{what}: {error.strerror}",
        where=f"{address}, port {port}",
        remedy=f"Choose another, such as --port {other}"
        + (", or end the other one." if taken else "."),
    )


class _Server(uvicorn.Server):
    """Says when it listens; and lets the pages that listen go before it waits for all to end."""

    def __init__(self, app: FastAPI, desk: Desk, ready: Callable[[], None]) -> None:
        super().__init__(
            uvicorn.Config(
                app,
                log_config=None,
                access_log=False,
                server_header=False,
                proxy_headers=False,  # nobody stands between, and nobody is believed to
                ws="none",
                limit_concurrency=MOST_AT_ONCE,
                timeout_keep_alive=KEEP_ALIVE_S,
                timeout_graceful_shutdown=5,
            )
        )
        self._desk, self._ready = desk, ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        keep_loaded()
        if self.started:
            self._ready()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        await self._desk.live.close()
        await super().shutdown(sockets)


def _told(library: Library, port: int, door: Door | None) -> Serving:
    codes = []
    if door is not None:
        for role, issued in door.codes.items():
            codes.append(JoinCode(role, spaced(issued.short), door.link(role)))
    return Serving(
        url=f"http://{HERE}:{port}/",
        crew=f"{door.address}/" if door else None,
        codes=codes,
        library=library.place.shown,
        log=str(log_file()),
        mind=[OVERHEARD] if door else [],
    )


def _log_to_file() -> None:
    """What is unexpected goes to the log file; nothing a person typed does, and no code."""
    path = log_file()
    try:
        make_folder(path.parent)
        handler = RotatingFileHandler(
            path, maxBytes=LOG_BYTES, backupCount=LOGS_KEPT, encoding="utf-8", delay=True
        )
    except (OSError, EvencastError):  # a log that cannot be written stops no work
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    for name in ("evencast", "uvicorn.error"):
        logging.getLogger(name).addHandler(handler)
        logging.getLogger(name).setLevel(logging.WARNING)
        logging.getLogger(name).propagate = False


def _back_up(library: Library, done: threading.Event) -> None:
    """A backup at the start and once a day, where anything has changed."""
    while True:
        for problem in back_up_if_due(library):
            log.warning("%s: %s", problem.where, problem.message)
        if done.wait(BACKUP_EVERY_S):
            return
