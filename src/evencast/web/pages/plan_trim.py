"""The trim that answers a reading, under the light's row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evencast.actions.trim import NothingRead, trim
from evencast.errors import EvencastError
from evencast.quantities import say_left, say_stops
from evencast.results.trim import Hangs, Left, TrimAnswer
from evencast.store.files import confined
from evencast.web.desk import MIDDLE, Desk, Opened
from evencast.web.pages.plan_forms import address, tray


@dataclass(frozen=True)
class TrimPage:
    """One trim.

    before, after : what is left against the aim as it was read, and as it will be
    leave  : whether there is nothing to do
    answer : every number; None where there is no trim, and `problem` says why
    """

    number: int
    revision: int
    light: str
    tray: str
    setup: str
    balance: str
    back: str
    read: str
    trim: str
    leave: bool
    before: str
    after: str
    then: str
    why: str
    notes: list[str]
    cautions: list[str]
    problem: str
    answer: TrimAnswer | None


def trim_page(desk: Desk, opened: Opened, light: str, where: Mapping[str, str]) -> TrimPage:
    """The trim for what a set-up says was read of a light."""
    answer, problem = None, ""
    try:
        answer = found_trim(desk, opened, light, where)
    except NothingRead:
        problem = f"Nothing was read of {light} yet. Tap Read, and type what the meter says."
    except EvencastError as error:
        problem = f"{error.what}. {error.remedy}"
    return TrimPage(
        number=opened.document.id,
        revision=opened.revision.number,
        light=light if answer is None else answer.light,
        tray=tray(light),
        setup=where.get("setup", ""),
        balance=where.get("balance", ""),
        back=address(opened.document.id, where),
        read=_read(answer),
        trim="" if answer is None else answer.trim,
        leave=answer is None or answer.move == "leave",
        before="" if answer is None else _left(answer.before),
        after="" if answer is None else _left(answer.after),
        then="" if answer is None or answer.then is None else answer.then,
        why="" if answer is None else answer.why,
        notes=[] if answer is None else answer.notes,
        cautions=[] if answer is None else answer.cautions,
        problem=problem,
        answer=answer,
    )


def found_trim(desk: Desk, opened: Opened, light: str, where: Mapping[str, str]) -> TrimAnswer:
    """The trim itself, at the balance that the page shows.

    Raises  as `trim`
    """
    setup, balance = where.get("setup") or None, where.get("balance") or None
    if balance is None and desk.standing(opened, setup).own_balance is None:
        balance = MIDDLE
    with confined(opened.path.parent):
        return trim(opened.path, light, setup=setup, balance=balance)


def rigged_by(hangs: Hangs) -> dict[str, object]:
    """What a trim leaves hanging, as a set-up notes it; None takes a key away."""
    return {
        "filters": hangs.filters or None,
        "scrims": hangs.scrims or None,
        "dial_k": hangs.dial_k,
        "dim_stops": hangs.dim_stops or None,
        "swapped_for": hangs.swapped_for,
        **({} if hangs.distance_m is None else {"distance_m": hangs.distance_m}),
    }


def _read(answer: TrimAnswer | None) -> str:
    if answer is None:
        return ""
    read = answer.read
    parts = [] if read.cct_k is None else [f"{read.cct_k:.0f} K"]
    parts += [] if read.duv is None else [f"Duv {read.duv:+.4f}"]
    parts += [] if read.level is None else [read.level]
    return ", ".join(parts)


def _left(left: Left) -> str:
    parts = []
    if left.residual_mired is not None or left.residual_duv is not None:
        parts.append(say_left(left.residual_mired, left.residual_duv))
    if left.over_stops is not None:
        low, high = left.over_stops
        middle = (low + high) / 2
        side = "over" if middle > 0 else "under"
        parts.append(f"{say_stops(middle)} {side}" if abs(middle) >= 1 / 6 else "level as wanted")
    return ", ".join(parts)
