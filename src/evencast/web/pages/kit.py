"""The kit: every filter by what it does, what is known of it, and how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from evencast.actions.card.facts import as_sentence, facts, say_evidence
from evencast.actions.card.papers import ROLE_NAMES
from evencast.actions.editing.document import KIT
from evencast.actions.filter_page import Shown, shown
from evencast.actions.kit import LoadedKit, load_kit
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.filters import generic_names
from evencast.plan.kit import KitFilter, Stock
from evencast.plan.place import folded
from evencast.quantities import listed
from evencast.results.card import FilterFacts
from evencast.store.files import confined
from evencast.store.library.values import Document
from evencast.web.desk import Desk, Opened
from evencast.web.pages.within import plans_of

KNOWN_BY = {"generic": "generic", "spectrum": "measured", "kelvin": "printed", "xyy": "printed"}


@dataclass(frozen=True)
class StockLine:
    """Pieces of one size.

    place : among the pieces of the filter, from 0
    told  : "sheets of 530 × 1220 mm"
    """

    place: int
    told: str
    id: str
    count: int


@dataclass(frozen=True)
class FilterRow:
    """One filter.

    told     : what it does, a sentence; why nothing can be told where that is so
    lamp     : in front of which the numbers hold
    shift, duv, comes_out, loss : in words, with the band; "" where nothing can be told
    curve    : its transmittance as a small picture
    known_by : "generic", "measured" or "printed"
    answer   : every number
    """

    name: str
    role: str
    path: str
    told: str
    lamp: str
    shift: str
    duv: str
    comes_out: str
    loss: str
    curve: str
    known_by: str
    origin: str
    evidence: list[str]
    note: str
    stock: list[StockLine]
    counted: int | None
    answer: FilterFacts | None


@dataclass(frozen=True)
class FilterGroup:
    """Filters of one role."""

    role: str
    title: str
    filters: list[FilterRow]


@dataclass(frozen=True)
class KitPage:
    """A kit as it is now.

    plans    : titles of the plans that are planned with it, with their pages
    generics : names of generic filters that it does not have
    spectra  : files of its bundle that a filter may name
    broken   : whether it cannot be read, so that it shows no filter
    """

    number: int
    revision: int
    title: str
    bundle: str
    bundle_number: int
    file: str
    plans: list[tuple[str, str]]
    groups: list[FilterGroup]
    generics: list[str]
    spectra: list[str]
    broken: bool
    problems: list[Problem]
    plan: int | None = None


@dataclass(frozen=True)
class RowPart:
    """One row of a kit page by itself, after what there is was counted."""

    number: int
    revision: int
    plan: int | None
    row: FilterRow


def loaded(desk: Desk, opened: Opened) -> LoadedKit:
    """A kit, read once for each state of its bundle.

    Raises  DocumentErrors where it has errors
    """

    def made() -> LoadedKit:
        with confined(opened.root):
            return load_kit(opened.path)

    return desk.warm(("kit", opened.path), made)


def kit_page(desk: Desk, opened: Opened, *, plan: int | None) -> KitPage:
    """Every filter.

    plan : number of the plan that one came from
    """
    document = opened.document
    try:
        kit: LoadedKit | None = loaded(desk, opened)
        problems = [] if kit is None else list(kit.problems)
    except DocumentErrors as error:
        kit, problems = None, list(error.problems)
    rows = [] if kit is None else [filter_row(each, document.id, plan) for each in shown(kit)]
    there = {folded(each.name) for each in rows}
    return KitPage(
        number=document.id,
        revision=opened.revision.number,
        title=document.title or document.name,
        bundle=document.bundle.name,
        bundle_number=document.bundle.id,
        file=document.name,
        plans=[(title, f"/plan/{each.id}") for title, each in plans_of(desk, document).items()],
        groups=_groups(rows),
        generics=[each for each in generic_names() if folded(each) not in there],
        spectra=_spectra(desk, document),
        broken=kit is None,
        problems=problems or _warnings(opened),
        plan=plan,
    )


def check_member(desk: Desk, kit: Document, name: str) -> None:
    """Raises EvencastError where the bundle has no spectrum of that name beside the kit."""
    there = _spectra(desk, kit)
    if name not in there:
        raise EvencastError(
            "the bundle of the kit has no such spectrum",
            where=name[:80],
            remedy=f"Choose {listed(there, 'or')}, or send the file."
            if there
            else "Send the file.",
        )


def _spectra(desk: Desk, kit: Document) -> list[str]:
    """Spectra of the bundle, as the kit names them."""
    folder = kit.name.rpartition("/")[0]
    before = f"{folder}/" if folder else ""
    names = [each.name for each in desk.library.documents(kit.bundle, "spectrum")]
    return [each.removeprefix(before) for each in names if each.startswith(before)]


def _warnings(opened: Opened) -> list[Problem]:
    return list(KIT.problems(opened.text))


def _groups(rows: Sequence[FilterRow]) -> list[FilterGroup]:
    found = [
        FilterGroup(role, title, [each for each in rows if each.role == role])
        for role, title in ROLE_NAMES.items()
    ]
    return [each for each in found if each.filters]


def filter_row(each: Shown, number: int, plan: int | None) -> FilterRow:
    """One filter as a row.

    number : of the kit
    """
    entry = each.entry
    told = {} if each.facts is None else dict(facts(each.facts))
    stock = [stock_line(place, one) for place, one in enumerate(entry.stock)]
    asked = "" if plan is None else f"?plan={plan}"
    return FilterRow(
        name=entry.name,
        role=entry.role,
        path=f"/kit/{number}/filter/{quote(entry.name, safe='')}{asked}",
        told=each.why if each.facts is None else as_sentence(each.facts.purpose),
        lamp=told.get("Lamp", ""),
        shift=told.get("Shift", ""),
        duv=told.get("Duv shift", ""),
        comes_out=told.get("Comes out", ""),
        loss=told.get("Loss", ""),
        curve=each.curve,
        known_by=KNOWN_BY[way_of(entry)],
        origin="" if each.facts is None else as_sentence(each.facts.origin),
        evidence=[] if each.facts is None else say_evidence(each.facts),
        note=entry.note or "",
        stock=stock,
        counted=sum(one.count for one in stock) if stock else None,
        answer=each.facts,
    )


def way_of(entry: KitFilter) -> str:
    """How a filter is known: "generic", "spectrum", "kelvin" or "xyy"."""
    return next(way for way in KNOWN_BY if getattr(entry, way) is not None)


def stock_line(place: int, each: Stock) -> StockLine:
    """Pieces of one size in words."""
    many = "" if each.count == 1 else "s"
    told = f"{each.form}{many} of {each.width_mm:g} × {each.length_mm:g} mm"
    return StockLine(place, told, each.id or "", each.count)
