"""Numbers with a unit in a typed line: colour, sizes, distances, levels, current, counts."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evencast.actions.entry.lamps import is_tube
from evencast.actions.entry.line import FRACTIONS, NUMBER, Line, number, short
from evencast.camera.exposure import marked_stop
from evencast.quantities import say_mired

_I = re.IGNORECASE
_FRONT = r"(?<![\w./'-])"
"""A number begins here: no letter, no digit and no sign before it."""

_UNITS = {"metre": "m", "meter": "m", "inch": "in", "foot": "ft", "feet": "ft", "'": "ft"}
_UNITS |= {'"': "in", "inche": "in", "feets": "ft"}
_UNIT = r"(?:mm|cm|metres?|meters?|m|inch(?:es)?|in|feet|foot|ft|'|\")"
_END = r"(?![\w/])"

_SIZE = re.compile(
    rf"{_FRONT}(?:(?P<count>\d+)\s*x\s*)?(?P<width>{NUMBER})\s*(?P<unit>{_UNIT})?\s*(?:x|by)\s*"
    rf"(?P<height>{NUMBER})\s*(?P<last>{_UNIT}){_END}",
    _I,
)
_FEET = re.compile(
    rf"(?:\b(?P<to>at|to|from)\s+|@\s*)?{_FRONT}(?P<feet>\d+)\s*(?:'|ft|feet|foot)\s*"
    rf"(?P<inches>{NUMBER})\s*(?:\"|in|inch|inches)(?!\w)",
    _I,
)
_LENGTH = re.compile(
    rf"(?:\b(?P<to>at|to|from|size|lens)\s+|(?P<at>@)\s*)?{_FRONT}(?P<length>{NUMBER})\s*"
    rf"(?P<unit>{_UNIT}){_END}(?:\s+(?P<which>long|wide|away|off|back|distance)\b)?",
    _I,
)
_RANGE = re.compile(
    rf"{_FRONT}(?P<low>\d{{4,5}})\s*k?\s*(?:-|to|\.\.+)\s*(?P<high>\d{{4,5}})\s*(?:k|kelvin)?{_END}",
    _I,
)
_CAMERA = re.compile(
    rf"\bcamera\s+(?:at\s+)?(?P<cct>{NUMBER})\s*k?\b"
    rf"(?:\s+(?:tint\s+)?(?P<steps>{NUMBER})\s+toward\s+(?P<side>magenta|green))?",
    _I,
)
_KELVIN = re.compile(
    rf"{_FRONT}(?P<cct>\d{{3,6}}(?:\.\d+)?)\s*(?:(?:k|kelvin)\b\s*,?\s*(?P<duv>[+-]?\s*0?\.\d+"
    rf"(?![\d.]))?|(?P<near>[+-]\s*0?\.\d+))(?:\s*duv\b(?!\s*[+-]?\s*[\d.]))?",
    _I,
)
_DUV = re.compile(rf"\bduv\s*(?P<before>[+-]?\s*{NUMBER})|(?P<after>[+-]?\s*0?\.\d+)\s*duv\b", _I)
_LEVEL = re.compile(
    rf"{_FRONT}(?P<number>{NUMBER})\s*(?P<kilo>k)?(?P<unit>lux|lx|fc|foot-?\s?candles?|cd|candelas?"
    rf"|ev)\b|\bev\s*(?P<ev>[+-]?{NUMBER}){_END}",
    _I,
)
_STOP = re.compile(
    rf"(?<!\w)f\s*/?\s*(?P<stop>{NUMBER}){_END}"
    rf"(?:\s+(?:and\s+)?(?P<part>1/3|2/3|1/2|a third|two thirds|a half))?",
    _I,
)
_LENS = re.compile(rf"(?<!\w)t\s*/\s*(?P<stop>{NUMBER}){_END}|(?<!\w)t(?P<bare>\d\.\d){_END}", _I)
_INDEX = re.compile(rf"\b(?:ISO|EI|index)\s*(?P<index>{NUMBER})(?![\w.])", _I)
_SHUTTER = re.compile(r"(?<![\w./])1/(?P<part>\d{2,4})\s*(?:s\b)?(?![\w/])", _I)
_WATTS = re.compile(rf"{_FRONT}(?P<watts>{NUMBER})\s*(?P<kilo>k)?(?:w|watts?)\b", _I)
_AMPS = re.compile(rf"{_FRONT}(?P<amps>{NUMBER})\s*(?:a|amps?|amperes?)\b", _I)
_FACTOR = re.compile(rf"\b(?:pf|power factor)\s*(?P<factor>{NUMBER}){_END}", _I)
_MIRED = re.compile(
    rf"(?<![\w./])(?P<sign>[+-]|plus|minus)?\s*(?P<mired>{NUMBER})\s*"
    rf"(?:mireds?\b\s*(?P<side>warm|warmer|cool|cooler)?|(?P<only>warmer|cooler))\b",
    _I,
)

WORDS = {"a half": 0.5, "half a": 0.5, "half": 0.5, "a third": 1 / 3, "one third": 1 / 3}
WORDS |= {"two thirds": 2 / 3, "a quarter": 0.25, "one": 1.0, "two": 2.0, "three": 3.0, "a": 1.0}
_PARTS = "|".join(sorted([*map(re.escape, FRACTIONS), *WORDS], key=len, reverse=True))
_STOPS = re.compile(
    rf"(?<![\w./])(?P<sign>[+-]|plus\b|minus\b)?\s*(?:(?P<whole>{NUMBER})\s+(?P<more>\d/\d)|"
    rf"(?P<part>{_PARTS})|(?P<number>{NUMBER}))(?![\w/.])\s*(?P<stops>(?:of\s+a\s+)?stops?\b)?\s*"
    rf"(?P<side>(?:under|below|down|darker|over|above|up|brighter)\b)?\s*"
    rf"(?P<key>(?:to|than|against|from|of)\s+(?:the\s+)?key\b|(?<=under )(?:the\s+)?key\b"
    rf"|(?<=over )(?:the\s+)?key\b|(?<=below )(?:the\s+)?key\b|(?<=above )(?:the\s+)?key\b)?",
    _I,
)
_LEVEL_WITH = re.compile(r"\b(?:same(?: level)? as|level with|as bright as)\s+(?:the\s+)?key\b", _I)
_DARKER = ("under", "below", "down", "darker")

_THINGS = r"(?:tubes|lamps|bulbs|heads|panels|windows|fixtures|fresnels|units|leds|practicals)"
_MANY = re.compile(rf"{_FRONT}(?P<things>\d{{1,2}})\s+")
_OF_THINGS = re.compile(rf"(?:[\w-]+\s+)?{_THINGS}\b", _I)
NUMERALS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "pair of": 2, "a pair of": 2}
_NUMERAL = "|".join(sorted(NUMERALS, key=len, reverse=True))
_TIMES_WATTS = re.compile(rf"{_FRONT}(?P<count>\d{{1,2}})\s*x\s*(?P<bare>\d{{2,5}}){_END}", _I)
_TIMES = re.compile(rf"{_FRONT}(?P<count>\d{{1,2}})\s*x\s*(?={NUMBER}\s*k?(?:w|watts?)\b)", _I)
_NO_UNIT = re.compile(
    rf"{_FRONT}(?P<width>\d{{1,2}}(?:\.\d+)?)\s*(?:x|by)\s*(?P<height>{NUMBER})(?![\w.])", _I
)
_COUNT = re.compile(
    rf"(?<!\w)x\s*(?P<after>\d+){_END}|{_FRONT}(?P<before>\d+)\s*x(?![\w.])"
    rf"|{_FRONT}(?P<of>\d+)\s+(?P<panes>panes?\b)"
    rf"|\b(?P<word>{_NUMERAL})\s+(?P<these>panes?\b)?",
    _I,
)


@dataclass(frozen=True, slots=True)
class Length:
    """A length as typed.

    which : "away", "long", "wide", or "" where the line leaves it open
    """

    value: float | int
    unit: str
    which: str

    @property
    def said(self) -> str:
        """As it is written: "3 m"."""
        return f"{self.value:g} {self.unit}"


FEW = range(1, 21)
"""Numbers of tubes; no sleeve is so narrow in millimetres."""

Sizes = tuple[float | int, float | int, str]


def read_amounts(line: Line) -> None:
    """Every number with a unit, the longest forms first."""
    read_colour(line)
    _sizes(line)
    read_levels(line)
    _aims(line)
    _current(line)
    _counts(line)


def signed(text: str) -> float:
    """The number of "+ 0.003"."""
    return float(text.replace(" ", ""))


def read_colour(line: Line) -> None:
    """Kelvin and Duv, a camera's balance, a range that is dialled over."""
    for match in line.found(_CAMERA):
        steps, side = match["steps"], (match["side"] or "").casefold()
        tint = f"{steps} toward {side}" if steps else "none"
        cct = number(match["cct"])
        line.say("tint", tint, match, f"a camera's balance of {cct:g} K, tint {tint}")
        line.say("colour", cct, match, "")
    for match in line.found(_RANGE):
        low, high = sorted((int(match["low"]), int(match["high"])))
        line.say("range", (low, high), match, f"dialled from {low} to {high} K")
    for match in line.found(_KELVIN):
        duv, cct = match["duv"] or match["near"], number(match["cct"])
        told = "" if duv is None else f", Duv {signed(duv):+g}"
        if duv is not None:
            line.say("Duv", signed(duv), match, "")
        line.say("colour", cct, match, f"{cct:g} K{told}")
    for match in line.found(_DUV):
        duv = signed(match["before"] or match["after"])
        line.say("Duv", duv, match, f"Duv {duv:+g}")


