"""The levels of a plan as a ladder."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evencast.actions.charts import Numbers, Scene, lights_of
from evencast.actions.charts_colour import NO_COLOUR, Shown
from evencast.actions.exposures import THE_SHOT
from evencast.camera.exposure import stops_between
from evencast.errors import EvencastError
from evencast.handouts.charts.ladder import LadderChart, Rung
from evencast.results.exposure import (
    LightExposure,
    SceneExposure,
    SubjectExposure,
    Triple,
    ViewAnswer,
)


def ladder_chart(answer: Scene, shown: Shown, numbers: Numbers) -> LadderChart:
    """How bright every light of a plan is.

    Raises  EvencastError where no level is known
    """
    exposure = answer.exposure
    if exposure is None or not exposure.lights:
        raise EvencastError(
            "no light has a level",
            where=answer.plan,
            remedy="Give lights a level in the plan, such as level = { f_stop = 4 }, read alone.",
        )
    counted = _reference(exposure)
    fills = {each.name: shown(each.filtered) for each in lights_of(answer)}
    views = answer.views if counted.name == THE_SHOT else []
    aside = {each.name for each in views}
    alone = [each for each in exposure.lights if each.name not in aside]
    rungs = [
        _rung(numbers[each.name], each, counted, fills.get(each.name, NO_COLOUR)) for each in alone
    ]
    if exposure.subject is not None and len(exposure.subject.lights) > 1:
        rungs.append(_sum(max(numbers.values()) + 1, exposure.subject, counted))
    rungs += [_view(numbers[each.name], each) for each in views]
    known = {each.name for each in exposure.lights}
    return LadderChart(
        title=f"{answer.plan}: how bright each light is",
        reference=counted.name,
        f_number=counted.f_number,
        rungs=tuple(rungs),
        unknown=tuple(each.name for each in lights_of(answer) if each.name not in known),
        notes=tuple(_ratio(exposure.subject)),
    )


@dataclass(frozen=True, slots=True)
class _Counted:
    """What levels are counted from, and its f-number."""

    name: str
    f_number: float


def _reference(exposure: SceneExposure) -> _Counted:
    """The shot; without one the key, and without that the first light there is."""
    if exposure.shot_f_number is not None:
        return _Counted(THE_SHOT, exposure.shot_f_number)
    light = next(
        (each for each in exposure.lights if each.name == exposure.key), exposure.lights[0]
    )
    return _Counted(light.name, math.sqrt(light.f_number[0] * light.f_number[1]))


def _over(over_shot: Triple | None, f_number: tuple[float, float], counted: _Counted) -> Triple:
    """Stops over what is counted from: against the shot as the answer says, else by f-numbers."""
    if over_shot is not None:
        return over_shot
    low, high = (round(stops_between(counted.f_number, each), 4) + 0.0 for each in f_number)
    return low, round((low + high) / 2, 4) + 0.0, high


def _rung(number: int, each: LightExposure, counted: _Counted, fill: str) -> Rung:
    over = _over(each.over_shot_stops, each.f_number, counted)
    return Rung(
        number=number,
        name=each.name,
        kind="light",
        over=over,
        f_number=each.f_number,
        aim=_aim(each, over),
        inside=each.within_tolerance,
        fill=fill,
    )


def _aim(each: LightExposure, over: Triple) -> tuple[float, float] | None:
    """Where a light may be, against what is counted from: its middle and what is missing to its
    aim, to either side of it its tolerance."""
    if each.gap_stops is None:
        return None
    at = over[1] + each.gap_stops[1]
    return round(at - each.tolerance_stops, 4) + 0.0, round(at + each.tolerance_stops, 4) + 0.0


def _sum(number: int, subject: SubjectExposure, counted: _Counted) -> Rung:
    return Rung(
        number=number,
        name="key and fill together",
        kind="sum",
        over=_over(subject.over_shot_stops, subject.f_number, counted),
        f_number=subject.f_number,
        aim=None,
        inside=None,
        fill=NO_COLOUR,
    )


def _view(number: int, each: ViewAnswer) -> Rung:
    return Rung(
        number=number,
        name=each.name,
        kind="view",
        over=each.over_stops,
        f_number=None,
        aim=each.may_be_stops,
        inside=each.within_tolerance,
        fill=NO_COLOUR,
    )


def _ratio(subject: SubjectExposure | None) -> list[str]:
    """Key against fill in both definitions, each with the name it goes by."""
    if subject is None or subject.key_to_fill is None or subject.sum_to_fill is None:
        return []
    key, total = subject.key_to_fill.to_one[1], subject.sum_to_fill.to_one[1]
    return [f"Key to fill {key:.1f}:1, key + fill to fill {total:.1f}:1."]
