"""What `serve` says once it listens."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JoinCode:
    """One way in.

    role : "edit" or "view"
    code : eight characters, to be typed at the page /join
    link : what the QR code holds; lets in whoever has it
    """

    role: str
    code: str
    link: str


@dataclass(frozen=True, slots=True)
class Serving:
    """Where the app is.

    url     : on the laptop itself
    crew    : where the crew reaches it; None where it does not
    codes   : that let the crew in; empty where it does not
    library, log : where they are
    mind    : what is to be known about this network
    """

    url: str
    crew: str | None
    codes: list[JoinCode]
    library: str
    log: str
    mind: list[str]