def _sizes(line: Line) -> None:
    for match in line.found(_SIZE):
        last = _unit(match["last"])
        if match["unit"] and _unit(match["unit"]) != last:
            line.take(match, "")
            line.ask(f'"{match[0]}" has two units', f"{match['width']} x {match['height']} {last}")
            continue
        size = (number(match["width"]), number(match["height"]), last)
        if is_tube(line) and not (match["unit"] or match["count"]) and size[0] in FEW:
            _tubes(line, match, size)
            continue
        if match["count"]:
            line.say("count", int(match["count"]), match, "")
        line.say("opening", size, match, f"an opening of {size[0]:g} by {size[1]:g} {last}")
    for match in line.found(_FEET):
        feet = short(int(match["feet"]) + float(match["inches"]) / 12)
        line.say("distance", Length(feet, "ft", "away"), match, f"{feet:g} ft away")
    for match in line.found(_LENGTH):
        length = _length(match)
        what = {"away": "distance", "long": "length", "wide": "size"}.get(length.which)
        if what:
            line.say(what, length, match, f"{length.said} {length.which}")
        else:
            line.say("length or distance", length, match, length.said)


def _tubes(line: Line, match: re.Match[str], size: Sizes) -> None:
    """ "4 x 1200 mm" of tubes: so many of that length, unless it can be a width as well."""
    count, length, unit = size
    if unit in ("mm", "cm"):
        line.say("count", count, match, f"{count:g} of them")
        line.say("length", Length(length, unit, "long"), match, f"{length:g} {unit} long")
        return
    said = f"{length:g} {unit}"
    line.query(match, "how many of which length?", f"x{count:g} {said} long", f"{said} long")


