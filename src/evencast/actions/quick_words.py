"""The quick sums of the set in words: exposure, ratio and load."""

from __future__ import annotations

from evencast.actions.flicker import say_time
from evencast.camera.exposure import marked_stop
from evencast.quantities import say_stops
from evencast.results.expose import ExposeAnswer, LoadAnswer, Range, RatioAnswer
from evencast.results.told import Told
from evencast.results.words import say_stop_range

FIRST, SECOND = "key : fill, each alone", "(key + fill) : fill"


def expose_told(answer: ExposeAnswer) -> Told:
    """The stop at the subject."""
    at = "" if answer.distance_m is None else f" at {answer.distance_m:.3g} m"
    stack = "".join(f" through {' + '.join(each)}" for each in (_stack(answer),) if each)
    told = f"{_name(answer)}{stack}{at} gives {say_stop_range(answer.f_number)}{_judged(answer)}."
    rows = [
        ("stop", f"f/{_ends(answer.f_number, '.2f')}"),
        (
            "taken at",
            f"index {answer.exposure_index:g}, {say_time(answer.exposure_s)}, "
            f"{answer.frames_per_s:g} frames per second",
        ),
        ("level by", answer.known_by),
        *_amounts(answer),
        *_losses(answer),
        *_gap(answer),
    ]
    return Told(told, rows)


def cures_told(answer: ExposeAnswer) -> list[str]:
    """Ways to the stop that is wanted."""
    return [each.text + ("" if each.enough else " (not enough alone)") for each in answer.cures]


def ratio_told(answer: RatioAnswer) -> Told:
    """Both definitions, or both fills."""
    if answer.asked is None:
        told = (
            f"Key {_read(answer.key, answer.unit)} against fill "
            f"{_read(answer.fill_by_key_to_fill, answer.unit)}: "
            f"{answer.key_to_fill:.3g}:1 or {answer.sum_to_fill:.3g}:1, by definition."
        )
        rows = [
            (FIRST, _ratio(answer.key_to_fill, answer.key_to_fill_stops)),
            (SECOND, _ratio(answer.sum_to_fill, answer.sum_to_fill_stops)),
        ]
    else:
        first, second = (
            _read(each, answer.unit)
            for each in (answer.fill_by_key_to_fill, answer.fill_by_sum_to_fill)
        )
        told = (
            f"For {answer.asked:.3g}:1 under a key of {_read(answer.key, answer.unit)} set the "
            f"fill to {first} or {second}, by definition."
        )
        rows = [
            (FIRST, f"fill {first}, which is {answer.sum_to_fill:.3g}:1 in the other"),
            (SECOND, f"fill {second}, which is {answer.asked - 1:.3g}:1 in the other"),
        ]
    return Told(told, rows)


def load_told(answer: LoadAnswer) -> Told:
    """Whether it holds, and what is left."""
    amps, limit = f"{answer.amps:.1f} A", f"{answer.limit_a:.1f} A"
    verdict = (
        f"{limit} may stay on: it holds, with {answer.left_a:.1f} A left"
        if answer.fits
        else f"{limit} may stay on: too much by {-answer.left_a:.1f} A"
    )
    loads = "They" if answer.watts is None else f"{answer.watts:g} W"
    rows = [
        ("breaker", f"{answer.breaker_a:g} A, {answer.margin:.0%} of it used"),
        ("drawn", amps),
        ("left", f"{answer.left_a:.1f} A"),
    ]
    return Told(f"{loads} at {answer.volts:g} V draw {amps}. {verdict}.", rows)


def split_told(answer: LoadAnswer) -> list[str]:
    """The circuits that they can be shared out on."""
    return [
        f"{number}: {' + '.join(each.loads)}, {each.amps:.1f} A"
        for number, each in enumerate(answer.split, 1)
    ]


def _name(answer: ExposeAnswer) -> str:
    return answer.light if answer.count == 1 else f"{answer.count} x {answer.light}"


def _stack(answer: ExposeAnswer) -> list[str]:
    return answer.filters + [f"{each} scrim" for each in answer.scrims]


def _judged(answer: ExposeAnswer) -> str:
    if answer.gap_stops is None or answer.want is None:
        return ""
    low, high = answer.gap_stops
    wanted = marked_stop(answer.want)
    if max(abs(low), abs(high)) <= 1 / 6:
        return f", {wanted} as wanted"
    if low >= 0:
        return f", {_stops((low, high))} short of {wanted}"
    if high <= 0:
        return f", {_stops((-high, -low))} more than {wanted}"
    return f", which may be {wanted}"


def _stops(ends: Range) -> str:
    low, high = say_stops(ends[0]), say_stops(ends[1])
    return low if low == high else f"{low} to {high}"


def _ends(ends: Range, form: str) -> str:
    low, high = (f"{each:{form}}" for each in ends)
    return low if low == high else f"{low} to {high}"


def _amounts(answer: ExposeAnswer) -> list[tuple[str, str]]:
    rows = []
    if answer.candela is not None:
        rows.append(("candela", f"{_ends(answer.candela, '.0f')} cd"))
    if answer.illuminance_lux is not None:
        low, high = (float(f"{each:.3g}") for each in answer.illuminance_lux)
        rows.append(("at subject", f"{_ends((low, high), '.10g')} lx"))
    if answer.meter_constants is not None:
        rows.append(("constant", f"C {_ends(answer.meter_constants, 'g')} of the meter, ISO 2720"))
    return rows


def _losses(answer: ExposeAnswer) -> list[tuple[str, str]]:
    if not _stack(answer):
        return []
    return [("loss", f"{_stops(answer.loss_stops)} ({_ends(answer.loss_stops, '.2f')})")]


def _gap(answer: ExposeAnswer) -> list[tuple[str, str]]:
    if answer.gap_stops is None or answer.want is None:
        return []
    told = _ends(answer.gap_stops, "+.2f")
    return [("gap", f"{told} stop to {marked_stop(answer.want)}, + too little")]


def _read(value: float, unit: str) -> str:
    if unit != "f":
        return f"{value:.3g} {unit}" if value < 1000 else f"{value:.0f} {unit}"
    told, mark = f"f/{value:.2g}", marked_stop(value)
    return told if told == mark else f"{told} ({mark})"


def _ratio(ratio: float, stops: float) -> str:
    return f"{ratio:.3g}:1, {say_stops(stops)} ({stops:.2f})"
