"""Scratch: the quick sums of the set, nothing to name or save; kept in a plan afterwards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import urlencode

from evencast.errors import EvencastError
from evencast.store.files import confined
from evencast.web.desk import Desk
from evencast.web.failures import Failure, as_said, failure_of
from evencast.web.scratch_sums import SUMS, Answer, Outcome, Sum, SumField, sum_named

NOWHERE = Path(__file__) / "nowhere"
"""A folder that cannot be: a sum reads no file, whatever is typed."""
LONGEST = 300


@dataclass(frozen=True)
class SumLink:
    """One sum to go to."""

    slug: str
    title: str
    lead: str
    here: bool


@dataclass(frozen=True)
class Choice:
    """A document of the library to choose."""

    number: int
    title: str


@dataclass(frozen=True)
class ScratchPage:
    """One sum, with what is typed and what comes of it.

    told, rows : the answer in words; "" and [] where something typed cannot be right
    lists : headings, and what stands under each
    wrong : what is wrong with what is typed; None where nothing is
    answer: every number
    line  : the light as a plan takes it; "" where the sum is of no light
    again : path of this page with what is typed
    """

    sums: list[SumLink]
    slug: str
    title: str
    lead: str
    fields: list[SumField]
    told: str
    rows: list[tuple[str, str]]
    lists: list[tuple[str, list[str]]]
    wrong: Failure | None
    answer: Answer | None
    line: str
    again: str
    kits: list[Choice]
    plans: list[Choice]


def scratch_page(desk: Desk, slug: str, typed: Mapping[str, str]) -> ScratchPage:
    """A sum worked out; with nothing typed, an example.

    Raises  EvencastError for a sum there is none of
    """
    chosen = sum_named(slug)
    fields = [_filled(each, typed) for each in chosen.fields]
    values = {each.name: each.value for each in fields}
    found, wrong = None, None
    try:
        found = _worked(desk, chosen, values)
    except EvencastError as error:
        wrong = failure_of(error)
    given = {name: value for name, value in values.items() if value}
    return ScratchPage(
        sums=[SumLink(each.slug, each.title, each.lead, each is chosen) for each in SUMS],
        slug=slug,
        title=chosen.title,
        lead=chosen.lead,
        fields=fields,
        told="" if found is None else found.told.answer,
        rows=[] if found is None else [(a, " ".join(b.split())) for a, b in found.told.rows],
        lists=[] if found is None else [(head, _all(told)) for head, told in found.lists if told],
        wrong=wrong,
        answer=None if found is None else found.answer,
        line=values.get("light", "") if found is None else found.line,
        again=f"/scratch/{slug}?{urlencode(given)}",
        kits=_choices(desk, "kit"),
        plans=_choices(desk, "plan"),
    )


def _filled(each: SumField, typed: Mapping[str, str]) -> SumField:
    if not typed:
        return each
    return replace(each, value=typed.get(each.name, "").strip()[:LONGEST])


def _worked(desk: Desk, chosen: Sum, values: dict[str, str]) -> Outcome:
    number = values.get("kit", "")
    if not number:
        with confined(NOWHERE):
            return chosen.work(values, None)
    if not number.isdecimal() or len(number) > 9:
        raise EvencastError("there is no such kit", where="kit", remedy="Choose one of the list.")
    opened = desk.open(int(number), "kit")
    with confined(opened.root):
        return chosen.work(values, opened.path)


def _choices(desk: Desk, kind: str) -> list[Choice]:
    return [
        Choice(each.id, f"{each.title or each.name} ({each.bundle.name})")
        for each in sorted(desk.library.documents(), key=lambda each: -each.head.change)
        if each.kind == kind
    ]


def _all(told: list[str]) -> list[str]:
    return [as_said(each) for each in told]
