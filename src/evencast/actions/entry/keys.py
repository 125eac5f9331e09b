"""From what a typed line says to the keys of a light."""

from __future__ import annotations

from typing import Any

from evencast.actions.entry.amounts import Length
from evencast.actions.entry.lamps import Lamp
from evencast.actions.entry.line import Line
from evencast.plan.light import DEFAULT_MOVES
from evencast.plan.plan import Plan

FEEDS = ("watts", "amps", "power factor")
USUAL_SLEEVE_MM = 102
"""Of a tube of 26 mm: common practice."""
TUBE_LENGTHS_M = (0.3, 0.45, 0.6, 0.9, 1.05, 1.2, 1.5, 1.8, 2.4)
IN_METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}


def keys_of(line: Line, lamp: Lamp, plan: Plan) -> dict[str, Any]:
    """Keys of the light as a plan has them, in the order of its documents."""
    _place_length(line, lamp)
    keys: dict[str, Any] = {"role": _role(line, lamp, plan), **lamp.keys}
    keys |= _aim(line) | _moves(line, lamp, keys)
    keys |= _openings(line, lamp)
    keys |= _level(line, lamp, keys["role"])
    size = line.value("size")
    keys |= {} if size is None else {f"size_{size.unit}": size.value}
    if line.value("behind") is not None:
        keys["behind"] = line.value("behind")
    keys |= {
        what.replace(" ", "_"): line.value(what) for what in FEEDS if line.value(what) is not None
    }
    if line.value("circuit") is not None:
        keys["circuit"] = line.value("circuit")
    return keys


def _role(line: Line, lamp: Lamp, plan: Plan) -> str:
    role = line.value("role")
    if role is not None:
        return str(role)
    if line.value("behind") is not None and lamp.kind not in ("daylight", None):
        line.ask("Only a view is seen through a window: is it one?", "view")
    elif line.value("behind") is not None:
        line.assumed.append("what is seen through a window is taken as a view")
        return "view"
    has_key = any(each.role == "key" for each in plan.light)
    ours = lamp.fitting in ("fixture", "panel", "window", None)
    role = "key" if ours and not has_key and line.value("stops") is None else "other"
    why = "the plan has no key yet" if role == "key" else "none is said"
    line.assumed.append(f"its role is taken as {role}, since {why}")
    return role


def _place_length(line: Line, lamp: Lamp) -> None:
    """A length of which nothing says what it is: a distance, or how long a tube is."""
    bit = line.said.pop("length or distance", None)
    if bit is None:
        return
    length: Length = bit.value
    metres = length.value * IN_METRES[length.unit]
    if lamp.fitting == "tube" and any(abs(metres / each - 1) < 0.02 for each in TUBE_LENGTHS_M):
        if length.unit in ("mm", "cm", "in") and "length" not in line.said:
            line.said["length"] = bit
            return
        line.ask(
            f"{length.said}: how long the tube is, or how far away?",
            f"{length.said} long",
            f"at {length.said}",
            instead_of=bit.words,
        )
    elif lamp.fitting != "tube" and length.unit == "mm" and metres < 1:
        line.ask(
            f"{length.said}: how wide it is, or how far away?",
            f"{length.said} wide",
            f"at {length.said}",
            instead_of=bit.words,
        )
    elif "distance" in line.said and line.value("distance") != length:
        line.ask(
            f"{line.said['distance'].words} or {length.said} away?",
            f"{length.said} wide",
            instead_of=bit.words,
        )
    else:
        line.said.setdefault("distance", bit)


def _aim(line: Line) -> dict[str, Any]:
    aim: dict[str, Any] = {
        what: line.value(what)
        for what in ("like", "look", "mired", "stops")
        if line.value(what) is not None
    }
    if len(aim.keys() & {"like", "look", "mired"}) > 1:
        line.ask("What it shall look like is said in two ways: leave one of them out")
    return {"aim": aim} if aim else {}


def _moves(line: Line, lamp: Lamp, keys: dict[str, Any]) -> dict[str, Any]:
    said = [each for each in ("dim", "scrim", "switch off") if f"move {each}" in line.said]
    alone = "move leave" in line.said
    if alone and said:
        line.ask("It is to be left as it is, and may be changed: leave one of them out")
    if alone:
        return {"moves": ["leave"]}
    if not said:
        return {}
    if "dim" in said and (lamp.fitting == "window" or lamp.kind == "daylight"):
        line.ask("Daylight cannot be dimmed: leave it out; ND takes light away")
        return {}
    first = [each for each in DEFAULT_MOVES[:-1] if each != "dial" or "adjustable" in keys]
    return {"moves": [*first, *said, "leave"]}


