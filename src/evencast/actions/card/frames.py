"""The author's own test frames: read from where the kit keeps them, with what is wrong of them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.errors import EvencastError, Problem
from evencast.media.apart import frame_apart
from evencast.media.frames import MOST_BYTES
from evencast.plan.checks.kits import is_frame
from evencast.quantities import listed
from evencast.results.card import CardFrame
from evencast.store.files import read_bytes

if TYPE_CHECKING:
    from evencast.plan.kit import Evidence, KitFilter


@dataclass(frozen=True, slots=True)
class Shot:
    """A frame with its picture.

    jpeg : small, upright, sRGB
    """

    balance_k: float
    told: CardFrame
    jpeg: bytes


@dataclass(frozen=True, slots=True)
class Shots:
    """The frames of one filter."""

    shots: list[Shot]
    problems: list[Problem]

    def at(self, balance_k: float) -> list[Shot]:
        """Those of one balance, the bare light first."""
        found = [each for each in self.shots if each.balance_k == balance_k]
        return sorted(found, key=lambda each: each.told.state)


def shots_of(entry: KitFilter, folder: Path, *, where: str, balances_k: Collection[float]) -> Shots:
    """The frames of a filter at these balances; of what cannot be shown a warning.

    folder : where the kit lies
    where  : what the kit is called in messages
    """
    shots, problems, shown = [], [], set()
    for number, each in enumerate(entry.evidence, start=1):
        key = (each.state, each.balance_k)
        if not (is_frame(each) and each.file and all(key)) or key in shown:
            continue
        shown.add(key)
        place = f'{where}, filter "{entry.name}".evidence[{number}]'
        if each.balance_k not in balances_k:
            problems.append(_other_balance(each, place, balances_k))
            continue
        try:
            shots.append(_shot(each, folder))
        except EvencastError as error:
            at = f"{place} ({error.where})"
            what = f"the frame is not shown: {_clause(error.what)}"
            problems.append(Problem("warning", at, what, error.remedy))
    return Shots(shots, problems)


def _clause(what: str) -> str:
    return f"it {what}" if what.startswith(("is ", "cannot ")) else what


def _shot(each: Evidence, folder: Path) -> Shot:
    assert each.file is not None  # checked by `shots_of`, as are state and balance
    assert each.state is not None
    assert each.balance_k is not None
    content = read_bytes(folder / each.file, most_bytes=MOST_BYTES)
    frame = frame_apart(content, where=each.file)
    told = CardFrame(
        state=each.state,
        light=each.light or "",
        date=each.date or "",
        file=each.file,
        width_px=frame.width_px,
        height_px=frame.height_px,
    )
    return Shot(each.balance_k, told, frame.jpeg)


def _other_balance(each: Evidence, place: str, balances_k: Collection[float]) -> Problem:
    asked = listed([f"{balance:g} K" for balance in balances_k])
    return Problem(
        "warning",
        place,
        f"the frame was taken at {each.balance_k:g} K and is not shown: the pictures are at "
        f"{asked}",
        f"Ask for it with --balances, such as --balances {each.balance_k:g}K,5600K.",
    )
