"""A filter in words, every one of them drawn from its numbers: what it is for, when to use it, and
what it cannot do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from evencast.actions.card.numbers import DAYLIGHT, TUNGSTEN, Numbers
from evencast.actions.card.pictures import NEUTRAL_MIRED, hue
from evencast.actions.reading import green_duv
from evencast.colour import mired_duv, uv
from evencast.lights import builtin
from evencast.quantities import kelvin, listed, mired, say_duv, say_left, say_mired, say_stops

NEAR_MIRED, NEAR_DUV = 12.0, 0.003
"""Near enough for fill and background: common practice, no source."""
DENSE_STOPS = 1.3
_SPAN_LEAST_MIRED = 50.0
_WAYS = (
    (1 / 8, "an eighth of the way"),
    (1 / 4, "a quarter of the way"),
    (1 / 3, "a third of the way"),
    (1 / 2, "half the way"),
    (2 / 3, "two thirds of the way"),
    (3 / 4, "three quarters of the way"),
    (1.0, "all the way"),
    (1.5, "one and a half times the way"),
    (2.0, "twice the way"),
)
_TUBES = tuple(f"FL{number}" for number in range(1, 13))


@dataclass(frozen=True, slots=True)
class Told:
    """A filter in words."""

    purpose: str
    use: list[str]
    limits: list[str]


def told(each: Numbers, balances_k: tuple[float, float]) -> Told:
    """What a filter is for, when to use it, and what it cannot do."""
    writers = {
        "correction": _correction,
        "green": _green,
        "ND": _density,
        "diffusion": _diffusion,
        "effect": _effect,
    }
    return writers[each.filter.role](each, balances_k)


def lamp_words(name: str) -> str:
    """A light as it is spoken of: "tungsten", "daylight", or by its name."""
    return {TUNGSTEN: "tungsten", DAYLIGHT: "daylight"}.get(name, name)


def say_kelvin(at_mired: float) -> str:
    """Kelvin to the nearest ten: "4070 K"; in words where there is none."""
    if not math.isfinite(at_mired):
        return "a colour without a colour temperature"
    return f"{round(kelvin(at_mired), -1):.0f} K"


def say_turn(shift_mired: float) -> str:
    """A shift in words: "67 mired cooler"."""
    size = round(abs(shift_mired))
    return f"{size} mired {'warmer' if shift_mired > 0 else 'cooler'}" if size else "no shift"


def say_percent(percent: float) -> str:
    """A share to two figures: "52 %", "3.1 %", "0.042 %"."""
    if percent >= 9.95:
        return f"{percent:.0f} %"
    places = 1 if percent >= 0.995 else 1 - math.floor(math.log10(max(percent, 1e-12)))
    return f"{percent:.{places}f} %"


def say_factor(factor: float) -> str:
    """A filter factor to two figures or in whole numbers: "1.9", "24"."""
    return f"{factor:.1f}" if factor < 9.95 else f"{factor:.0f}"


def say_loss(stops: float) -> str:
    """Thirds and decimals: "1 2/3 stop, 1.65"."""
    return f"{say_stops(stops)}, {stops:.2f}"


def _way(each: Numbers) -> tuple[str, float, float] | None:
    """The white the filter leads to, how far that is and what share it goes; None where the light
    is there already."""
    warm = each.shift_mired > 0
    target = TUNGSTEN if warm else DAYLIGHT
    span = mired(3200.0 if warm else 5600.0) - each.bare_mired
    if not math.isfinite(span) or abs(span) < _SPAN_LEAST_MIRED or (span > 0) is not warm:
        return None
    return lamp_words(target), span, each.shift_mired / span


def _correction(each: Numbers, balances_k: tuple[float, float]) -> Told:
    lamp = lamp_words(each.light.name)
    if not math.isfinite(each.shift_mired):
        return _without_cct(each)
    if abs(each.shift_mired) < NEUTRAL_MIRED:
        purpose = f"hardly changes the colour of {lamp}: {say_turn(each.shift_mired)}"
    else:
        ends = f"{say_kelvin(each.bare_mired)} to {say_kelvin(each.filtered_mired)}"
        purpose = f"{_led(each, lamp)}, {ends}"
    return Told(purpose, _at_balances(each, balances_k), _shortfall(each) + _side(each))


def _led(each: Numbers, lamp: str) -> str:
    verb = "warms" if each.shift_mired > 0 else "cools"
    way = _way(each)
    if way is None:
        return f"{verb} {lamp} by {round(abs(each.shift_mired))} mired"
    target, _, share = way
    nearest, words = min(_WAYS, key=lambda known: abs(math.log(share / known[0])))
    about = "" if abs(share / nearest - 1.0) < 0.06 else "about "
    if share > 2.4:
        return f"{verb} {lamp} far beyond {target}"
    return f"{verb} {lamp} {about}{words} to {target}"


def _at_balances(each: Numbers, balances_k: tuple[float, float]) -> list[str]:
    """What the filter does for the lamp at each balance."""
    return [f"At {balance_k:.0f} K {_at_balance(each, balance_k)}" for balance_k in balances_k]


def _at_balance(each: Numbers, balance_k: float) -> str:
    lamp = lamp_words(each.light.name)
    before = each.bare_mired - mired(balance_k)
    after = each.filtered_mired - mired(balance_k)
    side = "warm" if after > 0 else "cool"
    if abs(after) <= NEAR_MIRED and abs(before) <= NEAR_MIRED:
        return f"{lamp} is near the balance with it and without: leave it out."
    if abs(each.shift_mired) < NEUTRAL_MIRED:
        return f"{lamp} stays {say_mired(after)}: leave it out."
    if abs(after) <= NEAR_MIRED and abs(each.filtered_green or 0.0) <= NEAR_DUV:
        return f"use it to bring {lamp} to the balance: {_left(each, after)}."
    if abs(after) <= NEAR_MIRED:
        return f"it makes {lamp} as warm as the balance, and {_left(each, after)}."
    if abs(after) < abs(before) and after * before > 0:
        return (
            f"it takes {lamp} from {say_mired(before)} to {say_mired(after)}: for a light that "
            f"may stay {side}."
        )
    return f"use it for a {side} light on purpose: {say_mired(after)}."


def _left(each: Numbers, after_mired: float) -> str:
    said = say_left(after_mired, each.filtered_green).removeprefix("0 mired, ")
    return "nothing is left" if said == "0 mired" else f"{said} is left"


def _shortfall(each: Numbers) -> list[str]:
    way = _way(each)
    if way is None or abs(each.shift_mired) < NEUTRAL_MIRED:
        return []
    target, span, _ = way
    rest = abs(span) - abs(each.shift_mired)
    if rest > NEAR_MIRED:
        return [f"Too weak alone to make {target} of it: {round(rest)} mired are missing."]
    if rest < -NEAR_MIRED:
        return [f"Too strong to make {target} of it: it goes {round(-rest)} mired past."]
    return []


def _side(each: Numbers) -> list[str]:
    """What comes along unasked: a green or magenta side, and darkness."""
    found = []
    if abs(each.green_change) >= 0.0015:
        found.append(
            f"It also turns the light {say_duv(each.green_change)} "
            f"({each.green_change:+.4f}): look at a grey card."
        )
    return found + _dark(each)


def _dark(each: Numbers) -> list[str]:
    if each.loss_stops < DENSE_STOPS:
        return []
    return [
        f"It takes {say_stops(each.loss_stops)}: {say_percent(each.transmission_percent)} of the "
        f"light is left, and f/8 becomes {_stop(8.0, each.loss_stops)}."
    ]


def _stop(from_f: float, loss_stops: float) -> str:
    number = from_f / 2.0 ** (loss_stops / 2.0)
    return f"f/{number:.1f}" if number >= 0.7 else "less than f/0.7"


def _green(each: Numbers, balances_k: tuple[float, float]) -> Told:
    del balances_k  # green is beside the white of any balance
    lamp, change = lamp_words(each.light.name), each.green_change
    size = f"{say_duv(change)}, {change:+.4f}"
    if change > 0:
        return Told(f"adds green to {lamp}: {size}", _green_use(each), _turns(each) + _dark(each))
    return Told(
        f"takes green away: {lamp} turns {size}", _magenta_use(each), _turns(each) + _dark(each)
    )


def _green_use(each: Numbers) -> list[str]:
    """Tubes whose green the light through the sheet has."""
    after = each.filtered_green
    alike = [
        (abs(green - after), name)
        for name, green in _tubes()
        if after is not None and abs(green - after) <= 0.002
    ]
    if not alike:
        return [
            "No common tube is so green: use it for a green light on purpose, or against a lamp "
            "that reads magenta."
        ]
    names = listed([name for _, name in sorted(alike)[:3]])
    return [
        f"Use it on clean lamps beside {names}, which are as green; then take the green of all "
        "out with the camera's tint."
    ]


def _magenta_use(each: Numbers) -> list[str]:
    """Tubes that it makes clean."""
    cleaned = [found for found in (_cleaned(each, name) for name in _TUBES) if found]
    reads = f"Use it on tubes and panels that read about {abs(each.green_change):.4f} too green"
    if not cleaned:
        return [f"{reads}; no common tube is."]
    names = listed([name for _, name in sorted(cleaned)[:3]])
    return [f"{reads}, such as {names}."]


def _cleaned(each: Numbers, tube: str) -> tuple[float, str] | None:
    """How green a green tube stays behind the sheet, and its name; None where it does not help."""
    before = _green_of(tube)
    if before < 0.0015:
        return None
    light = builtin(tube)
    at_mired, at_duv = mired_duv(uv(light.power * each.filter.transmittance))
    after = green_duv(float(at_mired), float(at_duv))
    if after is None or abs(after) > min(NEAR_DUV, before / 2):
        return None
    return abs(after), light.name


def _tubes() -> list[tuple[str, float]]:
    return [(builtin(each).name, _green_of(each)) for each in _TUBES]


@cache
def _green_of(tube: str) -> float:
    at_mired, at_duv = mired_duv(uv(builtin(tube).power))
    return green_duv(float(at_mired), float(at_duv)) or 0.0


def _turns(each: Numbers) -> list[str]:
    if not math.isfinite(each.shift_mired) or abs(each.shift_mired) < NEUTRAL_MIRED:
        return []
    lamp = lamp_words(each.light.name)
    return [f"It also turns {lamp} {say_turn(each.shift_mired)}."]


def _density(each: Numbers, balances_k: tuple[float, float]) -> Told:
    del balances_k  # the colour stays
    clean = math.isfinite(each.shift_mired) and (
        abs(each.shift_mired) < NEUTRAL_MIRED and abs(each.green_change) < 0.0015
    )
    purpose = f"takes {say_stops(each.loss_stops)} and {'keeps' if clean else 'changes'} the colour"
    limits = [] if clean else _turns(each) + _side(each)[:1]
    return Told(
        purpose,
        [
            f"Use it where a light or a window is too bright: "
            f"{say_percent(each.transmission_percent)} is left, and f/8 becomes "
            f"{_stop(8.0, each.loss_stops)}."
        ],
        [*limits, "It brings no two lamps nearer to each other in colour."],
    )


def _diffusion(each: Numbers, balances_k: tuple[float, float]) -> Told:
    del balances_k
    ends = each.filter.loss_range_stops
    lost = (
        f"takes {say_stops(ends[0])} to {say_stops(ends[1])} by beam and distance"
        if ends
        else f"takes {say_stops(each.loss_stops)} as measured, more or less by beam and distance"
    )
    turned = _turns(each)
    return Told(
        f"spreads the light; {lost}",
        [
            "Use it to make a hard light softer: the larger its lit part and the nearer it hangs, "
            "the softer."
        ],
        [*turned, "No number tells how soft or how dark it comes out: meter it where the face is."],
    )


def _effect(each: Numbers, balances_k: tuple[float, float]) -> Told:
    del balances_k
    lamp = lamp_words(each.light.name)
    purpose = f"turns {lamp} {hue(each)}"
    if not math.isfinite(each.filtered_mired):
        purpose += ": so strong a colour that it has no colour temperature"
    return Told(
        purpose,
        ["Use it for a colour in the picture; nothing here picks it to correct a light."],
        _dark(each),
    )


def _without_cct(each: Numbers) -> Told:
    lamp = lamp_words(each.light.name)
    return Told(
        f"turns {lamp} {hue(each)}: what comes through has no colour temperature, and so no shift",
        ["Use it for a colour in the picture: no balance makes white of it."],
        _dark(each),
    )
