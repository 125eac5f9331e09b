"""The sums of the scratch page: which fields each has, and what comes of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, get_args

from evencast.actions.editing.forms import number_of
from evencast.actions.expose import expose
from evencast.actions.light import light
from evencast.actions.load import load
from evencast.actions.match import match
from evencast.actions.quick_words import (
    cures_told,
    expose_told,
    load_told,
    ratio_told,
    split_told,
)
from evencast.actions.ratio import ratio
from evencast.actions.taking import Readings
from evencast.actions.through import through
from evencast.camera.flicker import Mains
from evencast.errors import EvencastError
from evencast.plan.tolerance import LightRole
from evencast.quantities import listed
from evencast.results.choice import MatchAnswer
from evencast.results.expose import ExposeAnswer, LoadAnswer, RatioAnswer
from evencast.results.light import LightAnswer
from evencast.results.through import ThroughAnswer
from evencast.results.told import Told, light_told, through_told
from evencast.results.words import match_verdict, say_doubtful_left, say_inside, say_loss, say_stack

Answer = ExposeAnswer | RatioAnswer | LoadAnswer | ThroughAnswer | LightAnswer | MatchAnswer
Values = Mapping[str, str]

ROLES: tuple[LightRole, ...] = get_args(LightRole)
STOPS = (
    "1 1.1 1.3 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22"
)
INDEXES = "100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400"
METRES = "0.5m 1m 1.5m 2m 2.5m 3m 3.5m 4m 5m 6m 7m 8m 10m 12m 15m 20m"
BALANCES = "2800K 3000K 3200K 3400K 3600K 3800K 4000K 4300K 4600K 5000K 5300K 5600K 6000K 6500K"
LAYERS = ("1", "2", "3")
BREAKERS = "6 10 13 16 20 25 32 63"


@dataclass(frozen=True)
class SumField:
    """One field.

    sort    : "text", "choice" (one of a few), or "kit" (a kit of the library, or none)
    about   : what belongs there
    along   : values that plus and minus step along, smallest first
    choices : of a choice; "" is none of them
    """

    name: str
    label: str
    value: str = ""
    sort: Literal["text", "choice", "kit"] = "text"
    about: str = ""
    along: list[str] = field(default_factory=list)
    choices: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a sum.

    lists : headings, and what stands under each
    line  : the light as one would type it into a plan; "" where the sum is of no light
    """

    told: Told
    lists: list[tuple[str, list[str]]]
    answer: Answer
    line: str = ""


@dataclass(frozen=True, slots=True)
class Sum:
    """One quick sum.

    work : from what is typed, and the file of a kit, to what comes out
    """

    slug: str
    title: str
    lead: str
    fields: tuple[SumField, ...]
    work: Callable[[Values, Path | None], Outcome]


def _stop(v: Values, kit: Path | None) -> Outcome:
    frequencies: dict[str, Mains | None] = {"": None, "50": 50, "60": 60}
    answer = expose(
        v["light"],
        readings=_readings(v),
        at=v["at"] or None,
        to=v["to"] or None,
        through=_several(v["through"]),
        scrims=_several(v["scrims"]),
        want=v["want"] or None,
        kit=kit,
        ei=_number(v, "ei", "index"),
        shutter=v["shutter"],
        fps=None,
        mains=frequencies[v["mains"]],
        constant=None,
    )
    lists = [("To get there", cures_told(answer)), *_known(answer.notes, answer.cautions)]
    read = f"{v['unit']}{v['read']}" if v["unit"] == "f/" else f"{v['read']} {v['unit']}"
    line = ", ".join([v["light"], *([read] if v["read"] else [])])
    return Outcome(expose_told(answer), lists, answer, line)


def _readings(v: Values) -> Readings:
    if not v["read"]:
        return Readings()
    if v["unit"] == "f/":
        return Readings(stop=f"f/{v['read'].removeprefix('f/')}")
    if v["unit"] == "cd":
        return Readings(candela=v["read"])
    number = _number(v, "read", "what was read")
    return Readings(
        lux=number if v["unit"] == "lx" else None,
        fc=number if v["unit"] == "fc" else None,
        ev=number if v["unit"] == "EV" else None,
    )


def _ratio(v: Values, kit: Path | None) -> Outcome:
    answer = ratio(v["key"], v["fill"])
    return Outcome(ratio_told(answer), _known(answer.notes, []), answer)


def _load(v: Values, kit: Path | None) -> Outcome:
    answer = load(
        _several(v["loads"]),
        volts=_number(v, "volts", "volts"),
        breaker_a=_number(v, "breaker", "breaker"),
        margin_percent=_number(v, "margin", "margin"),
    )
    split = (f"On {len(answer.split)} circuits", split_told(answer))
    return Outcome(load_told(answer), [split, *_known(answer.notes, answer.cautions)], answer)


def _through(v: Values, kit: Path | None) -> Outcome:
    answer = through(v["light"], _several(v["filters"]), kind=None, kit=kit)
    lists = _known(answer.notes, answer.cautions)
    return Outcome(through_told(answer), lists, answer, v["light"])


def _light(v: Values, kit: Path | None) -> Outcome:
    answer = light(v["light"], kind=None)
    lists = [("What it is good for", answer.quality), *_known([], answer.cautions)]
    return Outcome(light_told(answer), lists, answer, v["light"])


