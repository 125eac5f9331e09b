"""Who uses the app: the person at the laptop, and the crew that joined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.errors import EvencastError

Role = Literal["owner", "edit", "view"]


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody with the app open.

    id   : of the session; 0 for the person at the laptop
    name : as others see it, and as revisions are signed
    role : the owner may do all, "edit" may change documents, "view" may look
    """

    id: int
    name: str
    role: Role

    @property
    def may_edit(self) -> bool:
        """Whether documents may be changed."""
        return self.role != "view"


OWNER = Person(0, "the laptop", "owner")

LOOK_ONLY = EvencastError(
    "you joined to look, not to change",
    where="this device",
    remedy="Ask at the laptop for the code that lets you edit.",
)
OWNER_ONLY = EvencastError(
    "only the laptop may do this", where="this device", remedy="Do it at the laptop."
)
