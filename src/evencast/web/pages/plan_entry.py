"""How a light comes in: one typed line, or four taps."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.entry import answered, typed_light
from evencast.errors import EvencastError
from evencast.quantities import listed
from evencast.results.editing import Entry

KINDS: tuple[tuple[str, str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Tungsten",
        "tungsten {}",
        (
            ("150 W", "150 W"),
            ("300 W", "300 W"),
            ("650 W", "650 W"),
            ("1 kW", "1000 W"),
            ("2 kW", "2000 W"),
            ("5 kW", "5000 W"),
        ),
    ),
    (
        "LED panel",
        "{}",
        (
            ("2700-6500 K", "panel 2700-6500"),
            ("3200-5600 K", "panel 3200-5600"),
            ("3200 K", "LED 3200K"),
            ("5600 K", "LED 5600K"),
        ),
    ),
    (
        "HMI",
        "HMI {}",
        (
            ("200 W", "200 W 5600K"),
            ("575 W", "575 W 5600K"),
            ("1200 W", "1200 W 5600K"),
            ("2500 W", "2500 W 5600K"),
            ("4 kW", "4000 W 5600K"),
        ),
    ),
    (
        "Window",
        "window {}",
        (("sky 6500 K", "D65"), ("sun 5500 K", "D55"), ("shade 7500 K", "D75")),
    ),
    (
        "Bulb",
        "bulb {} practical",
        (("2700 K", "2700K"), ("3000 K", "3000K"), ("4000 K", "4000K")),
    ),
    (
        "Tubes",
        "{}",
        (
            ("cool white", "FL2 tubes"),
            ("3000 K", "tubes 3000K"),
            ("4000 K", "tubes 4000K"),
            ("6500 K", "tubes 6500K"),
        ),
    ),
    ("Street", "{} street lamp leave", (("sodium", "sodium"),)),
)
"""What a light can be tapped as: a kind, the words of its line, and its sizes."""
DISTANCES = ("1 m", "1.5 m", "2 m", "3 m", "4 m", "6 m", "10 m")
ROLES = ("key", "fill", "background", "practical", "other")


@dataclass(frozen=True)
class Chip:
    """One thing to tap."""

    text: str
    value: str


@dataclass(frozen=True)
class KindChip:
    """A kind of lamp with its sizes."""

    text: str
    value: str
    sizes: list[Chip]


@dataclass(frozen=True)
class AskChip:
    """A question about a typed line, and each answer with the line that it makes."""

    question: str
    answers: list[Chip]


@dataclass(frozen=True)
class EntryPage:
    """A light before it is added.

    number, revision : of the plan
    line     : as typed
    name     : what it will be called; "" while nothing is typed
    told     : what each word was taken as
    lost     : words that were taken as nothing
    asks     : what has to be said first
    problem  : why the line cannot be taken
    ready    : whether it can be added
    """

    number: int
    revision: int
    setup: str
    balance: str
    line: str
    name: str
    told: list[tuple[str, str]]
    assumed: list[str]
    lost: list[str]
    asks: list[AskChip]
    problem: str
    ready: bool
    kinds: list[KindChip]
    distances: list[Chip]
    roles: list[Chip]


def entry_page(
    number: int, revision: int, text: str, line: str, *, setup: str = "", balance: str = ""
) -> EntryPage:
    """What was understood of a typed line so far.

    text : of the plan
    """
    entry: Entry | None = None
    problem = ""
    if line.strip():
        try:
            entry = typed_light(line, plan=text)
        except EvencastError as error:
            problem = f"{error.what}. {error.remedy}"
    return EntryPage(
        number=number,
        revision=revision,
        setup=setup,
        balance=balance,
        line=line,
        name=entry.name if entry else "",
        told=[(each.words, each.taken_as) for each in entry.understood] if entry else [],
        assumed=list(entry.assumed) if entry else [],
        lost=list(entry.not_understood) if entry else [],
        asks=_asks(entry, line),
        problem=problem,
        ready=entry is not None and not entry.asks,
        kinds=[
            KindChip(name, str(at), [Chip(shown, words) for shown, words in sizes])
            for at, (name, _, sizes) in enumerate(KINDS)
        ],
        distances=[Chip(each, each) for each in DISTANCES],
        roles=[Chip(each, each) for each in ROLES],
    )


def tapped_line(kind: str, size: str, distance: str, role: str) -> str:
    """The line that taps stand for; "" where no kind was tapped.

    kind : number of one of `KINDS`
    Raises  EvencastError for a kind that is none, or one without its size
    """
    if not kind:
        return ""
    if not kind.isdecimal() or int(kind) >= len(KINDS):
        raise EvencastError(
            f'"{kind[:40]}" is no kind of lamp here',
            where="kind",
            remedy=f"Tap {listed([name for name, _, _ in KINDS], 'or')}.",
        )
    name, form, sizes = KINDS[int(kind)]
    if not size:
        raise EvencastError(
            f"which {name} is not said",
            where="size",
            remedy=f"Tap {listed([shown for shown, _ in sizes], 'or')}.",
        )
    return ", ".join(each for each in (form.format(size), distance, role) if each)


def _asks(entry: Entry | None, line: str) -> list[AskChip]:
    if entry is None:
        return []
    return [
        AskChip(ask.question, [Chip(each, answered(line, ask, each)) for each in ask.accepted])
        for ask in entry.asks
    ]