def _length(match: re.Match[str]) -> Length:
    said = (match["which"] or match["to"] or match["at"] or "").casefold()
    which = {"": "", "long": "long", "wide": "wide", "size": "wide", "lens": "wide"}
    return Length(number(match["length"]), _unit(match["unit"]), which.get(said, "away"))


def _unit(text: str) -> str:
    plain = text.casefold()
    return _UNITS.get(plain, _UNITS.get(plain.removesuffix("s"), plain))


def read_levels(line: Line) -> None:
    """How bright it is: lux, foot-candles, candelas, EV, a stop; and what the meter was set to."""
    for match in line.found(_INDEX):
        line.say("exposure_index", number(match["index"]), match, f"index {match['index']}")
    for match in line.found(_SHUTTER):
        part = max(int(match["part"]), 1)
        line.say("shutter_s", round(1 / part, 6), match, f"a shutter of 1/{part} s")
    for match in line.found(_LEVEL):
        if match["ev"]:
            line.say("level", ("ev", short(float(match["ev"]))), match, f"EV {match['ev']}")
            continue
        key = _level_key(match["unit"].casefold())
        value = short(number(match["number"]) * (1000 if match["kilo"] else 1))
        told = {"lux": "lux", "fc": "foot-candles", "cd": "candelas", "ev": "EV for ISO 100"}[key]
        line.say("level", (key, value), match, f"{value:g} {told}")
    for match in line.found(_STOP):
        stop = number(match["stop"])
        if match["part"]:
            share = FRACTIONS.get(match["part"]) or WORDS[match["part"].casefold()]
            stop = _between(stop, share)
        line.say("level", ("f_stop", stop), match, f"f/{stop:g} on your meter")
    for match in line.found(_LENS):
        lens = match["stop"] or match["bare"]
        line.query(match, "a T-stop is a lens's; is it what your meter reads?", f"f/{lens}")


