"""What a typed line says that a light is: a built-in one, a technology, what it sits in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from evencast.actions.entry.line import Line, any_of
from evencast.lights import aliases, builtin_names
from evencast.lights.catalogue import kind_and_fitting
from evencast.lights.kinds import REFUSED_KINDS, kinds_in
from evencast.plan.place import folded

TECHNOLOGIES: dict[str, str] = {
    "tungsten": "tungsten",
    "halogen": "tungsten",
    "quartz": "tungsten",
    "incandescent": "tungsten",
    "filament": "tungsten",
    "rgb led": "RGB LED",
    "rgb": "RGB LED",
    "leds": "phosphor LED",
    "led": "phosphor LED",
    "hmi": "HMI",
    "three-band": "three-band tube",
    "halophosphate": "halophosphate tube",
    "broad-band": "broad-band tube",
    "fluorescent": "tube",
    "daylight": "daylight",
    "sunlight": "daylight",
    "sun": "daylight",
    "sky": "daylight",
    "sodium street lamp": "high-pressure sodium",
    "sodium": "high-pressure sodium",
    "mercury": "mercury",
    "metal halide": "metal halide",
    "xenon": "xenon",
}
"""Words of the trade for a technology."""

_TWO_COLOUR = ("bi-colour", "bi-color", "bicolour", "bicolor", "two-colour", "two-color")

FORMS: dict[str, str] = {
    **{f"{each}{rest}": "panel" for each in _TWO_COLOUR for rest in (" panel", " panels", "")},
    "panels": "panel",
    "panel": "panel",
    "household bulb": "household",
    "bulbs": "household",
    "bulb": "household",
    "tubes": "tube",
    "tube": "tube",
    "windows": "window",
    "window": "window",
    "skylight": "window",
    "street lamp": "street",
    "street light": "street",
    "fixtures": "fixture",
    "fixture": "fixture",
    "fresnels": "fixture",
    "fresnel": "fixture",
}
"""Words of the trade for what a lamp sits in."""

SITS = {"household": "a bulb in a household fitting", "street": "a street lamp"}
SITS |= {each: f"a {each}" for each in ("panel", "tube", "window", "fixture")}

LIT = ("panel", "tube", "household")
COLOURED = ("phosphor LED", "RGB LED", "HMI", "xenon", "tube", "three-band tube")
"""What may be called daylight for its colour."""

BUILT_IN = {
    "tungsten": "tungsten 3200 K",
    "daylight": "daylight 5600 K",
    "high-pressure sodium": "high-pressure sodium HP1",
    "mercury": "mercury clear",
    "metal halide": "metal halide 4150 K",
    "xenon": "xenon projector",
}
"""What stands for a technology where no Kelvin is said."""

TWO_COLOUR, FILAMENT = "two-colour LED panel", "filament bulb"
SINGLE_LETTERS = 1
"""The short name A is an article first."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """What a light is.

    kind    : technology; None where the line leaves it open
    fitting : what it sits in; None where the line leaves it open
    keys    : of the light, but for its colour where that is asked for
    """

    kind: str | None
    fitting: str | None
    keys: dict[str, object]


def read_builtins(line: Line) -> None:
    """Built-in lights by a name that nothing else would be read out of; before all numbers."""
    for match in line.found(_builtin_pattern()):
        name = _by_alias()[_squeezed(match[0])]
        line.say("built-in light", name, match, f"the built-in light {name}")
        line.say("lamp words", match.span(), match, "")


def read_kinds(line: Line) -> None:
    """Technology, and what it sits in; daylight beside another lamp is a colour."""
    for match in line.found(any_of(tuple(FORMS))):
        form = FORMS[folded(match[0])]
        line.say("form", form, match, SITS[form])
    said = [TECHNOLOGIES[folded(each[0])] for each in _technologies(line)]
    lit = line.value("form") in LIT or any(each in COLOURED for each in said)
    for match in _technologies(line):
        kind = TECHNOLOGIES[folded(match[0])]
        if kind == "daylight" and lit:
            line.say("daylight colour", True, match, "of a daylight colour")
        elif line.value("technology") in ("tube", "RGB LED"):
            line.take(match, kind)  # "fluorescent three-band", "RGB LED": the first holds
        else:
            line.say("technology", kind, match, kind)


def _technologies(line: Line) -> Iterator[re.Match[str]]:
    return line.found(any_of(tuple(TECHNOLOGIES)))


def is_tube(line: Line) -> bool:
    """Whether what was read so far says that it is a tube."""
    said = (line.value("form"), line.value("technology"), line.value("built-in light"))
    return any("tube" in each.split() for each in said if each)


def lamp_of(line: Line) -> Lamp:
    """What the light is, by all that was read; asks where that does not say."""
    for what in ("spectrum", "built-in light"):
        if line.value(what) is not None:
            return _named(line, what)
    kind, form = line.value("technology"), line.value("form")
    if form == "panel" and kind is None:
        kind = "phosphor LED"
    if kind is None and form in ("tube", "window"):
        kind = {"tube": "tube", "window": "daylight"}[form]
    if kind is None and form == "street":
        return _asked(line, form, "Which lamp burns in it?", "sodium", "mercury", "LED 4000K")
    if form == "window" and kind not in (None, "daylight"):
        words = line.said["form"].words
        line.ask(f"A window is daylight, and {kind} is not: leave one out", instead_of=words)
        form = None
    if kind in ("tungsten", "HMI") and line.value("role") != "practical":
        form = form or "fixture"
    if kind is not None and "tube" in kind:
        form = form or "tube"
    return _of_kind(line, kind, form)


def _named(line: Line, what: str) -> Lamp:
    """By a built-in light, or by a file."""
    name, colour = line.value(what), line.said.get("colour")
    keys: dict[str, object] = {"spectrum" if what == "spectrum" else "builtin": name}
    known = kind_and_fitting(name) if what == "built-in light" else None
    kind = known[0] if known else line.value("technology")
    fitting = line.value("form") or (known[1] if known else None)
    if colour is not None or line.value("Duv") is not None:
        words = colour.words if colour else line.said["Duv"].words
        line.ask(f'Its colour is said by "{name}" and by "{words}": leave one of them out')
    said = line.value("technology")
    if known and said is not None and kind not in kinds_in(said):
        line.ask(f"{name} is {kind}, not {said}: leave one of them out")
    if what == "spectrum" and kind:
        keys["kind"] = kind
    if line.value("form") and (not known or known[1] != fitting):
        keys["fitting"] = fitting
    return Lamp(kind, fitting, keys | _dialled(line))


def _of_kind(line: Line, kind: str | None, form: str | None) -> Lamp:
    """By its technology and, where that is said, its Kelvin."""
    cct_k = line.value("colour")
    if kind in REFUSED_KINDS:
        if cct_k is not None:
            line.assumed.append(
                f"{cct_k:g} K is left out: no reading tells the spectrum of {kind}, so the "
                "built-in one is taken"
            )
        return _built(line, kind, form)
    if cct_k is not None:
        return _read(line, kind, form, cct_k)
    if line.value("Duv") is not None:
        line.ask("Duv says no colour without Kelvin", "5600K")
    return _uncoloured(line, kind, form)


def _uncoloured(line: Line, kind: str | None, form: str | None) -> Lamp:
    """By its technology alone."""
    if "daylight colour" in line.said:
        return _asked(line, form, "Which Kelvin has its daylight?", "5600K", "6500K", kind=kind)
    if form == "panel" and kind == "phosphor LED":
        return _panel(line)
    if form == "household" and kind in (None, "tungsten"):
        if kind is None:
            line.assumed.append("a bulb is taken for one with a filament; add LED 2700K if not")
        return Lamp("tungsten", form, {"builtin": FILAMENT})
    if kind in BUILT_IN:
        return _built(line, kind, form)
    if kind is None and form is None:
        return _asked(line, form, "What is it?", "tungsten", "panel", "daylight", "LED 5600K")
    if kind is None:
        return _asked(line, form, "Which lamp is in it?", "tungsten", "HMI 5600K", "LED 5600K")
    said = {"tube": ("FL2", "FL11", "4000K"), "household": ("2700K", "4000K")}
    offers = said.get(form or "", ("5600K", "3200K"))
    return _asked(line, form, f"Which colour has it ({kind})?", *offers, kind=kind)


def _asked(
    line: Line, form: str | None, question: str, *accepted: str, kind: str | None = None
) -> Lamp:
    line.ask(question, *accepted)
    return Lamp(kind, form, {})


def _read(line: Line, kind: str | None, form: str | None, cct_k: float) -> Lamp:
    """By a reading, or by what is written on it."""
    duv, tint = line.value("Duv"), line.value("tint")
    if kind == "tungsten" and cct_k == 3200 and duv is None and tint is None and form == "fixture":
        return Lamp(kind, form, {"builtin": BUILT_IN["tungsten"]})
    keys: dict[str, object] = {} if kind is None else {"kind": kind}
    keys |= {"cct_k": cct_k}
    keys |= {} if duv is None else {"duv": duv}
    keys |= {} if tint is None else {"tint": tint}
    keys |= {} if form is None else {"fitting": form}
    if duv is not None and tint is not None:
        line.ask("Its green is said by Duv and by the camera's tint: leave one of them out")
    if kind is None:
        line.assumed.append(
            "what kind of lamp it is was not said: every kind counts alike, and the band is "
            "wider; add tungsten, LED or tube"
        )
    return Lamp(kind, form, keys | _dialled(line))


def _built(line: Line, kind: str | None, form: str | None) -> Lamp:
    """By the built-in light that stands for the technology."""
    name = BUILT_IN[kind or ""]
    known = kind_and_fitting(name)
    keys: dict[str, object] = {"builtin": name}
    if form is not None and known is not None and form != known[1]:
        keys["fitting"] = form
    if kind != "tungsten":
        line.assumed.append(f"its colour is taken as that of {name}; read it for more")
    return Lamp(kind, form or (known[1] if known else None), keys | _dialled(line))


def _panel(line: Line) -> Lamp:
    dialled = _dialled(line)
    if not dialled:
        line.assumed.append("without its range it will not be dialled; add 2700-6500")
    return Lamp("phosphor LED", "panel", {"builtin": TWO_COLOUR} | dialled)


def _dialled(line: Line) -> dict[str, object]:
    ends = line.value("range")
    if ends is None:
        return {}
    return {"adjustable": {"low_k": ends[0], "high_k": ends[1]}}


def _squeezed(text: str) -> str:
    return "".join(text.casefold().split())


@cache
def _by_alias() -> dict[str, str]:
    """Built-in lights by each name of theirs that has a digit in it or several words."""
    named = {each: name for name in builtin_names() for each in (name, *aliases(name))}
    simple = {*TECHNOLOGIES, *FORMS, "led panel", "household bulb"}
    return {
        _squeezed(each): name
        for each, name in named.items()
        if len(each) > SINGLE_LETTERS
        and (" " in each or any(letter.isdigit() for letter in each))
        and each.casefold() not in simple
    }


@cache
def _builtin_pattern() -> re.Pattern[str]:
    named = {each for name in builtin_names() for each in (name, *aliases(name))}
    wanted = [each for each in named if _squeezed(each) in _by_alias()]
    loose = [
        r"\s*".join(re.escape(part) for part in re.findall(r"[^\W\d]+|\d+|[^\w\s]", each))
        for each in sorted(wanted, key=len, reverse=True)
    ]
    return re.compile(rf"(?<![\w.-])(?:{'|'.join(loose)})(?!\w|\.\d|-\d)", re.IGNORECASE)
