"""Who takes part: the codes that let people in, and the sessions of those who are.

Only digests of secrets are kept: whoever reads the database, or a copy of it, gets nobody in.
A long secret has 128 random bits, so its SHA-256 tells nothing. A short code has 36 bits and
could be found from a plain digest by trying; it is stretched with scrypt (RFC 7914) instead.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import schema
from evencast.store.library.names import line_of_text

Role = Literal["view", "edit"]
ROLES: tuple[Role, ...] = ("edit", "view")

ALPHABET = "ACDEFGHJKLMNPQRTVWXY34679"
"""Letters and digits that are mistaken for no other of these, read aloud or off a screen."""
SHORT_LENGTH = 8
SECRET_BYTES = 16
LONGEST_NAME = 40
LONGEST_DEVICE = 60
LASTS = timedelta(days=30)
"""A session that was not seen for so long has ended."""

Opened = Callable[[], AbstractContextManager[sa.Connection]]


@dataclass(frozen=True, slots=True)
class Code:
    """What lets people in with one role, until new codes are made.

    id : of the code, not a secret
    """

    id: str
    role: Role
    made_at: datetime


@dataclass(frozen=True, slots=True)
class Issued:
    """A code with its secrets, which exist nowhere else: to be shown, never kept.

    secret : 128 random bits, for the QR code
    short  : eight characters, to be typed
    """

    code: Code
    secret: str
    short: str


@dataclass(frozen=True, slots=True)
class Session:
    """One device that is in.

    id          : not a secret
    secret_hash : of what its cookie holds
    device      : what it is, in words
    last_seen   : by the clock of the machine, in UTC, to the minute or so
    """

    id: str
    name: str
    role: Role
    device: str
    secret_hash: str
    made_at: datetime
    last_seen: datetime


class Crew:
    """Codes and sessions of one library."""

    def __init__(self, reading: Opened, writing: Opened, clock: Callable[[], datetime]) -> None:
        """reading, writing : connections to the library
        clock : dates what is made, and lets sessions lapse
        """
        self._reading, self._writing, self._clock = reading, writing, clock

    def new_codes(self) -> dict[Role, Issued]:
        """A code for each role; those before let nobody in any more. Sessions go on."""
        at = self._clock()
        made = {role: _issued(role, at) for role in ROLES}
        table = schema.join_code
        with self._writing() as connection:
            connection.execute(_ended(table, at))
            for each in made.values():
                connection.execute(
                    sa.insert(table).values(
                        id=each.code.id,
                        role=each.code.role,
                        secret_hash=digest(each.secret),
                        short_hash=_stretched(each.short, each.code.id),
                        made_at=at.isoformat(),
                    )
                )
        return made

    def end_codes(self) -> None:
        """Let nobody in any more."""
        with self._writing() as connection:
            connection.execute(_ended(schema.join_code, self._clock()))

    def code_of_secret(self, secret: str) -> Code | None:
        """The code that a long secret belongs to; None where it belongs to none that is open."""
        asked = digest(secret)
        return self._first(lambda row: hmac.compare_digest(row.secret_hash, asked))

    def code_of_short(self, typed: str) -> Code | None:
        """The code that eight characters belong to, however they are spaced. Takes some 50 ms for
        each open code, whether right or wrong: whoever asks limits how often."""
        short = "".join(each for each in typed.upper() if each.isalnum())
        if len(short) != SHORT_LENGTH or not short.isascii():
            return None
        return self._first(
            lambda row: hmac.compare_digest(row.short_hash, _stretched(short, row.id))
        )

    def join(self, code: Code, *, name: str, device: str) -> tuple[Session, str]:
        """A session, and the secret for its cookie, which is kept nowhere.

        Raises  EvencastError where the name is empty, too long, or no line of text; or the code
                was ended since it was looked up
        """
        at, secret = self._clock(), secrets.token_urlsafe(SECRET_BYTES)
        with self._writing() as connection:
            table = schema.join_code
            open_one = sa.select(table.c.id).where(
                table.c.id == code.id, table.c.ended_at.is_(None)
            )
            if connection.execute(open_one).one_or_none() is None:
                raise EvencastError(
                    "that code lets nobody in any more",
                    where="code",
                    remedy="Ask at the laptop for the one of now.",
                )
            made = Session(
                id=secrets.token_hex(8),
                name=_free_name(connection, person_name(name)),
                role=code.role,
                device=" ".join(device.split())[:LONGEST_DEVICE],
                secret_hash=digest(secret),
                made_at=at,
                last_seen=at,
            )
            connection.execute(
                sa.insert(schema.session).values(
                    id=made.id,
                    join_code_id=code.id,
                    name=made.name,
                    role=made.role,
                    device=made.device,
                    secret_hash=made.secret_hash,
                    made_at=at.isoformat(),
                    last_seen=at.isoformat(),
                )
            )
        return made, secret

    def sessions(self) -> list[Session]:
        """Those that have not ended, the first that joined first."""
        table = schema.session
        query = (
            sa.select(table).where(table.c.ended_at.is_(None)).order_by(table.c.made_at, table.c.id)
        )
        with self._reading() as connection:
            found = [_session(row) for row in connection.execute(query)]
        return [each for each in found if self._clock() - each.last_seen < LASTS]

    def rename(self, session: str, name: str) -> str:
        """Another name for somebody who is in; as it is then, since no two are called the same.

        Raises  EvencastError as `join`
        """
        with self._writing() as connection:
            found = _free_name(connection, person_name(name), besides=session)
            self._set(connection, session, name=found)
        return found

    def seen(self, when: Mapping[str, datetime]) -> None:
        """When sessions were last seen."""
        with self._writing() as connection:
            for session, at in when.items():
                self._set(connection, session, last_seen=at.isoformat())

    def end(self, session: str | None = None) -> None:
        """End a session, or all of them."""
        query = _ended(schema.session, self._clock())
        if session is not None:
            query = query.where(schema.session.c.id == session)
        with self._writing() as connection:
            connection.execute(query)

    def _set(self, connection: sa.Connection, session: str, **values: str) -> None:
        table = schema.session
        connection.execute(sa.update(table).where(table.c.id == session).values(**values))

    def _first(self, fits: Callable[[Any], bool]) -> Code | None:
        """The open code that fits, all of them tried."""
        table = schema.join_code
        with self._reading() as connection:
            rows = connection.execute(sa.select(table).where(table.c.ended_at.is_(None))).all()
        found = [row for row in rows if fits(row)]
        if not found:
            return None
        return Code(found[0].id, found[0].role, datetime.fromisoformat(found[0].made_at))


def digest(secret: str) -> str:
    """SHA-256 of a long secret, in hexadecimal."""
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


def person_name(text: str) -> str:
    """A person's name as revisions are signed with it.

    Raises  EvencastError where it is empty, too long, or no line of text
    """
    name = line_of_text(text, what="name", longest=LONGEST_NAME)
    if not name:
        raise EvencastError(
            "is empty", where="name", remedy="Say who you are: edits are signed with it."
        )
    return name


def _issued(role: Role, at: datetime) -> Issued:
    short = "".join(secrets.choice(ALPHABET) for _ in range(SHORT_LENGTH))
    code = Code(secrets.token_hex(8), role, at)
    return Issued(code, secrets.token_urlsafe(SECRET_BYTES), short)


def _stretched(short: str, salt: str) -> str:
    return hashlib.scrypt(short.encode(), salt=salt.encode(), n=1 << 14, r=8, p=1, dklen=32).hex()


def _ended(table: sa.Table, at: datetime) -> sa.Update:
    return sa.update(table).where(table.c.ended_at.is_(None)).values(ended_at=at.isoformat())


def _free_name(connection: sa.Connection, name: str, *, besides: str = "") -> str:
    """The name, with a number behind it where somebody who is in has it already."""
    table = schema.session
    query = sa.select(table.c.name).where(table.c.ended_at.is_(None), table.c.id != besides)
    taken = {each.casefold() for each in connection.execute(query).scalars()} | {"the laptop"}
    tried = [name, *(f"{name} {number}" for number in range(2, len(taken) + 3))]
    return next(each for each in tried if each.casefold() not in taken)


def _session(row: Any) -> Session:
    return Session(
        id=row.id,
        name=row.name,
        role=row.role,
        device=row.device,
        secret_hash=row.secret_hash,
        made_at=datetime.fromisoformat(row.made_at),
        last_seen=datetime.fromisoformat(row.last_seen),
    )