def _between(stop: float, share: float) -> float | int:
    """A stop and a part of one more: as an iris is marked for thirds."""
    further = stop * 2 ** (share / 2)
    is_third = abs(share * 3 - round(share * 3)) < 1e-6
    return short(float(marked_stop(further).removeprefix("f/")) if is_third else round(further, 2))


def _level_key(unit: str) -> str:
    if unit in ("lux", "lx"):
        return "lux"
    return {"f": "fc", "c": "cd", "e": "ev"}[unit[0]]


def _aims(line: Line) -> None:
    for match in line.found(_MIRED):
        _aim_mired(line, match)
    for match in line.found(_LEVEL_WITH):
        line.say("stops", 0, match, "as bright as the key")
    for match in line.found(_STOPS):
        _aim_stops(line, match)


def _aim_mired(line: Line, match: re.Match[str]) -> None:
    size, side = number(match["mired"]), (match["side"] or match["only"] or "").casefold()
    minus = (match["sign"] or "").casefold() in ("-", "minus")
    if not side and not match["sign"] and size:
        line.query(match, "to which side?", f"{size:g} mired warm", f"{size:g} mired cool")
        return
    if (side.startswith("cool") and match["sign"] and not minus) or (
        side.startswith("warm") and minus
    ):
        line.query(match, "which side?", f"{size:g} mired warm", f"{size:g} mired cool")
        return
    value = -size if minus or side.startswith("cool") else size
    line.say("mired", value, match, f"to look {say_mired(value)} of the balance")


def _aim_stops(line: Line, match: re.Match[str]) -> None:
    side, sign = (match["side"] or "").casefold(), (match["sign"] or "").casefold()
    part = bool(match["part"] and (match["part"] in FRACTIONS or len(match["part"]) > 3))
    if not (match["stops"] or match["key"] or side or (sign and part)):
        return
    amount = short(round(_amount(match), 2))
    said = f"{amount:g} {'stops' if amount > 1 else 'stop'}"
    minus = sign in ("-", "minus")
    if not side and not sign:
        line.query(match, "under or over the key?", f"{said} under key", f"{said} over key")
        return
    under = minus or side in _DARKER
    if minus and side and side not in _DARKER:
        line.query(match, "which side?", f"{said} under key", f"{said} over key")
        return
    told = f"{said} {'under' if under else 'over'} the key"
    line.say("stops", -amount if under else amount, match, told)


def _amount(match: re.Match[str]) -> float:
    if match["number"]:
        return float(match["number"])
    if match["whole"]:
        top, bottom = match["more"].split("/")
        return float(match["whole"]) + int(top) / max(int(bottom), 1)
    part = match["part"].casefold()
    return FRACTIONS.get(part) or WORDS[part]


def _current(line: Line) -> None:
    for match in line.found(_TIMES):
        line.say("count", int(match["count"]), match, f"{match['count']} of them")
    for match in line.found(_WATTS):
        watts = short(number(match["watts"]) * (1000 if match["kilo"] else 1))
        line.say("watts", watts, match, f"{watts:g} W on its plate")
    for match in line.found(_AMPS):
        line.say("amps", number(match["amps"]), match, f"{match['amps']} A on its plate")
    for match in line.found(_FACTOR):
        line.say("power factor", number(match["factor"]), match, f"power factor {match['factor']}")


def _counts(line: Line) -> None:
    for match in line.found(_NO_UNIT):
        if _TIMES_WATTS.fullmatch(match[0]) is None:
            size = f"{match['width']} x {match['height']}"
            line.query(match, "of what?", f"{size} ft", f"{size} m")
    for match in line.found(_TIMES_WATTS):
        line.say("count", int(match["count"]), match, f"{match['count']} of them")
        line.say("times", int(match["bare"]), match, "")
    for match in line.found(_MANY):  # what they are was taken already
        if _OF_THINGS.match(line.text, match.end()):
            line.say("count", int(match["things"]), match, f"{match['things']} of them")
    for match in line.found(_COUNT):
        word, panes = match["word"], match["panes"] or match["these"]
        digits = match["after"] or match["before"] or match["of"]
        count = NUMERALS[word.casefold()] if word else int(digits)
        line.say("count", count, match, f"{count} panes" if panes else f"{count} of them")
        if panes:
            line.say("panes", True, match, "")
