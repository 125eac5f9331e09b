"""The reference as a table: every number of every filter, unrounded."""

from __future__ import annotations

from typing import Any

from evencast.actions.card.facts import say_evidence
from evencast.handouts.spreadsheet import csv_bytes
from evencast.results.card import CardAnswer, CardRow


def reference_csv(answer: CardAnswer) -> bytes:
    """Every number of the reference, one filter to a row."""
    rows = [{name: value(each) for name, value in _COLUMNS} for each in answer.rows]
    return csv_bytes([name for name, _ in _COLUMNS], rows)


def _end(row: CardRow, name: str, place: int) -> float | None:
    return row.band[name][place] if row.band else None


def _pick(ends: tuple[float, float] | None, place: int) -> float | None:
    return ends[place] if ends else None


_COLUMNS: tuple[tuple[str, Any], ...] = (
    ("filter", lambda row: row.name),
    ("role", lambda row: row.role),
    ("series", lambda row: row.series),
    ("light", lambda row: row.light),
    ("purpose", lambda row: row.purpose),
    ("shift_mired", lambda row: row.shift_mired),
    ("shift_mired_low", lambda row: _end(row, "shift_mired", 0)),
    ("shift_mired_high", lambda row: _end(row, "shift_mired", 1)),
    ("shift_duv", lambda row: row.shift_duv),
    ("shift_duv_low", lambda row: _end(row, "shift_duv", 0)),
    ("shift_duv_high", lambda row: _end(row, "shift_duv", 1)),
    ("loss_stops", lambda row: row.loss_stops),
    ("loss_stops_low", lambda row: _end(row, "loss_stops", 0)),
    ("loss_stops_high", lambda row: _end(row, "loss_stops", 1)),
    ("loss_least_by_beam_stops", lambda row: _pick(row.loss_range_stops, 0)),
    ("loss_most_by_beam_stops", lambda row: _pick(row.loss_range_stops, 1)),
    ("transmission_percent", lambda row: row.transmission_percent),
    ("transmission_percent_low", lambda row: _pick(row.transmission_band_percent, 0)),
    ("transmission_percent_high", lambda row: _pick(row.transmission_band_percent, 1)),
    ("filter_factor", lambda row: row.filter_factor),
    ("filter_factor_low", lambda row: _pick(row.filter_factor_band, 0)),
    ("filter_factor_high", lambda row: _pick(row.filter_factor_band, 1)),
    ("bare_cct_k", lambda row: row.bare_cct_k),
    ("filtered_cct_k", lambda row: row.filtered_cct_k),
    ("filtered_duv", lambda row: row.filtered_duv),
    ("what_to_do", lambda row: " ".join([*row.use, *row.limits])),
    ("origin", lambda row: row.origin),
    ("evidence", lambda row: "; ".join(say_evidence(row))),
    ("note", lambda row: row.note),
)
