"""Lamp cards: what a card says, ready to be laid out by `data/documents/cards.typ`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do to a light, or one sheet before it.

    place : of a sheet its place from the lamp outwards, from 1; "" for what is no sheet
    what  : in the largest words: "three-quarter CTB", "dim 2/3 stop"
    note  : what belongs to it in small words, or ""
    """

    place: str
    what: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of readings: what is expected, what was read, or a blank one to fill in.

    what   : "expected", "read", or what to read
    kelvin : colour temperature; "none" where there is none
    between : what nine in ten of all that it may be lie between, or ""
    duv    : Duv, and its green or magenta in words
    stop   : of this light alone
    time   : when
    """

    what: str
    kelvin: str = ""
    between: str = ""
    duv: str = ""
    stop: str = ""
    time: str = ""


@dataclass(frozen=True, slots=True)
class Card:
    """The card of one light in one set-up.

    number   : of the light, as on every document
    name     : the light's
    sub      : its role, and the set-up where the plan has any
    steps    : what to do to the lamp, then its sheets from the lamp outwards
    facts    : names and what belongs to them: pieces to cut, where it stands, what it shall look
               like, what it hangs on
    taken_at : index and shutter that stops are told for; "" where no level is known
    rows     : readings; empty where there is nothing to read
    otherwise : what was rigged or kept, where that is not what the card says
    cautions : what to mind, in full
    qr       : a QR code as SVG, or ""
    qr_alt   : what the code says, in words
    qr_mm    : how wide it is printed
    """

    number: str
    name: str
    sub: str
    steps: list[Step]
    facts: list[tuple[str, str]]
    taken_at: str
    rows: list[Row]
    otherwise: list[str]
    cautions: list[str]
    qr: str = ""
    qr_alt: str = ""
    qr_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Cards:
    """All cards of a plan.

    cards : by set-up, then by number
    empty : what to say where there is no card
    """

    cards: list[Card]
    empty: str