def _openings(line: Line, lamp: Lamp) -> dict[str, Any]:
    """Openings to cover; and of how many lights it is one."""
    count, opening = line.value("count"), line.value("opening")
    length: Length | None = line.value("length")
    if opening is None and length is not None and lamp.fitting == "tube":
        sleeve = line.value("sleeve")
        if sleeve is None:
            line.assumed.append(
                f"a sleeve is taken as {USUAL_SLEEVE_MM} mm round, for a tube of 26 mm; add T5 or "
                "T12 if it is another"
            )
        unit, value = length.unit, length.value
        if unit != "mm":
            unit, value = "mm", round(value * IN_METRES[unit] * 1000, 1)
        opening = (sleeve or USUAL_SLEEVE_MM, int(value) if value == int(value) else value, unit)
    elif length is not None:
        line.ask(f"{length.said} long: say what it is as an opening", f"{length.said} x 0.1 m")
    several = lamp.fitting in ("tube", "window") or line.value("panes")
    if opening is None:
        if line.value("panes"):
            line.ask("How large is a pane?", "1 x 1.5 m", "40 x 60 in")
            return {}
        return {} if count is None or count == 1 else {"count": count}
    width, height, unit = opening
    entry = {f"width_{unit}": width, f"height_{unit}": height}
    if count is None or count == 1:
        return {"aperture": [entry]}
    if several:
        return {"aperture": [entry | {"count": count}]}
    return {"count": count, "aperture": [entry]}


def _level(line: Line, lamp: Lamp, role: str) -> dict[str, Any]:
    """How bright it is, and how far away it stands."""
    away, focus, watts = line.value("distance"), line.value("focus"), line.value("watts")
    distance = {} if away is None else {f"distance_{away.unit}": away.value}
    level = dict([line.value("level")]) if "level" in line.said else {}
    if line.value("photometry") is not None:
        if level:
            line.ask("How bright it is is said by a reading and by a file: leave one of them out")
        level = {"photometry": line.value("photometry")}
    by_watts = lamp.kind == "tungsten" and lamp.fitting == "fixture" and watts is not None
    if not level and by_watts and away is not None and role != "view":
        level = {"watts": watts}
        line.assumed.append(
            "how bright it is is taken from its watts, a wide range; a reading tells it better"
        )
    if not level:
        if {"exposure_index", "shutter_s"} & line.said.keys():
            line.ask("Index and shutter go with the stop of a meter", "f/4")
        _not_kept(line, focus, away, lamp, watts)
        return distance
    if role == "view" and level.keys() & {"lux", "fc", "cd", "photometry"}:
        line.ask("A view is read as the camera sees it, with a spot meter", "f/11", "EV 12")
    if level.keys() & {"cd", "photometry"} and away is None:
        line.ask("How far away does it stand?", "at 3 m", "at 10 ft")
    if line.value("count") not in (None, 1) and not _is_all(line, lamp):
        line.assumed.append(f"that level is taken as of one of the {line.value('count')} alone")
    level |= {} if focus is None else {"focus": focus}
    settings = [each for each in ("exposure_index", "shutter_s") if each in line.said]
    if settings and "f_stop" not in level:
        line.ask("Index and shutter go with the stop of a meter", "f/4")
    level |= {each: line.value(each) for each in settings}
    return {"level": level | distance}


def _is_all(line: Line, lamp: Lamp) -> bool:
    """Whether a count is of openings, which shine as one light."""
    sized = "opening" in line.said or "length" in line.said
    return sized and (lamp.fitting in ("tube", "window") or bool(line.value("panes")))


def _not_kept(line: Line, focus: str | None, away: Length | None, lamp: Lamp, watts: Any) -> None:
    if focus is not None:
        line.assumed.append(f"{focus} goes with a level and is left out until one is read")
    if lamp.kind == "tungsten" and watts is not None and away is None:
        line.assumed.append("how bright it is is not known without its distance; add 3 m")
