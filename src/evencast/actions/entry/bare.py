"""Numbers without a unit in a typed line: what they can be on a set, or a question."""

from __future__ import annotations

import re

from evencast.actions.entry.line import Bit, Line, number, short
from evencast.quantities import stop_word
from evencast.results.editing import Understood

WATTS: dict[str, frozenset[int]] = {
    "tungsten": frozenset({60, 75, 100, 150, 200, 250, 300, 500, 575, 600, 650, 750, 800, 1000})
    | {1200, 1500, 2000, 5000, 10_000, 12_000, 20_000, 24_000},
    "bulb": frozenset({15, 25, 40, 60, 75, 100, 150, 200}),
    "HMI": frozenset({125, 200, 400, 575, 800, 1200, 1800, 2500, 4000, 6000, 9000, 12_000})
    | {18_000},
}
"""Sizes that lamps are made in, by technology: common practice, no source."""

KELVIN = {"tungsten": (2600, 3450), "HMI": (3800, 7500)}
"""Kelvin that such lamps have, by technology: common practice, no source."""
ANY_KELVIN = (1800, 12_000)

_BARE = re.compile(
    r"(?<![\w./'])(?P<sign>[+-]\s*)?(?P<number>\d+(?:\.\d+)?)(?P<k>k)?(?![\w./'%])", re.I
)


def read_bare(line: Line, lamp: str | None) -> None:
    """Takes each number without a unit as what it can only be, else asks.

    lamp : technology as far as it is known; None where the line leaves it open
    """
    times = line.said.pop("times", None)
    if times is not None:
        _number(line, None, times.value, lamp, words=times.words)
    for match in line.found(_BARE):
        value = short(number(match["number"]) * (1000 if match["k"] else 1))
        if match["sign"]:
            text = f"{match['sign'].strip()}{match['number']}"
            stops = f"{text} {stop_word(number(match['number']))}"
            line.query(match, "of what?", stops, f"{text} mired")
        elif match["k"]:
            _thousands(line, match, value, lamp)
        else:
            _number(line, match, value, lamp, words=match[0])


def _thousands(line: Line, match: re.Match[str], value: float, lamp: str | None) -> None:
    """ "2k": kilowatts of a lamp that is made in that size."""
    if value in WATTS.get(lamp or "", ()):
        line.say("watts", value, match, f"{value:g} W on its plate")
        return
    line.query(match, "watts or Kelvin?", f"{value:g} W", f"{value:g}K")


def _number(
    line: Line, match: re.Match[str] | None, value: float, lamp: str | None, *, words: str
) -> None:
    low, high = KELVIN.get(lamp or "", ANY_KELVIN if lamp else (0, -1))
    is_kelvin = low <= value <= high and "colour" not in line.said
    is_watts = value in WATTS.get(lamp or "", ()) and "watts" not in line.said
    if is_kelvin != is_watts:
        what, told = ("colour", f"{value:g} K") if is_kelvin else ("watts", f"{value:g} W")
        told += "" if is_kelvin else " on its plate"
        if match is not None:
            line.say(what, value, match, told)
        else:
            _say_times(line, what, value, words, told)
        return
    offers = [f"{value:g} W"] if value >= 1 and "watts" not in line.said else []
    offers += [f"{value:g}K"] if 1000 <= value <= 100_000 and "colour" not in line.said else []
    offers += [f"{value:g} lux"] if value >= 1 and "level" not in line.said else []
    if match is not None:
        line.query(match, "of what?", *offers)
    else:
        count = line.value("count")
        line.ask(f"{value:g} of what?", *(f"{count} x {each}" for each in offers), instead_of=words)


def _say_times(line: Line, what: str, value: float, words: str, told: str) -> None:
    """The second number of "2 x 650", whose words were taken with the first."""
    begin = line.said["count"].begin
    line.said[what] = Bit(value, words, begin)
    line.understood.append((begin + 1, Understood(words, told)))


def technology(line: Line) -> str | None:
    """The technology by what was said so far; None where the line leaves it open."""
    known = line.value("technology")
    form = line.value("form")
    if known is None and form == "household":
        return "bulb"
    if known is None and form in ("panel", "tube", "window"):
        return str(form)
    return None if known is None else str(known)
