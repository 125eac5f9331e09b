"""The address that the QR codes of the cards lead to."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

from evencast.errors import EvencastError

LONGEST_ADDRESS = 200
"""Letters: with a light's anchor behind it a code has dots that a phone still reads off paper."""

_HOST = re.compile(r"\[[0-9A-Fa-f:.]+\]|[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?\.?")
_LETTERS = re.compile(r"[A-Za-z0-9\-._~:/?\[\]@!$&'()*+,;=%]*")
_BROKEN_CODE = re.compile(r"%(?![0-9A-Fa-f]{2})")
"""What RFC 3986 allows in an address without a fragment."""


def checked_address(address: str) -> str:
    """The address, or "" where there is none.

    Raises  EvencastError for anything a phone could not open, and for one that already leads to a
            place on a page, since every card adds its own
    """
    if not address:
        return address
    fault = _fault(address)
    if fault:
        raise EvencastError(
            fault,
            where="--address",
            remedy="Write the address at which a phone opens the pocket page, as the phone shows "
            f"it: http:// or https://, at most {LONGEST_ADDRESS} letters, no space and no #, such "
            "as https://set.example/pocket.html.",
        )
    return address


def _fault(address: str) -> str:
    if len(address) > LONGEST_ADDRESS:
        return f"the address has {len(address)} letters"
    if "#" in address:
        return "the address has a # in it, and every card adds its own"
    if not _LETTERS.fullmatch(address):
        odd = next(each for each in address if not _LETTERS.fullmatch(each))
        told = "a space" if odd.isspace() else f"U+{ord(odd):04X}"
        return f"the address has {told} in it, which no address has"
    if _BROKEN_CODE.search(address):
        return "the address has a % without the two figures that belong to it"
    try:
        parts = urlsplit(address)
        host, _ = parts.hostname, parts.port
    except ValueError:
        return f'"{address}" is no address'
    if parts.scheme not in ("http", "https"):
        return f'"{address}" does not begin with http:// or https://'
    if parts.username is not None:
        return "the address has a user's name in it, which would be printed on every card"
    if not host or not _HOST.fullmatch(f"[{host}]" if ":" in host else host):
        return f'"{address}" names no host'
    return ""