def _match(v: Values, kit: Path | None) -> Outcome:
    role = next((each for each in ROLES if each == v["role"]), None)
    if role is None or v["layers"] not in LAYERS:
        raise EvencastError(
            "that is none of the choices",
            where="it is" if role is None else "sheets at most",
            remedy=f"Choose {listed(ROLES, 'or')}." if role is None else "Choose 1, 2 or 3.",
        )
    answer = match(
        v["light"],
        kind=None,
        aim_text=v["aim"],
        balance=v["balance"] or None,
        kit=kit,
        role=role,
        layers=int(v["layers"]),
        most=5,
    )
    rows = [
        (
            say_stack(each),
            f"loses {say_loss(each.loss_stops)}; left {say_doubtful_left(each)}; "
            f"inside: {say_inside(each)}",
        )
        for each in answer.choices
    ]
    lists = [("Why", [answer.reason]), *_known(answer.notes, answer.choices[0].cautions)]
    return Outcome(Told(match_verdict(answer), rows), lists, answer, v["light"])


def _known(notes: list[str], cautions: list[str]) -> list[tuple[str, list[str]]]:
    return [("Know", list(dict.fromkeys(notes))), ("Mind", list(dict.fromkeys(cautions)))]


def _several(text: str) -> list[str]:
    """Names with ";" or "+" between, or else with commas."""
    mark = next((each for each in (";", " + ") if each in text), ",")
    return [each.strip() for each in text.split(mark) if each.strip()]


def _number(v: Values, name: str, what: str) -> float:
    return float(number_of(v[name], where=what))


LAMP = "built in, by numbers, or as it stands: FL2, 4300K led, 650 tungsten 3m flood"
KIT = SumField("kit", "Sheets from", sort="kit")

SUMS = (
    Sum(
        "stop",
        "Stop",
        "What stop a light gives at the subject, through sheets and scrims.",
        (
            SumField("light", "Light", "650 tungsten 3m flood", about=LAMP),
            SumField("read", "Read bare, if it was", about="better than watts"),
            SumField("unit", "In", "lx", "choice", choices=["lx", "fc", "EV", "f/", "cd"]),
            SumField("at", "Read at", about="3m, 10ft", along=METRES.split()),
            SumField("to", "The subject is at", about="3m, 10ft", along=METRES.split()),
            SumField("through", "Through", about="full CTB; light frost"),
            SumField("scrims", "Scrims", about="single; half double"),
            SumField("want", "The stop you want", along=STOPS.split()),
            SumField("ei", "Index", "800", along=INDEXES.split()),
            SumField("shutter", "Shutter", "180", about="degrees, or 1/50"),
            SumField("mains", "Mains", "", "choice", choices=["", "50", "60"]),
            KIT,
        ),
        _stop,
    ),
    Sum(
        "ratio",
        "Ratio",
        "Key against fill, or the fill for a ratio, in both definitions.",
        (
            SumField("key", "Key, alone", "400lx", about="400lx, 37fc or f/4"),
            SumField("fill", "Fill, alone; or the ratio wanted", "4:1", about="100lx, or 4:1"),
        ),
        _ratio,
    ),
    Sum(
        "load",
        "Load",
        "Whether one circuit carries the lamps, and what is left.",
        (
            SumField("loads", "Lamps, off their plates", "2x650; 2x100", about="650; 1.2kW pf 0.6"),
            SumField("volts", "Volts", "230", along=["100", "120", "208", "230", "240"]),
            SumField("breaker", "Breaker, amps", "16", along=BREAKERS.split()),
            SumField("margin", "Percent of it used", "80", along=["60", "70", "80", "90", "100"]),
        ),
        _load,
    ),
    Sum(
        "through",
        "Sheets on a lamp",
        "What a stack does to a light: colour, shift, loss.",
        (
            SumField("light", "Light", "tungsten 3200 K", about=LAMP),
            SumField("filters", "Sheets", "half CTB", about="half CTB; light frost"),
            KIT,
        ),
        _through,
    ),
    Sum(
        "light",
        "Lamp",
        "What colour a light is, and what it does to faces and clothes.",
        (SumField("light", "Light", "FL2", about=LAMP),),
        _light,
    ),
    Sum(
        "match",
        "Match",
        "The best stacks that bring a light to a balance or beside another.",
        (
            SumField("light", "Light", "FL2", about=LAMP),
            SumField(
                "aim",
                "Shall look like",
                "3200K",
                about="4300K, like FL11, +20mired",
                along=BALANCES.split(),
            ),
            SumField("balance", "Camera's balance, for an offset from it", along=BALANCES.split()),
            SumField("role", "It is", "key", "choice", choices=list(ROLES)),
            SumField("layers", "Sheets at most", "2", "choice", choices=list(LAYERS)),
            KIT,
        ),
        _match,
    ),
)


def sum_named(slug: str) -> Sum:
    """Raises EvencastError naming those that there are."""
    found = next((each for each in SUMS if each.slug == slug), None)
    if found is None:
        raise EvencastError(
            "there is no such sum",
            where=slug[:40],
            remedy=f"Go to one of {listed([each.slug for each in SUMS])}.",
        )
    return found
