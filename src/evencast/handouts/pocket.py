"""The pocket page: one HTML file that holds a job for a phone without a network.

Everything is text in the page. Its one script only searches, picks a balance and does small sums;
its policy lets nothing be loaded, and names its own style and script by their digests.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING

from evencast.handouts.cards import Card
from evencast.handouts.sums import SUMS, Field, Sum, by_hand, sums_script
from evencast.tables import page_text

if TYPE_CHECKING:
    from jinja2 import Template


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing to know, with its name: "Focus", "flood"."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class PocketCard:
    """The card of one light in one set-up.

    anchor   : of its place in the page
    card     : what the card on paper says
    line     : what to do, in one line
    readings : what is expected of it, and what was read
    says     : why, what helps, and what else to know
    """

    anchor: str
    card: Card
    line: str
    readings: Sequence[Fact]
    says: Sequence[str]


@dataclass(frozen=True, slots=True)
class SetupPart:
    """The job in one set-up.

    name    : "" for the plan itself
    verdict : the answer in a sentence
    why     : why that balance
    gets    : the balance, what else the camera is set to, what each spot gets, what circuits carry
    cards   : in the plan's order
    """

    name: str
    verdict: str
    why: str
    gets: Sequence[Fact]
    cards: Sequence[PocketCard]


@dataclass(frozen=True, slots=True)
class StackChoice:
    """One stack, and what it leaves and takes in words."""

    stack: str
    told: str


@dataclass(frozen=True, slots=True)
class BalanceRow:
    """The best stacks at one balance; where there is none, `told` says why."""

    balance_k: int
    told: str
    choices: Sequence[StackChoice]


@dataclass(frozen=True, slots=True)
class StackTable:
    """The best stacks for one light at every balance.

    setups : those it holds for; "" for all
    takes  : how the lamp is set, its aim and its tolerance
    anchor : of the light's card
    cautions : what to mind with any of the stacks
    """

    name: str
    number: str
    setups: str
    takes: str
    anchor: str
    rows: Sequence[BalanceRow]
    cautions: Sequence[str]


@dataclass(frozen=True, slots=True)
class FilterRow:
    """What one filter of the kit does to the lamp it is meant for.

    purpose : what it is for, in a sentence
    note    : how it came to be known
    """

    name: str
    role: str
    purpose: str
    facts: Sequence[Fact]
    note: str


@dataclass(frozen=True, slots=True)
class PocketPage:
    """All that the page says.

    under       : below the title: the date, in whose name
    empty       : what to say where the plan has no light
    tables_say  : what the stacks at other balances hold for
    balance     : the field that picks one of them
    no_tables   : lights without a table, and why
    filters_say : what the reference of the kit holds for
    scrim_caution : beside the sum of scrims
    says        : how the page was made, and what was assumed
    """

    title: str
    under: Sequence[str]
    empty: str
    kit: str
    setups: Sequence[SetupPart]
    tables: Sequence[StackTable]
    tables_say: Sequence[str]
    balance: Field
    no_tables: Sequence[str]
    filters: Sequence[FilterRow]
    filters_say: Sequence[str]
    scrim_caution: str
    problems: Sequence[str]
    says: Sequence[str]
    sums: Sequence[Sum] = SUMS
    by_hand: Sequence[str] = field(default_factory=by_hand)


def script() -> str:
    """The page's one script."""
    return f"{sums_script()}\n{page_text('page.js')}"


def pocket_page(page: PocketPage) -> bytes:
    """The page as HTML, UTF-8; the same for the same page."""
    style, code = page_text("pocket.css"), script()
    policy = (
        f"default-src 'none'; style-src '{digest(style)}'; script-src '{digest(code)}'; "
        "base-uri 'none'; form-action 'none'"
    )
    from markupsafe import Markup

    html = _template().render(page=page, style=Markup(style), script=Markup(code), policy=policy)
    return html.encode("utf-8")


def digest(text: str) -> str:
    """A text as a content security policy names it: "sha256-...".

    Source  W3C Content Security Policy Level 3, hash-source
    """
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode('utf-8')).digest()).decode()}"


@cache
def _template() -> Template:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(page_text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    return environment.get_template("pocket.html")
