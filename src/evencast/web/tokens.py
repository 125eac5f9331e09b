"""That a form was sent from a page of this server: a token in it that only such a page holds.

It is bound to the session and to a key that stays on the laptop, so a cookie that some other
program planted on this address is no use, and pages stay good when the server starts anew.
"""

from __future__ import annotations

import hashlib
import hmac
import re
from collections.abc import Mapping

from starlette.datastructures import FormData
from starlette.requests import Request

from evencast.web.people import OWNER, Person, Refused

HEADER = "x-form-token"
FIELD = "form_token"
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})

_FORM = re.compile(r'<form\b[^>]*\bmethod="post"[^>]*>', re.IGNORECASE)
_SIGNS_OF_A_BROWSER = ("origin", "referer", "cookie", "sec-fetch-site", "sec-fetch-mode")

_STALE = Refused(
    "this page does not belong to your session any more",
    where="form",
    remedy="Load the page again and send it once more.",
)


class Tokens:
    """Makes and checks them."""

    def __init__(self, key: bytes) -> None:
        """key : secret, kept from one run to the next"""
        self._key = key

    def of(self, person: Person) -> str:
        """The token of a session."""
        said = f"form {person.id}".encode()
        return hmac.new(self._key, said, hashlib.sha256).hexdigest()[:40]

    def check(self, person: Person, brought: str) -> None:
        """Raises Refused where it is another's, or none."""
        if not hmac.compare_digest(self.of(person).encode(), brought.encode("utf-8", "replace")):
            raise _STALE


def in_forms(page: str, token: str) -> str:
    """A page with the token in every form that changes something: none can forget it."""
    field = f'<input type="hidden" name="{FIELD}" value="{token}">'
    return _FORM.sub(lambda found: found[0] + field, page)


def may_lack_token(person: Person, headers: Mapping[str, str]) -> bool:
    """Whether a request comes from a program on the laptop itself, which no web page can send: it
    carries nothing that every browser puts there."""
    return (
        person == OWNER
        and not any(each in headers for each in _SIGNS_OF_A_BROWSER)
        and not headers.get("user-agent", "").startswith("Mozilla/")
    )


async def from_our_page(request: Request) -> None:
    """Before every route: what changes something must bring the token of its session."""
    person: Person | None = getattr(request.state, "person", None)
    if request.method in SAFE_METHODS or person is None:
        return  # who is nobody yet may only join, which needs a code
    if may_lack_token(person, request.headers):
        return
    brought = request.headers.get(HEADER, "")
    if not brought and "form" in request.headers.get("content-type", ""):
        sent: FormData = await request.form()
        brought = str(sent.get(FIELD, ""))
    tokens: Tokens = request.app.state.tokens
    tokens.check(person, brought)
