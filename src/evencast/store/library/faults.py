"""What databases and disks refuse, said as what is wrong, where, and what to do."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

import sqlalchemy as sa

from evencast.errors import EvencastError

_DAMAGED = {"SQLITE_CORRUPT", "SQLITE_NOTADB"}
_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_READ_ONLY = {errno.EROFS, errno.EACCES, errno.EPERM}

FULL = "there is no room left on the disk; nothing was saved"
READ_ONLY = "the disk or the folder cannot be written to; nothing was saved"


class Damaged(Exception):  # noqa: N818 - caught inside the library, never shown
    """The database holds what no sound database holds."""


@contextmanager
def explained(where: str) -> Iterator[None]:
    """Failures of the database and the disk inside leave as EvencastError, or as Damaged.

    where : the library, for errors
    """
    try:
        yield
    except sa.exc.DBAPIError as error:
        raise _of_database(error, where) from error
    except sa.exc.TimeoutError as error:
        raise _busy(where) from error
    except OSError as error:
        raise of_disk(error, where) from error


def of_disk(error: OSError, where: str) -> EvencastError:
    """A failure to read or write files as an error that tells what to do."""
    if error.errno in _FULL:
        return _full(where)
    if error.errno in _READ_ONLY:
        return _read_only(where)
    at = where if error.filename is None else str(error.filename)
    return EvencastError(
        f"the disk failed: {error.strerror or error}; nothing was saved",
        where=at,
        remedy="See that the disk is connected and sound, then try again; "
        "`evencast library check` looks whether all is there.",
    )


def _of_database(error: sa.exc.DBAPIError, where: str) -> Exception:
    if isinstance(error.orig, sqlite3.Error):
        return _of_sqlite(error.orig, where)
    return EvencastError(
        f"the database refused: {_first_line(error)}",
        where=where,
        remedy="See that its server runs and can be reached, that the database of that name is "
        "there, and that the user may make tables in it.",
    )


def _of_sqlite(error: sqlite3.Error, where: str) -> Exception:
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith(tuple(_DAMAGED)):
        return Damaged(str(error))
    if name == "SQLITE_FULL":
        return _full(where)
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")):
        return _read_only(where)
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return _busy(where)
    return EvencastError(
        f"the database failed: {error}; nothing was saved",
        where=where,
        remedy="See that the disk has room, is connected and sound, then try again; "
        "`evencast library check` looks whether all is there.",
    )


def _first_line(error: sa.exc.DBAPIError) -> str:
    return str(error.orig).strip().partition("\n")[0]


def _full(where: str) -> EvencastError:
    return EvencastError(
        FULL, where=where, remedy="Make room on that disk, then save again: what was saved is safe."
    )


def _read_only(where: str) -> EvencastError:
    return EvencastError(
        READ_ONLY,
        where=where,
        remedy="See that the disk is not locked and that you may write there, or name another "
        "folder in EVENCAST_LIBRARY.",
    )


def _busy(where: str) -> EvencastError:
    return EvencastError(
        "another program has been writing to the library for too long; nothing was saved",
        where=where,
        remedy="Try again; end other programs that have it open.",
    )
