"""The rows of the reference: every filter of a kit with its numbers, words and pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.actions.card.frames import Shots, shots_of
from evencast.actions.card.lesson import lesson
from evencast.actions.card.numbers import (
    Numbers,
    elsewhere,
    filter_factor,
    lamp_of,
    numbers,
    order,
    transmission_percent,
)
from evencast.actions.card.pictures import Studio
from evencast.actions.card.words import told
from evencast.actions.cautions import WHITE_ALONE, cautions
from evencast.actions.doubt import light_notes
from evencast.actions.kit import LoadedKit
from evencast.actions.reading import rounded
from evencast.actions.through import no_cct_note
from evencast.camera.sensitivities import Sensitivities
from evencast.errors import EvencastError, Problem
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.checks.kits import is_frame
from evencast.quantities import listed
from evencast.results.card import CardEvidence, CardRow, FilterFacts
from evencast.solver.scene import Progress

if TYPE_CHECKING:
    from evencast.plan.kit import KitFilter


@dataclass(frozen=True, slots=True)
class Asked:
    """What the reference is asked for.

    light      : one light for every filter; None for the lamp each is meant for
    balances_k : two balances of the camera
    only       : names of filters; all where empty
    """

    light: Light | None
    balances_k: tuple[float, float]
    camera: Sensitivities
    only: Sequence[str]


@dataclass(frozen=True, slots=True)
class Rows:
    """Every filter that was asked for, sorted, and the frames of each."""

    rows: list[CardRow]
    shots: list[Shots]
    problems: list[Problem]


def rows_of(kit: LoadedKit, path: Path, asked: Asked, progress: Progress | None) -> Rows:
    """The filters of a kit by role, series and strength.

    path   : of the kit: its frames lie beside it
    Raises  EvencastError for a name in `only` that no filter has
    """
    assert kit.document is not None
    chosen, problems = [], []
    for each, entry in zip(kit.filters, kit.document.filter, strict=True):
        if not _is_asked(each, kit, asked.only):
            continue
        try:
            chosen.append((numbers(asked.light or lamp_of(each), each), entry))
        except EvencastError as error:
            where = f'{path.name}, filter "{each.name}"'
            what = f"{error.what}: it is left out"
            problems.append(Problem("warning", where, what, error.remedy))
    chosen.sort(key=lambda pair: order(pair[0]))
    studios = [Studio(asked.camera, balance_k) for balance_k in asked.balances_k]
    rows, shots = [], []
    for done, (each_numbers, entry) in enumerate(chosen, start=1):
        if progress:
            progress("filters", done, len(chosen))
        found = shots_of(entry, path.parent, where=path.name, balances_k=asked.balances_k)
        rows.append(_row(each_numbers, entry, studios, found, asked))
        shots.append(found)
        problems += found.problems
    return Rows(rows, shots, problems)


def _is_asked(each: Filter, kit: LoadedKit, only: Sequence[str]) -> bool:
    if not only:
        return True
    wanted = [kit.find(name) for name in only]
    if None in wanted:
        name = only[wanted.index(None)]
        raise EvencastError(
            f'the kit has no filter "{name}"',
            where="--only",
            remedy=_names(kit),
        )
    return each in wanted


def _names(kit: LoadedKit) -> str:
    names = [each.name for each in kit.filters[:8]]
    more = f" and {len(kit.filters) - 8} more" if len(kit.filters) > 8 else ""
    return f"Name one of its filters: {', '.join(names)}{more}." if names else "It holds none."


def _row(
    each: Numbers, entry: KitFilter, studios: Sequence[Studio], found: Shots, asked: Asked
) -> CardRow:
    pictures = [
        studio.picture(each, [shot.told for shot in found.at(studio.balance_k)])
        for studio in studios
    ]
    facts = facts_of(each, entry, asked.balances_k)
    return CardRow(
        **{field.name: getattr(facts, field.name) for field in fields(facts)},
        elsewhere=elsewhere(each.filter, each.light),
        lesson=lesson(each, pictures),
        pictures=pictures,
    )


def facts_of(each: Numbers, entry: KitFilter, balances_k: tuple[float, float]) -> FilterFacts:
    """What there is to say of a filter without looking through it.

    balances_k : of the camera, that its words speak of
    """
    words = told(each, balances_k)
    ends = each.loss_ends
    return FilterFacts(
        name=each.filter.name,
        role=each.filter.role,
        series=each.filter.series,
        note=entry.note or "",
        light=each.light.name,
        bare_cct_k=_kelvin(each.bare_mired),
        filtered_cct_k=_kelvin(each.filtered_mired),
        filtered_duv=rounded(each.filtered_duv, 6),
        filtered_green_duv=each.filtered_green,
        shift_mired=rounded(each.shift_mired, 3),
        shift_duv=rounded(each.shift_duv, 6),
        loss_stops=each.loss_stops,
        nominal=not each.filter.measured,
        band=each.band,
        loss_range_stops=each.filter.loss_range_stops,
        transmission_percent=round(each.transmission_percent, 8),
        transmission_band_percent=ends
        and (round(transmission_percent(ends[1]), 8), round(transmission_percent(ends[0]), 8)),
        filter_factor=round(each.filter_factor, 4),
        filter_factor_band=ends
        and (round(filter_factor(ends[0]), 4), round(filter_factor(ends[1]), 4)),
        purpose=words.purpose,
        use=words.use,
        limits=words.limits,
        origin=_origin(entry),
        evidence=_evidence(entry),
        notes=_notes(each),
        cautions=cautions(each.light, [each.filter], each.loss_stops),
    )


def _notes(each: Numbers) -> list[str]:
    lacking = [WHITE_ALONE] if each.light.lacks_colours else []
    return no_cct_note(each.seen) + lacking + light_notes(each.light, from_file=False)


def _kelvin(at_mired: float) -> float | None:
    return rounded(1e6 / at_mired, 2)


def _origin(entry: KitFilter) -> str:
    """Where the numbers of a filter come from."""
    if entry.generic is not None:
        return f"generic {entry.generic}: a nominal spectrum of our own series, no real sheet"
    if entry.spectrum is not None:
        return f"measured spectrum, {entry.spectrum}"
    if entry.kelvin is not None:
        declared = entry.kelvin
        return f"printed: {declared.from_k:g} K to {declared.to_k:g} K, {declared.stops:g} stop"
    under = listed([each.illuminant for each in entry.xyy or ()])
    return f"printed x, y and percentage under {under}"


def _evidence(entry: KitFilter) -> list[CardEvidence]:
    return [
        CardEvidence(each.date or "", each.kind or "", each.file or "")
        for each in entry.evidence
        if not is_frame(each)
    ]
