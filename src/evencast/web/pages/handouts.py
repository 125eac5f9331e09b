"""The hand-outs of a plan: what is wished, what is made of it, every page of it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from pydantic import BaseModel, ConfigDict, Field

from evencast.actions.handouts.handout import KINDS, check, chosen_kinds
from evencast.actions.handouts.job import Wishes
from evencast.errors import EvencastError
from evencast.handouts.typeset import Paper
from evencast.plan.document import sketch_plan
from evencast.store.papers import key_of
from evencast.web import work
from evencast.web.desk import Desk, Opened
from evencast.web.pages.papers import MadePart, address_of, fields_of, made_part, missing, subject

TOLD = {
    "cards": ("Lamp cards", "one for every lamp, to hang on it: what goes before it, and why"),
    "choice": ("The choice", "half a page: balances side by side, to agree on one"),
    "panes": ("Panes and frames", "what to cut, by size and sheet, with boxes to tick"),
    "colourist": ("For the colourist", "what every light was and is, as a page and a table"),
    "shopping": ("Packing and shopping", "what to take along and what is short, with a table"),
    "labels": ("Labels", "for every cut piece, on sheets of adhesive labels"),
    "pocket": ("Pocket page", "the plan in one file for every phone: works without any network"),
}
TITLES = {kind: title for kind, (title, _) in TOLD.items()}
FIRST = ("cards",)
"""Chosen until somebody chooses."""


class HandoutsAsked(BaseModel):
    """What is wished, as a form or an address says it; see `Wishes`.

    setup : its name; "" for every one
    only  : which hand-outs
    """

    model_config = ConfigDict(str_strip_whitespace=True)

    setup: str = Field(default="", max_length=200)
    only: list[str] = Field(default=[], max_length=len(KINDS))
    date: str = Field(default="", max_length=40)
    author: str = Field(default="", max_length=200)
    paper: str = Field(default="a4", max_length=10)
    address: str = Field(default="", max_length=400)
    labels: str = Field(default="", max_length=200)
    label_start: int = Field(default=1, ge=1, le=1000)


@dataclass(frozen=True)
class HandoutChoice:
    """One hand-out that can be made."""

    kind: str
    title: str
    told: str
    chosen: bool


@dataclass(frozen=True)
class HandoutsPage:
    """The hand-outs of a plan as it is now.

    setups : names; [] where the plan has none
    asked  : what is wished, the date filled in
    again  : address of this page with what is wished
    hidden : the same as the fields of a form
    made   : of these wishes and this state of the bundle
    """

    number: int
    revision: int
    title: str
    choices: list[HandoutChoice]
    setups: list[str]
    asked: HandoutsAsked
    again: str
    hidden: list[tuple[str, str]]
    made: MadePart


def handouts_page(desk: Desk, opened: Opened, asked: HandoutsAsked) -> HandoutsPage:
    """What is made and what can be made.

    Raises  EvencastError for a wish that is none
    """
    asked = _filled(asked)
    plan = sketch_plan(opened.text)
    chosen = chosen_kinds(asked.only)
    return HandoutsPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=opened.document.title or opened.document.name,
        choices=[HandoutChoice(each, *TOLD[each], chosen=each in chosen) for each in KINDS],
        setups=[] if plan is None else [each.name for each in plan.setup],
        asked=asked,
        again=f"{root(opened.document.id)}?{address_of(asked)}",
        hidden=fields_of(asked),
        made=made_part(desk, _key(opened, asked), TITLES, root(opened.document.id)),
    )


def start(desk: Desk, opened: Opened, asked: HandoutsAsked) -> None:
    """Begin to make what is wished and not there yet.

    Raises  EvencastError for a wish that is none, or where none is chosen
    """
    if not asked.only:
        raise EvencastError(
            "no hand-out is chosen", where="hand-outs", remedy="Choose at least one of them."
        )
    asked = _filled(asked)
    wishes = _wishes(asked)
    check(wishes)
    key = _key(opened, asked)
    kinds = missing(desk, key, chosen_kinds(asked.only))
    if kinds:
        title = f"Hand-outs of {opened.document.title or opened.document.name}"
        given = (
            opened.path,
            opened.root,
            asked.setup or None,
            wishes,
            kinds,
            desk.papers.folder(key),
        )
        desk.jobs.start(title, subject(key, kinds), work.hand_out, *given)


def root(number: int) -> str:
    """Path of the hand-outs of a plan."""
    return f"/plan/{number}/hand-outs"


def paper_of(text: str) -> Paper:
    """Raises EvencastError for a paper there is none of."""
    papers: dict[str, Paper] = {"a4": "a4", "letter": "letter"}
    if text in papers:
        return papers[text]
    raise EvencastError(f'"{text}" is no paper', where="paper", remedy="Choose a4 or letter.")


def _filled(asked: HandoutsAsked) -> HandoutsAsked:
    return asked.model_copy(
        update={
            "date": asked.date or datetime.datetime.now().date().isoformat(),
            "only": asked.only or list(FIRST),
        }
    )


def _wishes(asked: HandoutsAsked) -> Wishes:
    return Wishes(
        date=asked.date,
        author=asked.author,
        paper=paper_of(asked.paper),
        address=asked.address,
        labels=asked.labels,
        label_start=asked.label_start,
    )


def _key(opened: Opened, asked: HandoutsAsked) -> str:
    return key_of(str(opened.path), asked.model_dump(exclude={"only"}))
