"""Who is let in: codes, sessions, and what ends them."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from datetime import datetime
from threading import Lock

from evencast.store.library.crew import Code, Crew, Issued, Role, Session, digest
from evencast.web.lockout import Lockout
from evencast.web.people import Person, Refused

COOKIE = "evencast"


@dataclass(frozen=True, slots=True)
class Asking:
    """Somebody at the door.

    code, secret : what was typed, or what came with the QR code; one of them may be empty
    address      : that it comes from
    before       : the session that the device has already; "" where it has none
    """

    name: str
    code: str
    secret: str
    device: str
    address: str
    before: str = ""


class Door:
    """Lets the crew in. Sessions are looked up in memory, and written to the library as they
    change, so that one ends everywhere at once and all outlive a restart."""

    def __init__(
        self,
        crew: Crew,
        *,
        address: str,
        clock: Callable[[], datetime],
        ended: Callable[[Collection[str]], None] = lambda ids: None,
        lockout: Lockout | None = None,
    ) -> None:
        """address : of the server, as the crew reaches it: "http://192.168.1.5:8765"
        ended : told the sessions that have ended
        """
        self.address = address
        self._crew, self._clock, self._ended = crew, clock, ended
        self._lockout = lockout or Lockout()
        self._lock = Lock()
        self._in = {each.secret_hash: each for each in crew.sessions()}
        self._seen: dict[str, datetime] = {}
        self.codes: dict[Role, Issued] = crew.new_codes()

    def link(self, role: Role) -> str:
        """What the QR code holds. What stands behind # never leaves the browser by itself."""
        return f"{self.address}/join#{self.codes[role].secret}"

    def new_codes(self) -> None:
        """Those before let nobody in any more."""
        self.codes = self._crew.new_codes()

    def person_of(self, cookie: str) -> Person | None:
        """Who holds that cookie; None where nobody does, or no longer."""
        if not cookie:
            return None
        with self._lock:
            found = self._in.get(digest(cookie))
            if found is None:
                return None
            self._seen[found.id] = self._clock()
        return Person(found.id, found.name, found.role)

    def join(self, asking: Asking) -> tuple[Person, str]:
        """A new session, in place of the one the device had; and what its cookie holds.

        Raises  Refused where the code is wrong, or too many were; EvencastError for a name that
                is none
        """
        code = self._code(asking)
        if asking.before:
            self.end(asking.before)
        session, cookie = self._crew.join(code, name=asking.name, device=asking.device)
        with self._lock:
            self._in[session.secret_hash] = session
        return Person(session.id, session.name, session.role), cookie

    def rename(self, person: Person, name: str) -> None:
        """Another name for somebody who is in."""
        found = self._crew.rename(person.id, name)
        with self._lock:
            for each in list(self._in.values()):
                if each.id == person.id:
                    self._in[each.secret_hash] = replace(each, name=found)

    def end(self, session: str | None = None) -> None:
        """End a session, or all of them."""
        self._crew.end(session)
        with self._lock:
            gone = [each for each in self._in.values() if session in (None, each.id)]
            for each in gone:
                del self._in[each.secret_hash]
                self._seen.pop(each.id, None)
        self._ended([each.id for each in gone])

    def sessions(self) -> list[Session]:
        """Who is in, the first that joined first."""
        with self._lock:
            found = [
                replace(each, last_seen=self._seen.get(each.id, each.last_seen))
                for each in self._in.values()
            ]
        return sorted(found, key=lambda each: (each.made_at, each.id))

    def keep_seen(self) -> None:
        """Write down when sessions were last seen."""
        with self._lock:
            seen, self._seen = self._seen, {}
            for each in list(self._in.values()):
                if each.id in seen:
                    self._in[each.secret_hash] = replace(each, last_seen=seen[each.id])
        if seen:
            self._crew.seen(seen)

    def close(self) -> None:
        """Nobody gets in while there is no server; those who are in stay so."""
        self.keep_seen()
        self._crew.end_codes()

    def _code(self, asking: Asking) -> Code:
        """The code that was brought. A long secret cannot be found by trying, so it is asked for
        however often a short one was wrong."""
        if asking.secret:
            code = self._crew.code_of_secret(asking.secret)
            if code is None:
                raise _wrong("the QR code is not the one of now")
            return code
        left_s = self._lockout.take(asking.address)
        if left_s > 0.0:
            raise _too_often(left_s)
        code = self._crew.code_of_short(asking.code)
        if code is None:
            left_s = self._lockout.left_s(asking.address)
            raise _too_often(left_s) if left_s > 0.0 else _wrong("that is not the code of now")
        self._lockout.right(asking.address)
        return code


def spaced(short: str) -> str:
    """Eight characters as they are read: in two groups."""
    return f"{short[:4]} {short[4:]}"


def _wrong(what: str) -> Refused:
    return Refused(what, where="code", remedy="Look at the laptop for the codes of now: page Crew.")


def _too_often(left_s: float) -> Refused:
    seconds = math.ceil(left_s)
    said = f"{seconds} seconds" if seconds < 100 else f"{math.ceil(seconds / 60)} minutes"
    return Refused(
        f"too many wrong codes: none is tried for {said}",
        where="code",
        remedy="Wait, or scan the QR code on the laptop, which works at once.",
        status=429,
        retry_after_s=seconds,
    )
