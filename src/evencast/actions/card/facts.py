"""The numbers of a filter in words: value, and band in brackets."""

from __future__ import annotations

from evencast.actions.card.words import say_factor, say_loss, say_percent, say_turn
from evencast.quantities import say_duv, say_stops
from evencast.results.card import CardRow, FilterFacts
from evencast.results.light import Band


def facts(row: FilterFacts) -> list[tuple[str, str]]:
    """The numbers in words: value and band."""
    return [
        ("Lamp", row.light),
        ("Shift", _shift(row)),
        ("Duv shift", _duv(row)),
        ("Comes out", _comes_out(row)),
        ("Loss", _loss(row)),
        ("Passes", _passes(row)),
        ("Factor", _factor(row)),
    ]


def _shift(row: FilterFacts) -> str:
    if row.shift_mired is None:
        return "none: no colour temperature"
    return say_turn(row.shift_mired) + _ends(row.band, "shift_mired", "+.0f")


def _duv(row: FilterFacts) -> str:
    if row.shift_duv is None:
        return "none"
    told = f"{say_duv(row.shift_duv)}, {row.shift_duv + 0.0:+.4f}"
    return told + _ends(row.band, "shift_duv", "+.4f")


def _comes_out(row: FilterFacts) -> str:
    """The light through the filter, its green beside the white of that Kelvin."""
    if row.filtered_cct_k is None:
        return "no colour temperature"
    return f"{row.filtered_cct_k:.0f} K, {say_duv(row.filtered_green_duv or 0.0)}"


def _loss(row: FilterFacts) -> str:
    told = say_loss(row.loss_stops)
    if row.loss_range_stops:
        low, high = row.loss_range_stops
        return f"{say_stops(low)} to {say_stops(high)}, by beam; in the middle {told}"
    return told + _ends(row.band, "loss_stops", ".2f")


def _passes(row: FilterFacts) -> str:
    ends = row.transmission_band_percent
    band = f" ({say_percent(ends[0])} to {say_percent(ends[1])})" if ends else ""
    return say_percent(row.transmission_percent) + band


def _factor(row: FilterFacts) -> str:
    ends = row.filter_factor_band
    band = f" ({say_factor(ends[0])} to {say_factor(ends[1])})" if ends else ""
    return say_factor(row.filter_factor) + band


def _ends(band: Band | None, name: str, form: str) -> str:
    """A band in brackets; a question mark for an end without a colour temperature."""
    if band is None:
        return ""
    low, high = ("?" if each is None else f"{each + 0.0:{form}}" for each in band[name])
    return f" ({low} to {high})"


def say_elsewhere(row: CardRow) -> str:
    """What the filter does to other lamps."""
    told = [
        f"on {each.light} "
        + (
            "no colour temperature"
            if each.shift_mired is None
            else f"{say_turn(each.shift_mired)}, {say_stops(each.loss_stops)}"
        )
        for each in row.elsewhere
    ]
    return "; ".join(told)


def say_evidence(row: FilterFacts) -> list[str]:
    """What the kit names as evidence, test frames aside."""
    return [
        ", ".join(part for part in (each.kind or "evidence", each.date, each.file) if part)
        for each in row.evidence
    ]


def as_sentence(text: str) -> str:
    """Words as a sentence; "" stays."""
    return f"{text[0].upper()}{text[1:]}." if text else ""
