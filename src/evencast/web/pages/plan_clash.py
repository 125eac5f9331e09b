"""Two versions of one thing, side by side, to decide between."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evencast.results.editing import Clash
from evencast.web.changing import Clashed


@dataclass(frozen=True)
class ClashPage:
    """What two people changed differently; nothing was saved yet.

    based_on : number of the revision that both began with
    seen     : number of the newest, which has the other's change
    mine     : the whole text with this one's change
    taken    : what else was changed, which does not clash and comes along either way
    """

    number: int
    setup: str
    balance: str
    based_on: int
    seen: int
    by: str
    at: str
    clashes: list[Clash]
    taken: list[str]
    mine: str


def clash_page(number: int, clash: Clashed, where: Mapping[str, str]) -> ClashPage:
    """Both versions."""
    record = clash.head.record
    return ClashPage(
        number=number,
        setup=where.get("setup", ""),
        balance=where.get("balance", ""),
        based_on=clash.base,
        seen=record.number,
        by=record.by or "somebody",
        at=record.saved_at.isoformat(timespec="seconds"),
        clashes=clash.merged.clashes,
        taken=clash.merged.taken,
        mine=clash.mine,
    )
