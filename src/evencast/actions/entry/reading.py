"""One typed line, such as "5480 K 0.001 f/4 16:20 thin cloud A014C003", to a reading."""

from __future__ import annotations

import re
from typing import Any

from evencast.actions.entry.amounts import read_colour, read_levels
from evencast.actions.entry.line import TAKEN, Line, line_of
from evencast.errors import EvencastError
from evencast.results.editing import NotedReading, Understood

_I = re.IGNORECASE
_DAY = r"(?P<day>\d{4}-\d{2}-\d{2})"
_TIME = re.compile(
    rf"(?<![\w:])(?:{_DAY}[T ]?)?(?P<hour>[01]?\d|2[0-3]):(?P<minute>[0-5]\d)(?::[0-5]\d)?"
    r"(?P<zone>Z|[+-]\d\d:\d\d)?(?![\w:])",
    _I,
)
_FRAME = re.compile(r"(?<!\w)[A-Z]\d{3,4}_?C\d{3,4}(?:_\w+)?(?!\w)", _I)
_BARE_KELVIN = re.compile(
    r"(?<![\w./:+-])(?P<cct>\d{4,5})(?![\w./:])(?:\s+(?P<duv>[+-]?0?\.\d+)(?![\w.]))?", _I
)
_FRAME_SAID = re.compile(r"\bframe\s+(?P<frame>[^\s,;]+)", _I)
LEAST_K, MOST_K = 1000, 25_000


def typed_reading(text: str, *, now: str | None = None) -> NotedReading:
    """The reading that a typed line says: Kelvin and Duv or the camera's balance, a level, with
    what the meter was set to, the time, the frame; what is left is the sky.

    now : "2031-05-04T16:31+02:00": the time of a line without one, and the day of one without
    Raises  EvencastError for two of one sort, and where the line holds no reading
    """
    line = line_of(text)
    for match in line.found(_TIME):
        line.say("time", _time(match, now), match, f"read at {match[0]}")
    for match in line.found(_FRAME_SAID):
        line.say("frame", match["frame"], match, f"the frame {match['frame']}")
    for match in line.found(_FRAME):
        line.say("frame", match[0], match, f"the frame {match[0]}")
    read_colour(line)
    for match in line.found(_BARE_KELVIN):
        _kelvin(line, match)
    read_levels(line)
    _no_question(line)
    keys = _keys(line)
    sky = _sky(line)
    keys |= {} if sky is None else {"sky": sky}
    if "time" not in keys and now is not None:
        keys["time"] = now
    return NotedReading(keys, line.in_order())


def _kelvin(line: Line, match: re.Match[str]) -> None:
    """Four or five digits are Kelvin where no other were: no level is told so."""
    cct = int(match["cct"])
    if not LEAST_K <= cct <= MOST_K or "colour" in line.said:
        return
    duv = match["duv"]
    if duv is not None:
        line.say("Duv", float(duv), match, "")
    line.say("colour", cct, match, f"{cct} K" + ("" if duv is None else f", Duv {float(duv):+g}"))


def _time(match: re.Match[str], now: str | None) -> str:
    clock = f"{int(match['hour']):02}:{match['minute']}"
    day, zone = match["day"], match["zone"] or ""
    if now is not None:
        found = re.match(rf"{_DAY}T\d\d:\d\d(?::\d\d(?:\.\d+)?)?(?P<zone>Z|[+-]\d\d:\d\d)?", now)
        if found is not None:
            day, zone = day or found["day"], zone or found["zone"] or ""
    return f"{day}T{clock}{zone}" if day else f"{clock}{zone}"


def _no_question(line: Line) -> None:
    for ask in line.asks[:1]:
        raise EvencastError(
            ask.question,
            where="the line",
            remedy=f"Write {' or '.join(ask.accepted)}." if ask.accepted else "Leave it out.",
        )


def _keys(line: Line) -> dict[str, Any]:
    names = {"colour": "cct_k", "Duv": "duv", "tint": "tint"}
    keys = {key: line.value(what) for what, key in names.items() if what in line.said}
    if "level" in line.said:
        name, value = line.value("level")
        if name == "cd":
            raise EvencastError(
                "candelas are not what a meter reads at the subject",
                where="the line",
                remedy="Write lux, fc, EV or a stop, as in f/4.",
            )
        keys[name] = value
    if keys.keys() <= {"duv", "tint"}:
        raise EvencastError(
            "it says no colour without Kelvin" if keys else "it holds no reading",
            where="the line",
            remedy='Write what the meter says, as in "5480 K 0.001 f/4"; the time, the sky and '
            "the frame may stand behind it.",
        )
    keys |= {
        what: line.value(what)
        for what in ("exposure_index", "shutter_s", "time", "frame")
        if what in line.said
    }
    return keys


def _sky(line: Line) -> str | None:
    """What is left of the line: words about the sky.

    Raises  EvencastError for a number in it, which is no word about a sky
    """
    left = " ".join(line.left.replace(TAKEN, " ").split())
    words = " ".join(each.strip(" ,;") for each in re.split(r"[,;]", left) if each.strip(" ,;"))
    words = re.sub(r"^(?:at|with|under)(?=\s|$)|(?:^|\s)(?:at|and)$", "", words).strip()
    stray = re.search(r"\S*\d\S*", words)
    if stray is not None:
        raise EvencastError(
            f'"{stray[0]}" is not understood',
            where="the line",
            remedy="Write its unit: 5480 K, 800 lux, 75 fc, EV 8, f/4, 16:20; or leave it out.",
        )
    if not re.search(r"\w", words):
        return None
    at = line.text.find(words.split()[0])
    line.understood.append((at, Understood(words, "the sky")))
    return words
