"""Words for what differs: plainly two words, or how much light."""

from __future__ import annotations

from collections.abc import Iterator

from evencast.actions.standing import MET_STOPS
from evencast.quantities import say_stops
from evencast.results.compare import Difference
from evencast.results.expose import Range


def more_or_less(stops: Range) -> str:
    """A difference in light in words: "1/3 stop less", "1/3 stop less to 1/3 stop more"."""
    low, high = (_more_or_less(each) for each in stops)
    return low if low == high else f"{low} to {high}"


def _more_or_less(stops: float) -> str:
    if abs(stops) < MET_STOPS / 2:
        return "no stop"
    return f"{say_stops(stops)} {'more' if stops > 0 else 'less'}"


def plain(
    what: str, old: str | None, new: str | None, back: str | None, *, none: str | None = None
) -> Iterator[Difference]:
    """A difference that its two words say in full.

    back : what to do, {} standing for the old word
    none : the word for nothing said
    """
    was, now = old or none, new or none
    if was != now:
        do = None if back is None or was is None else back.format(was)
        yield Difference(what, was, now, "", back=do)


def both(stops: float | None) -> Range | None:
    """One number of stops as a range; None where it is not known."""
    return None if stops is None else (round(stops, 4) + 0.0, round(stops, 4) + 0.0)
