"""What is told of a filter of a kit on its own: words, numbers, the spectrum, pictures."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from evencast.actions.card.numbers import Numbers, elsewhere, lamp_of, numbers
from evencast.actions.card.pictures import Studio
from evencast.actions.card.rows import facts_of
from evencast.actions.charts_colour import NO_COLOUR, shown_beside
from evencast.actions.charts_sheets import curve_of, transmittance_chart
from evencast.actions.kit import LoadedKit
from evencast.camera.sensitivities import camera_named
from evencast.colour import check_kelvin
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.handouts.charts import SpectraChart
from evencast.handouts.charts.small import small_curve
from evencast.lights import parse_kelvin
from evencast.results.card import CardElsewhere, CardPicture, FilterFacts

if TYPE_CHECKING:
    from evencast.plan.kit import KitFilter

BALANCES_K = (3200.0, 5600.0)
MOST_REMEMBERED = 1024


@dataclass(frozen=True, slots=True)
class Shown:
    """A filter with what is told of it.

    curve : its spectrum as a small picture
    why   : why nothing can be told; "" where it can
    """

    entry: KitFilter
    facts: FilterFacts | None
    curve: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Closer:
    """A filter at two balances, in front of the lamp that it is meant for."""

    chart: SpectraChart
    pictures: list[CardPicture]
    elsewhere: list[CardElsewhere]


@dataclass(frozen=True, slots=True)
class _Known:
    """A filter by what decides of everything that is told of it."""

    digest: str
    built: Filter = field(compare=False)
    entry: KitFilter = field(compare=False)


def shown(kit: LoadedKit) -> list[Shown]:
    """Every filter of a kit, in its order; worked out once for each that is known so."""
    entries = () if kit.document is None else kit.document.filter
    return [
        Shown(entry, *_told(_known(built, entry)))
        for built, entry in zip(kit.filters, entries, strict=True)
    ]


def closer(kit: LoadedKit, name: str, balances_k: tuple[float, float]) -> Closer:
    """One filter looked at.

    Raises  EvencastError for a name that no filter has, and where nothing passes it
    """
    entries = {} if kit.document is None else {e.name: e for e in kit.document.filter}
    built = kit.find(name)
    if built is None:
        raise EvencastError(
            "the kit has no such filter", where=name, remedy="Go to the kit and choose one."
        )
    return _closer(_known(built, entries[built.name]), balances_k)


def balances_of(texts: Sequence[str]) -> tuple[float, float]:
    """Two balances of the camera, as they are typed.

    Raises  EvencastError for what is none
    """
    found = []
    for text in texts:
        typed = text if not text.strip().isdigit() else f"{text.strip()}K"
        parsed = parse_kelvin(typed)
        if parsed is None or parsed[1] is not None:
            raise EvencastError(
                f'"{text[:40]}" is not a balance', where="balance", remedy="Write 3200K."
            )
        check_kelvin(parsed[0])
        found.append(parsed[0])
    return found[0], found[1]


def _known(built: Filter, entry: KitFilter) -> _Known:
    said = entry.model_dump_json(exclude={"stock"}).encode()
    return _Known(hashlib.sha256(said + built.transmittance.tobytes()).hexdigest(), built, entry)


@lru_cache(MOST_REMEMBERED)
def _told(known: _Known) -> tuple[FilterFacts | None, str, str]:
    curve = small_curve(curve_of(known.built.name, known.built.members, NO_COLOUR))
    try:
        return facts_of(_numbers(known), known.entry, BALANCES_K), curve, ""
    except EvencastError as error:
        return None, curve, f"{error.what}. {error.remedy}"


def _numbers(known: _Known) -> Numbers:
    return numbers(lamp_of(known.built), known.built)


def _chart(built: Filter) -> SpectraChart:
    lamp = lamp_of(built)
    return transmittance_chart(lamp, [built], shown_beside(lamp.power))


@lru_cache(64)
def _closer(known: _Known, balances_k: tuple[float, float]) -> Closer:
    each = _numbers(known)
    eye = camera_named("eye")
    return Closer(
        chart=_chart(known.built),
        pictures=[Studio(eye, balance_k).picture(each, []) for balance_k in balances_k],
        elsewhere=elsewhere(known.built, each.light),
    )
