"""The connection to the database: how it is set up, read, and written by one at a time."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Any

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library.faults import explained
from evencast.store.library.place import Place

BUSY_MS = 15_000
_LOCK = 0x45766361
"""Number of the lock that whoever writes to PostgreSQL holds."""

_PRAGMAS = (
    f"PRAGMA busy_timeout = {BUSY_MS}",
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA fullfsync = ON",  # on a Mac a plain fsync may stop in the disk's own memory
    "PRAGMA foreign_keys = ON",
    "PRAGMA recursive_triggers = ON",  # so that REPLACE is refused like DELETE
    "PRAGMA trusted_schema = OFF",
)


class Database:
    """An open database.

    place     : where it is
    is_sqlite : else it is PostgreSQL
    """

    def __init__(self, place: Place) -> None:
        self.place = place
        self.is_sqlite = place.folder is not None
        self._engine = _sqlite(place) if self.is_sqlite else _postgresql(place)
        self._writer = Lock()

    @contextmanager
    def reading(self) -> Iterator[sa.Connection]:
        """A connection that sees one moment of the library throughout."""
        options: dict[str, Any] = {} if self.is_sqlite else {"isolation_level": "REPEATABLE READ"}
        with (
            explained(self.place.shown),
            self._engine.connect().execution_options(**options) as connection,
            connection.begin(),
        ):
            yield connection

    @contextmanager
    def writing(self) -> Iterator[sa.Connection]:
        """A connection whose changes are kept all or none; the only one that writes."""
        with (
            explained(self.place.shown),
            self._writer,
            self._engine.connect().execution_options(writes=True) as connection,
            connection.begin(),
        ):
            if not self.is_sqlite:
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
            yield connection

    def close(self) -> None:
        """Let go of every connection."""
        self._engine.dispose()


def _sqlite(place: Place) -> sa.Engine:
    engine = sa.create_engine(place.url, connect_args={"check_same_thread": False})

    @sa.event.listens_for(engine, "connect")
    def set_up(connection: Any, _: Any) -> None:
        connection.isolation_level = None  # transactions begin below, tables in them too
        for pragma in _PRAGMAS:
            connection.execute(pragma).close()

    @sa.event.listens_for(engine, "begin")
    def begin(connection: sa.Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _postgresql(place: Place) -> sa.Engine:
    try:
        return sa.create_engine(
            place.url,
            pool_pre_ping=True,
            connect_args={"options": "-c synchronous_commit=on", "connect_timeout": 10},
        )
    except ModuleNotFoundError:
        raise EvencastError(
            "PostgreSQL is not part of this installation",
            where=place.shown,
            remedy="Install it: pip install 'evencast[postgres]'.",
        ) from None
