"""The reference of a kit, to be printed or published: what is wished, what is made of it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from pydantic import BaseModel, ConfigDict, Field

from evencast.actions.card.card import KINDS, Wanted, check
from evencast.actions.handouts.job import Wishes
from evencast.camera.sensitivities import CAMERAS
from evencast.errors import EvencastError
from evencast.store.files import confined
from evencast.store.papers import key_of
from evencast.web import work
from evencast.web.desk import Desk, Opened
from evencast.web.pages.handouts import HandoutChoice, paper_of
from evencast.web.pages.papers import MadePart, address_of, fields_of, made_part, missing, subject

TOLD = {
    "reference": (
        "The reference",
        "every filter with what it does, its band, pictures, when to use it; and a table",
    ),
    "comparison": ("Before and after", "bare and filtered at two balances, with your test frames"),
    "lesson": ("Filters to look at", "a lesson for every filter: predict, look, and the answer"),
}
TITLES = {kind: title for kind, (title, _) in TOLD.items()}


class ReferenceAsked(BaseModel):
    """What is wished, as a form or an address says it; see `Wanted` and `Wishes`.

    only  : which documents
    warm, cool : two balances of the camera
    light : one light for every filter; "" for the lamp that each is meant for
    """

    model_config = ConfigDict(str_strip_whitespace=True)

    only: list[str] = Field(default=[], max_length=len(KINDS))
    date: str = Field(default="", max_length=40)
    author: str = Field(default="", max_length=200)
    paper: str = Field(default="a4", max_length=10)
    warm: str = Field(default="3200K", max_length=20)
    cool: str = Field(default="5600K", max_length=20)
    light: str = Field(default="", max_length=200)
    camera: str = Field(default="eye", max_length=40)
    plan: int | None = None


@dataclass(frozen=True)
class ReferencePage:
    """The reference of a kit as it is now.

    asked  : what is wished, the date filled in
    again  : address of this page with what is wished
    hidden : the same as the fields of a form
    """

    number: int
    revision: int
    title: str
    choices: list[HandoutChoice]
    cameras: list[str]
    asked: ReferenceAsked
    again: str
    hidden: list[tuple[str, str]]
    made: MadePart


def reference_page(desk: Desk, opened: Opened, asked: ReferenceAsked) -> ReferencePage:
    """What is made and what can be made."""
    asked = _filled(asked)
    chosen = _chosen(asked)
    return ReferencePage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=opened.document.title or opened.document.name,
        choices=[HandoutChoice(each, *TOLD[each], chosen=each in chosen) for each in KINDS],
        cameras=list(CAMERAS),
        asked=asked,
        again=f"{root(opened.document.id)}?{address_of(asked)}",
        hidden=fields_of(asked),
        made=made_part(desk, _key(opened, asked), TITLES, root(opened.document.id)),
    )


def start(desk: Desk, opened: Opened, asked: ReferenceAsked) -> None:
    """Begin to make what is wished and not there yet.

    Raises  EvencastError for a wish that is none, or where none is chosen
    """
    if not asked.only:
        raise EvencastError(
            "no document is chosen", where="reference", remedy="Choose at least one of them."
        )
    asked = _filled(asked)
    wishes = Wishes(date=asked.date, author=asked.author, paper=paper_of(asked.paper))
    key = _key(opened, asked)
    kinds = missing(desk, key, _chosen(asked))
    wanted = Wanted(
        kinds=kinds,
        balances=f"{asked.warm},{asked.cool}",
        light=asked.light or None,
        camera=asked.camera,
    )
    with confined(opened.root):
        check(wanted, wishes)
    if kinds:
        title = f"Reference of {opened.document.title or opened.document.name}"
        given = (opened.path, opened.root, wanted, wishes, desk.papers.folder(key))
        desk.jobs.start(title, subject(key, kinds), work.refer, *given)


def root(number: int) -> str:
    """Path of the reference of a kit."""
    return f"/kit/{number}/reference"


def _chosen(asked: ReferenceAsked) -> list[str]:
    return [each for each in KINDS if each in asked.only]


def _filled(asked: ReferenceAsked) -> ReferenceAsked:
    return asked.model_copy(
        update={
            "date": asked.date or datetime.datetime.now().date().isoformat(),
            "only": asked.only or ["reference"],
        }
    )


def _key(opened: Opened, asked: ReferenceAsked) -> str:
    return key_of("reference", str(opened.path), asked.model_dump(exclude={"only", "plan"}))
