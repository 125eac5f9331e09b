"""Who uses the app: the person at the laptop, and the crew that joined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.errors import EvencastError

Role = Literal["owner", "edit", "view"]


class Refused(EvencastError):  # noqa: N818 - it says what was done, not what went wrong
    """Somebody may not do that.

    status      : of HTTP: 401 not in, 403 not allowed, 429 to be tried later
    retry_after_s : seconds until it may be tried again; 0 where trying again is no use
    """

    def __init__(
        self, what: str, *, where: str, remedy: str, status: int = 403, retry_after_s: int = 0
    ) -> None:
        super().__init__(what, where=where, remedy=remedy)
        self.status = status
        self.retry_after_s = retry_after_s


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody with the app open.

    id   : of the session, no secret; "" for the person at the laptop
    name : as others see it, and as revisions are signed
    role : the owner may do all, "edit" may change documents, "view" may look
    """

    id: str
    name: str
    role: Role

    @property
    def may_edit(self) -> bool:
        """Whether documents may be changed."""
        return self.role != "view"


OWNER = Person("", "the laptop", "owner")

LOOK_ONLY = Refused(
    "you joined to look, not to change",
    where="this device",
    remedy="Ask at the laptop for the code that lets you edit.",
)
OWNER_ONLY = Refused(
    "only the laptop may do this", where="this device", remedy="Do it at the laptop."
)
NOT_IN = Refused(
    "this device is not in, or no longer",
    where="this device",
    remedy="Open /join and enter the code that the laptop shows; what you typed stays here.",
    status=401,
)
